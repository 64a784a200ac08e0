import type { Edit } from './edits.ts';
import type { Hole, Joint } from './schema.ts';

/** A row of holes along a tab, cap or web: how many, how far apart, and where its middle is. */
export interface RowRule {
  readonly count: number;
  /** Hole to hole, mm. */
  readonly pitch: number;
  /** Along the span from the row's own line, mm. */
  readonly along: number;
}

/** Places of a row's holes above the chord line, top first, evenly about the middle. Three at 24: 24, 0, -24. */
export function rowPlaces({ count, pitch }: RowRule): number[] {
  return Array.from({ length: count }, (_, i) => ((count - 1) / 2 - i) * pitch);
}

/** Most holes of a pitch that a row of a length takes with an edge distance kept at both ends. 70 mm, 2.5D of 1/8 in, 4D: 5. */
export function mostHoles(length: number, edge: number, pitch: number): number {
  return length < 2 * edge ? 0 : Math.floor((length - 2 * edge) / pitch + 1e-9) + 1;
}

/** Lays a joint's row out anew; a row with a hole drilled in it is not moved: null says so. */
export function layRow(joint: Joint, rule: RowRule): Edit | null {
  if (joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'))) return null;
  const holes = rowPlaces(rule).map((up, i): Hole => ({ id: `h${i + 1}`, along: rule.along, up, layers: joint.layers.map((part) => ({ part, state: 'none', size: 0 })) }));
  return { name: `laid out ${rule.count} holes at ${joint.id}`, apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, holes } : j)) }) };
}

/** Records that one layer of a hole was drilled: pilot or final, at the joint's size. */
export function drilled(joint: Joint, hole: string, part: string, state: 'pilot' | 'final'): Edit {
  const size = state === 'pilot' ? joint.pilot : joint.final;
  const mark = (h: Hole): Hole => {
    if (h.id !== hole) return h;
    const has = h.layers.some((l) => l.part === part);
    return { ...h, layers: has ? h.layers.map((l) => (l.part === part ? { ...l, state, size } : l)) : [...h.layers, { part, state, size }] };
  };
  return { name: `drilled ${joint.id} ${hole} ${state} in ${part}`, apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, holes: j.holes.map(mark) } : j)) }) };
}
