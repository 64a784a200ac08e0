import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { exact } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { atJoint } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { type HoleSpot, inCap, placeOf, turned } from './rowPlace.ts';

/*
 * Asks: does the rivet's head lie flat beside each bend? Room from the head's rim to where the bend begins (C13: row
 * - (thickness + inside radius) - half the head). A hole in a bend, or nearer to it than the head needs, cannot be
 * put right.
 */

/**
 * Half a rivet's manufactured head: as the file says, else the rivet's own diameter (common practice for a round
 * head).
 */
function halfHead(joint: Joint, diameter: number): Chain {
  const half = diameter === joint.rivet.diameter ? (joint.rivet.head ?? 2 * diameter) / 2 : diameter;
  return chain([-1, exact(`${joint.id}.head`, 'half the rivet head', half)]);
}

/** A hole off its row, away from the bend positive. */
const offRow = (joint: Joint, mm: number): Chain =>
  mm === 0 ? [] : chain([1, exact(`${joint.id}.off`, 'hole off the row', mm)]);

function ribRoom(skeleton: Skeleton, joint: Joint, place: RibPlace, along: number): Chain {
  const { book } = skeleton;
  return combine(
    [
      1,
      chain(
        [1, book.get(`${place.key}.row`)],
        [-1, thickness(skeleton, place.rib.sheet)],
        [-1, book.get(`${place.rib.id}.radius`)],
      ),
    ],
    [1, offRow(joint, turned(skeleton, joint, place.rib) * along)],
  );
}

/** A spar: in a cap from the web's bend, in the web from the nearer cap's. */
function sparRoom(skeleton: Skeleton, joint: Joint, up: number): Chain | undefined {
  const { book, model } = skeleton;
  const spar = model.spars[joint.end];
  if (!spar) return undefined;
  const bend = chain([-1, thickness(skeleton, spar.sheet)], [-1, book.get(`${joint.end}.radius`)]);
  if (inCap(joint)) return combine([1, bend], [1, offRow(joint, up)]);
  const depth = book.get(`${joint.end}.depth@${joint.station}`);
  return combine([1, chain([0.5, depth])], [1, bend], [1, offRow(joint, -Math.abs(up))]);
}

/**
 * Room between a rivet's head and the start of the bend beside it, mm; undefined where a layer has no bend near.
 * Panel A at a tab: 7.2 - 0.635 - radius - 3.175.
 */
export function bendRoomChain(
  skeleton: Skeleton,
  joint: Joint,
  part: string,
  { along, up }: HoleSpot,
  diameter = joint.rivet.diameter,
): Chain | undefined {
  const place = placeOf(skeleton, joint, part);
  const flat = place ? ribRoom(skeleton, joint, place, along) : undefined;
  const room = flat ?? (part === joint.end ? sparRoom(skeleton, joint, up) : undefined);
  return room && combine([1, room], [1, halfHead(joint, diameter)]);
}

/** The same of a rib end on its row alone, for a rivet of a diameter; undefined where a layer is no rib. */
export const bendSideChain = (
  skeleton: Skeleton,
  joint: Joint,
  part: string,
  diameter = joint.rivet.diameter,
): Chain | undefined =>
  placeOf(skeleton, joint, part) && bendRoomChain(skeleton, joint, part, { along: 0, up: 0 }, diameter);

/** The hole of a row that lies nearest a layer's bend, or the row's own line where it has none yet. */
function leastRoom(skeleton: Skeleton, joint: Joint, part: string): Chain | undefined {
  const spots: readonly HoleSpot[] = joint.holes.length > 0 ? joint.holes : [{ along: 0, up: 0 }];
  const rooms = spots.map((spot) => bendRoomChain(skeleton, joint, part, spot)).filter((c) => c !== undefined);
  const [first, ...others] = rooms;
  return first && others.reduce((a, b) => (best(b) < best(a) ? b : a), first);
}

export function* bendRoom(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    for (const part of joint.layers) {
      const restsOn = leastRoom(skeleton, joint, part);
      if (!restsOn) continue;
      const name = part === joint.end ? `the ${part} spar` : part;
      yield judge({
        check: 'bend-room',
        at: { ...atJoint(joint), layer: part },
        place: `${joint.id} ${part}`,
        restsOn,
        limit: limitFor(model, 'bend-room'),
        sense: (v) => (v < 0 ? 'head in the bend' : 'head lies flat'),
        say: (j) =>
          sentence(
            model,
            j,
            j.value < 0
              ? `At ${joint.id} the rivet's head reaches ${show(model, -j.value)} into the bend of ${name}`
              : `At ${joint.id} the rivet's head lies flat, ${show(model, j.value)} clear of the bend of ${name}`,
            {
              todo: 'Move the row away from the bend, or take a rivet with a smaller head, before anything is drilled.',
            },
          ),
      });
    }
  }
}
