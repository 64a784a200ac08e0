import { flangesPoint, outboardAt } from '../model/hand.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { formatLength } from '../units.ts';

/* Where a plane square to the span stands, against the stations. y right along the span, mm. */

/** +1 where the flanges at a station turn to the right along the span, −1 to the left. */
export function flangesTurn({ model }: Skeleton, bay: Bay): 1 | -1 {
  const rib = bay.main ?? bay.tip ?? bay.nose;
  return rib ? flangesPoint(model, rib, bay.station.y) : outboardAt(model, bay.station.y);
}

/** The plane through the middle of the flat of a station's flanges: it shows every layer of both spars' joints. */
export function flangePlane(skeleton: Skeleton, bay: Bay): number {
  const rib = bay.main ?? bay.tip ?? bay.nose;
  if (!rib) return bay.station.y;
  const sheet = skeleton.book.find(`sheet.${rib.sheet}`)?.best ?? 0.6;
  return bay.station.y + (flangesTurn(skeleton, bay) * (rib.flange + sheet + rib.radius)) / 2;
}

export function nearestBay(skeleton: Skeleton, y: number): Bay | undefined {
  const far = (b: Bay): number => Math.abs(flangePlane(skeleton, b) - y);
  return skeleton.bays.reduce<Bay | undefined>((a, b) => (a && far(a) <= far(b) ? a : b), undefined);
}

/** The station whose flanges the plane goes through. */
export function bayThrough(skeleton: Skeleton, y: number): Bay | undefined {
  const bay = nearestBay(skeleton, y);
  const rib = bay && (bay.main ?? bay.tip ?? bay.nose);
  if (!bay || !rib) return undefined;
  const along = (y - bay.station.y) * flangesTurn(skeleton, bay);
  return along > rib.radius && along < rib.flange ? bay : undefined;
}

/** "−750.25 mm, through the flanges of S2"; between stations "120.00 mm right of S2". */
export function placeInWords(skeleton: Skeleton, y: number): string {
  const { units } = skeleton.model;
  const at = formatLength(y, units, { signed: true });
  const through = bayThrough(skeleton, y);
  if (through) return `${at}, through the flanges of ${through.station.id}`;
  const near = skeleton.bays.reduce<Bay | undefined>(
    (a, b) => (a && Math.abs(a.station.y - y) <= Math.abs(b.station.y - y) ? a : b),
    undefined,
  );
  if (!near) return at;
  const off = y - near.station.y;
  return Math.abs(off) < 0.05
    ? `${at}, at ${near.station.id}`
    : `${at}, ${formatLength(Math.abs(off), units)} ${off < 0 ? 'left' : 'right'} of ${near.station.id}`;
}
