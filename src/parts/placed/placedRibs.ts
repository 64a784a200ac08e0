import type { Frame } from '../../geometry/frame.ts';
import { placed, type Solid } from '../../geometry/solids.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { alongAt } from '../../model/along.ts';
import type { Rib, RibEnd } from '../../model/schema.ts';
import type { EndName } from '../layout/layout.ts';
import { remembered } from '../layout/remembered.ts';
import { type ContourRow, contourBetween } from '../shapes/contourBetween.ts';
import type { HoleShape } from '../shapes/drilled.ts';
import { type EndShape, easedEnd, type MainRibShape, mainRibSolid } from '../shapes/mainRib.ts';
import { noseOutline } from '../shapes/noseOutline.ts';
import { noseRibSolid } from '../shapes/noseRib.ts';
import type { Slant, WebHole } from '../shapes/pressed.ts';
import { ringAt } from '../shapes/spar.ts';
import { tipRibSolid } from '../shapes/tipRib.ts';
import { capSlant, ribInSection, type StandingRib, webAttitude } from './attitude.ts';
import {
  type Build,
  endShape,
  holeInWing,
  holesIn,
  lengthOf,
  type PlacedSolid,
  ribFrame,
  sheetOf,
  sideOf,
  sparAt,
  standsAt,
  tipBack,
  turnsOf,
} from './build.ts';
import type { Stance } from './stance.ts';

/*
 * Main, nose and tip ribs where they stand, tabs lying on the webs and flanges along the caps.
 */

/** What any rib is bent from. */
export function placedBody(b: Build, stance: Stance, rib: Rib) {
  const thickness = sheetOf(b, rib.sheet);
  return {
    thickness,
    radius: rib.radius,
    flange: Math.max(rib.flange, thickness + rib.radius + 1),
    turns: turnsOf(b, rib, stance.bay.station.y),
    ...(rib.flutes ? { flutes: rib.flutes } : {}),
  };
}

/** A rib end in place: its shape with its tab lying on the web. */
function lyingEnd(
  b: Build,
  rib: Rib,
  standing: StandingRib,
  { end, spec, x }: { end: EndName; spec: RibEnd; x: number },
): EndShape {
  const shape = endShape(b, rib, end, spec);
  const spar = b.spars[sparAt(end)];
  if (spar === undefined) return shape;
  const attitude = webAttitude(spar, standing, { x, width: shape.tab, half: shape.height / 2 - shape.corner });
  if (spec.ends !== 'nests') return { ...shape, attitude };
  // Where web or caps close in along the flanges, the corner is cut back by as much.
  const cap = capSlant(spar, standing, { x, flange: rib.flange, face: 'inside' });
  const closing = Math.max(0, sideOf(end) * attitude.bevel) + Math.max(0, -cap.top, cap.bottom);
  // The flanges stay down as far as the cap reaches over them where they stand, all along their width.
  const { aft } = ribInSection(spar, standing, [x, 0, 0]);
  const capWidth = ringAt(spar.rings, standing.frame.origin[1]).capWidth;
  const reach = sideOf(end) === 1 ? capWidth - aft : aft + capWidth - spar.thickness;
  const flat = Math.max(shape.flat, reach + 2) + Math.abs(attitude.bevel) * rib.flange;
  return { ...shape, attitude, flat, corner: shape.corner + closing * Math.max(rib.flange, shape.tab) };
}

/** How a rib's flanges lie: along the caps at each end, as far as they reach, and straight between. */
function slantsOf(
  b: Build,
  rib: Rib,
  standing: StandingRib,
  ends: readonly { end: EndName; spec: RibEnd; x: number; reach: number }[],
): Slant[] {
  const slants = ends.flatMap(({ end, spec, x, reach }): Slant[] => {
    const spar = b.spars[sparAt(end)];
    if (spar === undefined) return [];
    const face = spec.ends === 'nests' ? 'inside' : 'outside';
    const open = b.drawn(`${rib.id}.${end}.open`) ?? 0;
    return [x, x + reach].map((at) => ({ ...capSlant(spar, standing, { x: at, flange: rib.flange, face }), open }));
  });
  return slants.sort((p, q) => p.x - q.x);
}

