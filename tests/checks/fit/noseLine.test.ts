import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { echoesOf, fromNominal, kinksOf, laneOf, nosesOf } from '../../../src/checks/fit/noseLine.ts';
import type { Hold } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import {
  allPrinted,
  changed,
  finding,
  flat,
  noseRib,
  panel,
  printed,
  readAs,
  tipRib,
  valuesAt,
} from '../../model/panels.ts';

/* Kink limit: common practice for 1 to 2 mm, half of it picked; the line's limits are picked, no source. */
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
type M = typeof A;
const off = (model: M, hold: Hold = 'straight'): number[] => nosesOf(skeletonOf(model), hold).map(fromNominal);
const kinks = (model: M, hold: Hold = 'straight'): number[] => kinksOf(nosesOf(skeletonOf(model), hold));
const packer = (m: M, nose: string, sheet: string): void => {
  m.doublers.push(flat(`P${nose.slice(1)}`, nose, 'tail', sheet, 'web', 80));
};
const largest = (values: readonly number[]): number => Math.max(...values.map(Math.abs));

describe('panel A', () => {
  test('item 7: noses against their drawing, spar straight', () => {
    expect(allPrinted(off(A), 2)).toEqual(['0.00', '0.10', '-0.05', '-0.80', '0.05', '0.00', '0.60', '0.90']);
  });

  test('item 7: against the line through both tips N7 is only -0.17, because T8 is wrong', () => {
    expect(printed(finding(A, 'nose-line', 'N7').value, 2)).toBe('-0.17');
    expect(finding(A, 'nose-line', 'N7').sentence).toContain('0.60 mm proud of its drawing');
    expect(printed(finding(A, 'nose-line', 'T8').value, 2)).toBe('0.90');
  });

  test('item 7: with T8 corrected N7 is 0.60 proud, and kinks 0.60', () => {
    const right = changed(A, (m) => readAs(m, 'T8.length', 385, 'rule'));
    expect(printed(finding(right, 'nose-line', 'N7').value, 2)).toBe('0.60');
    expect(printed(finding(right, 'nose-kink', 'N7').value, 2)).toBe('0.60');
  });

  test('item 6: N4 looks 0.1 short with the bow in it and is 0.8 short without; its kink says so either way', () => {
    expect(printed(off(A, 'bowed')[3]!, 2)).toBe('-0.10');
    expect(printed(off(A)[3]!, 2)).toBe('-0.80');
    expect(printed(kinks(A, 'bowed')[3]!, 2)).toBe('-0.71');
    expect(printed(kinks(A)[3]!, 2)).toBe('-0.80');
  });

  test('item 6: the kink of N5 is the echo of N4, and goes when N4 is packed', () => {
    expect(printed(kinks(A, 'bowed')[4]!, 2)).toBe('0.62');
    expect(printed(kinks(A)[4]!, 2)).toBe('0.47');
    expect(finding(A, 'nose-kink', 'N5').echoOf).toBe('S4');
    expect(finding(A, 'nose-kink', 'N4').echoOf).toBeUndefined();
    const packed = changed(A, (m) => packer(m, 'N4', 's032'));
    expect(printed(finding(packed, 'nose-kink', 'N5').value, 2)).toBe('0.04');
    expect(finding(packed, 'nose-kink', 'N5').echoOf).toBeUndefined();
  });

  test('item 7, plan 1: T8 re-made, the tail of N7 re-bent 0.6, 0.032 in behind N4: kinks within 0.12', () => {
    const plan = changed(A, (m) => {
      readAs(m, 'T8.length', 385, 'rule');
      readAs(m, 'N7.length', 121, 'rule');
      packer(m, 'N4', 's032');
    });
    expect(printed(largest(kinks(plan)), 2)).toBe('0.12');
  });

  test('item 7, plan 2: T8 kept, packers behind N4, N6 and N5: kinks within 0.26', () => {
    const plan = changed(A, (m) => {
      packer(m, 'N4', 's032');
      packer(m, 'N6', 's025');
      packer(m, 'N5', 's020');
    });
    expect(largest(kinks(plan))).toBeLessThan(0.265);
    expect(printed(largest(kinks(plan)), 2)).toBe('0.26');
  });
});

