import { boxCorners } from '../../geometry/boxes.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { bayThrough, flangePlane, flangesTurn } from '../../scene/cutPlace.ts';
import type { Scene } from '../../scene/shown.ts';

/** Where the view along the span cuts, which way it looks, and the points it must show. */
export interface Section {
  readonly station: string | null;
  readonly y: number;
  /** To the right along the span (1) or to the left. */
  readonly way: 1 | -1;
  readonly points: readonly Vec3[];
}

/** How near to a station a point belongs to its section, mm. */
const NEAR = 60;
/** How much of the span either side of a station a close look at it shows, mm. */
const CLOSE = 40;

/** The points of a station's section and a little of the span either side, for a close look. */
export function pointsNear(skeleton: Skeleton, { bounds: { low, high } }: Scene, station: string): Vec3[] {
  const y = skeleton.bays.find((b) => b.station.id === station)?.station.y ?? 0;
  return boxCorners({ low: [low[0], y - CLOSE, low[2]], high: [high[0], y + CLOSE, high[2]] });
}

interface Asked {
  readonly scene: Scene;
  /** The outermost points of all that is drawn. */
  readonly points: readonly Vec3[];
  readonly station: string | null;
  /** A cut asked for elsewhere along the span; null where the station's own is. */
  readonly cut: number | null;
}

/**
 * Where the view along the span cuts, and which way it looks. A chosen station is cut through the middle of its
 * flanges and seen from the side they are turned to, so that caps, doublers and flanges show their layers before the
 * rib's web; with none chosen the look is from the first station over all of them. A cut asked for elsewhere is seen
 * from the left.
 */
export function sectionOf(skeleton: Skeleton, { scene, points, station, cut }: Asked): Section {
  const bay = cut === null ? skeleton.bays.find((b) => b.station.id === station) : bayThrough(skeleton, cut);
  const flat = (list: readonly Vec3[]): Vec3[] => list.map(([x, , z]): Vec3 => [x, 0, z]);
  if (!bay) {
    const y = cut ?? scene.bounds.low[1] - NEAR;
    return { station: cut === null ? null : 'cut', y, way: 1, points: flat(points) };
  }
  const near = flat(points.filter((p) => Math.abs(p[1] - bay.station.y) < NEAR));
  return {
    station: bay.station.id,
    y: cut ?? flangePlane(skeleton, bay),
    way: flangesTurn(skeleton, bay) === 1 ? -1 : 1,
    points: near.length > 0 ? near : boxCorners(scene.bounds),
  };
}
