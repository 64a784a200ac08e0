import { scale } from '../geometry/vector.ts';
import type { Joint } from '../model/schema.ts';
import { type Build, holeInWing, type LayerHole, type PlacedSolid, sheetOf, sheetOfPart, turnsOf } from './build.ts';
import { rivetSolid } from './rivet.ts';

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

/** A row in a cap is not cut in the solids: its holes stand square to the cap, not to the web. */
const inCap = (joint: Joint): boolean => joint.on === 'top' || joint.on === 'bottom';

function layerHoles(b: Build, joint: Joint): { part: string; hole: LayerHole; id: string; final: boolean }[] {
  if (inCap(joint)) return [];
  const stance = b.byStation.get(joint.station);
  const place = b.skeleton.placesAt(joint.station).find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));
  if (stance === undefined || place === undefined) return [];
  const row = turnsOf(b, place.rib, stance.bay.station.y) * (b.drawn(`${place.rib.id}.${place.end}.row`) ?? place.spec.row);
  return joint.holes.flatMap((hole) =>
    hole.layers.filter((l) => l.state !== 'none' && l.size > 0).map((layer) => {
      const off = (what: string) => b.drawn(`${joint.id}/${hole.id}.${layer.part}.${what}`) ?? 0;
      const end = b.skeleton.placesAt(joint.station).find((p) => p.rib.id === layer.part && (p.spar === 'rear') === (joint.end === 'rear'))?.end ?? place.end;
      return {
        part: layer.part, id: hole.id, final: hole.layers.every((l) => l.state === 'final'),
        hole: { stance, end, y: row + hole.along + off('along'), z: hole.up + off('up'), diameter: layer.size },
      };
    }),
  );
}

/** Where a joint's holes will be, drilled or not. */
function undrilled(b: Build, joint: Joint): { id: string; hole: LayerHole }[] {
  if (inCap(joint)) return [];
  const stance = b.byStation.get(joint.station);
  if (stance === undefined) return [];
  const place = b.skeleton.placesAt(joint.station).find((p) => (joint.end === 'rear') === (p.spar === 'rear') && joint.layers.includes(p.rib.id));
  const row = place ? turnsOf(b, place.rib, stance.bay.station.y) * (b.drawn(`${place.key}.row`) ?? place.spec.row) : 0;
  return joint.holes.map((h) => ({ id: h.id, hole: { stance, end: place?.end ?? joint.end, y: row + h.along, z: h.up, diameter: joint.pilot } }));
}

/** A rivet in every hole whose layers are all at final size, or in `all` of them; square through the stack, heads outside. */
export function rivetParts(b: Build, all: boolean): PlacedSolid[] {
  return b.model.joints.flatMap((joint) => {
    const first = new Map<string, LayerHole>();
    for (const { id, hole, final } of layerHoles(b, joint)) if ((all || final) && !first.has(id)) first.set(id, hole);
    if (all) for (const { id, hole } of undrilled(b, joint)) if (!first.has(id)) first.set(id, hole);
    return [...first].map(([id, hole]): PlacedSolid => {
      const thick = joint.layers.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
      const side = joint.end === 'rear' ? -1 : 1;
      const x = joint.end === 'rear' ? hole.stance.rear + (b.model.spars.rear ? sheetOf(b, b.model.spars.rear.sheet) : 0) : hole.stance.front - nosePack(b, joint);
      const { at, axis } = holeInWing(hole, x, 1);
      const solid = rivetSolid({ from: at, axis: scale(axis, side), diameter: joint.rivet.diameter, grip: thick, set: true });
      return { id: `${joint.id}/${id}`, kind: 'rivet', mark: `${joint.id} ${id}`, station: joint.station, solid };
    });
  });
}

/** Thickness of a joint's layers ahead of the front web. */
function nosePack(b: Build, joint: Joint): number {
  const before = joint.layers.slice(0, Math.max(joint.layers.indexOf('front'), 0));
  return before.reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
}