describe('panel B, F3', () => {
  test('noses against their drawing, taper taken out', () => {
    expect(allPrinted(off(B), 1)).toEqual(['0.0', '0.1', '-0.1', '0.2', '0.0', '-0.1', '0.1', '-2.6', '-1.7']);
  });

  // By hand: stations 325 and 330 apart, v = 0.1, -2.6, -1.7: 2.6 - ... q8 = -2.6 - (0.1 × 330 - 1.7 × 325)/655 = -1.8069.
  test('W8 is short and kinks; W9 is short and does not', () => {
    expect(finding(B, 'nose-kink', 'N8').value).toBeCloseTo(-2.6 - (0.1 * 330 - 1.7 * 325) / 655, 9);
    expect(finding(B, 'nose-kink', 'N8')).toMatchObject({ verdict: 'act', sense: 'short' });
    expect(finding(B, 'nose-line', 'T9').sense).toBe('short');
  });
});

describe('kinks, by hand', () => {
  const noses = nosesOf(skeletonOf(panel('plain')), 'straight');
  test('the tips have none; equal spacing weighs neighbours by half', () => {
    expect(kinksOf(noses, [0, 1, 0, 0])).toEqual([0, 1, -0.5, 0]);
    const straight = kinksOf(noses, [1, 2, 3, 4]);
    for (const q of straight) expect(q).toBeCloseTo(0, 12);
  });

  test('unequal spacing weighs the nearer neighbour more', () => {
    const uneven = changed(panel('plain'), (m) => {
      m.stations[1]!.y = 100;
    });
    // S1 at 0, S2 at 100, S3 at 600: a nose 1 mm proud at S1 moves the kink at S2 by -5/6, one at S3 by -1/6.
    const at = nosesOf(skeletonOf(uneven), 'straight');
    expect(kinksOf(at, [1, 0, 0, 0])[1]).toBeCloseTo(-5 / 6, 12);
    expect(kinksOf(at, [0, 0, 1, 0])[1]).toBeCloseTo(-1 / 6, 12);
  });

  test('an echo is the smaller kink the other way beside a larger one, and never both', () => {
    const A8 = nosesOf(skeletonOf(A), 'straight');
    const echoes = echoesOf(A8, 0.5);
    expect(echoes[4]).toBe(3);
    echoes.forEach((source, i) => {
      if (source !== undefined) expect(Math.abs(source - i)).toBe(1);
      if (source !== undefined) expect(echoes[source]).toBeUndefined();
    });
    expect(echoesOf(noses, 0.5).every((e) => e === undefined)).toBe(true);
  });
});

test('no nose is the echo of a quieter one', () => {
  fc.assert(
    fc.property(fc.array(fc.double({ min: -2, max: 2, noNaN: true }), { minLength: 8, maxLength: 8 }), (values) => {
      const model = changed(A, (m) =>
        m.stations.forEach((s, i) => {
          readAs(m, `nose@${s.id}`, s.nose + values[i]!, 'string');
        }),
      );
      const noses = nosesOf(skeletonOf(model), 'straight');
      const q = kinksOf(noses);
      echoesOf(noses, 0.5).forEach((source, i) => {
        if (source === undefined) return;
        expect(Math.abs(q[source]!)).toBeGreaterThan(Math.abs(q[i]!));
        expect(q[source]! * q[i]!).toBeLessThan(0);
      });
    }),
    { seed: 61, numRuns: 300 },
  );
});

