import type { Finding } from '../../checks/finding.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Doubler, Spar } from '../../model/schema.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { sheetOf } from '../../parts/placed/build.ts';
import { capStack, type DrawnPlaces, onSpar } from '../drawnPlaces.ts';
import { type Answers, type DrawnGap, drawnGap, type Ring } from './gap.ts';

/**
 * Share of a riding doubler's width that its ride is drawn over, but at the chosen station: a ride asks less than a
 * rib that binds.
 */
const RIDE_SHARE = 0.2;

/**
 * A doubler's corner in the spar's bend: as far off each cap (a channel) or off the web (a flat piece) as it must
 * stand.
 */
export function rideGaps(
  drawnPlaces: DrawnPlaces,
  place: RibPlace,
  answers: Answers,
  chosen: string | null,
): DrawnGap[] {
  const spar = drawnPlaces.skeleton.model.spars[place.spar];
  if (!spar || place.spec.ends !== 'nests') return [];
  const isChosen = chosen === place.bay.station.id;
  return place.doublers.flatMap((d): DrawnGap[] => {
    const finding = answers.of('bend-ride', d.id);
    if (!finding || finding.value <= 0) return [];
    const rides = ridesOf(drawnPlaces, place, { spar, d, finding, share: isChosen ? 1 : RIDE_SHARE });
    return isChosen ? rides : rides.map((ride) => ({ ...ride, faint: true }));
  });
}

interface Ride {
  readonly spar: Spar;
  readonly d: Doubler;
  readonly finding: Finding;
  /** Of the doubler's width it is drawn over. */
  readonly share: number;
}

/** One doubler's ride, above and below. */
function ridesOf(drawnPlaces: DrawnPlaces, place: RibPlace, { spar, d, finding, share }: Ride): DrawnGap[] {
  const frame = drawnPlaces.frames.get(d.id);
  if (!frame) return [];
  const half = share * (d.width / 2);
  const [y0, y1] = [frame.origin[1] - half, frame.origin[1] + half];
  const { near, far, low, deep } = biteOf(drawnPlaces, place, {
    spar,
    d,
    off: finding.value * drawnPlaces.magnify,
    y: y0,
  });
  // From the inside of the web, whichever way the channel opens.
  const way = spar.opens === 'aft' ? 1 : -1;
  const inside = spar.opens === 'aft' ? sheetOf(drawnPlaces, spar.sheet) : 0;
  return ([1, -1] as const).map((side) => {
    const at = (away: number, down: number, y: number): Vec3 =>
      onSpar(drawnPlaces, place.spar, y, {
        aft: inside + way * away,
        inside: capStack(drawnPlaces, place.spar, y, side) + down,
        side,
      });
    const ring = (down: number): Ring => [at(near, down, y0), at(far, down, y0), at(far, down, y1), at(near, down, y1)];
    const where = { station: place.bay.station.id, part: d.id, at: side === 1 ? 'top' : 'bottom' };
    return drawnGap(drawnPlaces, finding, where, [ring(low), ring(deep)], 'interference');
  });
}

/** The metal drawn as ridden on: from and to off the web's inside, and from and to down from the cap's inside, mm. */
function biteOf(
  drawnPlaces: DrawnPlaces,
  place: RibPlace,
  { spar, d, off, y }: { readonly spar: Spar; readonly d: Doubler; readonly off: number; readonly y: number },
) {
  if (d.form === 'channel') return { near: 0, far: spar.radius, low: 0, deep: off };
  const height = d.height ?? place.spec.height;
  const low = Math.max(halfRoom(drawnPlaces, place, y) - height / 2, 0);
  return { near: 0, far: off, low, deep: low + spar.radius };
}

/** Half the room between the caps at y. */
function halfRoom(drawnPlaces: DrawnPlaces, place: RibPlace, y: number): number {
  const depth = drawnPlaces.rings[place.spar]?.find((r) => r.y >= y)?.depth ?? 0;
  return depth / 2 - capStack(drawnPlaces, place.spar, y, 1);
}
