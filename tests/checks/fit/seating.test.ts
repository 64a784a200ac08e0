import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { jointSample } from '../../../src/chance/jointSample.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { seatingOf } from '../../../src/checks/fit/seating.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { allPrinted, changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* C3, C10, and a linear program in two unknowns. Limits: as the chord gap, picked, no source. */
const A = panel('narrow-tail');
const ids = ['M2', 'M3', 'M4', 'M5', 'M6', 'M7'];
const withLengths = (lengths: readonly number[]) =>
  changed(A, (m) =>
    ids.forEach((id, i) => {
      readAs(m, `${id}.length`, lengths[i]!, 'rule');
    }),
  );

/** The slow and obvious way: of every line through two rib ends with none beyond it, the one with the least total gap. */
function restingByTrial(ys: readonly number[], ends: readonly number[]): number {
  let least = Infinity;
  for (let i = 0; i < ys.length; i++) {
    for (let j = i + 1; j < ys.length; j++) {
      const slope = (ends[j]! - ends[i]!) / (ys[j]! - ys[i]!);
      const gaps = ys.map((y, k) => ends[i]! + slope * (y - ys[i]!) - ends[k]!);
      if (Math.min(...gaps) > -1e-9)
        least = Math.min(
          least,
          gaps.reduce((a, b) => a + b, 0),
        );
    }
  }
  return least;
}

describe('panel A', () => {
  const lie = seatingOf(skeletonOf(A))!;
  test('as bowed it is the chord gap with the bow in it', () => {
    expect(allPrinted(lie.asBowed, 2)).toEqual(['0.25', '0.50', '0.80', '0.65', '1.35', '0.25']);
  });

  test('resting, it touches M3 and M5 and stands about a millimetre clear of M6', () => {
    expect(lie.touching.map((i) => lie.stations[i])).toEqual(['S3', 'S5']);
    // By hand: k at S3 is 0.0022, at S5 -0.0478, so at S6 the line lies at -0.0744; M6 is at 0.9522.
    expect(finding(A, 'seating', 'M6').value).toBeCloseTo(0.9522 - (-0.0478 - (0.05 * (418 - 128)) / 546), 3);
    expect(finding(A, 'seating', 'M3').sense).toBe('holds the spar off');
    expect(printed(finding(A, 'seating', 'M3').value, 2)).toBe('0.00');
  });

  test('held straight, the gaps of a line of least squares sum to nothing', () => {
    expect(lie.heldStraight.reduce((a, b) => a + b, 0)).toBeCloseTo(0, 9);
  });
});

describe('for any lengths', () => {
  const lengths = fc.array(fc.double({ min: 261, max: 264, noNaN: true }), { minLength: 6, maxLength: 6 });
  test('the resting spar touches at least two, passes through none, and has the least total gap', () => {
    fc.assert(
      fc.property(lengths, (all) => {
        const lie = seatingOf(skeletonOf(withLengths(all)))!;
        expect(lie.touching.length).toBeGreaterThanOrEqual(2);
        for (const g of lie.resting) expect(g).toBeGreaterThanOrEqual(0);
        const ys = [-742, -418, -128, 128, 418, 742];
        expect(lie.resting.reduce((a, b) => a + b, 0)).toBeCloseTo(restingByTrial(ys, all), 7);
      }),
      { seed: 41, numRuns: 60 },
    );
  });

  test('all ribs longer alike: the spar lies as before', () => {
    fc.assert(
      fc.property(lengths, fc.double({ min: -2, max: 2, noNaN: true }), (all, more) => {
        const [a, b] = [
          seatingOf(skeletonOf(withLengths(all)))!,
          seatingOf(skeletonOf(withLengths(all.map((l) => l + more))))!,
        ];
        a.resting.forEach((g, i) => {
          expect(b.resting[i]).toBeCloseTo(g, 7);
        });
      }),
      { seed: 42, numRuns: 30 },
    );
  });
});

test('equal ribs all hold it; one rib or one spar has no seat line', () => {
  expect(seatingOf(skeletonOf(withLengths([262, 262, 262, 262, 262, 262])))!.resting).toEqual([0, 0, 0, 0, 0, 0]);
  const one = changed(A, (m) => {
    m.ribs = m.ribs.filter((r) => r.kind !== 'main' || r.id === 'M4');
  });
  expect(seatingOf(skeletonOf(one))).toBeUndefined();
  expect(checkAll(one).some((f) => f.check === 'seating')).toBe(false);
});

/* A second way to the same numbers: the sampling of the whole skeleton, which shares only the draws. */
describe('how surely', () => {
  const seats = (m: typeof A) => checkAll(m).filter((f) => f.check === 'seating');

  test.each(['narrow-tail', 'washed-out-wing'] as const)(
    '%s: a rib that touches carries its doubt, and the chance is that of the whole',
    (name) => {
      const model = panel(name);
      const whole = new Map(jointSample(model, { seed: 3 }).findings.map((f) => [f.id, f.beyond.chance]));
      for (const f of seats(model)) {
        expect(f.u, f.place).toBeGreaterThan(0.1);
        expect(Math.abs(f.chance - whole.get(f.id)!), f.place).toBeLessThan(0.03);
        expect(f.low).toBeLessThanOrEqual(f.value);
        expect(f.high).toBeGreaterThanOrEqual(f.value);
      }
    },
  );

  // 27 in 100 by the sampling of the whole skeleton.
  test('the washed-out wing, M8: it touches, and is beyond act about one time in four', () => {
    const f = finding(panel('washed-out-wing'), 'seating', 'M8');
    expect(f.value).toBe(0);
    expect(f.chance).toBeGreaterThan(0.22);
    expect(f.chance).toBeLessThan(0.32);
    expect(f.verdict).toBe('unsettled');
  });

  test('in whatever order the lists stand, the same doubt', () => {
    const turned = changed(A, (m) => {
      m.ribs.reverse();
      m.readings.reverse();
    });
    expect(seats(turned).map((f) => [f.place, f.u, f.chance])).toEqual(seats(A).map((f) => [f.place, f.u, f.chance]));
  });

  test('ribs surer of their length leave less doubt of the seat', () => {
    const readWith = (instrument: string) =>
      changed(A, (m) =>
        ids.forEach((id) => {
          m.readings = m.readings.filter((r) => r.size !== `${id}.length`);
          readAs(m, `${id}.length`, 262, instrument);
        }),
      );
    const [surer, less] = [readWith('caliper'), readWith('rule')];
    const u = (m: typeof A) => seats(m).reduce((sum, f) => sum + f.u, 0);
    expect(u(surer)).toBeLessThan(u(less));
  });
});
