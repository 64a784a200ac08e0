import type { Finding } from '../checks/finding.ts';
import { askHoles } from '../drilling/drill.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Joint } from '../model/schema.ts';
import { sheetOf } from '../parts/placed/build.ts';
import { type DrawnPlaces, fromSection, onSpar, placeTurns } from './drawnPlaces.ts';
import type { SceneHole } from './shown.ts';

/*
 * Where every hole is, on the web or the cap its joint is made through, and whether it may be drilled: the same
 * answer as on the card, the ledger and the terminal.
 */

/** A mark for every hole, as at the present stage or looking ahead to another. */
export function holeMarksOf(
  drawnPlaces: DrawnPlaces,
  findings: readonly Finding[],
  stage?: string | null,
): SceneHole[] {
  const { model } = drawnPlaces.skeleton;
  const ahead = stage !== undefined && stage !== null && stage !== model.now;
  const cleanups = new Map(
    findings.flatMap((f): [string, Finding][] => (f.check === 'hole-cleanup' ? [[f.id, f]] : [])),
  );
  const spots = new Map<string, Row | undefined>();
  return askHoles(drawnPlaces.skeleton, ahead ? { stage, ahead } : {}).flatMap(
    ({ id, joint, hole, state, why }): SceneHole[] => {
      if (!spots.has(joint.id))
        spots.set(
          joint.id,
          joint.on === 'top' || joint.on === 'bottom'
            ? capRowOf(drawnPlaces, joint, joint.on)
            : webRowOf(drawnPlaces, joint),
        );
      const spot = spots.get(joint.id);
      if (!spot) return [];
      const finding = cleanups.get(`hole-cleanup:${joint.id}-hole-${hole.id}`);
      return [
        {
          id,
          name: `${joint.id} ${hole.id}`,
          at: spot.at(hole.along, hole.up),
          axis: spot.axis,
          radius: joint.final / 2,
          state,
          doubt: state === 'in doubt',
          why,
          verdict: finding?.verdict ?? null,
          findingId: finding?.id ?? null,
          station: joint.station,
          joint: joint.id,
        },
      ];
    },
  );
}

interface Row {
  readonly at: (along: number, up: number) => Vec3;
  readonly axis: Vec3;
}

/** The line of a joint's row along y: where the rib's own row stands, or the station where no rib is in it. */
function lineOf(drawnPlaces: DrawnPlaces, joint: Joint): number | undefined {
  const stance = drawnPlaces.stances.get(joint.station);
  if (!stance) return undefined;
  const places = drawnPlaces.skeleton
    .placesAt(joint.station)
    .filter((p) => (joint.end === 'rear') === (p.spar === 'rear'));
  const place = places.find((p) => joint.layers.includes(p.rib.id));
  const row = place
    ? placeTurns(drawnPlaces, place) * (drawnPlaces.drawn(`${place.rib.id}.${place.end}.row`) ?? place.spec.row)
    : 0;
  return stance.bay.station.y + row;
}

/** A row up the web: its place from offsets along the span and above the chord line. */
function webRowOf(drawnPlaces: DrawnPlaces, joint: Joint): Row | undefined {
  const stance = drawnPlaces.stances.get(joint.station);
  const line = lineOf(drawnPlaces, joint);
  if (!stance || line === undefined) return undefined;
  const x = joint.end === 'rear' ? stance.rear : stance.front;
  return {
    at: (along, up) => fromSection(stance, x, up, line + along),
    axis: [Math.cos(stance.pitch), 0, -Math.sin(stance.pitch)],
  };
}

/** A row along a cap, on its outside: its place from offsets along the span and from the web's flat face. */
function capRowOf(drawnPlaces: DrawnPlaces, joint: Joint, on: 'top' | 'bottom'): Row | undefined {
  const stance = drawnPlaces.stances.get(joint.station);
  const line = lineOf(drawnPlaces, joint);
  const spar = drawnPlaces.skeleton.model.spars[joint.end];
  if (!stance || line === undefined || !spar) return undefined;
  const sheet = sheetOf(drawnPlaces, spar.sheet);
  const aft = (up: number): number => (spar.opens === 'aft' ? up : sheet - up);
  return {
    at: (along, up) =>
      onSpar(drawnPlaces, joint.end, line + along, { aft: aft(up), inside: 0, side: on === 'top' ? 1 : -1 }),
    axis: [Math.sin(stance.pitch), 0, Math.cos(stance.pitch)],
  };
}
