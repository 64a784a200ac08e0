import { combine } from '../../chains/chain.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { sentence } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { TWIST_WAYS, type Twist, type TwistRun, type TwistWay, twistRun } from './twistRead.ts';
import {
  type Between,
  benchNote,
  endToEnd,
  type SaidWay,
  stationTwist,
  step,
  type TwistFound,
  WORD,
} from './twistSaid.ts';
import { type TwistShape, twistShape } from './twistShape.ts';
import { type ByWay, type Together, waysTogether } from './twistTogether.ts';

/*
 * Asks: is the panel twisted? (C11) Each station against the drawing, neighbour to neighbour, and end to end; by each
 * way it was read, and by all ways together where there is more than one.
 */

/**
 * The shape of the twist read one way: slope, hump or bend. A station whose reading is asked about has no part in it.
 */
export function shapeOf(skeleton: Skeleton, all: readonly Twist[], way: SaidWay): TwistShape | undefined {
  const sure = all.filter((t) => !t.chain.some(({ size }) => size.aged === 'asked'));
  return twistShape(
    skeleton.model,
    sure.map((t) => ({ station: t.bay.station.id, y: t.bay.station.y, v: t.residual })),
    WORD[way],
  );
}

/**
 * What else is to be said of the panel read one way: what the bench hides, its shape, and whether single stations are
 * known.
 */
function runNotes(skeleton: Skeleton, run: TwistRun, { from, to }: Between): string | undefined {
  const notes = [
    run.way === 'heights' ? benchNote(skeleton, [from, to]) : undefined,
    shapeOf(skeleton, run.twists, run.way)?.sentence,
    run.absolute ? undefined : noZero(skeleton, run.way),
  ];
  return notes.filter((n) => n !== undefined).join(' ') || undefined;
}

/**
 * What else is to be said of the panel by all ways: what the bench hides from the heights, and the first shape one of
 * them shows.
 */
function togetherNotes(skeleton: Skeleton, runs: readonly TwistRun[], { from, to }: Between): string | undefined {
  const [shape] = runs.flatMap((run) => shapeOf(skeleton, run.twists, run.way)?.sentence ?? []);
  const byHeights = runs.some(({ way }) => way === 'heights');
  const notes = [byHeights ? benchNote(skeleton, [from, to]) : undefined, shape];
  return notes.filter((n) => n !== undefined).join(' ') || undefined;
}

const noZero = ({ model: { survey } }: Skeleton, way: TwistWay): string =>
  `${survey.reference} was not read ${WORD[way]}, so no station's own twist is known that way: read ${survey.reference} ${WORD[way]} too.`;

const change = (a: Twist, b: Twist) => ({
  chain: combine([1, b.chain], [-1, a.chain]),
  residual: b.residual - a.residual,
});

function* oneWay(skeleton: Skeleton, run: TwistRun): Generator<Finding> {
  const { way, twists } = run;
  const [first] = twists;
  const last = twists.at(-1);
  if (!first || !last) return;
  const alone = first === last;
  const disputed = run.absolute ? undefined : noZero(skeleton, way);
  // A station alone has no other to differ from: it is asked, and nothing is concluded.
  if (run.absolute || alone)
    for (const t of twists)
      yield stationTwist(skeleton, t.bay, { way, chain: t.chain, residual: t.residual, disputed });
  for (const [i, b] of twists.entries()) {
    const a = twists[i - 1];
    if (a) yield step(skeleton, { from: a.bay, to: b.bay }, { way, ...change(a, b) });
  }
  const ends = { from: first.bay, to: last.bay };
  if (!alone) yield endToEnd(skeleton, ends, { way, ...change(first, last) }, runNotes(skeleton, run, ends));
}

/** Ways of reading that disagree when they lie further apart than this many combined standard uncertainties. */
const APART = 3;

const apartLimit = (model: Model): number => limitFor(model, 'disagreement').act[1] ?? APART;

/** All ways as one answer; where two of them cannot both be right, nothing is concluded from it. */
function agreed(model: Model, all: Together<TwistWay>): TwistFound {
  const words = wordsOf(all);
  const disputed = `Its readings ${words} disagree: settle which is wrong before anything is concluded.`;
  return {
    way: 'combined',
    chain: all.chain,
    residual: all.residual,
    disputed: all.apart > apartLimit(model) ? disputed : undefined,
  };
}

