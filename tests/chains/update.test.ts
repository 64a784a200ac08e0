import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { best, type Chain, chain, covariance, uncertainty } from '../../src/chains/chain.ts';
import type { SharedError, Size } from '../../src/chains/size.ts';
import { type DirectReading, differenceOf, errorCausesOf, posterior, suspectsOf } from '../../src/chains/update.ts';
import { column, inverse, type Matrix, minus, times, transpose } from './dense.ts';

const size = (key: string, value: number, own: number, ...shared: SharedError[]): Size => {
  const u = Math.sqrt(own ** 2 + shared.reduce((sum, s) => sum + s.u ** 2, 0));
  return {
    key,
    name: key,
    best: value,
    u,
    tolerance: 2 * u,
    origin: 'measured',
    ...(shared.length > 0 ? { shared } : {}),
  };
};

/**
 * Weighted least squares over all sizes at once, dense (the Gaussian update in every textbook): with prior x, Σ, readings
 * y = Hx with covariance R, and K = ΣHᵀ(HΣHᵀ + R)⁻¹, x' = x + K(y - Hx) and Σ' = Σ - KHΣ. Felt readings that share an
 * error with sizes are taken as sizes themselves, tied to their chain by a reading of no doubt to speak of.
 */
function dense(readings: readonly DirectReading[], all: readonly Size[]): { best: number[]; covariance: Matrix } {
  const sizes = [...all, ...readings.map((r) => r.read)];
  const sigma = sizes.map((a) => sizes.map((b) => covariance(a, b)));
  const h = readings.map(({ computed, read }) =>
    sizes.map((s) => (computed.find((t) => t.size.key === s.key)?.c ?? 0) - (s.key === read.key ? 1 : 0)),
  );
  const s = times(times(h, sigma), transpose(h)).map((row, i) => row.map((v, j) => v + (i === j ? 1e-18 : 0)));
  const k = times(times(sigma, transpose(h)), inverse(s));
  const x = column(sizes.map((a) => a.best));
  const miss = times(h, x).map(([v]) => [-v!]);
  const moved = times(k, miss);
  return { best: sizes.map((a, i) => a.best + moved[i]![0]!), covariance: minus(sigma, times(times(k, h), sigma)) };
}

function expectAsDense(readings: readonly DirectReading[], all: readonly Size[]): void {
  const twin = dense(readings, all);
  const after = posterior(readings);
  const moved = all.map((s) => after.adjust(s));
  moved.forEach((a, i) => {
    expect(a.best, a.key).toBeCloseTo(twin.best[i]!, 9);
    expect(a.u ** 2, a.key).toBeCloseTo(twin.covariance[i]![i]!, 10);
    moved.forEach((b, j) => {
      expect(covariance(a, b), `${a.key}, ${b.key}`).toBeCloseTo(twin.covariance[i]![j]!, 10);
    });
  });
}

