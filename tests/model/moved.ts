import type { Along, Model } from '../../src/model/schema.ts';
import { changed } from './panels.ts';

/* A whole panel moved: shifted, turned, its hand changed, its lists in another order. What it is stays the same. */

const along = (a: Along, at: (y: number) => number): Along =>
  typeof a === 'number' ? a : a.map(([y, v]): [number, number] => [at(y), v]).sort((p, q) => p[0] - q[0]);

/** Every place along the span sent elsewhere, keeping or turning their order. */
export function moved(model: Model, at: (y: number) => number): Model {
  return changed(model, (m) => {
    for (const s of m.stations) s.y = at(s.y);
    m.stations.sort((a, b) => a.y - b.y);
    const range = (r: { from: number; to: number }): void => {
      [r.from, r.to] = [at(r.from), at(r.to)].sort((a, b) => a - b) as [number, number];
    };
    for (const spar of [m.spars.front, m.spars.rear]) {
      if (!spar) continue;
      range(spar);
      spar.depth = along(spar.depth, at);
      spar.capWidth = along(spar.capWidth, at);
      for (const s of [...spar.strips, ...spar.webDoublers]) range(s);
    }
    m.webToWeb = along(m.webToWeb, at);
    m.survey.rearHigher = along(m.survey.rearHigher, at);
  });
}

/**
 * A right panel made a left one: y turned, hand swapped. Readings that count outboard (lean, skew) keep their sign, and
 * hole offsets along the span turn theirs; so do the flanges' ways, which are words and stay.
 */
export function mirrored(model: Model): Model {
  return changed(
    moved(model, (y) => 0 - y),
    (m) => {
      m.hand = ({ right: 'left', left: 'right', both: 'both' } as const)[m.hand];
      for (const j of m.joints) for (const h of j.holes) h.along = 0 - h.along;
      for (const r of m.readings) if (r.size.endsWith('.along')) r.value = 0 - r.value;
    },
  );
}

/** Every list of a panel that has no order of its own, turned round. */
export function reversed(model: Model): Model {
  return changed(model, (m) => {
    for (const list of [
      m.stations,
      m.ribs,
      m.joints,
      m.doublers,
      m.brackets,
      m.sheets,
      m.readings,
      m.ticks ?? [],
      m.acts ?? [],
    ])
      (list as unknown[]).reverse();
  });
}
