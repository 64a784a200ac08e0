import { leastSquares } from '../mechanics/minimax.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import {
  largestOf,
  movedBy,
  type Packable,
  type PackSide,
  packableOf,
  packedTo,
  type Residual,
  scaled,
  sharesAt,
  squaresOf,
} from './residuals.ts';
import { LIFTED_ALIKE } from './slack.ts';

/** How the panel lies with packs under one spar. */
export interface PanelAttitude {
  /** Residual twist at each station that was read, degrees, nose up positive. */
  readonly twist: readonly { readonly station: string; readonly value: number }[];
  /** Twist end to end, degrees; 0 where only one station was read. */
  readonly whole: number;
  /** The lifted edge off its straight line at inner stations, mm, up positive. */
  readonly straight: readonly { readonly station: string; readonly value: number }[];
  /** Largest of them all as a share of its first limit: 1 is just inside. */
  readonly largest: number;
  /** What the height stand will read then, mm. */
  readonly heights: readonly { readonly station: string; readonly front: number; readonly rear: number }[];
}

export function attitudeOf(skeleton: Skeleton, packable: Packable, packs: readonly number[]): PanelAttitude {
  const { residuals, side, supports } = packable;
  const left = (what: Residual['what']) =>
    residuals.filter((r) => r.what === what).map((r) => ({ station: r.station, value: packedTo(r, packs) }));
  const ys = skeleton.bays.filter((b) => supports.includes(b.station.id)).map((b) => b.station.y);
  const heights = skeleton.bays.flatMap(({ station: { id, y } }) => {
    const [front, rear] = [skeleton.book.find(`height.front@${id}`), skeleton.book.find(`height.rear@${id}`)];
    if (!front || !rear) return [];
    const lift = movedBy(sharesAt(y, ys), packs);
    return [
      {
        station: id,
        front: front.best + (side === 'front' ? lift : 0),
        rear: rear.best + (side === 'rear' ? lift : 0),
      },
    ];
  });
  return {
    twist: left('twist'),
    whole: left('whole')[0]?.value ?? 0,
    straight: left('straight'),
    largest: largestOf(residuals, packs),
    heights,
  };
}

/**
 * What given packs under one spar would leave, mm in the order of the supports along the span; negative is metal
 * planed off the block. Undefined where no heights were read or there are no blocks. Panel A, front 0, 0, 0.6, 2.2:
 * at most 0.09°.
 */
export function attitudeWith(model: Model, side: PackSide, packs: readonly number[]): PanelAttitude | undefined {
  const skeleton = skeletonOf(model);
  const packable = packableOf(skeleton, side);
  return packable && attitudeOf(skeleton, packable, packs);
}

/**
 * Packs of any thickness, negative too, with the least sum of squared twist: what the jig asks for before anyone
 * looks in the drawer. Where the twist counts from a reference station the whole spar may be lifted alike and nothing
 * changes: then the lowest block gets nothing. Panel A, front: -0.40, -0.19, +0.50, +2.32 mm.
 */
export function continuousPacks(model: Model, side: PackSide): number[] | undefined {
  const packable = packableOf(skeletonOf(model), side);
  if (!packable) return undefined;
  const twists = scaled(packable.residuals.filter((r) => r.what === 'twist'));
  const asked = leastSquares(twists.a, twists.m);
  const lowest = Math.min(...asked);
  const lifted = asked.map((p) => p - lowest);
  return squaresOf(twists, lifted) <= squaresOf(twists, asked) + LIFTED_ALIKE ? lifted : asked;
}
