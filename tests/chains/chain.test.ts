import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  below,
  best,
  type Chain,
  chain,
  combine,
  covariance,
  shares,
  uncertainty,
  variance,
  withBest,
  worst,
} from '../../src/chains/chain.ts';
import { fromDrawing, rectangular, type Size } from '../../src/chains/size.ts';

/** A Size with a given standard uncertainty. */
const known = (key: string, value: number, u: number): Size => ({
  key,
  name: key,
  best: value,
  u,
  tolerance: 2 * u,
  origin: 'measured',
});
/** A Size with ±T, taken as three standard uncertainties, as stack-up tutorials do. */
const toleranced = (key: string, value: number, T: number): Size => ({
  key,
  name: key,
  best: value,
  u: T / 3,
  tolerance: T,
  origin: 'drawing',
});
const sum = (values: readonly number[]): number => values.reduce((a, b) => a + b, 0);

describe('uncertainty of a sum', () => {
  // JCGM 101:2008, 9.2.2 (row 1.1, READ-2): four inputs of u = 1 give u(Y) = 2.00.
  test('row 1.1: four inputs of u 1', () => {
    const f = chain([1, known('X1', 0, 1)], [1, known('X2', 0, 1)], [1, known('X3', 0, 1)], [1, known('X4', 0, 1)]);
    expect(uncertainty(f)).toBe(2);
    expect(shares(f)).toEqual([0.25, 0.25, 0.25, 0.25]);
  });

  // JCGM 100:2008, H.1 (row 1.4, READ-2): end gauge, l = lS + d - lS(δα·θ + α·δθ), nanometres. The printed u_c is 32 nm, u(d) 9.7 nm.
  test('row 1.4: the end gauge of JCGM 100 H.1', () => {
    const lS = 50.000623e6;
    const d = chain([1, known('d.mean', 215, 5.8)], [1, known('d.random', 0, 3.9)], [1, known('d.systematic', 0, 6.7)]);
    const alpha = known('δα', 0, rectangular(1e-6));
    const theta = known('δθ', 0, rectangular(0.05));
    const f = combine(
      [1, chain([1, known('lS', lS, 75 / 3)])],
      [1, d],
      [1, chain([lS * 0.1, alpha], [-lS * 11.5e-6, theta])],
    );
    expect(best(f)).toBeCloseTo(50000838, 6);
    expect(uncertainty(d)).toBeCloseTo(9.681942, 6);
    expect(uncertainty(chain([lS * 11.5e-6, theta]))).toBeCloseTo(16.599027, 5);
    expect(uncertainty(chain([lS * 0.1, alpha]))).toBeCloseTo(2.8867873, 6);
    expect(uncertainty(f)).toBeCloseTo(31.663879, 5);
    expect(Math.abs(uncertainty(f) - 32)).toBeLessThan(0.5);
  });

  // trade 2.4, by hand: a cap gap by subtraction, clear height by caliper, rib by caliper, doubler sheet: 0.096 mm.
  test('√(0.05² + 0.08² + 0.02²) is 0.096', () => {
    const f = chain(
      [1, known('clear', 84.3, 0.05)],
      [-1, known('height', 83.35, 0.08)],
      [-1, known('sheet', 0.635, 0.02)],
    );
    expect(uncertainty(f)).toBeCloseTo(Math.sqrt(0.0093), 15);
    expect(uncertainty(f).toFixed(3)).toBe('0.096');
  });
});

