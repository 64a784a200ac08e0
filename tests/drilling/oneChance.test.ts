import { expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { ledgerOf } from '../../src/drilling/ledger.ts';
import { layAnew, pilotLayers } from '../../src/model/edits/jointsLaid.ts';
import { rowTick, ticked } from '../../src/model/edits/ticks.ts';
import type { Model } from '../../src/model/schema.ts';
import { COUNTS } from '../counts.ts';
import { Draw, randomPanel } from '../random-panel.ts';

/* One finding, one chance: that a hole does not clean up is said alike by its finding and by the ledger. A law, no outside numbers. */

/** A panel with its rows laid and piloted, some looked through, some read with pins. */
function drilled(seed: number): Model {
  const d = new Draw(seed);
  const laid = layAnew(randomPanel(seed)).apply(randomPanel(seed));
  const piloted = pilotLayers(laid, () => true)?.apply(laid) ?? laid;
  const seen = piloted.joints
    .filter(() => d.chance(0.4))
    .reduce(
      (m, j) => ticked(rowTick('through', j.id), 'looked through', { by: 'AB', date: '2026-05-01' }).apply(m),
      piloted,
    );
  const keys = piloted.joints.flatMap((j) =>
    j.holes.flatMap((h) => h.layers.flatMap((l) => ['along', 'up'].map((axis) => `${j.id}/${h.id}.${l.part}.${axis}`))),
  );
  const read = keys
    .filter(() => d.chance(0.15))
    .map((size) => ({ size, value: d.between(-0.4, 0.4), instrument: 'pin' }));
  return { ...seen, readings: [...seen.readings, ...read] };
}

test('a hole has one chance', () => {
  let asked = 0;
  for (let seed = 1; seed <= Math.min(COUNTS.panels, 200); seed++) {
    const model = drilled(seed);
    const rows = new Map(ledgerOf(model).map((r) => [r.hole, r]));
    for (const f of checkAll(model).filter((x) => x.check === 'hole-cleanup')) {
      const chance = rows.get(`${f.at.joint} ${f.at.hole}`)?.chance;
      if (chance === null || chance === undefined) continue;
      asked++;
      expect(f.chance, `${seed} ${f.id}`).toBeCloseTo(1 - chance, 12);
      const said = /\((\d+) % it is not\)/.exec(f.sentence)?.[1];
      if (said !== undefined) expect(Number(said), f.sentence).toBeCloseTo(100 * (1 - chance), -0.4);
    }
  }
  expect(asked).toBeGreaterThan(COUNTS.panels);
});
