import type { Vec2 } from '../../geometry/vector.ts';
import type { RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { type Corner, sharedStretch, topOf } from '../../scene/corner.ts';
import type { Place } from './cutPath.ts';
import { cornerLayers, type LayerBar } from './layers.ts';

/** A stretch along the cap, mm from the corner. */
type Stretch = readonly [near: number, far: number];

/** The layers in the order they are drawn: doublers lie on the rib, so the room that is left is right under the cap. */
export function layersOf(skeleton: Skeleton, place: RibPlace): LayerBar[] {
  const layers = cornerLayers(skeleton, place, 'top');
  const over = layers.filter((l) => l.kind === 'cap' || l.kind === 'strip');
  const room = layers.filter((l) => l.part === undefined);
  return [...over, ...room, ...layers.filter((l) => l.part !== undefined && !over.includes(l))];
}

/** The stretch of cap that all layers share; where they share none, its middle. */
export function stretchOf(corner: Corner, layers: readonly LayerBar[]): Stretch {
  const ids = layers.flatMap((l) => l.part ?? []);
  return sharedStretch(corner, ids) ?? [corner.cap * 0.4, corner.cap * 0.9];
}

export interface Row extends LayerBar {
  /** Where its leader ends, drawing px. */
  readonly dot: Vec2;
}

/** Each layer with the place its leader ends at: side by side, the uppermost layer's furthest towards the names. */
export function rowsOf(corner: Corner, layers: readonly LayerBar[], [near, far]: Stretch, at: Place): Row[] {
  const step = Math.min((far - near) / (layers.length + 1), 1.1);
  const bandAt = (l: LayerBar, a: number): readonly [number, number] => {
    if (l.part === undefined) return gapAt(corner, layers, a) ?? [0, 0];
    return topOf(corner, l.part, a) ?? [corner.half - 1, corner.half];
  };
  return layers.map((l, i): Row => {
    const a = corner.way * (near + step * (layers.length - i));
    const [low, high] = bandAt(l, a);
    return { ...l, dot: at([a, (low + high) / 2]) };
  });
}

/** From the last metal above the gap to the first below it, at a. */
function gapAt(corner: Corner, layers: readonly LayerBar[], a: number): readonly [number, number] | undefined {
  const above = layers.slice(
    0,
    layers.findIndex((l) => l.part === undefined),
  );
  const cap = above.findLast((l) => l.kind === 'cap' || l.kind === 'strip')?.part;
  const rib = (above.find((l) => l.kind === 'doubler') ?? layers.at(-1))?.part;
  const [over, under] = [cap && topOf(corner, cap, a), rib && topOf(corner, rib, a)];
  return over && under ? [under[1], over[0]] : undefined;
}

/** The daylight over a rib end as a face, where there is any. */
export function daylight(corner: Corner, layers: readonly LayerBar[], [near, far]: Stretch): Vec2[] | undefined {
  const [a, b] = [corner.way * (near + 0.1), corner.way * (far - 0.1)];
  const [p, q] = [gapAt(corner, layers, a), gapAt(corner, layers, b)];
  if (!p || !q || p[1] <= p[0] || q[1] <= q[0]) return undefined;
  return [
    [a, p[0]],
    [b, q[0]],
    [b, q[1]],
    [a, p[1]],
  ];
}
