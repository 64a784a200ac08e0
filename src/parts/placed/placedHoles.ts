import { scale, type Vec3 } from '../../geometry/vector.ts';
import type { Joint } from '../../model/schema.ts';
import type { EndName, RibPlace } from '../layout/layout.ts';
import { rivetSolid } from '../shapes/rivet.ts';
import {
  type Build,
  holeInWing,
  type LayerHole,
  type PlacedSolid,
  placeOf,
  sheetOf,
  sheetOfPart,
  turnsOf,
} from './build.ts';
import { isCapRow } from './holePlaces.ts';
import type { Stance } from './stance.ts';

/*
 * The holes of the joints, layer by layer, and the rivets in them.
 */

/** Every hole drilled so far, by the part it is in; each in its own layer's measured place. */
export function holesByPart(b: Build): Map<string, LayerHole[]> {
  const byPart = new Map<string, LayerHole[]>();
  for (const joint of b.model.joints) {
    for (const { part, hole } of layerHoles(b, joint)) {
      const list = byPart.get(part);
      if (list) list.push(hole);
      else byPart.set(part, [hole]);
    }
  }
  return byPart;
}

/**
 * Where a hole of a cap row goes through the cap's outside: `up` counts from the web's flat face toward the free
 * edge.
 */
function capHole(b: Build, joint: Joint, stance: Stance, up: number): Pick<LayerHole, 'cap'> {
  const spar = b.model.spars[joint.end];
  if (!isCapRow(joint) || spar === undefined) return {};
  const web = joint.end === 'rear' ? stance.rear : stance.front;
  const half = (b.drawn(`${joint.end}.depth@${joint.station}`) ?? 0) / 2;
  const x = spar.opens === 'aft' ? web + up : web + sheetOf(b, spar.sheet) - up;
  // Far enough for every layer however far its daylight is drawn open; the other cap is further.
  return { cap: { x, z: joint.on === 'top' ? half : -half, reach: 0.9 * half } };
}

const rowOf = (b: Build, stance: Stance, place: RibPlace | undefined): number =>
  place ? turnsOf(b, place.rib, stance.bay.station.y) * (b.drawn(`${place.key}.row`) ?? place.spec.row) : 0;

/** Which end of a layer a joint's holes are in: a rib's own where the layer is one, else that of the row. */
function endOfLayer(b: Build, joint: Joint, part: string, place: RibPlace | undefined): EndName {
  const own = b.skeleton
    .placesAt(joint.station)
    .find((p) => p.rib.id === part && (p.spar === 'rear') === (joint.end === 'rear'));
  return own?.end ?? place?.end ?? joint.end;
}

function layerHoles(b: Build, joint: Joint): { part: string; hole: LayerHole; id: string; final: boolean }[] {
  const stance = b.byStation.get(joint.station);
  const place = placeOf(b, joint);
  if (stance === undefined || (place === undefined && !isCapRow(joint))) return [];
  const row = rowOf(b, stance, place);
  return joint.holes.flatMap((hole) =>
    hole.layers
      .filter((l) => l.state !== 'none' && l.size > 0)
      .map((layer) => {
        const off = (what: string) => b.drawn(`${joint.id}/${hole.id}.${layer.part}.${what}`) ?? 0;
        return {
          part: layer.part,
          id: hole.id,
          final: hole.layers.every((l) => l.state === 'final'),
          hole: {
            stance,
            end: endOfLayer(b, joint, layer.part, place),
            y: row + hole.along + off('along'),
            z: hole.up + off('up'),
            diameter: layer.size,
            ...capHole(b, joint, stance, hole.up + off('up')),
          },
        };
      }),
  );
}

/** Where a joint's holes will be, drilled or not. */
function undrilled(b: Build, joint: Joint): { id: string; hole: LayerHole }[] {
  const stance = b.byStation.get(joint.station);
  if (stance === undefined) return [];
  const place = placeOf(b, joint);
  const row = rowOf(b, stance, place);
  return joint.holes.map((h) => ({
    id: h.id,
    hole: {
      stance,
      end: place?.end ?? joint.end,
      y: row + h.along,
      z: h.up,
      diameter: joint.pilot,
      ...capHole(b, joint, stance, h.up),
    },
  }));
}

/**
 * The holes of a joint that a rivet is drawn in: those whose layers are all at final size, or `all` of them; each by
 * its first layer.
 */
function rivetedHoles(b: Build, joint: Joint, all: boolean): Map<string, LayerHole> {
  const drilled = layerHoles(b, joint).filter(({ final }) => all || final);
  const wanted = all ? [...drilled, ...undrilled(b, joint)] : drilled;
  const first = new Map<string, LayerHole>();
  for (const { id, hole } of wanted) if (!first.has(id)) first.set(id, hole);
  return first;
}

/** Where a rivet's head sits and which way it goes: square through the stack, heads outside. */
function rivetAxis(b: Build, joint: Joint, hole: LayerHole): { readonly from: Vec3; readonly axis: Vec3 } {
  const outside = before(b, joint);
  if (hole.cap) {
    const down = joint.on === 'top' ? -1 : 1;
    const { at, axis } = holeInWing({ ...hole, cap: { ...hole.cap, z: hole.cap.z - down * outside } }, 0, 1);
    return { from: at, axis: scale(axis, down) };
  }
  const { rear } = b.model.spars;
  const behind = hole.stance.rear + (rear ? sheetOf(b, rear.sheet) : 0);
  const { at, axis } = holeInWing(hole, joint.end === 'rear' ? behind : hole.stance.front - outside, 1);
  return { from: at, axis: scale(axis, joint.end === 'rear' ? -1 : 1) };
}

/**
 * A rivet in every hole whose layers are all at final size, or in `all` of them; square through the stack, heads
 * outside.
 */
export function rivetParts(b: Build, all: boolean): PlacedSolid[] {
  return b.model.joints.flatMap((joint) => {
    const grip = joint.layers.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
    return [...rivetedHoles(b, joint, all)].map(
      ([id, hole]): PlacedSolid => ({
        id: `${joint.id}/${id}`,
        kind: 'rivet',
        mark: `${joint.id} ${id}`,
        station: joint.station,
        solid: rivetSolid({ ...rivetAxis(b, joint, hole), diameter: joint.rivet.diameter, grip, set: true }),
      }),
    );
  });
}

/** Thickness of a joint's layers before its spar: ahead of the front web, or outside the cap. */
function before(b: Build, joint: Joint): number {
  const layers = joint.layers.slice(0, Math.max(joint.layers.indexOf(isCapRow(joint) ? joint.end : 'front'), 0));
  return layers.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
}
