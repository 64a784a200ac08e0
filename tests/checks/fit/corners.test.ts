import { describe, expect, test } from 'vitest';
import { best, withBest } from '../../../src/chains/chain.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { bendBand, reliefChain } from '../../../src/checks/fit/corners.ts';
import type { Alloy } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* Relief limits: about 1 mm is common practice, 0.5 picked. */
const A = panel('narrow-tail');
const front = (model: typeof A, rib: string) =>
  skeletonOf(model).places.find((p) => p.rib.id === rib && p.end === 'front')!;

describe('panel A, item 9: relief hole to the cap edge, counted to its centre', () => {
  test('+1.30 as drawn (M7), -0.10 at M2', () => {
    expect(printed(finding(A, 'relief', 'M7 front').value, 2)).toBe('1.30');
    expect(finding(A, 'relief', 'M2 front').value).toBeCloseTo(-0.1, 9);
    expect(finding(A, 'relief', 'M2 front').sense).toBe('sits on the notch');
  });

  // The printed -0.74 and +0.08 hold the free gap of 0.05 and change only the sheet between web and flange.
  test('first hypothesis, the gap held: -0.10 with the doubler, -0.74 without, +0.08 with 0.032 in', () => {
    const clamped = changed(A, (m) => {
      m.stand = 'clamped';
    });
    const chain = reliefChain(skeletonOf(clamped), front(clamped, 'M2'));
    const gap = finding(A, 'chord-gap', 'M2').value;
    expect(printed(gap + best(chain), 2)).toBe('-0.10');
    expect(gap + best(withBest(chain, 'sheet.s025', 0))).toBeCloseTo(-0.735, 9); // prints as -0.74
    expect(printed(gap + best(withBest(chain, 'sheet.s025', 0.8128)), 2)).toBe('0.08');
  });

  // Standing against the rear web, what the doubler takes of the free gap it gives back in front of the flange.
  test('second hypothesis, the rib pushed against the rear web: the doubler makes no difference', () => {
    const chain = reliefChain(skeletonOf(A), front(A, 'M2'));
    expect(best(withBest(chain, 'sheet.s025', 0))).toBeCloseTo(best(chain), 9);
    const none = changed(A, (m) => {
      m.doublers = [];
    });
    expect(finding(none, 'relief', 'M2 front').value).toBeCloseTo(-0.1, 9);
  });

  test('what the drawing counts to: centre or rim, half the hole apart', () => {
    const rim = changed(A, (m) => {
      m.reliefCounts = 'rim';
    });
    expect(finding(A, 'relief', 'M2 front').value - finding(rim, 'relief', 'M2 front').value).toBeCloseTo(
      4.7625 / 2,
      9,
    );
  });
});

describe('the terms of C16, by hand on the plain panel, clamped', () => {
  const plain = changed(panel('plain'), (m) => {
    m.stand = 'clamped';
  });
  const value = (change: (m: typeof plain) => void): number =>
    finding(changed(plain, change), 'relief', 'M2 front').value;
  test('0.8128 + 0.635 + 16.6 - 16 = 2.0478', () => expect(value(() => {})).toBeCloseTo(2.0478, 9));
  test.each<[string, (m: typeof plain) => void, number]>([
    ['hole 0.5 further from the end', (m) => readAs(m, 'M2.front.relief', 17.1, 'caliper'), 0.5],
    ['cap 0.5 wider', (m) => readAs(m, 'front.cap@S2', 16.5, 'caliper'), -0.5],
    [
      'no doubler',
      (m) => {
        m.doublers = [];
      },
      -0.635,
    ],
    [
      'standing against the front web',
      (m) => {
        m.stand = 'front';
      },
      0,
    ],
    [
      'standing against the rear web, 0.10 short',
      (m) => {
        m.stand = 'rear';
      },
      0.1,
    ],
  ])('%s', (_, change, by) => expect(value(change) - value(() => {})).toBeCloseTo(by, 9));

  test('a rib that is too long leaves no gap, not a negative one', () => {
    const long = (m: typeof plain): void => {
      m.stand = 'rear';
      readAs(m, 'M2.length', 199, 'caliper');
    };
    expect(value(long)).toBeCloseTo(2.0478, 9);
  });
});

