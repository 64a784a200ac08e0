import { type Frame, partPoint, toPart, toWing, wingPoint } from '../../geometry/frame.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Attitude, Slant } from '../shapes/pressed.ts';
import { insideOf, type Opens, onRing, ringAt, type SparRing, toRing } from '../shapes/spar.ts';

/*
 * How a spar's web and caps lie to a rib that stands in it: tabs follow the web, flanges the caps, as a clamp lays
 * them.
 *
 * A tapered, bowed or twisted panel turns the web and caps away from the rib's own square; a builder closes or opens
 * the bends until they lie. So parts that a chain says just touch touch all along. What lean and skew leave of a
 * rigid rib is said by their own checks, not by its tabs. Wing frame, mm; rib's axes as in `pressed.ts`.
 *
 * What is left: a twisted web is drawn in flat facets, split at every rib, which stand off the true warp by at most a
 * quarter of (turn over a tab) × (height of a facet): under two thousandths of a millimetre on a wing washed out 2°.
 */

/** A spar's surfaces: its rings as drawn, and what its sheet is. */
export interface SparFaces {
  readonly rings: readonly SparRing[];
  readonly thickness: number;
  readonly radius: number;
  readonly opens: Opens;
}

/** A rib in its place: `turns` is the side its flanges go to along its own y. */
export interface StandingRib {
  readonly frame: Frame;
  readonly turns: 1 | -1;
}

const at = ({ frame, turns }: StandingRib, x: number, along: number, z: number): Vec3 =>
  toWing(frame, partPoint(x, turns * along, z));

/** Aft of the spar's datum face and above its mid height, in the section at the point's own y. */
function inSection(spar: SparFaces, p: Vec3): { readonly aft: number; readonly up: number; readonly ring: SparRing } {
  const ring = ringAt(spar.rings, p[1]);
  const [aft, up] = toRing(ring, p);
  return { aft, up, ring };
}

/** Half the height over (outside) or between (inside) the caps, `aft` of the datum face; droop counted. */
function halfAt(spar: SparFaces, ring: SparRing, aft: number, face: 'inside' | 'outside'): number {
  const { thickness, radius, opens } = spar;
  const fromWeb = opens === 'aft' ? aft : thickness - aft;
  const [bend, edge] = [thickness + radius, ring.capWidth];
  const share = edge > bend ? Math.min(Math.max((fromWeb - bend) / (edge - bend), 0), 1) : 0;
  const whole = face === 'inside' ? insideOf(ring, thickness) : ring.depth;
  return (whole - (ring.droop ?? 0) * share) / 2;
}

/** How the web lies to a tab whose heel is at (x, 0, 0) of the rib, `width` wide, over heights of about ±`half`. */
export function webAttitude(
  spar: SparFaces,
  rib: StandingRib,
  heel: { readonly x: number; readonly width: number; readonly half: number },
): Attitude {
  const { x, width, half } = heel;
  const wanted = inSection(spar, at(rib, x, 0, 0)).aft;
  const reach = (along: number, z: number): number => {
    let found = x;
    for (let i = 0; i < 4; i++) found -= inSection(spar, at(rib, found, along, z)).aft - wanted;
    return found - x;
  };
  const tilt = (reach(0, half) - reach(0, -half)) / (2 * half);
  const [low, high] = [reach(width, -half) + tilt * half, reach(width, half) - tilt * half];
  return { tilt, bevel: (low + high) / (2 * width), twist: (high - low) / (2 * half * width) };
}

/**
 * How the caps lie to a rib's flanges at x: what each gains in height for each mm along a flange of width `flange`,
 * going along the web. In a tapered panel that is not at the same x of the rib, which tells where a rib slants or the
 * web twists.
 */
export function capSlant(
  spar: SparFaces,
  rib: StandingRib,
  where: { readonly x: number; readonly flange: number; readonly face: 'inside' | 'outside' },
): Omit<Slant, 'open'> {
  const { x, flange, face } = where;
  const height = (along: number, side: 1 | -1): { there: number; z: number } => {
    let [there, z] = [x, side * halfAt(spar, ringAt(spar.rings, at(rib, x, along, 0)[1]), 0, face)];
    for (let i = 0; i < 4; i++) {
      const { aft, up, ring } = inSection(spar, at(rib, there, along, z));
      z -= up - side * halfAt(spar, ring, aft, face);
      there -= aft - inSection(spar, at(rib, x, 0, z)).aft;
    }
    return { there, z };
  };
  const per = (side: 1 | -1): number => (height(flange, side).z - height(0, side).z) / flange;
  const run = (height(flange, 1).there + height(flange, -1).there - 2 * x) / (2 * flange);
  return { x, run, top: per(1), bottom: per(-1) };
}

/** A rib's point in the section of the spar at its own y: aft of the datum face, above mid height. */
export function ribInSection(
  spar: SparFaces,
  rib: StandingRib,
  [x, along, z]: Vec3,
): { readonly aft: number; readonly up: number } {
  return inSection(spar, at(rib, x, along, z));
}

/** The frame moved along its own x until its point x stands `aft` of the spar's datum face. */
export function stoodAt(spar: SparFaces, rib: StandingRib, x: number, aft: number): Frame {
  let { frame } = rib;
  for (let i = 0; i < 3; i++) {
    const off = aft - inSection(spar, at({ ...rib, frame }, x, 0, 0)).aft;
    const [a, b, c] = frame.axes[0];
    frame = {
      ...frame,
      origin: wingPoint(frame.origin[0] + a * off, frame.origin[1] + b * off, frame.origin[2] + c * off),
    };
  }
  return frame;
}

/** Where a stiff flat piece must stand along its own x to rest on the web without biting: on its high spots. */
export function restingAt(
  spar: SparFaces,
  frame: Frame,
  piece: { readonly face: number; readonly side: 1 | -1; readonly width: number; readonly height: number },
): number {
  const { face, side, width, height } = piece;
  const [y, half] = [frame.origin[1], width / 2];
  const ys = [y - half, y + half, ...spar.rings.map((r) => r.y).filter((q) => Math.abs(q - y) < half)];
  const stand = ys.flatMap((q) => {
    const ring = ringAt(spar.rings, q);
    return [-height / 2, 0, height / 2].map((z) => {
      const [x, yy, zz] = onRing(ring, face, z);
      return side * toPart(frame, wingPoint(x, yy, zz))[0];
    });
  });
  return side * Math.max(...stand);
}