describe('stack-ups from books and tutorials', () => {
  const rss = (f: Chain): number => 3 * uncertainty(f);

  // Row 2.1 (MEM, closes): motor assembly of a tolerancing handbook, inches. Gap .0615; worst case ±.0955; RSS ±.0381.
  test('row 2.1: eleven parts of a motor', () => {
    const parts: [number, number][] = [
      [-0.3595, 0.0155],
      [0.032, 0.002],
      [0.06, 0.003],
      [0.4305, 0.0075],
      [0.12, 0.005],
      [1.503, 0.007],
      [0.12, 0.005],
      [0.4305, 0.0075],
      [0.45, 0.007],
      [-3.025, 0.006],
      [0.3, 0.03],
    ];
    const f = chain(...parts.map(([v, T], i) => [Math.sign(v), toleranced(`p${i}`, Math.abs(v), T)] as const));
    expect(best(f)).toBeCloseTo(0.0615, 12);
    expect(worst(f)).toBeCloseTo(0.0955, 12);
    expect(rss(f)).toBeCloseTo(0.038075582727, 12);
    expect(best(f) - worst(f)).toBeCloseTo(-0.034, 12);
    expect(best(f) + worst(f)).toBeCloseTo(0.157, 12);
  });

  // Row 2.3 (READ, tutorial): gap .020; worst case ±.015; RSS ±.00794.
  test('row 2.3: a gap of four parts', () => {
    const f = chain(
      [1, toleranced('a', 4.02, 0.005)],
      [-1, toleranced('b', 2, 0.005)],
      [-1, toleranced('c', 1.5, 0.003)],
      [-1, toleranced('d', 0.5, 0.002)],
    );
    expect(best(f)).toBeCloseTo(0.02, 12);
    expect(worst(f)).toBeCloseTo(0.015, 12);
    expect(rss(f)).toBeCloseTo(0.00793725393319, 12);
  });

  // Row 2.5 (READ, tutorial): ten of ±0.1 are ±1.0 at worst and ±0.316 in root sum of squares.
  test('row 2.5: ten equal parts', () => {
    const f = chain(...Array.from({ length: 10 }, (_, i) => [1, toleranced(`p${i}`, 1, 0.1)] as const));
    expect(worst(f)).toBeCloseTo(1, 12);
    expect(rss(f)).toBeCloseTo(0.316227766017, 12);
  });

  // Row 2.6 (own): a chain with sensitivities.
  test('row 2.6: factors other than one, and shares', () => {
    const f = chain(
      [1, toleranced('a', 300, 0.5)],
      [-1, toleranced('b', 150, 0.3)],
      [-1, toleranced('c', 149.2, 0.3)],
      [-0.5, toleranced('d', 0.64, 0.05)],
    );
    expect(best(f)).toBeCloseTo(0.48, 12);
    expect(worst(f)).toBeCloseTo(1.125, 12);
    expect(rss(f)).toBeCloseTo(0.65622023742, 11);
    const expected = [0.58055152, 0.20899855, 0.20899855, 0.0014513788];
    shares(f).forEach((s, i) => {
      expect(s).toBeCloseTo(expected[i]!, 8);
    });
  });

  // ST-1 (derived): .032 + .032 + .025 with ±.002, ±.002, ±.0015 is .089, .0835 to .0945, RSS ±.003202.
  test('ST-1: a stack of three sheets', () => {
    const f = chain(
      [1, toleranced('a', 0.032, 0.002)],
      [1, toleranced('b', 0.032, 0.002)],
      [1, toleranced('c', 0.025, 0.0015)],
    );
    expect(best(f)).toBeCloseTo(0.089, 12);
    expect(worst(f)).toBeCloseTo(0.0055, 12);
    expect(rss(f)).toBeCloseTo(0.003202, 6);
  });
});

describe('errors that move together', () => {
  const sheet = known('sheet', 0.635, 0.02);

  // By hand: two legs of one sheet, twice its error; two sheets, √2 times.
  test('two legs bent from one sheet count 2×, not √2×', () => {
    expect(uncertainty(chain([-1, sheet], [-1, sheet]))).toBeCloseTo(0.04, 15);
    expect(chain([-1, sheet], [-1, sheet])).toEqual([{ size: sheet, c: -2 }]);
    expect(uncertainty(chain([-1, sheet], [-1, known('other', 0.635, 0.02)]))).toBeCloseTo(0.02 * Math.SQRT2, 15);
  });

  test('a sheet on both sides of a gap cancels', () => {
    expect(uncertainty(chain([1, sheet], [-1, sheet]))).toBe(0);
    expect(worst(chain([1, sheet], [-1, sheet]))).toBe(0);
  });

  const tape = (key: string, value: number): Size => ({
    key,
    name: key,
    best: value,
    u: Math.hypot(0.1, value * 5e-4),
    tolerance: 0,
    origin: 'measured',
    shared: [{ source: 'tape', u: value * 5e-4 }],
  });

  // By hand: scale 5e-4 on 1000 and 990 is 0.5 and 0.495; their difference shares it but for 0.005, and keeps two 0.1.
  test('two lengths with one tape: the difference is surer than either length', () => {
    const [a, b] = [tape('a', 1000), tape('b', 990)];
    expect(covariance(a, b)).toBeCloseTo(0.5 * 0.495, 12);
    const difference = uncertainty(chain([1, a], [-1, b]));
    expect(difference).toBeCloseTo(Math.sqrt(0.005 ** 2 + 2 * 0.1 ** 2), 9);
    expect(difference).toBeLessThan(a.u);
    expect(difference).toBeLessThan(b.u);
    expect(uncertainty(chain([1, a], [1, b]))).toBeCloseTo(Math.sqrt(0.995 ** 2 + 2 * 0.1 ** 2), 9);
  });

  test('two tapes share nothing', () => {
    const b: Size = { ...tape('b', 990), shared: [{ source: 'another', u: 0.495 }] };
    expect(covariance(tape('a', 1000), b)).toBe(0);
  });
});

