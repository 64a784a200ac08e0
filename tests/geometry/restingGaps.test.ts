import fc from 'fast-check';
import { expect, test } from 'vitest';
import { valueAt } from '../../src/geometry/line.ts';
import { restingGaps } from '../../src/geometry/restingGaps.ts';
import { touchingLine } from '../../src/geometry/zone.ts';

/* Against touchingLine, which is checked against a slow twin of its own. */
test('the gaps under a straight edge resting on the points, draw by draw', () => {
  const row = fc.array(fc.double({ min: -5, max: 5, noNaN: true }), { minLength: 3, maxLength: 9 });
  fc.assert(
    fc.property(row, row, (a, b) => {
      const n = Math.min(a.length, b.length);
      const ys = Array.from({ length: n }, (_, i) => i * i + 3 * i);
      const points = { values: new Float64Array(2 * n), stride: 2 };
      for (let p = 0; p < n; p++) points.values.set([a[p]!, b[p]!], 2 * p);
      const out = { values: new Float64Array(2 * n), stride: 2 };
      for (const [i, draw] of [a, b].entries()) {
        restingGaps(out, points, ys, i, new Int32Array(n + 1));
        const own = draw.slice(0, n);
        const line = touchingLine(ys, own);
        for (let p = 0; p < n; p++)
          expect(out.values[2 * p + i]).toBeCloseTo(Math.max(0, valueAt(line, ys[p]!) - own[p]!), 9);
      }
    }),
    { seed: 5, numRuns: 200 },
  );
});
