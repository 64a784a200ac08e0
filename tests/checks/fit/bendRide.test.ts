import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { leastRadius, nextBlock, tallestFlat } from '../../../src/checks/fit/bendRide.ts';
import { changed, finding, flat, panel, printed, readAs } from '../../model/panels.ts';

/* C14, geometry. Limits: picked, no source. */
const A = panel('narrow-tail');
const bentAt = (radius: number) =>
  changed(A, (m) => {
    for (const r of m.readings) if (/^D\d\.radius$/.test(r.size)) r.value = radius;
  });

describe('panel A, item 5', () => {
  test('bent at 1.2 they stand 0.565 off each cap', () => {
    for (let i = 2; i <= 7; i++) expect(printed(finding(A, 'bend-ride', `D${i}`).value, 3)).toBe('0.565');
    expect(finding(A, 'bend-ride', 'D2')).toMatchObject({ verdict: 'act', sense: 'rides' });
  });

  test('at 1.59 still 0.175; at 1.98 clear', () => {
    expect(printed(finding(bentAt(1.59), 'bend-ride', 'D4').value, 3)).toBe('0.175');
    expect(finding(bentAt(1.98), 'bend-ride', 'D4')).toMatchObject({ value: 0, sense: 'clear' });
  });

  test('it says to bend at 5/64 in or more', () => {
    expect(printed(leastRadius(2.4, 0.635), 3)).toBe('1.765');
    expect(nextBlock(1.765)).toBeCloseTo((5 / 64) * 25.4, 12);
    expect(finding(A, 'bend-ride', 'D2').sentence).toContain('Bend it at 5/64 in');
  });

  test('no rib will fit until they are re-bent: each end loses twice the stand-off', () => {
    // M5 has +0.38: 0.38 - 1.13 = -0.75.
    expect(finding(A, 'bend-ride', 'D5').sentence).toContain('M5 front end binds by 0.75 mm');
  });
});

describe('a flat piece on a web', () => {
  test('item 4: at the rear it must stay under 46.9 high', () =>
    expect(Math.floor(tallestFlat(50.73, 1.9) * 10) / 10).toBe(46.9));

  const at = (height: number) =>
    finding(
      changed(A, (m) => {
        m.doublers.push(flat('X6', 'M6', 'rear', 's032', 'web', height));
      }),
      'bend-ride',
      'X6',
    );
  test('46.9 is clear; 48 runs 0.535 past each tangent and stands off', () => {
    expect(at(46.9)).toMatchObject({ value: 0, sense: 'clear' });
    // By hand: rs - √(rs² - o²) = 1.9 - √(3.61 - 0.286225) = 0.0769
    expect(at(48).value).toBeCloseTo(1.9 - Math.sqrt(1.9 ** 2 - 0.535 ** 2), 9);
    expect(at(48).sense).toBe('rides');
    expect(at(48).sentence).toContain('46.93 mm');
  });

  test('one clear by less than its doubt is not surely clear; one well clear is', () => {
    expect(at(46.9).u).toBeGreaterThan(0);
    expect(at(40).u).toBe(0);
  });

  test('one taller than the whole room stands off by the radius, no more', () => expect(at(60).value).toBe(1.9));
});

describe('the next 64th', () => {
  test.each([
    [0, 0],
    [0.01, 1],
    [1.765, 5],
    [(5 / 64) * 25.4, 5],
    [2, 6],
  ])('%d mm is %d/64', (radius, n) => expect(nextBlock(radius)).toBeCloseTo((n / 64) * 25.4, 9));
  test('a sheet thicker than the spar bend needs no radius', () => expect(leastRadius(1, 2)).toBe(0));
});

test('a part on the flat side of a web is not asked', () => {
  const packed = changed(A, (m) => {
    m.doublers.push(flat('P4', 'N4', 'tail', 's032', 'web', 80));
  });
  expect(checkAll(packed).some((f) => f.check === 'bend-ride' && f.place === 'P4')).toBe(false);
});

test('a doubler radius that was not read is taken from the drawing', () => {
  const drawn = changed(A, (m) => {
    m.readings = m.readings.filter((r) => r.size !== 'D2.radius');
  });
  expect(finding(drawn, 'bend-ride', 'D2').value).toBe(0);
  const read = changed(drawn, (m) => readAs(m, 'D2.radius', 1.2, 'radius-leaf'));
  expect(printed(finding(read, 'bend-ride', 'D2').value, 3)).toBe('0.565');
});
