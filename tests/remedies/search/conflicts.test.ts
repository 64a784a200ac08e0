import { describe, expect, it } from 'vitest';
import type { Model } from '../../../src/model/schema.ts';
import { leastWork } from '../../../src/remedies/search/leastWork.ts';
import { OBJECTIVES } from '../../../src/remedies/search/objectives.ts';
import { finished } from '../../../src/remedies/steps.ts';
import { changed, noseRib, panel } from '../../model/panels.ts';

/* When nothing satisfies: the reason is one that the panel was made to have. By hand. */

const conflicts = (m: Model) => finished(leastWork(m, { objectives: OBJECTIVES.slice(0, 2), swaps: false })).conflicts;
const A = panel('narrow-tail');

describe('why something stays beyond its limit', () => {
  it('a twist with no packs on hand: nothing moves it', () => {
    const m = changed(A, (x) => {
      x.stock = { ...x.stock, packs: [] };
    });
    expect(conflicts(m).find((c) => c.finding.id === 'twist:whole-panel-by-heights')).toMatchObject({
      why: 'nothing moves it',
      against: [],
    });
  });

  it('a nose rib drawn and made 5 mm short: two packers and a new one are not enough', () => {
    const m = changed(A, (x) => {
      (noseRib(x, 'N4') as { length: number }).length = 116;
      for (const r of x.readings) if (r.size === 'N4.length') r.value = 116;
    });
    const found = conflicts(m).find((c) => c.finding.id === 'nose-kink:N4');
    expect(found?.why).toBe('nothing moves it enough');
    expect(found?.sentence).toContain('nothing on hand brings it inside its limit');
  });

  it('a short nose whose only packer no rivet on hand grips: the two limits conflict', () => {
    // Drawn and made 1.6 mm short, so a new one is no better; the packer of 0.063 in makes the stack 0.170 in.
    const m = changed(A, (x) => {
      (noseRib(x, 'N4') as { length: number }).length = 119.4;
      for (const r of x.readings) if (r.size === 'N4.length') r.value = 119.4;
      x.stock = {
        ...x.stock,
        sheets: ['s063'],
        rivets: x.stock.rivets.filter((r) => r.grip === undefined || r.grip[1] < 4),
      };
    });
    const found = conflicts(m).filter((c) => c.finding.station === 'S4' && c.why === 'its cures conflict');
    const pairs = found.map((c) => [c.finding.id, ...c.against]);
    expect(pairs.flat()).toEqual(expect.arrayContaining(['grip:F4', 'nose-kink:N4']));
  });
});
