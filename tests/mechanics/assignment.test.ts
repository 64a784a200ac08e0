import { describe, expect, it } from 'vitest';
import { assign } from '../../src/mechanics/assignment.ts';
import { exchangesFor, placementsOf } from '../../src/remedies/search/placement.ts';
import { planOf } from '../../src/remedies/search/plan.ts';
import { changed, panel } from '../model/panels.ts';
import { Draw } from '../random-panel.ts';
import { countsWithEchoes } from '../remedies/search/brute.ts';

/* Which rib goes where: the assignment and whole placements against every order tried. Outside source: brute force. */

function* orders(n: number, taken: readonly number[] = []): Generator<readonly number[]> {
  if (taken.length === n) yield taken;
  else for (let i = 0; i < n; i++) if (!taken.includes(i)) yield* orders(n, [...taken, i]);
}

describe('assignment', () => {
  it.each(Array.from({ length: 60 }, (_, k) => [k + 1]))(
    'made-up table %i: least of all orders, and the prices prove it',
    (seed) => {
      const d = new Draw(seed);
      const n = 1 + (seed % 6);
      const costs = Array.from({ length: n }, () =>
        Array.from({ length: n }, () => (d.chance(0.5) ? Math.floor(10 * d.next()) : d.between(-5, 20))),
      );
      let least = Number.POSITIVE_INFINITY;
      for (const order of orders(n))
        least = Math.min(
          least,
          order.reduce((s, to, i) => s + costs[i]![to]!, 0),
        );
      const found = assign(costs);
      expect(found.cost).toBeCloseTo(least, 9);
      expect(found.bound).toBeCloseTo(least, 9);
      expect([...found.to].sort()).toEqual(Array.from({ length: n }, (_, i) => i));
    },
  );

  it('a table that is not square is refused', () => expect(() => assign([[1, 2]])).toThrow(RangeError));
});

describe('placement', () => {
  const A = panel('narrow-tail');

  it('exchanges bring every rib to its place, and holes of a rib are lost once', () => {
    const ribs = ['M2', 'M3', 'M4', 'M5'];
    const remedies = exchangesFor(A, ribs, ['M4', 'M2', 'M3', 'M5']);
    const after = planOf(A, remedies);
    if (!after.ok) throw new Error('refused');
    expect(['M4', 'M2', 'M3', 'M5'].map((id) => after.plan.model.ribs.find((r) => r.id === id)!.station)).toEqual([
      'S2',
      'S3',
      'S4',
      'S5',
    ]);
    expect(after.plan.tally.holesLost).toBe(18);
  });

  it.each([
    ['main', ['M2', 'M3', 'M4', 'M5']],
    ['nose', ['N2', 'N4', 'N5', 'N7']],
  ] as const)('no order of four %s ribs leaves less than the best placement', (kind, ribs) => {
    // Two of the six made of another sheet are not like the rest.
    const model = changed(A, (m) => {
      for (const r of m.ribs) if (r.kind === kind && !(ribs as readonly string[]).includes(r.id)) r.turns = 'inboard';
    });
    const group = placementsOf(model).find((p) => p.kind === kind && p.ribs.join() === ribs.join())!;
    expect(group.proven).toBe(true);
    const weight = (m: typeof model): number => {
      const { beyond, outside } = countsWithEchoes(model, m);
      return 1000 * beyond + outside;
    };
    let least = Number.POSITIVE_INFINITY;
    for (const order of orders(4)) {
      const remedies = exchangesFor(
        model,
        ribs,
        order.map((i) => ribs[i]!),
      );
      least = Math.min(least, weight(remedies.reduce((now, r) => r.edit.apply(now), model)));
    }
    expect(weight(group.best?.model ?? model)).toBe(least);
  });
});
