import { type Twist, twistsOf } from '../checks/fit/twistRead.ts';
import { limitFor } from '../model/limits.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { NEAR } from '../units/near.ts';

/*
 * What packs under one spar are to make small, and how far each moves it. A pack of p mm turns the chord there by p
 * over web to web; between supports it is shared straight, beyond the last ones the spar goes straight on (it is
 * stiff in bending and soft in twist). It also bends the spar that it lifts.
 */

export type PackSide = 'front' | 'rear';

/** Something that packs move: how far it is off now, and what each mm under each support changes. */
export interface Residual {
  readonly what: 'twist' | 'whole' | 'straight';
  readonly station: string;
  /** Now: degrees of twist, mm off straight. */
  readonly now: number;
  /** First limit of it, same unit. */
  readonly limit: number;
  /** Change for each mm of pack, support by support. */
  readonly by: readonly number[];
}

/** All that packs under one spar are to make small. */
export interface Packable {
  readonly side: PackSide;
  readonly supports: readonly string[];
  readonly residuals: readonly Residual[];
}

/**
 * Share of a pack under each support that a place along the span gets: straight between supports and straight on
 * beyond.
 */
export function sharesAt(y: number, supports: readonly number[]): number[] {
  const k = supports.slice(1, -1).filter((inner) => y > inner).length;
  const [from, to] = supports.slice(k);
  if (from === undefined || to === undefined) return supports.map(() => 1);
  const t = (y - from) / (to - from);
  const share = new Map([
    [k, 1 - t],
    [k + 1, t],
  ]);
  return supports.map((_, j) => share.get(j) ?? 0);
}

/** A sum over the supports, mm of pack times what each mm does; where nothing is packed yet nothing is moved. */
export const movedBy = (by: readonly number[], packs: readonly number[], from = 0): number =>
  by.reduce((sum, each, j) => sum + each * (packs[j] ?? 0), from);

/** A residual once packs are in. */
export const packedTo = ({ by, now }: Residual, packs: readonly number[]): number => movedBy(by, packs, now);

/** The largest residual once packs are in, as a share of its limit. */
export const largestOf = (residuals: readonly Residual[], packs: readonly number[]): number =>
  residuals.reduce((most, r) => Math.max(most, Math.abs(packedTo(r, packs)) / r.limit), 0);

/** Residuals in their own limits, as a solver wants them: `a` as they are, `m` what each mm of pack changes. */
export interface Scaled {
  readonly a: readonly number[];
  readonly m: readonly (readonly number[])[];
}

export const scaled = (residuals: readonly Residual[]): Scaled => ({
  a: residuals.map((r) => r.now / r.limit),
  m: residuals.map((r) => r.by.map((v) => v / r.limit)),
});

/** Sum of squares that packs leave, in first limits. */
export const squaresOf = ({ a, m }: Scaled, packs: readonly number[]): number =>
  m.reduce((sum, row, i) => sum + movedBy(row, packs, a[i]) ** 2, 0);

/** The nearer end of a band, as a size above nothing. */
const outer = ([a, b]: readonly [number | null, number | null]): number =>
  Math.max(NEAR, Math.min(Math.abs(a ?? Number.POSITIVE_INFINITY), Math.abs(b ?? Number.POSITIVE_INFINITY)));

const less = (a: readonly number[], b: readonly number[], share = 1): number[] =>
  a.map((v, j) => v - share * (b[j] ?? 0));

/** What packs under one spar can do; undefined where no heights were read or there are no blocks. */
export function packableOf(skeleton: Skeleton, side: PackSide): Packable | undefined {
  const blocks = skeleton.bays.filter((b) => skeleton.model.survey.supports.includes(b.station.id));
  const twists = twistsOf(skeleton, 'heights');
  if (blocks.length === 0 || twists.length === 0) return undefined;
  const ys = blocks.map((b) => b.station.y);
  return {
    side,
    supports: blocks.map((b) => b.station.id),
    residuals: [...twistResiduals(skeleton, side, ys, twists), ...straightResiduals(skeleton, side, ys)],
  };
}

/** Twist at each station, and end to end. */
function twistResiduals(
  skeleton: Skeleton,
  side: PackSide,
  ys: readonly number[],
  twists: readonly Twist[],
): Residual[] {
  const { model, book } = skeleton;
  const limit = outer(limitFor(model, 'twist').fits);
  const sign = side === 'front' ? 1 : -1;
  const turnAt = ({ station }: Bay): number[] => {
    const web = book.get(`webs@${station.id}`).best;
    return sharesAt(station.y, ys).map((share) => (sign * share * 180) / Math.PI / web);
  };
  const zero = twists.find((t) => t.bay.station.id === model.survey.reference);
  const zeroTurns = zero ? turnAt(zero.bay) : [];
  const each = twists.map(
    ({ bay, residual }): Residual => ({
      what: 'twist',
      station: bay.station.id,
      now: residual,
      limit,
      by: less(turnAt(bay), zeroTurns),
    }),
  );
  const [first, last] = [each[0], each.at(-1)];
  if (!first || !last || first === last) return each;
  return [...each, { ...last, what: 'whole', now: last.now - first.now, by: less(last.by, first.by) }];
}

/** Height of the touched edge over a true bench, mm; undefined where it was not read. */
function edgeAt(skeleton: Skeleton, side: PackSide, id: string): number | undefined {
  const read = skeleton.book.find(`height.${side}@${id}`);
  return read && read.best + (skeleton.book.find(`bench.${side}@${id}`)?.best ?? 0);
}

/** The lifted edge off the line through its ends, at each station between. */
function straightResiduals(skeleton: Skeleton, side: PackSide, ys: readonly number[]): Residual[] {
  const { model, bays } = skeleton;
  const read = bays.flatMap(({ station: { id, y } }) => {
    const z = edgeAt(skeleton, side, id);
    return z === undefined ? [] : [{ id, y, z, share: sharesAt(y, ys) }];
  });
  const [a, b] = [read[0], read.at(-1)];
  if (!a || !b || read.length < 3) return [];
  const spar = model.spars[side];
  const most = spar ? Math.abs(spar.to - spar.from) / 2000 : Number.POSITIVE_INFINITY;
  const limit = Math.min(outer(limitFor(model, 'bow').fits), most);
  return read.slice(1, -1).map(({ id, y, z, share }): Residual => {
    const t = (y - a.y) / (b.y - a.y);
    return {
      what: 'straight',
      station: id,
      now: z - (1 - t) * a.z - t * b.z,
      limit,
      by: less(less(share, a.share, 1 - t), b.share, t),
    };
  });
}