describe('where a nose stands (C4, C5), by hand on the plain panel', () => {
  const plain = panel('plain');
  const v = (change: (m: M) => void, i: number): number => off(changed(plain, change))[i]! - off(plain)[i]!;
  test.each<[string, (m: M) => void, number, number]>([
    ['a nose rib 0.4 longer', (m) => readAs(m, 'N2.length', 100.4, 'rule'), 1, 0.4],
    ['a packer behind it', (m) => packer(m, 'N2', 's020'), 1, 0.508],
    ['webs 0.4 further apart at a tip held on the rear web', (m) => readAs(m, 'webs@S1', 200.4, 'stick'), 0, -0.4],
    ['a tip rib 0.4 longer', (m) => readAs(m, 'T1.length', 300.4, 'rule'), 0, 0.4],
    ['a plate behind the tip rib', (m) => m.doublers.push(flat('X', 'T1', 'rear', 's020', 'web', 30)), 0, 0.508],
    ['webs 0.4 further apart at a main station', (m) => readAs(m, 'webs@S2', 200.4, 'stick'), 1, 0],
    ['a main rib 0.4 longer', (m) => readAs(m, 'M2.length', 198.8522, 'rule'), 1, 0],
    ['a nose read from the string line', (m) => readAs(m, 'nose@S2', 99.3, 'string'), 1, -0.7],
  ])('%s', (_, change, i, by) => expect(v(change, i)).toBeCloseTo(by, 9));

  test('a tip rib held by a clip on the front spar does not feel the rear web', () => {
    const clipped = (m: M): void => {
      const t = tipRib(m, 'T1');
      t.registered = 'front';
      t.clip = { forward: 20, noseToHole: 80 };
    };
    expect(off(changed(plain, clipped))[0]).toBeCloseTo(0, 9);
    expect(
      off(
        changed(plain, (m) => {
          clipped(m);
          readAs(m, 'webs@S1', 205, 'stick');
        }),
      )[0],
    ).toBeCloseTo(0, 9);
    expect(
      off(
        changed(plain, (m) => {
          clipped(m);
          readAs(m, 'T1.clip', 80.6, 'rule');
        }),
      )[0],
    ).toBeCloseTo(0.6, 9);
  });

  test('with the spar as bowed a nose goes with it, unless it was read', () => {
    const bowed = changed(plain, (m) => readAs(m, 'front.bow@S2', 0.5, 'string'));
    expect(off(bowed, 'bowed')[1]! - off(bowed)[1]!).toBeCloseTo(0.5, 9);
    const read = changed(bowed, (m) => readAs(m, 'nose@S2', 100, 'string'));
    expect(off(read, 'bowed')[1]).toBe(off(read)[1]);
  });
});

test('a taper of the drawing is not a kink', () => {
  const tapered = changed(panel('plain'), (m) => {
    for (const s of m.stations) s.nose = 100 - s.y / 50;
    for (const id of ['N2', 'N3']) {
      const y = id === 'N2' ? 300 : 600;
      noseRib(m, id).length = 100 - y / 50;
      readAs(m, `${id}.length`, 100 - y / 50, 'rule');
    }
    readAs(m, 'T4.length', 282, 'rule');
  });
  for (const q of valuesAt(tapered, 'nose-kink', ['N2', 'N3'])) expect(q).toBeCloseTo(0, 9);
  for (const r of valuesAt(tapered, 'nose-line', ['T1', 'N2', 'N3', 'T4'])) expect(r).toBeCloseTo(0, 9);
});

/* Minimum zone of straightness, ISO 12780-1: what is left however the line is laid. */
describe('the lane the noses take', () => {
  const A = panel('narrow-tail');
  const read = (off: (y: number) => number) =>
    nosesOf(
      skeletonOf(
        changed(A, (m) => {
          m.readings = [
            ...m.readings.filter((r) => !r.size.startsWith('nose@')),
            ...m.stations.map((s) => ({ size: `nose@${s.id}`, value: s.nose + off(s.y), instrument: 'string' })),
          ];
        }),
      ),
      'straight',
    );
  test('is nothing where they lie on any straight line', () =>
    expect(laneOf(read((y) => 0.3 - 0.0004 * y))!).toBeCloseTo(0, 9));
  test('is not moved by a line added to all', () => {
    const wave = (y: number): number => 0.4 * Math.sin(y / 300);
    expect(laneOf(read((y) => wave(y) + 0.2 + 0.0003 * y))!).toBeCloseTo(laneOf(read(wave))!, 9);
  });
  test('is as wide as one nose alone stands off the rest', () => {
    // The rest lie on a line: the lane has that line for one edge and the odd nose on the other.
    const odd = A.stations[3]!.y;
    expect(laneOf(read((y) => (y === odd ? 0.8 : 0)))!).toBeCloseTo(0.8, 9);
  });
  test('is never wider than the noses are apart', () => {
    fc.assert(
      fc.property(fc.array(fc.double({ min: -1, max: 1, noNaN: true }), { minLength: 8, maxLength: 8 }), (offs) => {
        const at = new Map(A.stations.map((s, i) => [s.y, offs[i]!]));
        expect(laneOf(read((y) => at.get(y)!))!).toBeLessThanOrEqual(Math.max(...offs) - Math.min(...offs) + 1e-9);
      }),
      { numRuns: 40, seed: 5 },
    );
  });
});
