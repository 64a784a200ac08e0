import { describe, expect, test } from 'vitest';
import { chain } from '../../src/chains/chain.ts';
import type { Size } from '../../src/chains/size.ts';
import { basisOf, chanceBeyond, judge, mostDoubt, severity, verdictOf } from '../../src/checks/finding.ts';
import type { Limit } from '../../src/model/limits.ts';

/* The verdict rule, by hand: interval f ± 2u; the idea of guard-banding is that of ISO 14253-1. */
const two: Pick<Limit, 'fits' | 'act'> = { fits: [-0.05, 0.2], act: [-0.1, 0.5] };
const about = (f: number, u: number, limit = two) => verdictOf(f - 2 * u, f + 2 * u, limit);

describe('two-sided, wider on one side', () => {
  test.each([
    // value, u, verdict
    [0, 0, 'fits'],
    [-0.05, 0, 'fits'],
    [0.2, 0, 'fits'],
    [0.075, 0.0625, 'fits'],
    [-0.051, 0, 'watch'],
    [0.201, 0, 'watch'],
    [-0.1, 0, 'watch'],
    [0.5, 0, 'watch'],
    [0.075, 0.063, 'watch'],
    [0.3, 0.1, 'watch'],
    [0.35, 0.05, 'watch'],
    [-0.1001, 0, 'act'],
    [0.5001, 0, 'act'],
    [0.7, 0.0999, 'act'],
    [-0.3, 0.0999, 'act'],
    [0.5, 0.01, 'unsettled'],
    [-0.1, 0.01, 'unsettled'],
    [0.1, 0.5, 'unsettled'],
    [0.7, 0.1001, 'unsettled'],
    [0.3, 0.1001, 'unsettled'],
  ] as const)('%d ± 2 × %d is %s', (f, u, verdict) => expect(about(f, u)).toBe(verdict));
});

// 9.525 mm of pitch and a rivet of 3.175 mm: 3 D at the bench, whatever the last bit says.
test("the computer's own rounding decides nothing", () => {
  for (const slip of [-4e-16, 0, 4e-16]) expect(about(3 + slip, 0, { fits: [4, 8], act: [3, null] })).toBe('watch');
  expect(about(3 - 1e-6, 0, { fits: [4, 8], act: [3, null] })).toBe('act');
});

describe('one-sided', () => {
  const most = { fits: [null, 0.1], act: [null, 0.25] } as const;
  const least = { fits: [0.5, null], act: [0, null] } as const;
  const one = { fits: [2, null], act: [2, null] } as const;
  test.each([
    [most, -9, 0, 'fits'],
    [most, 0.1, 0, 'fits'],
    [most, 0.11, 0, 'watch'],
    [most, 0.25, 0, 'watch'],
    [most, 0.2501, 0, 'act'],
    [most, 0.25, 0.01, 'unsettled'],
    [least, 0.5, 0, 'fits'],
    [least, 99, 1, 'fits'],
    [least, 0.49, 0, 'watch'],
    [least, 0, 0, 'watch'],
    [least, -0.001, 0, 'act'],
    [least, 0.1, 0.06, 'unsettled'],
    // fits and act at one place: nothing can be watch
    [one, 2, 0, 'fits'],
    [one, 1.999, 0, 'act'],
    [one, 2, 0.01, 'unsettled'],
    [one, 2.14, 0.05, 'fits'],
  ] as const)('%j at %d ± 2 × %d is %s', (limit, f, u, verdict) => expect(about(f, u, limit as never)).toBe(verdict));
});

test('verdicts in order of what wants doing', () => {
  expect((['fits', 'watch', 'unsettled', 'act'] as const).map(severity)).toEqual([0, 1, 2, 3]);
});