/** Where the face of a rib's end is, in the section's x. */
function endFace(b: Build, stance: Stance, rib: Rib, end: EndName): number {
  if (end !== 'rear' || rib.kind === 'nose') return standsAt(b, stance, rib);
  return rib.kind === 'tip' ? stance.front + tipBack(b, stance, rib) : standsAt(b, stance, rib) + lengthOf(b, rib);
}

/** Whatever ribs stand at a station, drilled, each drawn in its own axes and placed. */
export function ribParts(b: Build, stance: Stance): PlacedSolid[] {
  const { main, nose, tip, station } = stance.bay;
  return [main, nose, tip].flatMap((rib): PlacedSolid[] => {
    if (rib === undefined) return [];
    const frame = ribFrame(b, stance, rib);
    const holes = holesIn(
      frame,
      (b.holes.get(rib.id) ?? []).map((hole) =>
        holeInWing(hole, endFace(b, stance, rib, hole.end), 3 * sheetOf(b, rib.sheet)),
      ),
    );
    return [
      {
        id: rib.id,
        kind: rib.kind,
        mark: rib.id,
        station: station.id,
        sheet: rib.sheet,
        solid: placed(ribSolid(b, stance, rib, frame, holes), frame),
      },
    ];
  });
}

function ribSolid(b: Build, stance: Stance, rib: Rib, frame: Frame, holes: readonly HoleShape[]): Solid {
  const length = lengthOf(b, rib);
  const body = { ...placedBody(b, stance, rib), holes };
  const standing: StandingRib = { frame, turns: body.turns };
  const webHoles = (nose: number): WebHole[] =>
    rib.holes.map((h) => ({ x: nose + h.fromFront, z: h.above, diameter: h.diameter }));
  const lying = (end: EndName, spec: RibEnd, x: number) => lyingEnd(b, rib, standing, { end, spec, x });
  const reachOf = (end: EndShape) =>
    Math.min(Math.max(end.flat, 10) + Math.abs(end.attitude?.bevel ?? 0) * rib.flange, 0.4 * length);
  switch (rib.kind) {
    case 'main': {
      const [front, rear] = [lying('front', rib.front, 0), lying('rear', rib.rear, length)];
      const slants = slantsOf(b, rib, standing, [
        { end: 'front', spec: rib.front, x: 0, reach: reachOf(front) },
        { end: 'rear', spec: rib.rear, x: length, reach: -reachOf(rear) },
      ]);
      const shape: MainRibShape = {
        ...body,
        length,
        front,
        rear,
        slants,
        webHoles: webHoles(0),
        ...behind(contourOf(b, stance, rib), 'contour'),
      };
      return remembered('main', mainRibSolid, shape);
    }
    case 'nose': {
      const tail = lying('tail', rib.tail, 0);
      const slants = slantsOf(b, rib, standing, [
        { end: 'tail', spec: rib.tail, x: 0, reach: -reachOf(tail) },
        { end: 'tail', spec: { ...rib.tail, ends: 'butts' }, x: -length, reach: 0.1 * length },
      ]);
      return remembered('nose', noseRibSolid, {
        ...body,
        outline: outlineOf(b, stance, rib),
        tail,
        slants,
        webHoles: webHoles(-length),
      });
    }
    case 'tip': {
      const back = tipBack(b, stance, rib);
      const rear = lying('rear', rib.rear, back);
      const over: RibEnd = { ...rib.rear, ends: 'butts' };
      const slants = slantsOf(b, rib, standing, [
        { end: 'front', spec: over, x: back - length, reach: length - back },
        { end: 'rear', spec: rib.rear, x: back, reach: -reachOf(rear) },
      ]);
      return remembered('tip', tipRibSolid, {
        ...body,
        back,
        outline: outlineOf(b, stance, rib),
        rear,
        slants,
        webHoles: webHoles(back - length),
        ...passing(b, stance, rib),
        ...behind(contourOf(b, stance, rib), 'behind'),
      });
    }
  }
}