describe('one gap, read', () => {
  // By hand: 1.00 ± 0.10 and 1.20 ± 0.03 weigh 100 and 1111.1: (100·1.00 + 1111.1·1.20)/1211.1 = 1.18349, u = 1/√1211.1.
  const parts = [size('clear', 84, 0.06), size('height', 83, 0.08)] as const;
  const computed = chain([1, parts[0]], [-1, parts[1]]);
  const read = size('gap', 1.2, 0.03);
  const after = posterior([{ computed, read }]);
  const gap = chain(...computed.map((t): [number, Size] => [t.c, after.adjust(t.size)]));

  test('is the weighted mean of the two', () => {
    expect(uncertainty(computed)).toBeCloseTo(0.1, 12);
    expect(best(gap)).toBeCloseTo((100 + 1.2 / 0.0009) / (100 + 1 / 0.0009), 12);
    expect(uncertainty(gap)).toBeCloseTo(1 / Math.sqrt(100 + 1 / 0.0009), 12);
  });

  test('moves each part by its share of the variance, up and down', () => {
    const [clear, height] = parts.map((p) => after.adjust(p));
    expect((clear!.best - 84) / (83 - height!.best)).toBeCloseTo(0.0036 / 0.0064, 12);
    expect(clear!.u).toBeLessThan(0.06);
    expect(clear!.origin).toBe('measured');
  });

  test('leaves other sizes the same objects', () => {
    const other = size('else', 3, 0.1, { source: 'rule', u: 0.1 });
    expect(after.adjust(other)).toBe(other);
    const sure = size('sure', 3, 0);
    expect(after.adjust(sure)).toBe(sure);
  });

  test('both as they were: nothing moves, all narrow', () => {
    const same = posterior([{ computed, read: size('gap', 1, 0.03) }]);
    for (const p of parts) {
      expect(same.adjust(p).best).toBe(p.best);
      expect(same.adjust(p).u).toBeLessThan(p.u);
    }
  });

  test('read without doubt is taken to a millionth of a millimetre', () => {
    const sure = posterior([{ computed, read: size('gap', 1.2, 0) }]);
    const f = chain(...computed.map((t): [number, Size] => [t.c, sure.adjust(t.size)]));
    expect(best(f)).toBeCloseTo(1.2, 9);
    expect(uncertainty(f)).toBeLessThan(3e-6);
  });
});

// One sheet in every gap and one tape on every chord: the whole panel is one group.
describe('against dense weighted least squares', () => {
  test('gaps along a panel that share a sheet and a tape', () => {
    const sheet = size('sheet', 0.635, 0.029);
    const tape = (v: number): SharedError => ({ source: 'tape', u: 5e-4 * v });
    const all: Size[] = [sheet, size('sure', 0.8, 0)];
    const readings: DirectReading[] = [];
    for (let i = 0; i < 6; i++) {
      const [clear, height, webs, length] = [
        size(`clear${i}`, 84.3 + 0.05 * i, 0.05),
        size(`height${i}`, 83 - 0.1 * i, 0.08),
        size(`webs${i}`, 264, 0.1, tape(264)),
        size(`length${i}`, 262.4, 0.25, { source: 'rule', u: -0.03 }),
      ];
      all.push(clear, height, webs, length);
      if (i === 4) continue;
      readings.push({
        computed: chain([1, clear], [-1, height], [-2, sheet]),
        read: size(`gap${i}`, 0.1 + 0.07 * i, 0.03),
      });
      if (i % 2 === 0)
        readings.push({
          computed: chain([1, webs], [-1, length], [-1, sheet], [-1, all[1]!]),
          read: size(`chord${i}`, 0.2 * i, 0.03, { source: 'feeler', u: 0.01 }),
        });
    }
    all.push(size('apart', 200, 0.2, tape(200)), size('nobody', 1, 0.2));
    expectAsDense(readings, all);
    // The tape reads every length a little long or short together: one felt chord tells about a length elsewhere.
    const after = posterior(readings);
    expect(after.adjust(all.at(-2)!).best).not.toBe(200);
    expect(after.adjust(all.at(-1)!)).toBe(all.at(-1));
  });

  const cause = fc.record({
    source: fc.constantFrom('tape', 'rule', 'feeler'),
    u: fc.double({ min: -0.3, max: 0.3, noNaN: true }),
  });
  const part = fc.record({
    value: fc.double({ min: -5, max: 5, noNaN: true }),
    own: fc.double({ min: 0.01, max: 0.5, noNaN: true }),
    shared: fc.uniqueArray(cause, { selector: (c) => c.source, maxLength: 2 }),
  });
  const reading = fc.record({
    terms: fc.uniqueArray(fc.tuple(fc.nat(7), fc.constantFrom(-2, -1, -0.5, 0.5, 1, 2)), {
      selector: ([i]) => i,
      minLength: 1,
      maxLength: 5,
    }),
    read: part,
  });

  test('any sizes, any chains, any shared errors', () => {
    fc.assert(
      fc.property(
        fc.array(part, { minLength: 8, maxLength: 8 }),
        fc.array(reading, { minLength: 1, maxLength: 6 }),
        (parts, read) => {
          const all = parts.map((p, i) => size(`x${i}`, p.value, p.own, ...p.shared));
          expectAsDense(
            read.map((r, i) => ({
              computed: chain(...r.terms.map(([k, c]): [number, Size] => [c, all[k]!])),
              read: size(`f${i}`, r.read.value, r.read.own, ...r.read.shared),
            })),
            all,
          );
        },
      ),
      { seed: 61, numRuns: 150 },
    );
  });

  // Taking readings in one after another, or all at once, is one thing.
  test('one after another is the same as at once', () => {
    const parts = [size('a', 1, 0.1), size('b', 2, 0.2), size('c', 3, 0.3)] as const;
    const first: DirectReading = { computed: chain([1, parts[0]], [1, parts[1]]), read: size('f', 3.2, 0.05) };
    const second: Chain = chain([1, parts[1]], [-1, parts[2]]);
    const once = posterior([first, { computed: second, read: size('g', -1.1, 0.05) }]);
    const step = posterior([first]);
    const then = posterior([
      {
        computed: chain(...second.map((t): [number, Size] => [t.c, step.adjust(t.size)])),
        read: size('g', -1.1, 0.05),
      },
    ]);
    for (const p of parts) {
      expect(then.adjust(step.adjust(p)).best).toBeCloseTo(once.adjust(p).best, 12);
      expect(then.adjust(step.adjust(p)).u).toBeCloseTo(once.adjust(p).u, 12);
    }
  });
});

