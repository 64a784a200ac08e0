import { channelSection } from '../geometry/outline.ts';
import { extrusion, type Solid } from '../geometry/solids.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { drilled, type HoleShape } from './drilled.ts';
import { channelSides } from './spar.ts';

/*
 * A doubler, packer or shim between a rib end and a spar.
 *
 * Its own axes, mm: y along the span, centred; z up, centred. On a web: the face towards the spar's web is at x = 0 and
 * the metal lies to +x × side (side +1 behind a web that faces aft, −1 before one that faces forward). On a cap: the face
 * towards the top cap is at z = 0 with the metal below it (`under` 'top'), or towards the bottom cap with the metal above.
 */

export interface ChannelDoublerShape {
  readonly form: 'channel';
  readonly thickness: number;
  readonly radius: number;
  /** Over the legs. */
  readonly height: number;
  /** Outside leg: web face to free edge. */
  readonly leg: number;
  /** Along the span. */
  readonly width: number;
  readonly side: 1 | -1;
  readonly facets?: number;
}

export interface PackerShape {
  readonly form: 'packer';
  readonly thickness: number;
  readonly height: number;
  readonly width: number;
  readonly side: 1 | -1;
}

export interface ShimShape {
  readonly form: 'shim';
  readonly thickness: number;
  /** Chordwise, from x = 0 to x = side × length. */
  readonly length: number;
  readonly width: number;
  readonly side: 1 | -1;
  readonly under: 'top' | 'bottom';
}

export type DoublerShape = (ChannelDoublerShape | PackerShape | ShimShape) & { readonly holes?: readonly HoleShape[] };

/** Faces: 'to spar' and 'to part' on the web, 'top leg', 'bottom leg' outside and inside, 'bend', 'edge'. */
export function doublerSolid(shape: DoublerShape): Solid {
  return drilled(bare(shape), shape.holes ?? []);
}

function bare(shape: DoublerShape): Solid {
  const half = shape.width / 2;
  const { thickness: t, side } = shape;
  switch (shape.form) {
    case 'channel': {
      const { height, leg, radius, facets = 6 } = shape;
      const outline = channelSection({ depth: height, cap: leg, thickness: t, radius, facets });
      const sides = channelSides(radius, facets, { web: 'to spar', inside: 'to part', top: 'top leg', bottom: 'bottom leg' });
      return extrusion(outline.map(([x, z]): Vec2 => [side * x, z]), { axis: 'y', from: -half, to: half }, { sides, start: 'edge', end: 'edge' });
    }
    case 'packer':
      return plate([0, side * t], [-shape.height / 2, shape.height / 2], half, side === 1 ? ['edge', 'to part', 'edge', 'to spar'] : ['edge', 'to spar', 'edge', 'to part']);
    case 'shim':
      return shape.under === 'top'
        ? plate([0, side * shape.length], [-t, 0], half, ['to part', 'edge', 'to spar', 'edge'])
        : plate([0, side * shape.length], [0, t], half, ['to spar', 'edge', 'to part', 'edge']);
  }
}

/** A plate across y; sides are named bottom, right, top, left as seen with x to the right. */
function plate([xa, xb]: Vec2, [low, high]: Vec2, half: number, sides: readonly string[]): Solid {
  const [left, right] = [Math.min(xa, xb), Math.max(xa, xb)];
  return extrusion([[left, low], [right, low], [right, high], [left, high]], { axis: 'y', from: -half, to: half }, { sides, start: 'edge', end: 'edge' });
}
