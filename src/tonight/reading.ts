import { type NextReading, nextReadings } from '../chance/nextReading.ts';
import { lookedAt } from '../checks/basis.ts';
import { checkAll } from '../checks/checkAll.ts';
import { type Finding, mostDoubt } from '../checks/finding.ts';
import { worthRepeating } from '../checks/fit/disagreement.ts';
import type { GateItem } from '../drilling/gate.ts';
import { isFeeler } from '../model/sizeEntries.ts';
import { askedOf } from '../model/sizes.ts';
import { isDisputed } from '../remedies/disputed.ts';
import { type Draft, draft } from './act.ts';
import { causeOf } from './muted.ts';
import { fromRootOut, inSpanOrder, type Scope } from './scope.ts';
import { instrumentWord, readActs, type Wanted } from './sizesToRead.ts';

/*
 * Acts that read: what is disputed; what decides metal; what nobody looked at; what is too close to call.
 */

const DISPUTED = 'readings disagree, and nothing may rest on them';

/** Readings that disagree, or that are asked about: read again before anything rests on them. */
export function disputedActs(scope: Scope): Draft[] {
  const { model, skeleton, open } = scope;
  const disputes = checkAll(model).filter((f) => f.check === 'disagreement' && f.verdict === 'act');
  const hanging = open.filter((f) => f.check !== 'disagreement' && isDisputed(model, f));
  const wanted = disputes.flatMap((f): Wanted[] => {
    const key = worthRepeating(skeleton, f);
    const sizes = new Set([key, f.at.size, ...f.restsOn.map((t) => t.size.key)]);
    const held = hanging.filter((h) => h.restsOn.some((t) => sizes.has(t.size.key)));
    return key === undefined ? [] : [{ key, settles: [f.id, ...held.map((h) => h.id)] }];
  });
  const asked = [...askedOf(model).values()].map(({ reading, question }): Draft => {
    const entry = skeleton.book.entryOf(reading.size);
    const resting = open.filter((f) => f.restsOn.some((t) => t.size.key === reading.size));
    return draft({
      key: `asked:${reading.size}:${reading.instrument}`,
      kind: 'read',
      phase: 'disputed',
      what: `Read the ${entry?.name ?? reading.size} again, or say that it reads so`,
      why: question,
      brief: 'read one size',
      once: `${entry?.name ?? reading.size} is read again`,
      tool: instrumentWord(reading.instrument),
      minutes: 2,
      parts: entry?.of.part === undefined ? [] : [entry.of.part],
      stations: fromRootOut(scope, [entry?.of.station]),
      settles: resting.map((f) => f.id),
      reads: [{ size: reading.size, instrument: reading.instrument }],
    });
  });
  const again = readActs(scope, wanted, { phase: 'disputed', key: 'disputed', why: DISPUTED, again: true });
  return [...again, ...asked, ...temperatureActs(scope)];
}

/** A set read at temperatures too far apart, read again in one session. */
function temperatureActs({ open }: Scope): Draft[] {
  return open
    .filter((f) => f.check === 'temperature')
    .map((f) =>
      draft({
        key: 'temperature',
        kind: 'read',
        phase: 'disputed',
        what: 'Read the set again in one session, at one temperature',
        why: f.said.fact,
        brief: 'read the set again',
        once: 'the set is read at one temperature',
        tool: 'thermometer',
        minutes: 30,
        settles: [f.id],
      }),
    );
}

/** Most readings that are taken for one act of metal: picked, no source. */
const MOST_FOR_ONE = 2;

/** Whether a reading would be taken over a piece that is about to be made anew. */
function overMade({ skeleton, model }: Scope, riding: readonly Draft[]): (size: string) => boolean {
  const made = new Set(riding.flatMap((d) => d.parts));
  const pieces = model.doublers.filter((d) => made.has(d.id));
  return (size) => {
    const entry = skeleton.book.entryOf(size);
    const isFelt = isFeeler(entry) && entry?.of.end !== undefined;
    return isFelt && pieces.some((d) => d.part === entry?.of.part && d.end === entry.of.end);
  };
}

/** Whether a reading may save more minutes of metal than it takes. */
const isWorth = (r: NextReading, act: Draft): boolean => r.saves * act.minutes > r.minutes;

/**
 * What an act answers, by id; where a rib is short or long besides, that it stands clear of the spar is the same
 * fact.
 */
function ownFindings({ open }: Scope, act: Draft): ReadonlySet<string> {
  const all = open.filter((f) => act.settles.includes(f.id));
  const own = all.filter((f) => f.check !== 'seating');
  return new Set((own.length > 0 ? own : all).map((f) => f.id));
}