test('a size is its own part and what it shares, in squares', () => {
  const s = size('webs', 264, 0.46, { source: 'tape', u: 0.1 });
  expect(errorCausesOf(s)).toEqual([
    { source: 'own webs', u: expect.closeTo(0.46, 12) },
    { source: 'tape', u: 0.1 },
  ]);
  expect(errorCausesOf(size('sure', 1, 0))).toEqual([]);
});

describe('read and computed apart', () => {
  const clear = size('clear', 84.3, 0.05);
  const height = size('height', 83.35, 0.08);

  // By hand: 1.35 - 0.95 = 0.40; √(0.05² + 0.08² + 0.03²) = 0.0990.
  test('the difference and its uncertainty', () => {
    const { difference, u } = differenceOf({
      computed: chain([1, clear], [-1, height]),
      read: size('gap', 1.35, 0.03),
    });
    expect(difference).toBeCloseTo(0.4, 12);
    expect(u).toBeCloseTo(Math.sqrt(0.0098), 12);
  });

  // One reading too many cannot tell which of its own is wrong: every standardised correction is the same, and the least sure is named.
  test('one read gap: all tie, the one moved farthest for its own uncertainty comes first', () => {
    const list = suspectsOf([{ computed: chain([1, clear], [-1, height]), read: size('gap', 1.35, 0.03) }]);
    for (const s of list) expect(s.standardised).toBeCloseTo(0.4 / Math.sqrt(0.0098), 6);
    expect(list.map((s) => s.size.key)).toEqual(['height', 'clear', 'gap']);
  });

  // Two gaps over one clear height: the gap that agrees clears it, so the other rib stands alone.
  test('a second gap that agrees clears what the two share', () => {
    const other = size('other', 83, 0.08);
    const wide = size('clear', 84.3, 0.3);
    const list = suspectsOf([
      { computed: chain([1, wide], [-1, height]), read: size('gap', 1.75, 0.03) },
      { computed: chain([1, wide], [-1, other]), read: size('gap2', 1.3, 0.03) },
    ]);
    expect(list[0]!.size.key).not.toBe('clear');
    expect(list.find((s) => s.size.key === 'clear')!.standardised).toBeLessThan(0.7 * list[0]!.standardised);
  });
});
