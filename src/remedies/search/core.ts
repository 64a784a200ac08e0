import type { CheckId } from '../../checks/finding.ts';
import type { Batten, PostChoice } from '../../mechanics/batten.ts';
import { limitFor } from '../../model/limits.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { type Before, counts, type Left, type Level, levelOf, reachOf } from '../reach.ts';
import type { Choice } from './choices.ts';
import { FINDINGS_ALONE, findingsFirst, GRAM, type Objective, OFF, type Weights } from './objectives.ts';
import { chosen, type Variant } from './variants.ts';

/*
 * What does a combination of choices weigh for an objective? Every choice has its own weight; the stations meet
 * through the noses alone: a batten over their posts, whose cheapest lay is known exactly (`batten.ts`). That is the
 * core of the search.
 */

/** What some findings weigh for an objective. */
export const weightOf = (w: Weights, { beyond, outside, off }: Left): number =>
  w.beyond * beyond + w.outside * outside + OFF * off;

/** What one finding weighs by its level, and by how far it reaches. */
function weightAt(w: Weights, level: Level, reach: number): number {
  const byLevel: readonly [number, number, number] = [0, w.outside, w.beyond];
  return byLevel[level] + OFF * Math.min(reach, 3) ** 2;
}

/** What a choice weighs by itself: its findings, its work, its mass. */
const ownWeight = (w: Weights, c: Choice): number => weightOf(w, c) + w.work * c.work + GRAM * c.mass;

/** What the nose line of an arrangement weighs: each by the station's place along the span and millimetres off. */
type NosePrices = Pick<Batten, 'kink' | 'line' | 'end'>;

function nosePrices(v: Pick<Variant, 'model'>, w: Weights, before: Before): NosePrices {
  const marks = skeletonOf(v.model).bays.map((b) => b.nose?.id ?? b.tip?.id ?? b.station.id);
  const priced = (check: CheckId) => {
    const limit = limitFor(v.model, check);
    return (station: number, value: number): number => {
      const reach = reachOf(value, limit);
      const id = `${check}:${marks[station] ?? ''}`;
      return counts({ id, check }, reach, before) ? weightAt(w, levelOf(reach), reach) : 0;
    };
  };
  const line = priced('nose-line');
  return { kink: priced('nose-kink'), line, end: line };
}

/**
 * The core of an arrangement for an objective; inner noses further off the line through the ends than `most` mm are
 * barred.
 */
export function coreOf(v: Variant, objective: Objective, before: Before, most = Number.POSITIVE_INFINITY): Batten {
  const prices = nosePrices(v, objective.weights, before);
  const choiceOf = (c: Choice): PostChoice => ({
    height: c.nose,
    cost: objective.allows(c) ? ownWeight(objective.weights, c) : Number.POSITIVE_INFINITY,
  });
  return {
    ...prices,
    ys: skeletonOf(v.model).bays.map((b) => b.station.y),
    choices: v.choices.map((list) => list.map(choiceOf)),
    line: (station, off) => (Math.abs(off) > most + NEAR ? Number.POSITIVE_INFINITY : prices.line(station, off)),
  };
}

/**
 * What a weight stands for: findings and work; findings outside fits and work together where an objective trades one
 * for the other.
 */
export function readWeight(
  cost: number,
  w: Weights,
): { readonly beyond: number; readonly outside: number; readonly work: number } {
  const beyond = Math.floor(cost / w.beyond + NEAR);
  const rest = cost - beyond * w.beyond;
  const outside = findingsFirst(w) ? Math.floor(rest / w.outside + 1e-7) : 0;
  return { beyond, outside, work: w.work > 0 ? Math.floor((rest - outside * w.outside) / w.work + 1e-6) : 0 };
}

/** A nose that stands: at which station, where along the span, how far off its drawing. */
interface Standing {
  readonly station: number;
  readonly y: number;
  readonly v: number;
}

/** How far a nose is off the straight line through two others. */
const offLine = (n: Standing, p: Standing, q: Standing): number =>
  n.v - p.v - ((q.v - p.v) * (n.y - p.y)) / (q.y - p.y);

/** What the noses that stand weigh together: the ends for being off their drawing, the inner ones for kink and line. */
function nosesWeight({ kink, line, end }: NosePrices, noses: readonly Standing[]): number {
  const [first, last] = [noses[0], noses[noses.length - 1]];
  if (!first || !last || first === last) return 0;
  return noses.reduce((sum, n, k) => {
    const [before, after] = [noses[k - 1], noses[k + 1]];
    if (!before || !after) return sum + end(n.station, n.v);
    return sum + kink(n.station, offLine(n, before, after)) + line(n.station, offLine(n, first, last));
  }, 0);
}

/**
 * What one choice at each station weighs together for an objective: its own findings and work, the noses, and all
 * that lies outside the core.
 */
export function weigher(
  v: Pick<Variant, 'model' | 'far'>,
  { weights }: Objective,
  before: Before,
): (choices: readonly Choice[]) => number {
  const prices = nosePrices(v, weights, before);
  const ys = skeletonOf(v.model).bays.map((b) => b.station.y);
  return (choices) => {
    const noses = choices.flatMap(({ nose }, station) =>
      nose === undefined ? [] : [{ station, y: ys[station] ?? 0, v: nose }],
    );
    const own = choices.reduce((sum, c) => sum + ownWeight(weights, c), 0);
    return own + nosesWeight(prices, noses) + weightOf(weights, { ...v.far(choices), off: 0 });
  };
}

/** Findings that a combination leaves, by level, echoes among them. */
export function leftIn(v: Variant, picks: readonly number[], before: Before): Pick<Left, 'beyond' | 'outside'> {
  const choices = chosen(v, picks).map((c): Choice => ({ ...c, work: 0 }));
  const weight = weigher(v, FINDINGS_ALONE, before)(choices);
  const { beyond, outside } = readWeight(weight, FINDINGS_ALONE.weights);
  return { beyond, outside };
}