/* AC 43.13-1B, table 4-6, recommended radii for 90 degree bends (page 4-14), READ: multiples of t by sheet, inches. */
const TABLE = `
2024-0   0     0-1   0-1   0-1   0-1   0-1
2024-T3  1.5-3 2-4   3-5   4-6   4-6   5-7
2024-T6  2-4   3-5   3-5   4-6   5-7   6-10
5052-0   0     0     0-1   0-1   0-1   0-1
5052-H32 0     0     0.5-1 0.5-1.5 0.5-1.5 0.5-1.5
5052-H34 0     0     0.5-1.5 1.5-2.5 1.5-2.5 2-3
5052-H36 0-1   0.5-1.5 1-2 1.5-3 2-4   2-4
5052-H38 0.5-1.5 1-2 1.5-3 2-4   3-5   4-6
6061-0   0     0-1   0-1   0-1   0-1   0-1
6061-T4  0-1   0-1   0.5-1.5 1-2 1.5-3 2.5-4
6061-T6  0-1   0.5-1.5 1-2 1.5-3 2-4   3-4
7075-0   0     0-1   0-1   0.5-1.5 1-2 1.5-3
7075-T6  2-4   3-5   4-6   5-7   5-7   6-10`;
const COLUMNS = [0.016, 0.032, 0.064, 0.128, 0.182, 0.258];

describe('bend radius', () => {
  test.each(
    TABLE.trim()
      .split('\n')
      .map((row) => row.split(/\s+/)),
  )('AC 43.13-1B table 4-6, %s', (alloy, ...cells) => {
    cells.forEach((cell, i) => {
      const [least, most = least] = cell.split('-').map(Number);
      const t = COLUMNS[i]! * 25.4;
      const band = bendBand(alloy as Alloy, t)!;
      expect(band.least).toBeCloseTo(least! * t, 9);
      expect(band.most).toBeCloseTo(most! * t, 9);
      expect(band).toMatchObject({ column: COLUMNS[i], exact: true });
    });
  });

  test.each([
    [0.02, 0.032],
    [0.025, 0.032],
    [0.04, 0.064],
    [0.05, 0.064],
    [0.09, 0.128],
  ])('%d in takes the next thicker column, %d, and says so', (inch, column) => {
    expect(bendBand('2024-T3', inch * 25.4)).toMatchObject({ column, exact: false });
  });

  test('thicker than the table has no answer', () => expect(bendBand('6061-T6', 0.3 * 25.4)).toBeUndefined());

  // AC-5: 2024-T3, t .032, R 1/16: range .064 to .128; .0625 is under by .0015.
  test('AC-5: 2024-T3 at 0.032 in bent at 1/16 in fails by 0.0015 in', () => {
    const band = bendBand('2024-T3', 0.032 * 25.4)!;
    expect([band.least / 25.4, band.most / 25.4]).toEqual([expect.closeTo(0.064, 9), expect.closeTo(0.128, 9)]);
    const spar = changed(panel('plain'), (m) => {
      m.sheets.find((s) => s.id === 's032')!.alloy = '2024-T3';
      m.instruments.push({ id: 'sure', name: 'no error', u: { radius: 0, thickness: 0 } });
      readAs(m, 'front.radius', 25.4 / 16, 'sure');
      for (const r of m.readings) if (r.size === 'front.radius') r.instrument = 'sure';
    });
    const f = finding(spar, 'bend-radius', 'front spar');
    expect(f).toMatchObject({ verdict: 'act', sense: 'tight' });
    expect((f.limits.fits[0]! - f.value) / 25.4).toBeCloseTo(0.0015, 9);
  });

  test('what is bent is asked: both spars and every channel doubler, no flat piece', () => {
    const places = checkAll(A)
      .filter((f) => f.check === 'bend-radius')
      .map((f) => f.place);
    expect(places.sort()).toEqual(['D2', 'D3', 'D4', 'D5', 'D6', 'D7', 'front spar', 'rear spar']);
    expect(finding(A, 'bend-radius', 'D2').limits.origin).toContain('next thicker');
  });
});
