import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { bendBand } from '../../../src/checks/fit/bendRadius.ts';
import type { Alloy } from '../../../src/model/schema.ts';
import { changed, finding, panel, readAs } from '../../model/panels.ts';

const A = panel('narrow-tail');

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
      readAs(m, 'sheet.s032', 0.032 * 25.4, 'sure');
      for (const r of m.readings) if (/^(front.radius|sheet.s032)$/.test(r.size)) r.instrument = 'sure';
    });
    const f = finding(spar, 'bend-radius', 'front spar');
    expect(f).toMatchObject({ verdict: 'act', sense: 'tight' });
    expect((f.limits.fits[0]! - f.value) / 25.4).toBeCloseTo(0.0015, 9);
  });

  test('what is bent is asked: both spars, every rib and every channel doubler, no flat piece', () => {
    const places = checkAll(A)
      .filter((f) => f.check === 'bend-radius')
      .map((f) => f.place);
    const ribs = A.ribs.map((r) => r.id);
    const doublers = ['D2', 'D3', 'D4', 'D5', 'D6', 'D7'];
    expect(places.sort()).toEqual([...doublers, ...ribs, 'front spar', 'rear spar'].sort());
    expect(finding(A, 'bend-radius', 'D2').limits.origin).toContain('next thicker');
  });

  /* 2024-T3 takes 2 thicknesses at 0.032 in and 3 at 0.064: a bend of 2.2 mm in a sheet of 0.032 in, its thickness in doubt. */
  const bent = (radius: number, sheet?: { readonly thick: number; readonly u: number }) =>
    finding(
      changed(panel('plain'), (m) => {
        m.sheets.find((s) => s.id === 's032')!.alloy = '2024-T3';
        m.instruments.push({ id: 'sure', name: 'no error', u: { radius: 0, thickness: 0 } });
        m.instruments.push({ id: 'rough', name: 'a rough one', u: { thickness: sheet?.u ?? 0 } });
        m.readings = m.readings.filter((r) => r.size !== 'front.radius' && r.size !== 'sheet.s032');
        m.readings.push({ size: 'front.radius', value: radius, instrument: 'sure' });
        if (sheet) m.readings.push({ size: 'sheet.s032', value: sheet.thick, instrument: 'rough' });
      }),
      'bend-radius',
      'front spar',
    );

  test('a sheet sold as 0.032 in stays in its row within a mill’s tolerance', () => {
    expect(bent(2.2).verdict).toBe('fits');
    expect(bent(2.2, { thick: 0.85, u: 0.001 }).verdict).toBe('fits');
    // Three thicknesses of 0.90 mm are 2.70.
    expect(bent(2.2, { thick: 0.9, u: 0.001 }).verdict).toBe('act');
  });

  test('the thickness’ doubt stands in the verdict, once for the sheet and once for its row', () => {
    // Two thicknesses of 0.8128 ± 0.05 flat: u = 2 · 0.05/√3 = 0.058.
    expect(bent(1.7).u).toBeCloseTo(0.1 / Math.sqrt(3), 9);
    expect(bent(1.7).verdict).toBe('unsettled');
    expect(bent(1.7, { thick: 0.8128, u: 0 }).verdict).toBe('fits');
    // 0.86 ± 0.02 may be over the row's end at 0.8636: both rows stand.
    const either = bent(2.2, { thick: 0.86, u: 0.02 });
    expect(either.verdict).toBe('unsettled');
    expect(either.chance).toBeGreaterThan(0.3);
    expect(either.chance).toBeLessThan(0.6);
    expect(either.sentence).toMatch(/thick enough for the 0.064 in/);
    expect(bent(2.7, { thick: 0.86, u: 0.02 }).verdict).not.toBe('act');
    expect(bent(1.5, { thick: 0.86, u: 0.02 }).verdict).toBe('act');
  });
});
