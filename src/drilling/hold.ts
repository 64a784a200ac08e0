import type { HoleAnswer } from './drill.ts';

/*
 * The drill question in one breath: which holes to leave alone tonight, which may be drilled, and what each that must wait
 * is waiting for. Holes are named by their joint where the whole joint is meant.
 */

/** Holes that are left alone for one and the same reason. */
export interface Waiting {
  readonly reason: string;
  readonly holes: readonly HoleAnswer[];
  /** `F2, F3, F6 h1`; at most eight names. */
  readonly names: string;
}

export interface Tonight {
  readonly headline: string;
  readonly drill: readonly HoleAnswer[];
  readonly alone: readonly Waiting[];
}

/** Names of holes, whole joints by the joint's name: `F2, F3 and F6 h1`, or the first eight and how many more. */
export function namesOf(holes: readonly HoleAnswer[]): string {
  const byJoint = new Map<string, HoleAnswer[]>();
  for (const h of holes) {
    const list = byJoint.get(h.joint.id);
    if (list) list.push(h);
    else byJoint.set(h.joint.id, [h]);
  }
  const names = [...byJoint.values()].flatMap((list) =>
    list.length === list[0]!.joint.holes.length && list.length > 1
      ? [list[0]!.joint.id]
      : list.map((h) => `${h.joint.id} ${h.hole.id}`),
  );
  if (names.length > 8) return `${names.slice(0, 7).join(', ')} and ${names.length - 7} more`;
  return names.length < 2 ? (names[0] ?? '') : `${names.slice(0, -1).join(', ')} and ${names.at(-1)}`;
}

/** `a layer is not in; in at “Nose ribs on”`, with the parts by name where holes of several joints wait for several. */
function inNames(reason: string, holes: readonly HoleAnswer[]): string {
  const parts = [...new Set(holes.flatMap((h) => h.missing ?? []))];
  if (parts.length === 0) return reason;
  const named =
    parts.length > 8
      ? `${parts.slice(0, 7).join(', ')} and ${parts.length - 7} more`
      : parts.length < 2
        ? parts[0]!
        : `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}`;
  return reason.replace(
    /^a layer is (not in|off)/,
    (_, word: string) => `${named} ${parts.length > 1 ? 'are' : 'is'} ${word}${word === 'not in' ? ' yet' : ''}`,
  );
}

/** Reasons in the order they matter: what cannot be undone, what to put right, what is not in, what the plan has for later. */
const ORDER = ['size', 'doubt', 'put right', 'layer', 'plan'] as const;

const count = (n: number): string => `${n} ${n === 1 ? 'hole' : 'holes'}`;

/** What to drill and what to leave alone, of answers at one stage; `when` says which night it is. Panel A: leave every hole alone, F6 h2 has no larger size left. */
export function tonight(answers: readonly HoleAnswer[], when = 'tonight'): Tonight {
  const drill = answers.filter((a) => a.state === 'now');
  const waits = answers.filter((a) => a.state === 'not yet' || a.state === 'never');
  const groups = new Map<string, HoleAnswer[]>();
  for (const rank of ORDER) {
    for (const a of waits) {
      if (a.because !== rank) continue;
      const reason = a.reason ?? a.why;
      const list = groups.get(reason);
      if (list) list.push(a);
      else groups.set(reason, [a]);
    }
  }
  const alone = [...groups].map(
    ([reason, holes]): Waiting => ({ reason: inNames(reason, holes), holes, names: namesOf(holes) }),
  );
  return { headline: headline(answers, drill, waits, when), drill, alone };
}

function headline(
  answers: readonly HoleAnswer[],
  drill: readonly HoleAnswer[],
  waits: readonly HoleAnswer[],
  when: string,
): string {
  if (answers.length === 0) return 'No holes are laid out yet.';
  if (drill.length === 0 && waits.length === 0) return 'Every hole is final.';
  const trouble = waits.filter((a) => a.because === 'size' || a.because === 'doubt');
  const worst = trouble.find((a) => a.next && !a.next.ok) ?? trouble[0];
  const more = trouble.length > 1 ? ` (and ${trouble.length - 1} more like it)` : '';
  const said = worst
    ? ` ${worst.joint.id} ${worst.hole.id}${more} ${worst.because === 'size' ? 'must not be drilled at this size' : 'is in doubt'}${worst.next && !worst.next.ok ? ', and no larger size is left' : ''}.`
    : '';
  if (waits.length === 0) return `Leave none alone: ${count(drill.length)} may be drilled ${when}.`;
  if (drill.length === 0) return `Leave every hole alone ${when}.${said}`;
  const few = drill.length < waits.length;
  const lead = few
    ? `Leave all but ${namesOf(drill)} alone ${when}.`
    : `Leave ${namesOf(waits)} alone ${when}; the other ${count(drill.length)} may be drilled.`;
  return `${lead}${said}`;
}