/** Readings that could change what metal is made, each with the acts it decides. */
function deciding(scope: Scope, readings: readonly NextReading[], metal: readonly Draft[]): Map<NextReading, Draft[]> {
  const chosen = new Map<NextReading, Draft[]>();
  const isOverMade = overMade(
    scope,
    metal.filter((m) => m.phase === 'cause'),
  );
  for (const act of metal) {
    const about = ownFindings(scope, act);
    const worth = readings.filter((r) => isWorth(r, act) && !isOverMade(r.size));
    const settling = worth.filter((r) => r.settles.some((id) => about.has(id)));
    const nearing = worth.filter((r) => r.narrows.some((id) => about.has(id)));
    const touches = settling.length > 0 ? settling : nearing;
    for (const r of touches.slice(0, MOST_FOR_ONE)) chosen.set(r, [...(chosen.get(r) ?? []), act]);
  }
  return chosen;
}

/** An act that reads one size, in the words of whoever says what to read next. */
function nextAct(scope: Scope, r: NextReading, why: string): Draft {
  const entry = scope.skeleton.book.entryOf(r.size);
  return draft({
    key: `read:${r.size}`,
    kind: 'read',
    phase: 'decide',
    what: r.todo,
    why,
    brief: 'read one size',
    once: `${entry?.name ?? r.size} is read`,
    tool: instrumentWord(r.instrument),
    minutes: r.minutes,
    parts: entry?.of.part === undefined ? [] : [entry.of.part],
    stations: fromRootOut(scope, [r.station]),
    settles: r.settles,
    reads: [{ size: r.size, instrument: r.instrument }],
  });
}

/** What is read before metal, and what else is worth reading. */
export interface Reads {
  readonly first: readonly Draft[];
  readonly others: readonly Wanted[];
  /** Pairs of acts, by key: the reading, and the metal it decides. */
  readonly decides: readonly (readonly [string, string])[];
}

/**
 * Whether a reading still says something once the metal is done: it is not of a part that is made, nor for what hangs
 * on one.
 */
function isStill(scope: Scope, metal: readonly Draft[]): (r: NextReading) => boolean {
  const findings = new Map(checkAll(scope.model).map((f) => [f.id, f]));
  const made = new Set<string | undefined>(metal.flatMap((d) => d.parts));
  const stands = (id: string): boolean => {
    const f = findings.get(id);
    return f !== undefined && causeOf(scope, f, metal) === undefined;
  };
  return (r) => !made.has(scope.skeleton.book.entryOf(r.size)?.of.part) && r.settles.some(stands);
}

export function nextReads(scope: Scope, metal: readonly Draft[]): Reads {
  const { list } = nextReadings(scope.model);
  const chosen = deciding(scope, list, metal);
  const first = [...chosen].map(([r, acts]) =>
    nextAct(scope, r, `it decides whether to ${acts.map((a) => a.brief).join(' and ')}`),
  );
  const decides = [...chosen].flatMap(([r, acts]) => acts.map((a) => [`read:${r.size}`, a.key] as const));
  const still = isStill(scope, metal);
  const others = list
    .filter((r) => !chosen.has(r) && still(r))
    .map((r): Wanted => ({ key: r.size, settles: r.settles, instrument: r.instrument }));
  return { first, others, decides };
}

/** Sizes that nobody read and that something at act, or more likely so than not, rests on by the paper alone. */
export function unreadWanted(scope: Scope): Wanted[] {
  const { skeleton, open, unread, model } = scope;
  return open
    .filter((f) => unread.has(f.id) && !isDisputed(model, f))
    .flatMap((f): Wanted[] => {
      const missing = lookedAt(skeleton, f).missing.flatMap((w) => firstKey(scope, w.keys));
      const doubt = mostDoubt(f.restsOn.filter((t) => skeleton.book.entryOf(t.size.key)))?.size.key;
      const keys = missing.length > 0 ? missing : [doubt ?? []].flat();
      return keys.map((key) => ({ key, settles: [f.id] }));
    });
}

/** Where a gate is unsettled and nothing better is to be read: the size that carries most of the doubt, once more. */
export function repeatWanted({ skeleton }: Scope, items: readonly GateItem[], had: ReadonlySet<string>): Wanted[] {
  const findings = items.flatMap((i): Finding[] => (i.answer === 'unsettled' && i.finding ? [i.finding] : []));
  return findings
    .filter((f) => !had.has(f.id))
    .flatMap((f) => {
      const key = mostDoubt(f.restsOn.filter((t) => skeleton.book.entryOf(t.size.key)))?.size.key;
      return key === undefined ? [] : [{ key, settles: [f.id] }];
    });
}

/** Sizes that the items of a gate want looked at; what a tick says as well is looked through instead. */
export function askedByGates(scope: Scope, items: readonly GateItem[]): Wanted[] {
  const plain = items.flatMap((i) => i.asks.filter((w) => w.tick === undefined));
  return plain.flatMap((w) => firstKey(scope, w.keys).map((key) => ({ key, settles: [] })));
}

/** Of several sizes of which one is enough, the one nearest the root. */
function firstKey(scope: Scope, keys: readonly string[]): string[] {
  const { book } = scope.skeleton;
  return inSpanOrder(scope, keys, (key) => ({ station: book.entryOf(key)?.of.station, name: key })).slice(0, 1);
}
