import type { CheckId, Finding } from '../checks/finding.ts';
import type { Rib } from '../model/schema.ts';
import { bendClear } from '../remedies/offers/easier.ts';
import { remediesFor } from '../remedies/offers/offers.ts';
import type { Remedy, RemedyKind } from '../remedies/remedy.ts';
import { type ActKind, type Draft, draft, type Phase } from './act.ts';
import { chosenFor, chosenForNose } from './choose.ts';
import { holdWords } from './held.ts';
import { minutesFor } from './minutes.ts';
import { causeOf } from './muted.ts';
import { fromRootOut, inSpanOrder, type Scope } from './scope.ts';
import { counted, listed, opening } from './words.ts';

/*
 * Acts that make or bend metal. One fact, one line: all that is wrong with a rib is put right by one act on it, and all
 * doublers that ride on the spar's bend are made anew in one go.
 */

const ABOUT_MAIN: ReadonlySet<CheckId> = new Set<CheckId>([
  'cap-gap',
  'cap-split',
  'chord-gap',
  'seating',
  'relief',
  'skin-step',
]);
const ABOUT_NOSE: ReadonlySet<CheckId> = new Set<CheckId>(['nose-line', 'nose-kink']);

const BENT: ReadonlySet<RemedyKind> = new Set<RemedyKind>(['joggle', 'flange']);
const TOOLS: Partial<Record<RemedyKind, string>> = {
  easier: 'bending block',
  remake: 'forming block',
  fit: 'forming block',
  shorter: 'forming block',
  joggle: 'joggling blocks',
  flange: 'flange square and pliers',
  trim: 'file',
};

/** What is said of what a remedy needs. */
const toolOf = ([first]: readonly Remedy[]): string => (first && TOOLS[first.kind]) ?? 'snips, file and bending block';

const kindOf = (remedies: readonly Remedy[]): ActKind => {
  if (remedies.every((r) => BENT.has(r.kind))) return 'bend';
  if (remedies.every((r) => r.kind === 'bias')) return 'clamp';
  return remedies.every((r) => r.kind === 'bag') ? 'rivet' : 'make';
};

const ids = (findings: readonly Finding[]): string[] => findings.map((f) => f.id);

/** Why, in one clause: the worst of the findings, and how many more. */
function whyOf(findings: readonly Finding[]): string {
  const [worst, ...more] = [...findings].sort((a, b) => b.chance - a.chance || (a.id < b.id ? -1 : 1));
  const fact = worst?.said.fact ?? '';
  return more.length === 0 ? fact : `${fact}; ${counted(more.length, 'more fault')} with it`;
}

/** Marks of the channel doublers that ride on a bend, from the root out. */
function ridingOf(scope: Scope): { readonly marks: readonly string[]; readonly findings: readonly Finding[] } {
  const findings = scope.open.filter((f) => f.check === 'bend-ride' && !scope.unread.has(f.id));
  const sorted = inSpanOrder(scope, findings, (f) => ({ station: f.station, name: f.at.doubler ?? '' }));
  const channels = new Set(scope.model.doublers.filter((d) => d.form === 'channel').map((d) => d.id));
  const riding = sorted.filter((f) => channels.has(f.at.doubler ?? ''));
  return { marks: riding.flatMap((f) => f.at.doubler ?? []), findings: riding };
}

/** All doublers that ride made anew, in one go. */
export function ridingActs(scope: Scope, decided: ReadonlySet<string>): Draft[] {
  const { model } = scope;
  const { marks, findings } = ridingOf(scope);
  const pieces = marks.flatMap((mark) => model.doublers.find((d) => d.id === mark && !decided.has(d.id)) ?? []);
  if (pieces.length === 0) return [];
  const remedies = pieces.map((d) => bendClear(model, d));
  const about = findings.filter((f) => pieces.some((d) => d.id === f.at.doubler));
  const names = listed(pieces.map((d) => d.id));
  const [only] = remedies;
  const what = remedies.length === 1 && only ? only.name : `make ${names} anew at an easier bend`;
  return [
    draft({
      key: 'make:riding',
      kind: 'make',
      phase: 'cause',
      what: opening(what),
      why: `${pieces.length > 1 ? 'they ride' : 'it rides'} on the spar’s bend, and every gap over ${pieces.length > 1 ? 'them' : 'it'} is untrue until then`,
      brief: `make ${counted(pieces.length, 'doubler')} anew at an easier bend`,
      once: `${names} ${pieces.length > 1 ? 'are' : 'is'} made anew`,
      tool: toolOf(remedies),
      minutes: minutesFor(remedies),
      parts: pieces.map((d) => d.id),
      stations: fromRootOut(
        scope,
        about.map((f) => f.station),
      ),
      settles: ids(about),
      remedies,
    }),
  ];
}

/** What is wrong with each rib, that metal answers. */
function byRib(scope: Scope, checks: ReadonlySet<CheckId>): Map<string, Finding[]> {
  const { model, open, unread } = scope;
  const all = new Map<string, Finding[]>();
  const add = (part: string | undefined, f: Finding): void => {
    if (part === undefined) return;
    const had = all.get(part);
    if (had) had.push(f);
    else all.set(part, [f]);
  };
  for (const f of open) if (checks.has(f.check) && !unread.has(f.id)) add(f.at.part, f);
  for (const f of open.filter((x) => x.check === 'hole-cleanup' && !unread.has(x.id))) {
    const layers = model.joints.find((j) => j.id === f.at.joint)?.layers ?? [];
    const hit = model.ribs.find((r) => r.kind !== 'nose' && layers.includes(r.id));
    if (hit && all.has(hit.id)) add(hit.id, f);
  }
  return all;
}

