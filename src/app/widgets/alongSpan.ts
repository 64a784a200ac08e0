import type { Bay } from '../../parts/layout/layout.ts';

/** The first and the last station's place along the span, mm. */
export function endsOf(bays: readonly Bay[]): readonly [first: number, last: number] {
  const ys = bays.map((b) => b.station.y);
  return [Math.min(...ys), Math.max(...ys)];
}

/** From a place along the span, mm, to the width of a drawing; all in its middle where there is no span. */
export function acrossOf(bays: readonly Bay[], from: number, to: number): (y: number) => number {
  const [y0, y1] = endsOf(bays);
  const share = (y: number): number => (y1 === y0 ? 0.5 : (y - y0) / (y1 - y0));
  return (y) => from + share(y) * (to - from);
}

/** A path through points of a drawing. */
export function pathThrough(points: readonly (readonly [x: number, y: number])[]): string {
  return points.map(([x, y], i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('');
}
