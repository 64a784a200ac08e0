import { best, type Chain } from '../../chains/chain.ts';
import { type Limit, limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';
import { heightTwist, type TwistWay } from './twistRead.ts';

/*
 * What is said of a twist that was found, by one way or by all: of a station, of a step from one to the next that was
 * read, of the panel from end to end. Degrees, nose up positive.
 */

const DEGREES = 180 / Math.PI;

const sense = (v: number): string => {
  if (Math.abs(v) < UNSEEN) return 'level';
  return v < 0 ? 'nose down' : 'nose up';
};

/** `0.33° nose down`, or `level`. */
const turned = (model: Model, v: number): string =>
  Math.abs(v) < UNSEEN ? 'level' : `${show(model, Math.abs(v), 'deg')} ${sense(v)}`;

/** A way of reading the twist, or all ways together. */
export type SaidWay = TwistWay | 'combined';
export const WORD: Record<SaidWay, string> = {
  heights: 'by heights',
  level: 'by level',
  plumb: 'by plumb line',
  combined: 'combined',
};

/**
 * Twist over a flat bench or the mapped one: a station's, or the change from the first to the second; undefined where
 * not read.
 */
function overBench(skeleton: Skeleton, bays: readonly Bay[], bench: 'mapped' | 'ignored'): number | undefined {
  const values: number[] = [];
  for (const bay of bays) {
    const read = heightTwist(skeleton, bay, bench);
    if (!read) return undefined;
    values.push(best(read) - bay.station.washout);
  }
  const [first, second] = values;
  return first === undefined || second === undefined ? first : second - first;
}

/** What the bench hides is worth a word from here, degrees. */
const BENCH_WORTH = 0.02;

/** What the heights alone would have said, where the bench map moves it: how much twist the bench hides. */
export function benchNote(skeleton: Skeleton, bays: readonly Bay[]): string | undefined {
  const mapped = overBench(skeleton, bays, 'mapped');
  const ignored = overBench(skeleton, bays, 'ignored');
  if (mapped === undefined || ignored === undefined) return undefined;
  const hidden = Math.abs(mapped - ignored);
  if (hidden < BENCH_WORTH) return undefined;
  const { model } = skeleton;
  return `Over the bench as it stands it reads ${turned(model, ignored)}; the bench hides ${show(model, hidden, 'deg')}.`;
}

/** One twist as it was found, by one way or by all. */
export interface TwistFound {
  readonly way: SaidWay;
  readonly chain: Chain;
  readonly residual: number;
  /** Why nothing may be concluded from it yet. */
  readonly disputed?: string | undefined;
}

const unsettled = (found: TwistFound) => (found.disputed ? { atLeast: 'unsettled' as const } : {});

export function stationTwist(skeleton: Skeleton, bay: Bay, found: TwistFound): Finding {
  const { model } = skeleton;
  const id = bay.station.id;
  const web = skeleton.book.get(`webs@${id}`).best;
  const { way, disputed } = found;
  const overChord = (v: number): string => show(model, (Math.abs(v) / DEGREES) * web);
  return judge({
    check: 'twist',
    at: { station: id, way },
    place: `${id} ${WORD[way]}`,
    restsOn: found.chain,
    value: found.residual,
    ...unsettled(found),
    limit: limitFor(model, 'twist'),
    sense,
    say: (j) =>
      sentence(model, j, `${id} stands ${turned(model, j.value)} ${WORD[way]}, ${overChord(j.value)} over the chord`, {
        note: way === 'heights' ? benchNote(skeleton, [bay]) : undefined,
        todo: 'Pack the jig before anything is pinned.',
        disputed,
      }),
  });
}

/** Two stations between which the twist changes. */
export interface Between {
  readonly from: Bay;
  readonly to: Bay;
}

/** Over stations that were not read a step may be what its bays may be together, and never more than the panel. */
function stepLimit(model: Model, { from, to }: Between): Limit {
  const step = limitFor(model, 'twist-step');
  const bays = Math.abs(to.index - from.index);
  if (bays < 2) return step;
  const whole = limitFor(model, 'twist');
  const reach = (one: number | null, most: number | null): number | null => {
    if (one === null) return most;
    const sum = bays * one;
    if (most === null) return sum;
    return Math.sign(sum) * Math.min(Math.abs(sum), Math.abs(most));
  };
  const band = (which: 'fits' | 'act') =>
    [reach(step[which][0], whole[which][0]), reach(step[which][1], whole[which][1])] as const;
  return { ...step, fits: band('fits'), act: band('act') };
}

export function step(skeleton: Skeleton, between: Between, found: TwistFound): Finding {
  const { model } = skeleton;
  const [from, to] = [between.from.station.id, between.to.station.id];
  const { way, disputed } = found;
  return judge({
    check: 'twist-step',
    at: { station: to, from, to, way },
    place: `${from} to ${to} ${WORD[way]}`,
    restsOn: found.chain,
    value: found.residual,
    ...unsettled(found),
    limit: stepLimit(model, between),
    sense,
    say: (j) => {
      const change = `${show(model, Math.abs(j.value), 'deg')} ${sense(j.value)}`;
      return sentence(model, j, `From ${from} to ${to} the twist changes by ${change} ${WORD[way]}`, { disputed });
    },
  });
}

export function endToEnd(skeleton: Skeleton, between: Between, found: TwistFound, note: string | undefined): Finding {
  const { model } = skeleton;
  const [from, to] = [between.from.station.id, between.to.station.id];
  const { way, disputed } = found;
  return judge({
    check: 'twist',
    at: { from, to, way },
    place: `whole panel ${WORD[way]}`,
    restsOn: found.chain,
    value: found.residual,
    ...unsettled(found),
    limit: limitFor(model, 'twist'),
    sense,
    say: (j) => {
      const whole = `${show(model, Math.abs(j.value), 'deg')} ${sense(j.value)}`;
      return sentence(model, j, `The panel twists ${whole} from ${from} to ${to} ${WORD[way]}`, {
        note,
        todo: 'Skinned like this the twist is locked in.',
        disputed,
      });
    },
  });
}
