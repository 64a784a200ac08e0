import { inWeb } from '../../model/edits/rows.ts';
import type { Doubler } from '../../model/schema.ts';
import type { RibPlace } from '../layout/layout.ts';
import { type Build, endShape, sheetOf, sideOf, turnsOf } from '../placed/build.ts';
import { doublerShape } from '../placed/placedPieces.ts';
import type { DoublerShape } from '../shapes/doubler.ts';
import { channelFlat, type FlatPattern, type HoleMark, plateFlat } from './flatPattern.ts';

/*
 * Doublers, packers and shims as they are cut: from the rib end as it was measured, since the piece must go round
 * that one.
 */

/** What lies between one rib end and its spar, from the spar's web outwards, each made to fit what it goes round. */
export function laidDoublers(b: Build, place: RibPlace): { readonly d: Doubler; readonly shape: DoublerShape }[] {
  const { rib, end, spec, doublers } = place;
  const end0 = endShape(b, rib, end, spec);
  let around = doublers.filter((d) => d.form === 'channel').reduce((sum, d) => sum + 2 * sheetOf(b, d.sheet), 0);
  return doublers.map((d) => {
    const thickness = sheetOf(b, d.sheet);
    const shape = doublerShape(b, place, d, { thickness, side: sideOf(end), height: end0.height + around });
    if (d.form === 'channel') around -= 2 * thickness;
    return { d, shape };
  });
}

/**
 * The flat of a doubler, packer or shim: up is up, seen from the rib's side, so that a channel's legs bend towards
 * you. A channel is bent at `radius` in place of its own.
 */
export function doublerFlat(shape: DoublerShape, marks: readonly HoleMark[], radius?: number): FlatPattern {
  const { thickness, width } = shape;
  switch (shape.form) {
    case 'channel': {
      const r = radius ?? shape.radius;
      return channelFlat(
        { height: shape.height, leg: Math.max(shape.leg, thickness + r + 1), width, radius: r, thickness },
        marks,
      );
    }
    case 'packer':
      return plateFlat({ width, height: shape.height, thickness }, marks);
    case 'shim':
      return plateFlat({ width, height: shape.length, thickness });
  }
}

/**
 * Holes of the web rows that go through a piece, in its flat; rows in caps are not shown. Seen from the rib: at a
 * front end you look forward and +y is to the right, else to the left.
 */
export function doublerMarks(b: Build, { rib, end, spec, bay }: RibPlace, d: Doubler): HoleMark[] {
  const turns = turnsOf(b, rib, bay.station.y);
  const row = b.drawn(`${rib.id}.${end}.row`) ?? spec.row;
  const tab = endShape(b, rib, end, spec).tab;
  const right = end === 'front' ? 1 : -1;
  return b.model.joints
    .filter((j) => inWeb(j) && j.layers.includes(d.id))
    .flatMap((j) =>
      j.holes.map(
        (h): HoleMark => ({ at: [right * (turns * (row - tab / 2) + h.along), h.up], diameter: j.pilot, name: h.id }),
      ),
    );
}
