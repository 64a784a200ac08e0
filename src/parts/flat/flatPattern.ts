import type { Vec2 } from '../../geometry/vector.ts';
import { bendAllowance, setbackOf } from './bend.ts';

/*
 * A piece before it is bent: what to cut, where it bends, what is only marked.
 *
 * Millimetres, x to the right, y up, seen from the side its flanges turn towards: bends go up, towards you, unless
 * told. Outlines are closed and counterclockwise.
 */

/**
 * A corner of an outline. `bulge` is that of the side to the next corner: the tangent of a quarter of its arc's
 * angle, positive counterclockwise, none for a straight side.
 */
export interface FlatPoint {
  readonly at: Vec2;
  readonly bulge?: number;
}

export interface FlatHole {
  readonly at: Vec2;
  readonly diameter: number;
  /** In a bend, or in the web: lightening and sight holes. */
  readonly kind: 'relief' | 'web';
}

/** A hole of a row that is drilled through the mating part: shown, never cut from the sheet. */
export interface HoleMark {
  readonly at: Vec2;
  readonly diameter: number;
  readonly name: string;
}

/** One bend of 90 degrees: its two tangent lines, the one on the part that stays flat first. */
export interface FlatBend {
  readonly name: string;
  readonly inner: readonly Vec2[];
  readonly outer: readonly Vec2[];
  readonly radius: number;
}

/** Where a corner is drilled before it is cut: the outline already follows the hole's rim. */
export interface CornerRelief {
  readonly at: Vec2;
  readonly diameter: number;
}

export interface FlatPattern {
  readonly thickness: number;
  readonly outline: readonly FlatPoint[];
  readonly holes: readonly FlatHole[];
  readonly corners: readonly CornerRelief[];
  readonly bends: readonly FlatBend[];
  readonly marks: readonly HoleMark[];
  /** Which way the sheet's grain should run: square to most bends; null where it does not matter. */
  readonly grain: 'x' | 'y' | null;
}

/** Corners without arcs. */
export const withoutArcs = (points: readonly Vec2[]): FlatPoint[] => points.map((at) => ({ at }));

export interface ChannelSizes {
  /** Over the legs. */
  readonly height: number;
  /** Outside leg: web face to free edge. */
  readonly leg: number;
  /** Along the bends. */
  readonly width: number;
  readonly radius: number;
  readonly thickness: number;
}

/** Bend allowance and developed length of a channel of two 90 degree bends, mm. */
export interface Developed {
  readonly allowance: number;
  readonly setback: number;
  /** Web between its bend tangent lines. */
  readonly web: number;
  /** Leg from its bend tangent line to its edge. */
  readonly leg: number;
  readonly length: number;
}

/**
 * flat = (hd - 2(R+T)) + 2(f - (R+T)) + 2 BA. Example: 84.37 over legs of 14.0, R 1.98, T 0.635 develops to 109.0 mm.
 * Throws RangeError when the bends leave no flat.
 */
export function developChannel(
  { height, leg, radius, thickness }: Omit<ChannelSizes, 'width'>,
  allowance = bendAllowance({ radius, thickness }),
): Developed {
  const setback = setbackOf({ radius, thickness });
  const [web, side] = [height - 2 * setback, leg - setback];
  if (!(web > 0 && side > 0))
    throw new RangeError('a channel needs some flat left on its web and legs beside the bends');
  return { allowance, setback, web, leg: side, length: web + 2 * side + 2 * allowance };
}

/** The flat of a channel: bends along x, the top leg at the top; grain runs across the bends. */
export function channelFlat(sizes: ChannelSizes, marks: readonly HoleMark[] = []): FlatPattern {
  const { web, allowance, length } = developChannel(sizes);
  const [half, tall] = [sizes.width / 2, length / 2];
  const bend = (name: string, side: 1 | -1): FlatBend => {
    const at = (y: number): Vec2[] => [
      [-half, side * y],
      [half, side * y],
    ];
    return { name, inner: at(web / 2), outer: at(web / 2 + allowance), radius: sizes.radius };
  };
  return {
    thickness: sizes.thickness,
    outline: withoutArcs([
      [-half, -tall],
      [half, -tall],
      [half, tall],
      [-half, tall],
    ]),
    holes: [],
    corners: [],
    marks,
    bends: [bend('top leg', 1), bend('bottom leg', -1)],
    grain: 'y',
  };
}

/** A flat piece: a packer, a flat doubler, a shim. */
export function plateFlat(
  { width, height, thickness }: { readonly width: number; readonly height: number; readonly thickness: number },
  marks: readonly HoleMark[] = [],
): FlatPattern {
  const [half, tall] = [width / 2, height / 2];
  return {
    thickness,
    outline: withoutArcs([
      [-half, -tall],
      [half, -tall],
      [half, tall],
      [-half, tall],
    ]),
    holes: [],
    corners: [],
    bends: [],
    marks,
    grain: null,
  };
}