describe('asking a chain', () => {
  const f = chain([1, known('a', 2, 0.3)], [-1, known('b', 1.5, 0.4)]);

  test('the chance of lying below', () => {
    expect(below(f, 0.5)).toBe(0.5);
    expect(below(f, 1)).toBeCloseTo(0.84134474606854295, 12);
  });

  test('what if one size were another: only that one, and only its value', () => {
    const g = withBest(f, 'b', 1);
    expect(best(g)).toBe(1);
    expect(uncertainty(g)).toBe(uncertainty(f));
    expect(best(f)).toBe(0.5);
    expect(withBest(f, 'nothing of this chain', 9)).toEqual(f);
  });

  test('a factor of 0 leaves the size out', () => expect(chain([0, known('a', 1, 1)])).toEqual([]));

  test('nothing is certain', () => {
    expect([best([]), worst([]), variance([]), shares([])]).toEqual([0, 0, 0, []]);
  });
});

describe('for any chain', () => {
  const anySize = fc
    .record({
      key: fc.constantFrom('a', 'b', 'c', 'd', 'e', 'f'),
      u: fc.double({ min: 0.001, max: 2, noNaN: true }),
      best: fc.double({ min: -300, max: 300, noNaN: true }),
      scale: fc.double({ min: -0.9, max: 0.9, noNaN: true }),
      tape: fc.constantFrom(undefined, 'tape', 'stick'),
    })
    .map(
      ({ key, u, best: value, scale, tape: source }): Size => ({
        key,
        name: key,
        best: value,
        u,
        tolerance: 2 * u,
        origin: 'measured',
        ...(source ? { shared: [{ source, u: scale * u }] } : {}),
      }),
    );
  /** One thing is one Size: the first made for a key stands for it. */
  const links = fc
    .array(fc.tuple(fc.double({ min: -3, max: 3, noNaN: true }), anySize), { minLength: 1, maxLength: 10 })
    .map((all) => {
      const one = new Map<string, Size>();
      return all.map(([c, size]): readonly [number, Size] => {
        if (!one.has(size.key)) one.set(size.key, size);
        return [c, one.get(size.key)!];
      });
    });

  test('shares sum to 1, u² is not negative and equals cᵀΣc in full', () => {
    fc.assert(
      fc.property(links, (all) => {
        const f = chain(...all);
        let full = 0;
        for (const a of f) for (const b of f) full += a.c * b.c * covariance(a.size, b.size);
        const scale = sum(f.map((t) => (t.c * t.size.u) ** 2)) + 1e-12;
        expect(variance(f)).toBeGreaterThanOrEqual(0);
        expect(Math.abs(variance(f) - full) / scale).toBeLessThan(1e-9);
        if (variance(f) > 1e-9 * scale) expect(sum(shares(f))).toBeCloseTo(1, 6);
      }),
      { seed: 4, numRuns: 1000 },
    );
  });

  test('the order of terms does not matter', () => {
    fc.assert(
      fc.property(links, (all) => {
        const f = chain(...all);
        const g = chain(...[...all].reverse());
        expect(best(g)).toBeCloseTo(best(f), 9);
        expect(worst(g)).toBeCloseTo(worst(f), 9);
        expect(variance(g)).toBeCloseTo(variance(f), 9);
      }),
      { seed: 5, numRuns: 500 },
    );
  });

  test('frozen input is taken, and combining with factors is the same as writing it out', () => {
    fc.assert(
      fc.property(links, fc.double({ min: -2, max: 2, noNaN: true }), (all, k) => {
        const given = all.map(([c, size]) => Object.freeze([c, Object.freeze(size)] as const));
        const f = Object.freeze(chain(...given));
        for (const t of f) Object.freeze(t);
        const g = combine([k, f], [1, f]);
        expect(best(g)).toBeCloseTo((k + 1) * best(f), 8);
        expect(uncertainty(g)).toBeCloseTo(Math.abs(k + 1) * uncertainty(f), 8);
        withBest(f, 'a', 1);
        shares(f);
      }),
      { seed: 6, numRuns: 500 },
    );
  });

  test('the worst case is never less than the uncertainty of rectangular parts', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: 0, max: 1, noNaN: true }), { minLength: 1, maxLength: 8 }), (parts) => {
        const f = chain(...parts.map((T, i) => [i % 2 ? -1 : 1, fromDrawing(`p${i}`, 'p', 10, T)] as const));
        expect(worst(f)).toBeGreaterThanOrEqual(uncertainty(f));
      }),
      { seed: 7 },
    );
  });
});
