import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { exact, type Size } from '../../chains/size.ts';
import { alongAt } from '../../model/along.ts';
import { UPRIGHT } from '../../model/quantities.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';

/*
 * How the twist was read. By heights: [(front height + bench there) - (rear height + bench there) + how much higher the
 * drawing puts the rear] / web to web. By level: the level's reading. By plumb line: the offset at the top of a square
 * stood on the chord board, over its length. Every way the drawing washout comes off, and the reference station's own
 * twist as it was read in that same way. Degrees, nose up as built positive, whichever hand.
 */

export type TwistWay = 'heights' | 'level' | 'plumb';
export const TWIST_WAYS: readonly TwistWay[] = ['heights', 'level', 'plumb'];

const DEGREES = 180 / Math.PI;

/**
 * Twist by heights at a station as a chain in degrees; undefined where a height was not read. A bench that was not
 * mapped counts as flat.
 */
export function heightTwist(skeleton: Skeleton, bay: Bay, bench: 'mapped' | 'ignored' = 'mapped'): Chain | undefined {
  const { book, model } = skeleton;
  const id = bay.station.id;
  const front = book.find(`height.front@${id}`);
  const rear = book.find(`height.rear@${id}`);
  if (!front || !rear) return undefined;
  const web = book.get(`webs@${id}`).best;
  const k = DEGREES / web;
  const drawn = exact(
    'survey.rearHigher',
    'rear edge higher on the drawing',
    alongAt(model.survey.rearHigher, bay.station.y),
  );
  const links: [number, Size][] = [
    [k, front],
    [-k, rear],
    [k, drawn],
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

/**
 * Twist by plumb line at a station, degrees: aft at the top is nose up. 1.0 mm over 300 mm is 0.19°. Undefined where
 * it was not read.
 */
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

/** What a station's twist was found to be. */
export interface Twist {
  readonly bay: Bay;
  /** What the residual rests on. */
  readonly chain: Chain;
  /** Less the drawing washout and the zero, degrees, nose up positive. */
  readonly residual: number;
}

/** The stations that were read one way. */
export interface TwistRun {
  readonly way: TwistWay;
  /** In station order. */
  readonly twists: readonly Twist[];
  /**
   * False where a reference station is named and was not read this way: then only differences between stations are
   * known.
   */
  readonly absolute: boolean;
}

/**
 * What was read one way: residual twists from the reference station's, or from the bench where no station is the
 * reference.
 */
export function twistRun(skeleton: Skeleton, way: TwistWay): TwistRun {
  const { reference } = skeleton.model.survey;
  const raw: Twist[] = [];
  for (const bay of skeleton.bays) {
    const read = READ[way](skeleton, bay);
    if (read) raw.push({ bay, chain: read, residual: best(read) - bay.station.washout });
  }
  const zero = raw.find((t) => t.bay.station.id === reference);
  if (!zero) return { way, twists: raw, absolute: reference === undefined };
  const twists = raw.map((t) => ({
    bay: t.bay,
    chain: t === zero ? [] : combine([1, t.chain], [-1, zero.chain]),
    residual: t.residual - zero.residual,
  }));
  return { way, twists, absolute: true };
}

/** Residual twist at every station that was read one way, in station order. */
export const twistsOf = (skeleton: Skeleton, way: TwistWay): readonly Twist[] => twistRun(skeleton, way).twists;