/** A nose or tip rib's contour ahead of the front spar, in its own axes. */
export function outlineOf(b: Build, stance: Stance, rib: Rib & { kind: 'nose' | 'tip' }): Vec2[] {
  const { nose, y } = stance.bay.station;
  if (rib.kind === 'tip') {
    const length = Math.max(lengthOf(b, rib) - tipBack(b, stance, rib), 5);
    return noseOutline(rib.profile, {
      length,
      height: rib.height,
      cut: nose > 0 ? nose : rib.length - alongAt(b.model.webToWeb, y),
    });
  }
  const tail = endShape(b, rib, 'tail', rib.tail);
  return noseOutline(rib.profile, { length: lengthOf(b, rib), height: tail.height + 2 * tail.joggle, cut: rib.length });
}

/**
 * A main or tip rib's contour from the front spar to its rear end, x from its own zero; undefined for a straight one.
 */
export function contourOf(b: Build, stance: Stance, rib: Rib & { kind: 'main' | 'tip' }): ContourRow[] | undefined {
  if (rib.contour === undefined) return undefined;
  const { nose, y } = stance.bay.station;
  const over = (end: 'front' | 'rear', spec: RibEnd): number => {
    const shape = endShape(b, rib, end, spec);
    return shape.height + 2 * shape.joggle;
  };
  const rear = over('rear', rib.rear);
  if (rib.kind === 'tip')
    return contourBetween(rib.contour, {
      length: tipBack(b, stance, rib),
      drawn: alongAt(b.model.webToWeb, y),
      cut: nose,
      front: rib.height,
      rear,
    });
  const sheet = b.skeleton.book.nominal(`sheet.${b.model.spars.front.sheet}`) ?? 0;
  return contourBetween(rib.contour, {
    length: lengthOf(b, rib),
    drawn: rib.length,
    cut: nose + sheet,
    front: over('front', rib.front),
    rear,
  });
}

/**
 * What of a curved contour the skin lies on: all of it but what the caps lie over and the flanges' way up from under
 * them.
 */
export function crownOf(b: Build, stance: Stance, rib: Rib & { kind: 'main' | 'tip' }): ContourRow[] {
  const rows = contourOf(b, stance, rib);
  const last = rows?.[rows.length - 1];
  if (rows === undefined || last === undefined) return [];
  const [long] = last;
  const clear = (end: 'front' | 'rear', spec: RibEnd): number => {
    const { flat, runOut = 0 } = easedEnd(
      endShape(b, rib, end, spec),
      rows,
      end === 'front' ? 0 : long,
      end === 'front' ? 1 : -1,
    );
    return flat > 0 ? flat + runOut : 1;
  };
  const [low, high] = [rib.kind === 'main' ? clear('front', rib.front) : 1, long - clear('rear', rib.rear)];
  return rows.filter(([x]) => x > low && x < high);
}

/** Contour rows under the name a shape has for them, or nothing. */
export function behind<K extends string>(
  rows: readonly ContourRow[] | undefined,
  name: K,
): Partial<Record<K, readonly ContourRow[]>> {
  return rows ? ({ [name]: rows } as Record<K, readonly ContourRow[]>) : {};
}

/** The gap in a tip rib's flanges for the front spar, where they turn over it. */
export function passing(b: Build, stance: Stance, rib: Rib & { kind: 'tip' }): { passes?: readonly [number, number] } {
  const { y } = stance.bay.station;
  const { front } = b.model.spars;
  const reach = y + turnsOf(b, rib, y) * rib.flange;
  if (Math.max(y, reach) <= front.from || Math.min(y, reach) >= front.to) return {};
  const cap = alongAt(front.capWidth, y);
  return {
    passes: front.opens === 'aft' ? [-1, cap + 2] : [sheetOf(b, front.sheet) - cap - 2, sheetOf(b, front.sheet) + 1],
  };
}
