import { best, type Chain, chain, combine, uncertainty } from '../../chains/chain.ts';
import { exact, type Size } from '../../chains/size.ts';
import { alongAt } from '../../model/along.ts';
import { limitFor } from '../../model/limits.ts';
import { UPRIGHT } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { type TwistShape, twistShape } from './twistShape.ts';

/*
 * Asks: is the panel twisted? (C11) Degrees, nose up positive.
 * By heights: [(front height + bench there) - (rear height + bench there) + how much higher the drawing puts the rear] / web
 * to web. By level: the level's reading. By plumb line: the offset at the top of a square stood on the chord board, over
 * its length. Every way the drawing washout and the reference station's own twist come off. Neighbour to neighbour and end
 * to end are judged too. Where a station was read in more ways than one they are weighted by 1/u² into one answer, and
 * asked whether they agree.
 */

export type TwistWay = 'heights' | 'level' | 'plumb';

const DEGREES = 180 / Math.PI;

/** Twist by heights at a station as a chain in degrees; undefined where a height was not read. A bench that was not mapped counts as flat. */
export function heightTwist(skeleton: Skeleton, bay: Bay, bench: 'mapped' | 'ignored' = 'mapped'): Chain | undefined {
  const { book, model } = skeleton;
  const id = bay.station.id;
  const front = book.find(`height.front@${id}`);
  const rear = book.find(`height.rear@${id}`);
  if (!front || !rear) return undefined;
  const web = book.get(`webs@${id}`).best;
  const k = DEGREES / web;
  const links: [number, Size][] = [
    [k, front],
    [-k, rear],
    [k, exact('survey.rearHigher', 'rear edge higher on the drawing', alongAt(model.survey.rearHigher, bay.station.y))],
  ];
  const benchFront = book.find(`bench.front@${id}`);
  const benchRear = book.find(`bench.rear@${id}`);
  if (bench === 'mapped' && benchFront) links.push([k, benchFront]);
  if (bench === 'mapped' && benchRear) links.push([-k, benchRear]);
  return chain(...links);
}

/** Twist by level at a station, degrees; undefined where it was not read. */
function levelTwist(skeleton: Skeleton, bay: Bay): Chain | undefined {
  const read = skeleton.book.find(`level@${bay.station.id}`);
  return read && chain([1, read]);
}

/** Twist by plumb line at a station, degrees: aft at the top is nose up. 1.0 mm over 300 mm is 0.19°. Undefined where it was not read. */
function plumbTwist(skeleton: Skeleton, bay: Bay): Chain | undefined {
  const key = `plumb@${bay.station.id}`;
  const read = skeleton.book.find(key);
  const over = skeleton.book.readingsOf(key).at(-1)?.over ?? UPRIGHT;
  return read && chain([DEGREES / over, read]);
}

const READ: Record<TwistWay, (skeleton: Skeleton, bay: Bay) => Chain | undefined> = {
  heights: (s, b) => heightTwist(s, b),
  level: levelTwist,
  plumb: plumbTwist,
};

export interface Twist {
  readonly bay: Bay;
  readonly chain: Chain;
  /** Residual from the drawing washout, degrees. */
  readonly residual: number;
}

/** Residual twist at every station that was read one way, in station order. */
export function twistsOf(skeleton: Skeleton, way: TwistWay): Twist[] {
  const raw: Twist[] = [];
  for (const bay of skeleton.bays) {
    const read = READ[way](skeleton, bay);
    if (read) raw.push({ bay, chain: read, residual: best(read) - bay.station.washout });
  }
  const zero = raw.find((t) => t.bay.station.id === skeleton.model.survey.reference);
  if (!zero) return raw;
  return raw.map((t) => ({
    bay: t.bay,
    chain: t === zero ? [] : combine([1, t.chain], [-1, zero.chain]),
    residual: t.residual - zero.residual,
  }));
}

const sense = (v: number): string => (Math.abs(v) < 0.005 ? 'level' : v < 0 ? 'nose down' : 'nose up');

/** `0.33° nose down`, or `level`. */
const turned = (model: Model, v: number): string =>
  Math.abs(v) < 0.005 ? 'level' : `${show(model, Math.abs(v), 'deg')} ${sense(v)}`;
