import { type Frame, frameFrom, toPart, wingPoint } from '../../geometry/frame.ts';
import { placed, sectionFrame } from '../../geometry/solids.ts';
import { add, scale, subtract, type Vec3 } from '../../geometry/vector.ts';
import { alongAt } from '../../model/along.ts';
import type { Doubler, Model, Rib } from '../../model/schema.ts';
import type { EndName, RibPlace } from '../layout/layout.ts';
import { sparOf } from '../layout/meeting.ts';
import { remembered } from '../layout/remembered.ts';
import { bracketSolid } from '../shapes/bracket.ts';
import { type DoublerAttitude, type DoublerShape, doublerSolid } from '../shapes/doubler.ts';
import { setback } from '../shapes/pressed.ts';
import { insideOf, onRing, ringAt } from '../shapes/spar.ts';
import { restingAt, ribInSection, type SparFaces, type StandingRib } from './attitude.ts';
import {
  type Build,
  endShape,
  hasWeb,
  holeInWing,
  holesIn,
  lengthOf,
  type PlacedSolid,
  ribFrame,
  sheetOf,
  sheetOfPart,
  sideOf,
  tipBack,
  turnsOf,
  webFace,
} from './build.ts';
import { bendRadius, inWing, type Stance } from './stance.ts';

/*
 * What lies on a spar: doublers, packers and shims between it and a rib end, and brackets on its flat outside.
 */

/** Everything between one rib end and its spar, laid from the spar's web towards the rib. */
export function doublerParts(b: Build, place: RibPlace): PlacedSolid[] {
  const { rib, end, spec, bay, doublers } = place;
  const stance = b.stances[bay.index];
  const spar = b.spars[place.spar];
  if (stance === undefined || spar === undefined || doublers.length === 0) return [];
  const { y } = bay.station;
  const side = sideOf(end);
  const shape = endShape(b, rib, end, spec);
  const turns = turnsOf(b, rib, y);
  const standing: StandingRib = { frame: ribFrame(b, stance, rib), turns };
  const back = rib.kind === 'tip' ? tipBack(b, stance, rib) : lengthOf(b, rib);
  const heel = end === 'rear' ? back : 0;
  const channels = doublers.filter((d) => d.form === 'channel').reduce((sum, d) => sum + 2 * sheetOf(b, d.sheet), 0);
  let around = channels;
  let x = webFace(b, stance, end);
  const over = { top: shape.height / 2 + channels / 2, bottom: shape.height / 2 + channels / 2 };
  const datum = place.spar === 'front' ? stance.front : stance.rear;
  return doublers.map((d): PlacedSolid => {
    const thickness = sheetOf(b, d.sheet);
    const cap = d.on === 'top' ? 'top' : 'bottom';
    if (!hasWeb(d)) over[cap] += thickness;
    const onCap = cap === 'top' ? over.top : -over.bottom;
    const middle = hasWeb(d) ? 0 : onCap;
    const centre = y + turns * (shape.tab / 2);
    const at = inWing(stance, x, 0);
    const frame = sectionFrame([at.x, centre, at.z], stance.pitch);
    const attitudes = doublerAttitudes(
      { b, rib, end, spar, frame, standing, heel, face: x - datum, middle, half: shape.height / 2, side },
      d.width,
    );
    const metal = holesIn(
      frame,
      (b.holes.get(d.id) ?? []).map((hole) => holeInWing(hole, x, 2 * thickness)),
    );
    const solid = placed(
      remembered('doubler', doublerSolid, {
        ...doublerShape(b, place, d, { thickness, side, height: shape.height + around }),
        attitudes,
        holes: metal,
      }),
      frame,
    );
    if (hasWeb(d)) x += side * thickness;
    if (d.form === 'channel') around -= 2 * thickness;
    return { id: d.id, kind: 'doubler', mark: d.id, station: bay.station.id, sheet: d.sheet, solid };
  });
}

