import type { Finding } from '../../checks/finding.ts';
import type { DrawnPlaces } from '../drawnPlaces.ts';
import type { SceneLabel } from '../shown.ts';

/* Labels kept apart along the span, so that a long panel is not all labelled at one end. */

/** From this many members on, a group may be spoken of at any of its middle half. */
const LARGE = 8;

/** How far along the span a place is from the nearest label set, mm. */
const freeRoom = (y: number, set: readonly SceneLabel[]): number =>
  Math.min(Infinity, ...set.map((l) => Math.abs(l.anchor[1] - y)));

/** The first of a list whose room is not bettered by more than a millimetre. */
function roomiest<T>(list: readonly T[], start: T, room: (item: T) => number): T {
  return list.reduce((best, next) => (room(next) > room(best) + 1 ? next : best), start);
}

/**
 * The member of a group that speaks for it: the middle one along the span, or of a large group's middle half the one
 * furthest from labels already set.
 */
export function inTheMiddle(
  drawnPlaces: DrawnPlaces,
  group: readonly Finding[],
  set: readonly SceneLabel[],
): Finding | undefined {
  const y = (f: Finding): number => drawnPlaces.stances.get(f.station ?? '')?.bay.station.y ?? 0;
  const sorted = [...group].sort((a, b) => y(a) - y(b));
  const middle = sorted[Math.floor((sorted.length - 1) / 2)];
  if (!middle || sorted.length < LARGE || set.length === 0) return middle;
  const half = sorted.slice(Math.floor(sorted.length / 4), Math.ceil((sorted.length * 3) / 4));
  return roomiest(half, middle, (f) => freeRoom(y(f), set));
}

/**
 * As many labels as there is room for, the more severe first; of those as severe, each next one as far along the span
 * from the ones already taken as can be.
 */
export function spreadOut(labels: readonly SceneLabel[], taken: readonly SceneLabel[], room: number): SceneLabel[] {
  if (labels.length <= room) return [...labels];
  const left = [...labels];
  const out: SceneLabel[] = [];
  for (let first = left[0]; first && out.length < room; first = left[0]) {
    const { verdict } = first;
    const all = [...taken, ...out];
    const alike = left.filter((l) => l.verdict === verdict);
    const next = all.length === 0 ? first : roomiest(alike, first, (l) => freeRoom(l.anchor[1], all));
    out.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return out;
}
