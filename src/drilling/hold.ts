import type { Joint } from '../model/schema.ts';
import type { HoleAnswer } from './hole.ts';

/*
 * The drill question in one breath: which holes to leave alone tonight, which may be drilled, and what each that must
 * wait is waiting for. Holes are named by their joint where the whole joint is meant.
 */

/** Holes that are left alone for one and the same reason. */
interface Waiting {
  readonly reason: string;
  readonly holes: readonly HoleAnswer[];
  /** `F2, F3, F6 h1`; at most eight names. */
  readonly names: string;
}

export interface Tonight {
  readonly headline: string;
  /** What may be drilled now; looking ahead, what is planned. */
  readonly drill: readonly HoleAnswer[];
  readonly alone: readonly Waiting[];
}

/** Several names in one breath: `A, B and C`, or the first seven of more than eight and how many more. */
function listed(names: readonly string[]): string {
  if (names.length > 8) return `${names.slice(0, 7).join(', ')} and ${names.length - 7} more`;
  const last = names.at(-1) ?? '';
  return names.length < 2 ? last : `${names.slice(0, -1).join(', ')} and ${last}`;
}

/** Names of holes, whole joints by the joint's name: `F2, F3 and F6 h1`, or the first seven and how many more. */
export function namesOf(holes: readonly HoleAnswer[]): string {
  const byJoint = new Map<Joint, HoleAnswer[]>();
  for (const h of holes) {
    const list = byJoint.get(h.joint);
    if (list) list.push(h);
    else byJoint.set(h.joint, [h]);
  }
  return listed(
    [...byJoint].flatMap(([joint, list]) => {
      const whole = list.length === joint.holes.length && list.length > 1;
      return whole ? [joint.id] : list.map((h) => `${joint.id} ${h.hole.id}`);
    }),
  );
}

/**
 * Why holes wait, with the parts by name where holes of several joints wait for several: `N2 and N3 are not in yet;
 * in at “Nose ribs on”`.
 */
function reasonOf(reason: string, holes: readonly HoleAnswer[]): string {
  const parts = [...new Set(holes.flatMap((h) => h.missing ?? []))];
  const waits = holes[0]?.waits;
  if (parts.length === 0 || !waits) return reason;
  const are = parts.length > 1 ? 'are' : 'is';
  const yet = waits.word === 'not in' ? ' yet' : '';
  const inAt = waits.stage === undefined ? '' : `; in at “${waits.stage}”`;
  return `${listed(parts)} ${are} ${waits.word}${yet}${inAt}`;
}

/**
 * Reasons in the order they matter: what cannot be undone, what to put right, what is not in, what the plan has for
 * later.
 */
const ORDER = ['size', 'doubt', 'put right', 'look', 'layer', 'plan'] as const;

const count = (n: number): string => `${n} ${n === 1 ? 'hole' : 'holes'}`;

/**
 * What to drill and what to leave alone, of answers at one stage; `when` says which night it is. Panel A: leave every
 * hole alone, F6 h2 has no larger size left.
 */
export function tonight(answers: readonly HoleAnswer[], when = 'tonight'): Tonight {
  const next = (a: HoleAnswer): boolean => a.state === 'now' || a.because === 'then';
  const drill = answers.filter(next);
  const waits = answers.filter((a) => !next(a) && a.state !== 'done');
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
    ([reason, holes]): Waiting => ({ reason: reasonOf(reason, holes), holes, names: namesOf(holes) }),
  );
  return { headline: headline(answers, drill, waits, when), drill, alone };
}

/**
 * The hole that cannot be drilled, or may not clean up, with how many more there are like it; nothing where there is
 * none.
 */
function troubleText(waits: readonly HoleAnswer[]): string {
  const trouble = waits.filter((a) => a.because === 'size' || a.because === 'doubt');
  const worst = trouble.find((a) => a.next && !a.next.ok) ?? trouble[0];
  if (!worst) return '';
  const more = trouble.length > 1 ? ` (and ${trouble.length - 1} more like it)` : '';
  const what = worst.because === 'size' ? 'must not be drilled at this size' : 'is in doubt';
  const left = worst.next && !worst.next.ok ? ', and no larger size is left' : '';
  return ` ${worst.joint.id} ${worst.hole.id}${more} ${what}${left}.`;
}

function headline(
  answers: readonly HoleAnswer[],
  drill: readonly HoleAnswer[],
  waits: readonly HoleAnswer[],
  when: string,
): string {
  if (answers.length === 0) return 'No holes are laid out yet.';
  if (drill.length === 0 && waits.length === 0) return 'Every hole is at final size.';
  const said = troubleText(waits);
  const ahead = drill.some((a) => a.because === 'then');
  if (ahead) return `Planned ${when}: ${namesOf(drill)}; asked again when that stage is reached.${said}`;
  const may = `${count(drill.length)} may be drilled ${when}`;
  if (waits.length === 0) return `${may}; none has to wait.`;
  if (drill.length === 0) return `Drill no hole ${when === 'tonight' ? 'yet' : when}.${said}`;
  if (drill.length < waits.length) return `Drill only ${namesOf(drill)} ${when}.${said}`;
  return `${may}; leave ${namesOf(waits)} alone.${said}`;
}