interface DoublerSeat {
  readonly b: Build;
  readonly rib: Rib;
  readonly end: EndName;
  readonly spar: SparFaces;
  /** The piece's own axes. */
  readonly frame: Frame;
  readonly standing: StandingRib;
  /** x of the rib end's face in the rib, and half its height there. */
  readonly heel: number;
  readonly half: number;
  /** Aft of the spar's datum face, and above the rib end's middle, where the piece has its zero. */
  readonly face: number;
  readonly middle: number;
  readonly side: 1 | -1;
}

/** A thin piece lies along the web at every place, with its legs as far from the caps there as at the rib's station. */
function doublerAttitudes(
  { b, rib, end, spar, frame, standing, heel, half, face, middle, side }: DoublerSeat,
  width: number,
): DoublerAttitude[] {
  const { y } = b.byStation.get(rib.station)?.bay.station ?? { y: frame.origin[1] };
  const { turns } = standing;
  const open = b.drawn(`${rib.id}.${end}.open`) ?? 0;
  const straight = sheetOf(b, rib.sheet) + rib.radius;
  const [low, high] = [frame.origin[1] - width / 2, frame.origin[1] + width / 2];
  const bends = open === 0 ? [] : [y + turns * straight, y + turns * rib.flange];
  const ys = [
    low,
    ...new Set([...spar.rings.map((r) => r.y), ...bends].filter((q) => q > low + 1e-6 && q < high - 1e-6)),
    high,
  ].sort((p, q) => p - q);
  // The rib end's own lines, top and bottom, at the face of the piece: a rib held at a slant slants them.
  const [near, far, low0] = [
    ribInSection(spar, standing, [heel, 0, half]),
    ribInSection(spar, standing, [heel + side * 10, 0, half]),
    ribInSection(spar, standing, [heel, 0, -half]),
  ];
  const tilt = (far.up - near.up) / (far.aft - near.aft);
  const [top, bottom] = [near.up + tilt * (face - near.aft), low0.up + tilt * (face - low0.aft)];
  const own = ringAt(spar.rings, y);
  const raised = (top + bottom) / 2;
  return ys.map((q): DoublerAttitude => {
    const ring = ringAt(spar.rings, q);
    const [px, , pz] = toPart(frame, wingPoint(...onRing(ring, face, raised + middle)));
    const along = Math.min(Math.max((q - y) * turns, straight), rib.flange);
    const grows =
      (insideOf(ring, spar.thickness) - insideOf(own, spar.thickness)) / 2 +
      (open * (along - straight)) / Math.max(rib.flange - straight, 1);
    const stretched = (top - bottom) / 2 - half;
    return {
      y: q - frame.origin[1],
      x: px,
      z: pz,
      pitch: (ring.pitch ?? 0) - Math.atan2(-frame.axes[0][2], frame.axes[0][0]),
      top: grows + stretched,
      bottom: -grows - stretched,
      tilt,
    };
  });
}

export function doublerShape(
  b: Build,
  { rib, end, spar: name, bay, spec }: RibPlace,
  d: Doubler,
  laid: { thickness: number; side: 1 | -1; height: number },
): DoublerShape {
  const { thickness, side, height } = laid;
  const spar = sparOf(b.skeleton, name);
  const cap = alongAt(spar.capWidth, bay.station.y) - sheetOf(b, spar.sheet);
  const own = { thickness, width: d.width, side };
  if (d.form === 'channel') {
    const radius = Math.max(b.drawn(`${d.id}.radius`) ?? d.radius ?? spar.radius, 0);
    const leg = Math.max(d.leg ?? cap, thickness + radius + 1);
    return { ...own, form: 'channel', radius, height: Math.max(height, 2 * (thickness + radius) + 1), leg };
  }
  if (d.on === 'web')
    return {
      ...own,
      form: 'packer',
      height:
        d.height ?? spec.height - 2 * setback(bendRadius(b.skeleton, name, b.drawn), sheetOf(b, rib.sheet), rib.radius),
    };
  // A shim stops short of the bends beside the web.
  const bends = b.skeleton
    .doublersAt(rib.id, end)
    .filter((o) => o.form === 'channel')
    .map((o) => sheetOf(b, o.sheet) + (b.drawn(`${o.id}.radius`) ?? o.radius ?? 0));
  const start = Math.max(bendRadius(b.skeleton, name, b.drawn), ...bends);
  return {
    ...own,
    form: 'shim',
    start,
    length: Math.max((d.leg ?? cap) - start, 2),
    under: d.on === 'top' ? 'top' : 'bottom',
  };
}

