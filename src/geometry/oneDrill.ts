import { smallestHolding } from './circle.ts';

/*
 * One drill through holes that do not line up: it cleans a hole up where its axis lies within the room that hole
 * leaves it, drill radius less hole radius. `centres` are the holes', x and y by turns, mm. Asked of thousands of
 * draws.
 */

/** What two lengths worked out two ways may differ by, mm, and their squares, mm². */
const ROUNDING = 1e-12;

/** Whether a drill on one axis cleans every hole up. */
export function cleansFrom(centres: Float64Array, rooms: readonly number[], x: number, y: number): boolean {
  for (let k = 0; k < rooms.length; k++)
    if ((centres[2 * k]! - x) ** 2 + (centres[2 * k + 1]! - y) ** 2 > rooms[k]! ** 2 + ROUNDING) return false;
  return true;
}

/**
 * Whether a drill of a radius cleans every hole up on some axis: no pair reaches further than it, and a centre is
 * found.
 */
export function cleansSomehow(centres: Float64Array, rooms: readonly number[], radius: number): boolean {
  const n = rooms.length;
  const x = (k: number): number => centres[2 * k]!;
  const y = (k: number): number => centres[2 * k + 1]!;
  let [tight, a, b] = [Number.POSITIVE_INFINITY, 0, 0];
  for (let p = 0; p < n; p++) {
    for (let q = p + 1; q < n; q++) {
      const left = rooms[p]! + rooms[q]! - Math.sqrt((x(p) - x(q)) ** 2 + (y(p) - y(q)) ** 2);
      if (left < 0) return false;
      if (left < tight) [tight, a, b] = [left, p, q];
    }
  }
  // The middle of what the tightest pair leaves often does for all.
  const apart = Math.hypot(x(b) - x(a), y(b) - y(a));
  const t = apart > 0 ? Math.min(1, Math.max(0, (rooms[a]! - tight / 2) / apart)) : 0;
  if (cleansFrom(centres, rooms, x(a) + t * (x(b) - x(a)), y(a) + t * (y(b) - y(a)))) return true;
  const holes = rooms.map((room, k) => ({ x: x(k), y: y(k), r: radius - room }));
  return 2 * smallestHolding(holes).r <= 2 * radius + ROUNDING;
}
