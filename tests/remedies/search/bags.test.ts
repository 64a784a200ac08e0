import { describe, expect, it } from 'vitest';
import type { Model, Rivet } from '../../../src/model/schema.ts';
import { measureFirst } from '../../../src/remedies/reach.ts';
import { aloneAt } from '../../../src/remedies/search/alone.ts';
import { asItStands, choicesAt } from '../../../src/remedies/search/choices.ts';
import { leastWork } from '../../../src/remedies/search/leastWork.ts';
import { aimOf, noseAims } from '../../../src/remedies/search/noseAims.ts';
import { OBJECTIVES } from '../../../src/remedies/search/objectives.ts';
import { finished } from '../../../src/remedies/steps.ts';
import { COUNTS } from '../../counts.ts';
import { changed } from '../../model/panels.ts';
import { Draw } from '../../random-panel.ts';
import { shortTail } from './shortTail.ts';

/*
 * A bag that is wrong, or missing, is no reason for a number that is none. The cause it guards: the bag that follows the
 * layers was taken even where nothing was done, so that doing nothing was no choice at all, and what was counted of the
 * panel as it is came out as no number.
 */

/** One bag as somebody might have written it down. */
function damagedBag(d: Draw, rivet: Rivet): Rivet {
  const { grip: _, length: __, ...bare } = rivet;
  switch (
    d.one(['as it was', 'no range', 'too long', 'too short', 'no width', 'solid', 'solid without length'] as const)
  ) {
    case 'as it was':
      return rivet;
    case 'no range':
      return bare;
    case 'too long':
      return { ...bare, grip: [20, 21.6] };
    case 'too short':
      return { ...bare, grip: [0, 0.1] };
    case 'no width':
      return { ...bare, grip: [2.7, 2.7] };
    case 'solid':
      return { ...bare, kind: 'solid', length: d.between(2, 12) };
    case 'solid without length':
      return { ...bare, kind: 'solid' };
  }
}

function damaged(seed: number): Model {
  const d = new Draw(seed);
  return changed(shortTail, (m) => {
    for (const j of m.joints) j.rivet = damagedBag(d, j.rivet);
    m.stock.rivets = m.stock.rivets.filter(() => d.chance(0.5)).map((r) => (d.chance(0.3) ? damagedBag(d, r) : r));
  });
}

/** Where a value, however deep, holds a number that is none. */
function none(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isNaN(value) ? [path] : [];
  if (value instanceof Map) return [...value].flatMap(([k, v]) => none(v, `${path}.${k}`));
  if (value === null || typeof value !== 'object') return [];
  return Object.entries(value).flatMap(([k, v]) => none(v, `${path}.${k}`));
}

describe('bags damaged at random', () => {
  it('every station can be left as it stands, and no choice counts a number that is none', () => {
    for (let seed = 1; seed <= Math.ceil(COUNTS.panels / 4); seed++) {
      const m = damaged(seed);
      const before = measureFirst(m);
      const aims = noseAims(m, before);
      for (const { id } of m.stations) {
        const alone = aloneAt(m, id);
        const choices = finished(choicesAt(alone, aimOf(aims, id), before));
        const asIs = choices.filter((c) => c.remedies.length === 0);
        expect(asIs, `${seed} ${id}`).toEqual([asItStands(alone, before)]);
        expect(none(choices.map(({ remedies: _, ...c }) => c)), `${seed} ${id}`).toEqual([]);
      }
    }
  });

  it('the search counts and proves with numbers', () => {
    const objectives = OBJECTIVES.slice(0, 2);
    for (let seed = 1; seed <= Math.ceil(COUNTS.panels / 6); seed++) {
      const { plans, proofs, combinations } = finished(leastWork(damaged(seed), { objectives, swaps: false }));
      expect(none([plans.map((p) => p.tally), proofs, combinations]), `${seed}`).toEqual([]);
      for (const { found, bound } of proofs.values()) {
        expect(bound.beyond, `${seed}`).toBeLessThanOrEqual(found.beyond);
        expect(bound.beyond, `${seed}`).toBeGreaterThanOrEqual(0);
      }
    }
  });
});