/** Brackets on the flat outside of a spar's web, or on the packers their joint lists under them. */
export function bracketParts(b: Build): PlacedSolid[] {
  return b.model.brackets.flatMap((bracket): PlacedSolid[] => {
    const stance = b.byStation.get(bracket.station);
    const spar = b.spars[bracket.spar];
    if (stance === undefined || spar === undefined) return [];
    const side = spar.opens === 'aft' ? -1 : 1;
    const face = (side === 1 ? spar.thickness : 0) + side * under(b, bracket);
    const thickness = sheetOf(b, bracket.sheet);
    const frame = bracketFrame(b, { bracket, stance, spar, side, face });
    const x = (bracket.spar === 'front' ? stance.front : stance.rear) + face;
    const holes = holesIn(
      frame,
      (b.holes.get(bracket.id) ?? []).map((h) => holeInWing(h, x, 2 * thickness)),
    );
    const shape = {
      thickness,
      width: bracket.width,
      height: bracket.height,
      edge: Math.max(2 * bracket.edge, 4 * thickness),
      side,
      holes,
    } as const;
    return [
      {
        id: bracket.id,
        kind: 'bracket',
        mark: bracket.id,
        station: bracket.station,
        sheet: bracket.sheet,
        solid: placed(bracketSolid(shape), frame),
      },
    ];
  });
}

/** A bracket stands on its joint's hole row, along the line between its edges on the web, resting on the high spots. */
function bracketFrame(
  b: Build,
  {
    bracket,
    stance,
    spar,
    side,
    face,
  }: { bracket: Model['brackets'][number]; stance: Stance; spar: SparFaces; side: 1 | -1; face: number },
): Frame {
  const { y } = stance.bay.station;
  const joint = b.model.joints.find((j) => j.station === bracket.station && j.layers.includes(bracket.id));
  const place = b.skeleton
    .placesAt(bracket.station)
    .find((p) => p.spar === bracket.spar && joint?.layers.includes(p.rib.id));
  const centre = y + (place ? turnsOf(b, place.rib, y) * (b.drawn(`${place.key}.row`) ?? place.spec.row) : 0);
  const on = (q: number): Vec3 => onRing(ringAt(spar.rings, q), face, 0);
  const [low, mid, high] = [on(centre - bracket.width / 2), on(centre), on(centre + bracket.width / 2)];
  const upright = sectionFrame(mid, ringAt(spar.rings, centre).pitch ?? 0);
  const along = alongWeb(upright, (high[0] - low[0]) / bracket.width);
  const off = restingAt(spar, along, { face, side, width: bracket.width, height: bracket.height });
  return { ...along, origin: wingPoint(...add(along.origin, scale(along.axes[0], off))) };
}

/** A section frame turned in plan so that its y runs along a web that gains `slope` of x for each mm of y. */
function alongWeb({ origin, axes: [x, y] }: Frame, slope: number): Frame {
  return frameFrom(origin, subtract(x, scale(y, slope)), y);
}

/** Thickness of what a joint lists between a bracket and its spar. */
function under(b: Build, bracket: Model['brackets'][number]): number {
  const layers =
    b.model.joints.find((j) => j.station === bracket.station && j.layers.includes(bracket.id))?.layers ?? [];
  const [i, j] = [layers.indexOf(bracket.id), layers.indexOf(bracket.spar)];
  if (i < 0 || j < 0) return 0;
  return layers
    .slice(Math.min(i, j) + 1, Math.max(i, j))
    .reduce((sum, part) => sum + sheetOf(b, sheetOfPart(b.model, part)), 0);
}