describe('the chance of lying beyond', () => {
  // By hand: one standard uncertainty inside an upper threshold leaves 15.87 % beyond it (row 12.7: 1 - .8413447).
  test('one side and both', () => {
    expect(chanceBeyond(0.4, 0.1, [null, 0.5])).toBeCloseTo(0.158655254, 8);
    expect(chanceBeyond(0, 0.1, [-0.1, 0.1])).toBeCloseTo(0.317310508, 8);
    expect(chanceBeyond(0, 0.1, [null, null])).toBe(0);
  });

  test('without uncertainty it is 0 or 1', () => {
    expect(chanceBeyond(0.4, 0, [null, 0.5])).toBe(0);
    expect(chanceBeyond(0.6, 0, [null, 0.5])).toBe(1);
  });

  // Panel A, item 14: k of -0.23 with u 0.27 is below -0.10 in 68 of 100.
  test('M5 with a 0.032 in channel, tighter than 0.10', () =>
    expect(Math.round(100 * chanceBeyond(-0.225, 0.269, [-0.1, null]))).toBe(68));
});

const size = (key: string, u: number, origin: Size['origin']): Size => ({
  key,
  name: key,
  best: 1,
  u,
  tolerance: 2 * u,
  origin,
});

describe('what a finding rests on', () => {
  const read = size('a', 0.1, 'measured');
  const drawn = size('b', 0.2, 'drawing');
  const set = size('c', 0, 'drawing');

  test('measured, drawing or mixed; a setting without uncertainty does not count', () => {
    expect(basisOf(chain([1, read], [1, set]))).toBe('measured');
    expect(basisOf(chain([1, drawn]))).toBe('drawing');
    expect(basisOf(chain([1, read], [1, drawn]))).toBe('mixed');
    expect(basisOf([])).toBe('drawing');
  });

  test('the size that carries most of the doubt', () => {
    expect(mostDoubt(chain([1, read], [1, drawn]))!.size.key).toBe('b');
    expect(mostDoubt(chain([3, read], [1, drawn]))!.size.key).toBe('a');
    expect(mostDoubt(chain([1, set]))).toBeUndefined();
  });
});

describe('judging a draft', () => {
  const limit: Limit = { check: 'x', fits: [null, 0.05], act: [null, 0.1], unit: 'mm', origin: 'by hand' };
  const draft = {
    check: 'bend-ride',
    at: { station: 'S2', part: 'M2', end: 'front' },
    place: 'M2 front',
    restsOn: chain([1, { ...size('a', 0.02, 'measured'), best: -0.3 }]),
    limit,
    sense: (v: number) => (v > 0 ? 'rides' : 'clear'),
    say: () => ({ fact: 'said', rest: ['It is judged.', 'Do this.'] }),
  } as const;

  test('fills in interval, chance, verdict, basis, name and sentence', () => {
    expect(judge(draft)).toMatchObject({
      id: 'bend-ride:M2-front',
      at: { station: 'S2', part: 'M2', end: 'front' },
      station: 'S2',
      value: -0.3,
      u: 0.02,
      low: expect.closeTo(-0.34, 12),
      high: expect.closeTo(-0.26, 12),
      verdict: 'fits',
      basis: 'measured',
      sense: 'clear',
      said: { fact: 'said' },
      sentence: 'said. It is judged. Do this.',
      chance: 0,
    });
  });

  test('a floor clips what is shown and not what is judged', () => {
    expect(judge({ ...draft, floor: 0 })).toMatchObject({ value: 0, low: 0, high: 0, sense: 'clear', verdict: 'fits' });
  });

  test('a second condition can only make the verdict worse', () => {
    expect(judge({ ...draft, atLeast: 'watch' }).verdict).toBe('watch');
    expect(judge({ ...draft, value: 1, u: 0, atLeast: 'watch' }).verdict).toBe('act');
  });

  test('a value that is no plain sum is taken as given', () => {
    expect(judge({ ...draft, value: 0.08, u: 0 })).toMatchObject({ value: 0.08, u: 0, verdict: 'watch' });
  });
});