interface Chosen {
  readonly rib: Rib;
  readonly findings: readonly Finding[];
  readonly remedies: readonly Remedy[];
  readonly phase: Phase;
  readonly rests: readonly string[];
}

/** How far each end of a rib is to be moved to be held in the middle. */
function heldNow({ skeleton }: Scope, rib: Rib): string {
  const ends = skeleton.places.filter((p) => p.rib.id === rib.id);
  const said = ends.flatMap((p) => holdWords(skeleton, p) ?? []);
  return said.length > 0 ? `: ${said.join(', ')}` : '';
}

function ribAct(scope: Scope, { rib, findings, remedies, phase, rests }: Chosen): Draft {
  const kind = kindOf(remedies);
  const held = kind === 'clamp' ? heldNow(scope, rib) : '';
  const what = `${remedies.map((r) => r.name).join('; ')}${held}`;
  const isAgain = remedies.some((r) => r.cost.remade > 0);
  return draft({
    key: `make:${rib.id}`,
    kind,
    phase: kind === 'clamp' ? 'square' : phase,
    what: opening(what),
    why: whyOf(findings),
    brief: isAgain ? `make ${rib.id} again` : `put ${rib.id} right`,
    once: `${rib.id} is put right`,
    tool: toolOf(remedies),
    minutes: minutesFor(remedies),
    parts: [...new Set([rib.id, ...remedies.map((r) => r.part)])],
    stations: fromRootOut(scope, [rib.station]),
    settles: ids(findings),
    remedies,
    rests,
  });
}

/** Ribs that do not go together, each one act; `decided` are parts that something was decided about. */
export function ribActs(scope: Scope, decided: ReadonlySet<string>, riding: readonly Draft[]): Draft[] {
  const made = new Set([...riding.flatMap((d) => d.parts), ...decided]);
  const isOver = (rib: Rib): boolean =>
    scope.model.doublers.some((d) => d.part === rib.id && riding.some((r) => r.parts.includes(d.id)));
  const groups = [...byRib(scope, ABOUT_MAIN)].filter(([part]) => !decided.has(part));
  const actsFor = (some: typeof groups): Draft[] =>
    some.flatMap(([part, findings]) => {
      const rib = scope.model.ribs.find((r) => r.id === part);
      if (!rib) return [];
      const remedies = chosenFor(scope, rib, findings, made);
      const rests = isOver(rib) ? riding.map((r) => r.key) : [];
      return [ribAct(scope, { rib, findings, remedies, phase: 'metal', rests })];
    });
  // A rib that only stands clear of the spar may be held off it by another.
  const isOwn = ([, findings]: (typeof groups)[number]): boolean =>
    findings.some((f) => f.check !== 'seating' && causeOf(scope, f, riding) === undefined);
  const own = actsFor(groups.filter(isOwn));
  const first = [...riding, ...own];
  const left = groups.filter((g) => !isOwn(g) && g[1].some((f) => causeOf(scope, f, first) === undefined));
  return [...own, ...actsFor(left)];
}

/** Noses and tips whose line is off, each one act, the tips first: the line is strung between them. */
export function noseActs(scope: Scope, decided: ReadonlySet<string>, muted: (f: Finding) => boolean): Draft[] {
  const groups = [...byRib(scope, ABOUT_NOSE)].map(([part, all]) => ({ part, findings: all.filter((f) => !muted(f)) }));
  const acts = groups.flatMap(({ part, findings }) => {
    const rib = scope.model.ribs.find((r) => r.id === part);
    if (!rib || findings.length === 0 || decided.has(part)) return [];
    const remedies = chosenForNose(scope, rib, findings, decided);
    return [{ rib, findings, remedies, phase: 'nose' as const }];
  });
  const tips = acts.filter((a) => a.rib.kind === 'tip').map((a) => `make:${a.rib.id}`);
  return acts.map((a) => ribAct(scope, { ...a, rests: a.rib.kind === 'tip' ? [] : tips }));
}

/** Rivets and holes that a remedy of their own answers, a joint each. */
export function rowActs(scope: Scope, had: ReadonlySet<string>): Draft[] {
  const open = scope.open.filter(
    (f) => (f.check === 'grip' || f.check === 'hole-cleanup') && !had.has(f.id) && !scope.unread.has(f.id),
  );
  return open.flatMap((f): Draft[] => {
    const [remedy] = remediesFor(scope.model, f);
    if (!remedy) return [];
    const remedies = [remedy];
    return [
      draft({
        key: `row:${f.id}`,
        kind: kindOf(remedies),
        phase: 'metal',
        what: opening(remedy.name),
        why: f.said.fact,
        brief: `put ${f.at.joint ?? f.place} right`,
        once: `${f.at.joint ?? f.place} is put right`,
        tool: toolOf(remedies),
        minutes: minutesFor(remedies),
        parts: [remedy.part],
        stations: fromRootOut(scope, [f.station]),
        settles: [f.id],
        holes: f.at.joint !== undefined && f.at.hole !== undefined ? [`${f.at.joint}/${f.at.hole}`] : [],
        remedies,
      }),
    ];
  });
}