/** A way of reading the twist, or all ways together. */
type Way = TwistWay | 'combined';
export const WORD: Record<Way, string> = {
  heights: 'by heights',
  level: 'by level',
  plumb: 'by plumb line',
  combined: 'combined',
};
const WAYS: readonly TwistWay[] = ['heights', 'level', 'plumb'];

/** What the heights alone would have said, where the bench map moves it by 0.02° or more: how much twist the bench hides. */
function benchNote(skeleton: Skeleton, bays: readonly Bay[]): string | undefined {
  const at = (bench: 'mapped' | 'ignored'): number | undefined => {
    const reads = bays.map((b) => heightTwist(skeleton, b, bench));
    if (reads.some((r) => r === undefined)) return undefined;
    const values = reads.map((r, i) => best(r!) - bays[i]!.station.washout);
    return values.length === 1 ? values[0] : values[1]! - values[0]!;
  };
  const [mapped, ignored] = [at('mapped'), at('ignored')];
  if (mapped === undefined || ignored === undefined || Math.abs(mapped - ignored) < 0.02) return undefined;
  const { model } = skeleton;
  return `Over the bench as it stands it reads ${turned(model, ignored)}; the bench hides ${show(model, Math.abs(mapped - ignored), 'deg')}.`;
}

function atStation(skeleton: Skeleton, t: Twist, way: Way, disputed?: string): Finding {
  const { model } = skeleton;
  const id = t.bay.station.id;
  const web = skeleton.book.get(`webs@${id}`).best;
  return judge({
    check: 'twist',
    at: { station: id, way },
    place: `${id} ${WORD[way]}`,
    restsOn: t.chain,
    value: t.residual,
    ...(disputed ? { atLeast: 'unsettled' as const } : {}),
    limit: limitFor(model, 'twist'),
    sense,
    say: (j) =>
      sentence(
        model,
        j,
        `${id} stands ${turned(model, j.value)} ${WORD[way]}, ${show(model, (Math.abs(j.value) / DEGREES) * web)} over the chord`,
        {
          note: way === 'heights' ? benchNote(skeleton, [t.bay]) : undefined,
          todo: 'Pack the jig before anything is pinned.',
          disputed,
        },
      ),
  });
}

function step(skeleton: Skeleton, a: Twist, b: Twist, way: Way): Finding {
  const { model } = skeleton;
  const [from, to] = [a.bay.station.id, b.bay.station.id];
  return judge({
    check: 'twist-step',
    at: { station: to, from, to, way },
    place: `${from} to ${to} ${WORD[way]}`,
    restsOn: combine([1, b.chain], [-1, a.chain]),
    value: b.residual - a.residual,
    limit: limitFor(model, 'twist-step'),
    sense,
    say: (j) =>
      sentence(
        model,
        j,
        `From ${from} to ${to} the twist changes by ${show(model, Math.abs(j.value), 'deg')} ${sense(j.value)} ${WORD[way]}`,
      ),
  });
}

/** The shape of the twist read one way: slope, hump or bend. */
export function shapeOf(skeleton: Skeleton, all: readonly Twist[], way: Way): TwistShape | undefined {
  return twistShape(
    skeleton.model,
    all.map((t) => ({ station: t.bay.station.id, y: t.bay.station.y, v: t.residual })),
    WORD[way],
  );
}

function endToEnd(skeleton: Skeleton, all: readonly Twist[], way: Way): Finding {
  const { model } = skeleton;
  const [a, b] = [all[0]!, all[all.length - 1]!];
  return judge({
    check: 'twist',
    at: { from: a.bay.station.id, to: b.bay.station.id, way },
    place: `whole panel ${WORD[way]}`,
    restsOn: combine([1, b.chain], [-1, a.chain]),
    value: b.residual - a.residual,
    limit: limitFor(model, 'twist'),
    sense,
    say: (j) =>
      sentence(
        model,
        j,
        `The panel twists ${show(model, Math.abs(j.value), 'deg')} ${sense(j.value)} from ${a.bay.station.id} to ${b.bay.station.id} ${WORD[way]}`,
        {
          note:
            [way === 'heights' ? benchNote(skeleton, [a.bay, b.bay]) : undefined, shapeOf(skeleton, all, way)?.sentence]
              .filter(Boolean)
              .join(' ') || undefined,
          todo: 'Skinned like this the twist is locked in.',
        },
      ),
  });
}

