import { partPoint, toWing } from '../../geometry/frame.ts';
import { channelSection } from '../../geometry/outline.ts';
import { loft, type Solid, sectionFrame } from '../../geometry/solids.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import { drilled, type HoleShape } from './drilled.ts';
import { channelSides, warpable } from './spar.ts';

/*
 * A doubler, packer or shim between a rib end and a spar.
 *
 * Its own axes, mm: y along the span, centred; z up, centred. On a web: the face towards the spar's web is at x = 0
 * and the metal lies to +x × side (side +1 behind a web that faces aft, −1 before one that faces forward). On a cap:
 * the face towards the top cap is at z = 0 with the metal below it (`under` 'top'), or towards the bottom cap with
 * the metal above. Thin sheet: where the web or the caps turn under it, it follows them (`lies`).
 */

/**
 * How a piece lies at one place along its width: where its section's zero stands and how it is turned (radians, nose
 * up), how much higher its top and bottom legs (or a shim) stand there, and what they gain for each mm aft.
 */
export interface DoublerAttitude {
  readonly y: number;
  readonly x: number;
  readonly z: number;
  readonly pitch: number;
  readonly top: number;
  readonly bottom: number;
  readonly tilt: number;
}

interface Laid {
  readonly thickness: number;
  /** Along the span. */
  readonly width: number;
  readonly side: 1 | -1;
  readonly holes?: readonly HoleShape[];
  /** By rising y, the two edges among them; flat and square unless told. */
  readonly attitudes?: readonly DoublerAttitude[];
}

export interface ChannelDoublerShape extends Laid {
  readonly form: 'channel';
  readonly radius: number;
  /** Over the legs. */
  readonly height: number;
  /** Outside leg: web face to free edge. */
  readonly leg: number;
  readonly facets?: number;
}

export interface PackerShape extends Laid {
  readonly form: 'packer';
  readonly height: number;
}

export interface ShimShape extends Laid {
  readonly form: 'shim';
  /** Chordwise, from x = side × start to x = side × (start + length). */
  readonly start?: number;
  readonly length: number;
  readonly under: 'top' | 'bottom';
}

export type DoublerShape = ChannelDoublerShape | PackerShape | ShimShape;

/** Faces: 'to spar' and 'to part' on the web, 'top leg', 'bottom leg' outside and inside, 'bend', 'edge'. */
export function doublerSolid(shape: DoublerShape): Solid {
  const half = shape.width / 2;
  const flat = { x: 0, z: 0, pitch: 0, top: 0, bottom: 0, tilt: 0 };
  const attitudes = shape.attitudes ?? [
    { ...flat, y: -half },
    { ...flat, y: half },
  ];
  const plain = sectionOf(shape);
  const twisted = shape.form !== 'shim' && attitudes.some((attitude) => attitude.pitch !== attitudes[0]?.pitch);
  const { outline, sides } = twisted ? warpable(plain.outline, plain.sides) : plain;
  const rings = attitudes.map((attitude) => laidRing(shape, outline, attitude));
  return drilled(loft(rings, { sides, start: 'edge', end: 'edge' }), shape.holes ?? []);
}

function laidRing(
  shape: DoublerShape,
  outline: readonly Vec2[],
  { y, x, z, pitch, top, bottom, tilt }: DoublerAttitude,
): Vec3[] {
  const frame = sectionFrame([x, y, z], pitch);
  const rise = (up: number): number => {
    if (shape.form === 'packer') return 0;
    if (shape.form === 'shim') return shape.under === 'top' ? top : bottom;
    return up > 0 ? top : bottom;
  };
  const leans = shape.form === 'packer' ? 0 : tilt;
  return outline.map(([a, up]): Vec3 => toWing(frame, partPoint(a, 0, up + rise(up) + leans * a)));
}

function sectionOf(shape: DoublerShape): { outline: Vec2[]; sides: string[] } {
  const { thickness: t, side } = shape;
  switch (shape.form) {
    case 'channel': {
      const { height, leg, radius, facets = 6 } = shape;
      const outline = channelSection({ depth: height, cap: leg, thickness: t, radius, facets });
      const sides = channelSides(radius, facets, {
        web: 'to spar',
        inside: 'to part',
        top: 'top leg',
        bottom: 'bottom leg',
      });
      return { outline: outline.map(([x, z]): Vec2 => [side * x, z]), sides };
    }
    case 'packer':
      return plate(
        [0, side * t],
        [-shape.height / 2, shape.height / 2],
        side === 1 ? ['edge', 'to part', 'edge', 'to spar'] : ['edge', 'to spar', 'edge', 'to part'],
      );
    case 'shim': {
      const { start = 0, length } = shape;
      const across: Vec2 = [side * start, side * (start + length)];
      return shape.under === 'top'
        ? plate(across, [-t, 0], ['to part', 'edge', 'to spar', 'edge'])
        : plate(across, [0, t], ['to spar', 'edge', 'to part', 'edge']);
    }
  }
}

/** A plate's section; sides are named bottom, right, top, left as seen with x to the right. */
function plate([xa, xb]: Vec2, [low, high]: Vec2, sides: string[]): { outline: Vec2[]; sides: string[] } {
  const [left, right] = [Math.min(xa, xb), Math.max(xa, xb)];
  return {
    outline: [
      [left, low],
      [right, low],
      [right, high],
      [left, high],
    ],
    sides,
  };
}
