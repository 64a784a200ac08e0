import type { Vec3 } from '../../../geometry/vector.ts';
import { type Eye, onScreen, type Spot } from '../onScreen.ts';

/* The span as it is seen on the canvas, and what a drag along it comes to. */

/** What along the span is looked at to tell how it is seen, mm. */
const STRETCH = 100;
/** A stretch shorter than this on the screen is seen end on, px. */
const END_ON = 4;

/** A stretch of 100 mm along the span from a place, as it is seen: pixels to the right and down. */
export function spanSeen(eye: Eye, [x, y, z]: Vec3): Spot {
  const [a, b] = [onScreen(eye, [x, y, z]), onScreen(eye, [x, y + STRETCH, z])];
  return [b[0] - a[0], b[1] - a[1]];
}

/** Whether the span is seen end on, or nearly: then nothing can be drawn along it. */
export const seenEndOn = (eye: Eye, at: Vec3): boolean => Math.hypot(...spanSeen(eye, at)) < END_ON;

/** How far along the span a drag of so many pixels goes, mm. */
export function alongSpan(eye: Eye, from: Vec3, [right, down]: Spot): number {
  const [x, y] = spanSeen(eye, from);
  const [dx, dy] = [x / STRETCH, y / STRETCH];
  return (right * dx + down * dy) / Math.max(dx * dx + dy * dy, 1e-9);
}