/** Ways of reading that disagree when they lie further apart than this many combined standard uncertainties. */
const APART = 3;

/** One station's twist from every way it was read, weighted by 1/u², and the worst disagreement between two of them in combined u. */
function combinedAt(ways: readonly { way: TwistWay; twist: Twist }[]): {
  twist: Twist;
  apart: number;
  pair: readonly [TwistWay, TwistWay];
} {
  const weights = ways.map((w) => 1 / Math.max(uncertainty(w.twist.chain) ** 2, 1e-12));
  const whole = weights.reduce((a, b) => a + b, 0);
  const twist: Twist = {
    bay: ways[0]!.twist.bay,
    chain: combine(...ways.map((w, i): [number, Chain] => [weights[i]! / whole, w.twist.chain])),
    residual: ways.reduce((sum, w, i) => sum + (weights[i]! / whole) * w.twist.residual, 0),
  };
  let apart = 0;
  let pair: readonly [TwistWay, TwistWay] = [ways[0]!.way, ways[1]!.way];
  ways.forEach((a, i) =>
    ways.slice(i + 1).forEach((b) => {
      const u = uncertainty(combine([1, a.twist.chain], [-1, b.twist.chain]));
      const far = u > 0 ? Math.abs(a.twist.residual - b.twist.residual) / u : 0;
      if (far > apart) [apart, pair] = [far, [a.way, b.way]];
    }),
  );
  return { twist, apart, pair };
}

/** Stations read in more than one way: one weighted answer each, and a disagreement where two ways cannot both be right. Only ways that count from the same zero: the reference station, or without one the bench. */
function* combinedFindings(skeleton: Skeleton): Generator<Finding> {
  const { reference } = skeleton.model.survey;
  const read = WAYS.map((way) => ({
    way,
    all: new Map(twistsOf(skeleton, way).map((t) => [t.bay.station.id, t])),
  })).filter(({ all }) => reference === undefined || all.has(reference));
  for (const bay of skeleton.bays) {
    const ways = read.flatMap(({ way, all }) => {
      const twist = all.get(bay.station.id);
      return twist ? [{ way, twist }] : [];
    });
    if (ways.length < 2) continue;
    const { twist, apart, pair } = combinedAt(ways);
    const agree = apart <= (limitFor(skeleton.model, 'disagreement').act[1] ?? APART);
    const words = `${WORD[pair[0]]} and ${WORD[pair[1]]}`;
    yield atStation(
      skeleton,
      twist,
      'combined',
      agree ? undefined : `Its readings ${words} disagree: settle which is wrong before anything is concluded.`,
    );
    if (!agree) yield twistDispute(skeleton, twist, apart, words);
  }
}

function twistDispute(skeleton: Skeleton, t: Twist, apart: number, words: string): Finding {
  const { model } = skeleton;
  const id = t.bay.station.id;
  return judge({
    check: 'disagreement',
    at: { station: id, way: 'combined' },
    place: `${id} twist`,
    restsOn: t.chain,
    value: apart,
    u: 0,
    limit: limitFor(model, 'disagreement'),
    sense: () => 'disagree',
    say: (j) =>
      sentence(model, j, `The twist of ${id} ${words} lies ${j.value.toFixed(1)} combined uncertainties apart`, {
        todo: 'Take both again, the level turned end for end, before concluding anything.',
      }),
  });
}

export function* twist(skeleton: Skeleton): Generator<Finding> {
  for (const way of WAYS) {
    const all = twistsOf(skeleton, way);
    for (const t of all) yield atStation(skeleton, t, way);
    for (let i = 1; i < all.length; i++) yield step(skeleton, all[i - 1]!, all[i]!, way);
    if (all.length > 1) yield endToEnd(skeleton, all, way);
  }
  yield* combinedFindings(skeleton);
}
