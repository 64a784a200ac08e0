import { best } from '../chains/chain.ts';
import { against, fromNominal, nosesOf } from '../checks/fit/noseLine.ts';
import type { Frame } from '../geometry/frame.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { NoseRib, TipRib } from '../model/schema.ts';
import { departure } from '../parts/layout/meeting.ts';
import { lengthOf } from '../parts/placed/build.ts';
import { type DrawnPlaces, drawnTipBack, fromPart, placeTurns } from './drawnPlaces.ts';

/** A nose as drawn: its rib's frame, where the nose point is on it, and how far it truly is off its drawing. */
export interface NosePlace {
  readonly station: string;
  readonly y: number;
  readonly mark: string;
  readonly frame: Frame | undefined;
  /** x of the nose point in the rib's own axes, as drawn. */
  readonly x: number;
  readonly point: Vec3;
  readonly flange: number;
  readonly turns: 1 | -1;
  /**
   * Off the straight line through the end noses, mm, proud positive, spars held straight; off its drawing at the
   * ends.
   */
  readonly off: number;
  /** The spar bows here, and the nose with it, while `off` is for a straight one. */
  readonly bowed: boolean;
}

/** Every nose of the panel in station order, where the solids draw it. */
export function nosesIn(drawnPlaces: DrawnPlaces): NosePlace[] {
  const { skeleton } = drawnPlaces;
  const noses = nosesOf(skeleton, 'straight');
  const [first, last] = [noses[0], noses[noses.length - 1]];
  return noses.map((nose): NosePlace => {
    const rib = nose.bay.nose ?? nose.bay.tip;
    const frame = rib && drawnPlaces.frames.get(rib.id);
    const x = rib ? noseOf(drawnPlaces, rib) : 0;
    const place = rib && skeleton.placesAt(nose.bay.station.id).find((p) => p.rib === rib);
    const end = nose === first || nose === last;
    return {
      station: nose.bay.station.id,
      y: nose.bay.station.y,
      mark: nose.mark,
      frame,
      x,
      point: frame ? fromPart(frame, [x, 0, 0]) : [-nose.bay.station.nose, nose.bay.station.y, 0],
      flange: rib?.flange ?? 10,
      turns: place ? placeTurns(drawnPlaces, place) : 1,
      bowed: !nose.direct && Math.abs(best(departure(skeleton, 'front', 'bow', nose.bay))) > 0.005,
      off: end || !first || !last ? fromNominal(nose) : against(nose, first, last).value,
    };
  });
}

/**
 * x of the nose point in its rib's own axes, as drawn: a nose rib's zero is at its tail, a tip rib's at the front
 * web.
 */
function noseOf(drawnPlaces: DrawnPlaces, rib: NoseRib | TipRib): number {
  const length = lengthOf(drawnPlaces, rib);
  return rib.kind === 'tip' ? drawnTipBack(drawnPlaces, rib) - length : -length;
}
