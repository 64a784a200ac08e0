import { expect, test } from 'vitest';
import { best } from '../../src/chains/chain.ts';
import { lookedAt } from '../../src/checks/basis.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { feltToSettle } from '../../src/checks/felt.ts';
import type { Finding } from '../../src/checks/finding.ts';
import type { Model } from '../../src/model/schema.ts';
import { feelableAt } from '../../src/parts/layout/feelers.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { COUNTS } from '../counts.ts';
import { changed, finding, panel } from '../model/panels.ts';
import { randomPanel } from '../random-panel.ts';

/* Rooms felt as they stand. Expected values by hand, weights by 1/u²; laws on made-up panels. */

const plain = changed(panel('plain'), (m) => {
  m.tolerances = {};
  m.readings = [];
});
const felt = (value: number): Model =>
  changed(plain, (m) => {
    m.readings.push({ size: 'step.M2.front', value, instrument: 'feeler' });
  });

test('the steps felt at a rib end count with what its parts say, and most where those are only drawn', () => {
  // Drawn: depth ±0.3, height ±0.3, joggle ±0.1 twice: variance (0.3² + 0.3² + 0.2²)/3 = 0.07333. Felt: 0.05² = 0.0025.
  // -0.30 felt against 0 drawn: -0.30 × 0.07333/0.07583 = -0.2901 for both sides, ± √(0.07333 × 0.0025/0.07583) = 0.0492.
  const before = finding(plain, 'skin-step', 'M2 front');
  expect(before.u).toBeCloseTo(Math.sqrt(0.07333) / 2, 4);
  const after = finding(felt(-0.3), 'skin-step', 'M2 front');
  expect(after.value).toBeCloseTo(-0.2901 / 2, 4);
  expect(after.u).toBeCloseTo(0.0492 / 2, 4);
  expect(after.sense).toBe('rib proud');
  const seen = lookedAt(skeletonOf(felt(-0.3)), after);
  expect([seen.basis, seen.missing]).toEqual(['measured', []]);
});

test('steps felt far from what the parts say are a disagreement, and nothing is concluded', () => {
  // 1.2 apart, combined u √0.07583 = 0.2754: 4.36 of them.
  const model = felt(-1.2);
  const apart = checkAll(model).find((f) => f.check === 'disagreement' && f.at.size === 'step.M2.front');
  expect(apart?.value).toBeCloseTo(-4.358, 2);
  expect(finding(model, 'skin-step', 'M2 front').verdict).not.toBe('fits');
});

/** The panel with some rooms felt as its parts say, each at its best value. */
function feltAsReckoned(model: Model, keys: readonly string[]): Model {
  const skeleton = skeletonOf(model);
  const rooms = skeleton.bays.flatMap((bay) => feelableAt(skeleton, bay)).filter((f) => keys.includes(f.key));
  expect(rooms.map((f) => f.key).sort()).toEqual([...keys].sort());
  const readings = rooms.map((f) => ({ size: f.key, value: best(f.computed), instrument: 'feeler' }));
  return { ...model, readings: [...model.readings, ...readings] };
}

const width = (f: Finding | undefined): number => (f ? f.high - f.low : Number.NaN);

test('what may be felt to settle a finding makes it surer, and is there to be read', () => {
  const asked = new Set<string>();
  for (let seed = 1; seed <= COUNTS.panels; seed++) {
    const model = randomPanel(seed);
    const skeleton = skeletonOf(model);
    for (const f of checkAll(model).filter((x) => x.verdict === 'unsettled')) {
      const keys = feltToSettle(skeleton, f);
      if (keys.length === 0 || asked.has(`${seed} ${keys}`)) continue;
      asked.add(`${seed} ${keys}`);
      asked.add(f.check);
      const after = checkAll(feltAsReckoned(model, keys)).find((x) => x.id === f.id);
      expect(width(after), `${seed} ${f.id}`).toBeLessThan(width(f));
    }
  }
  for (const check of ['cap-gap', 'chord-gap', 'seating', 'skin-step']) expect(asked).toContain(check);
});