const wordsOf = ({ pair: [a, b] }: Together<TwistWay>): string => `${WORD[a]} and ${WORD[b]}`;

/** Two stations that are neighbours in what was read one way, and the change between them. */
interface Step extends Between {
  readonly by: ByWay<TwistWay>;
}

const stepsOf = ({ way, twists }: TwistRun): Step[] =>
  twists.flatMap((b, i) => {
    const a = twists[i - 1];
    return a ? [{ from: a.bay, to: b.bay, by: { way, ...change(a, b) } }] : [];
  });

/**
 * The first and the last station that two ways or more have both read, and the change between them by each of those
 * ways.
 */
function endsOf(
  runs: readonly TwistRun[],
  bays: readonly Bay[],
): { ends: Between; ways: ByWay<TwistWay>[] } | undefined {
  const at = runs.map(({ way, twists }) => ({ way, by: new Map(twists.map((t) => [t.bay, t])) }));
  const often = bays.filter((bay) => at.filter(({ by }) => by.has(bay)).length > 1);
  const [from] = often;
  const to = often.at(-1);
  if (!from || !to || from === to) return undefined;
  const ways = at.flatMap(({ way, by }): ByWay<TwistWay>[] => {
    const [a, b] = [by.get(from), by.get(to)];
    return a && b ? [{ way, ...change(a, b) }] : [];
  });
  return { ends: { from, to }, ways };
}

function dispute(skeleton: Skeleton, bay: Bay, all: Together<TwistWay>): Finding {
  const { model } = skeleton;
  const id = bay.station.id;
  return judge({
    check: 'disagreement',
    at: { station: id, way: 'combined' },
    place: `${id} twist`,
    restsOn: all.chain,
    value: all.apart,
    u: 0,
    limit: limitFor(model, 'disagreement'),
    sense: () => 'disagree',
    say: (j) =>
      sentence(model, j, `The twist of ${id} ${wordsOf(all)} lies ${j.value.toFixed(1)} combined uncertainties apart`, {
        todo: 'Take both again, the level turned end for end, before concluding anything.',
      }),
  });
}

/** Stations read in more ways than one, and a disagreement where two ways cannot both be right. */
function* stationsTogether(skeleton: Skeleton, runs: readonly TwistRun[]): Generator<Finding> {
  const { model } = skeleton;
  const at = new Map<Bay, ByWay<TwistWay>[]>();
  for (const { way, twists } of runs.filter((r) => r.absolute))
    for (const { bay, chain, residual } of twists) at.set(bay, [...(at.get(bay) ?? []), { way, chain, residual }]);
  for (const bay of skeleton.bays) {
    const all = waysTogether(at.get(bay) ?? []);
    if (!all) continue;
    yield stationTwist(skeleton, bay, agreed(model, all));
    if (all.apart > apartLimit(model)) yield dispute(skeleton, bay, all);
  }
}

/** Steps between the same two stations read in more ways than one, in station order. */
function* stepsTogether(skeleton: Skeleton, runs: readonly TwistRun[]): Generator<Finding> {
  const between = new Map<string, { step: Step; ways: ByWay<TwistWay>[] }>();
  for (const own of runs.flatMap(stepsOf)) {
    const key = `${own.from.index} ${own.to.index}`;
    const had = between.get(key);
    if (had) had.ways.push(own.by);
    else between.set(key, { step: own, ways: [own.by] });
  }
  const ordered = [...between.values()].sort((a, b) => a.step.to.index - b.step.to.index);
  for (const { step: own, ways } of ordered) {
    const all = waysTogether(ways);
    if (all) yield step(skeleton, own, agreed(skeleton.model, all));
  }
}

/** What was read in more ways than one, as one weighted answer each. */
function* allWays(skeleton: Skeleton, runs: readonly TwistRun[]): Generator<Finding> {
  yield* stationsTogether(skeleton, runs);
  yield* stepsTogether(skeleton, runs);
  const whole = endsOf(runs, skeleton.bays);
  const all = whole && waysTogether(whole.ways);
  if (!whole || !all) return;
  const notes = togetherNotes(skeleton, runs, whole.ends);
  yield endToEnd(skeleton, whole.ends, agreed(skeleton.model, all), notes);
}

export function* twist(skeleton: Skeleton): Generator<Finding> {
  const runs = TWIST_WAYS.map((way) => twistRun(skeleton, way));
  for (const run of runs) yield* oneWay(skeleton, run);
  yield* allWays(skeleton, runs);
}
