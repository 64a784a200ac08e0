import type { Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import type { PartKind } from '../parts/placed/build.ts';

/*
 * The skeleton pulled apart in the order it goes together: main ribs stay, the front spar draws a little forward and the
 * rear spar aft, what lies between a spar and a rib stays between them, noses go forward, brackets aft, tips outward, the
 * skin up. What a later stage brings goes further.
 */

/** What of a part decides where it goes. */
export interface Movable {
  readonly id: string;
  readonly kind: PartKind;
  readonly station: string | null;
}

/** How much further each later stage goes. */
const LATER = 0.12;

/** How far each part moves when wholly pulled apart, wing frame, mm; parts that stay are left out. */
export function apartBy(skeleton: Skeleton, parts: readonly Movable[]): ReadonlyMap<string, Vec3> {
  const { model } = skeleton;
  const deepest = Math.max(
    ...model.stations.map((s) =>
      Math.max(
        alongAt(model.spars.front.capWidth, s.y),
        model.spars.rear ? alongAt(model.spars.rear.capWidth, s.y) : 0,
      ),
    ),
  );
  const chord = Math.max(...model.stations.map((s) => alongAt(model.webToWeb, s.y)), 60);
  const step = Math.max(2.6 * deepest, 0.16 * chord);
  const stage = new Map(model.stages.flatMap((s, i) => s.brings.map((id) => [id, i] as const)));
  const mid = model.stations.reduce((sum, s) => sum + s.y, 0) / Math.max(model.stations.length, 1);
  const ends = new Map(skeleton.places.flatMap((p) => p.doublers.map((d) => [d.id, p] as const)));
  const moved = new Map<string, Vec3>();
  for (const part of parts) {
    const far = step * (1 + LATER * (stage.get(part.id) ?? 0));
    const by = wayOf(part);
    if (by) moved.set(part.id, [by[0] * far, by[1] * far, by[2] * far]);
  }
  return moved;

  function wayOf({ id, kind, station }: Movable): Vec3 | undefined {
    const y = model.stations.find((s) => s.id === station)?.y ?? mid;
    switch (kind) {
      case 'spar':
        return id === 'front' ? [-1.1, 0, 0] : [1.1, 0, 0];
      case 'strip':
        return id.startsWith('front')
          ? [-0.55, 0, id.endsWith('top') ? 0.5 : id.endsWith('bottom') ? -0.5 : 0]
          : [0.55, 0, id.endsWith('top') ? 0.5 : id.endsWith('bottom') ? -0.5 : 0];
      case 'nose':
        return [-2.4, 0, 0];
      case 'tip':
        return [0, y < mid ? -1.6 : 1.6, 0];
      case 'doubler': {
        const end = ends.get(id)?.end;
        return end === 'tail' ? [-1.7, 0, 0] : end === 'rear' ? [0.55, 0, 0] : [-0.55, 0, 0];
      }
      case 'bracket':
        return model.brackets.find((b) => b.id === id)?.spar === 'front' ? [-1.7, 0, 0] : [2, 0, 0];
      case 'skin':
        return [0, 0, 4];
      case 'rivet':
        return [0, 0, 2];
      default:
        return undefined;
    }
  }
}
