import { scale, type Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { Model, SparName } from '../model/schema.ts';
import type { EndName, Skeleton } from '../parts/layout/layout.ts';
import type { PartKind, PlacedSolid } from '../parts/placed/build.ts';

/*
 * The skeleton pulled apart in the order it goes together: main ribs stay, the front spar draws a little forward and
 * the rear spar aft, what lies between a spar and a rib stays between them, noses go forward, brackets aft, tips
 * outward, the skin up. What a later stage brings goes further.
 */

/** What of a part decides where it goes. */
export interface Movable {
  readonly id: string;
  readonly kind: PartKind;
  readonly station: string | null;
  readonly on: PlacedSolid['on'];
}

/** How much further each later stage goes. */
const LATER = 0.12;

/** What the way of a part rests on. */
interface Panel {
  readonly model: Model;
  /** Middle of the span, mm: tips go away from it. */
  readonly middle: number;
  /** The rib end each doubler lies at. */
  readonly ends: ReadonlyMap<string, EndName>;
}

/** The way a part goes by its kind, in steps: x aft, y right along the span, z up; undefined where it stays. */
const WAYS: Readonly<Record<PartKind, (part: Movable, panel: Panel) => Vec3 | undefined>> = {
  main: () => undefined,
  nose: () => [-2.4, 0, 0],
  skin: () => [0, 0, 4],
  rivet: () => [0, 0, 2],
  spar: ({ id }) => [id === 'front' ? -1.1 : 1.1, 0, 0],
  strip: ({ on }) => on && [on.spar === 'front' ? -0.55 : 0.55, 0, STRIP_UP[on.cap ?? 'web']],
  doubler: ({ id }, { ends }) => [DOUBLER_AFT[ends.get(id) ?? 'front'], 0, 0],
  bracket: ({ id }, { model }) => [model.brackets.find((b) => b.id === id)?.spar === 'front' ? -1.7 : 2, 0, 0],
  tip: ({ station }, { model, middle }) => {
    const y = model.stations.find((s) => s.id === station)?.y ?? middle;
    return [0, y < middle ? -1.6 : 1.6, 0];
  },
};
/** A strip goes a little with its cap; a doubler on the web stays at its height. */
const STRIP_UP = { top: 0.5, bottom: -0.5, web: 0 } as const;
const DOUBLER_AFT = { front: -0.55, rear: 0.55, tail: -1.7 } as const;

/** How far each part moves when wholly pulled apart, wing frame, mm; parts that stay are left out. */
export function apartBy(skeleton: Skeleton, parts: readonly Movable[]): ReadonlyMap<string, Vec3> {
  const { model } = skeleton;
  const step = stepOf(model);
  const stage = new Map(model.stages.flatMap((s, i) => s.brings.map((id) => [id, i] as const)));
  const panel: Panel = {
    model,
    middle: model.stations.reduce((sum, s) => sum + s.y, 0) / Math.max(model.stations.length, 1),
    ends: new Map(skeleton.places.flatMap((p) => p.doublers.map((d) => [d.id, p.end] as const))),
  };
  return new Map(
    parts.flatMap((part): [string, Vec3][] => {
      const way = WAYS[part.kind](part, panel);
      const far = step * (1 + LATER * (stage.get(part.id) ?? 0));
      return way ? [[part.id, scale(way, far)]] : [];
    }),
  );
}

/** How far one step is: well clear of the deepest cap, and enough to be seen beside the chord, mm. */
function stepOf({ spars, stations, webToWeb }: Model): number {
  const capAt = (name: SparName, y: number): number => alongAt(spars[name]?.capWidth ?? 0, y);
  const deepest = Math.max(...stations.map((s) => Math.max(capAt('front', s.y), capAt('rear', s.y))));
  const chord = Math.max(...stations.map((s) => alongAt(webToWeb, s.y)), 60);
  return Math.max(2.6 * deepest, 0.16 * chord);
}
