import { describe, expect, test } from 'vitest';
import { ribStances, shiftOf } from '../../src/truing/stance.ts';
import { truingList } from '../../src/truing/truing.ts';
import { changed, finding, panel, readAs } from '../model/panels.ts';

/* arithmetic 3, square: truing a rib by phi moves a line at arm s by s·tan phi. */
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
const square = (station: string) => ({ station, lean: 0, skew: 0 });

test('how the ribs stand is what was read', () => {
  // Panel B, F5: W6 leans 1.1 over 140 of height; F4: the rear end of W4 stands 3.1 outboard.
  const stances = ribStances(B);
  expect(stances.find((s) => s.station === 'W6')).toMatchObject({ lean: expect.closeTo(110 / 140, 9), skew: 0 });
  expect(stances.find((s) => s.station === 'W4')).toMatchObject({ lean: 0, skew: 3.1 });
  expect(ribStances(A)).toEqual([]);
});

test('a hole goes by its arm and the angle; the rear row by the whole skew', () => {
  const leaning = { station: 'W6', lean: -110 / 140, skew: 0 };
  expect(shiftOf(leaning, square('W6'), { up: 40, end: 'front' })).toBeCloseTo((40 * 1.1) / 140, 12);
  expect(shiftOf(leaning, square('W6'), { up: -40, end: 'front' })).toBeCloseTo((-40 * 1.1) / 140, 12);
  const skewed = { station: 'W4', lean: 0, skew: 3.1 };
  expect(shiftOf(skewed, square('W4'), { up: 10, end: 'rear' })).toBeCloseTo(-3.1, 12);
  expect(shiftOf(skewed, square('W4'), { up: 10, end: 'front' })).toBe(0);
});

describe('squaring S3 of panel A', () => {
  // F3 h1 stands 24 up and was read +0.30 along; S3 lies inboard of the middle on the left, so outboard is -y.
  const leaning = changed(A, (m) => {
    m.readings.push({ size: 'lean@S3', value: 1, instrument: 'square', over: 80 });
  });
  const up = A.joints.find((j) => j.id === 'F3')!.holes[0]!.up;
  const { moved, model } = truingList(leaning, ribStances(leaning), [square('S3')]);

  test('the hole moves by up × tan of the angle, the other way on the left of a whole panel', () => {
    const h = moved.find((x) => x.place === 'F3 hole h1')!;
    expect(h.by).toBeCloseTo((up * 1) / 80, 12);
    expect(model.readings.find((r) => r.size === 'F3/h1.M3.along')!.value).toBeCloseTo(0.3 + up / 80, 12);
    expect(model.readings.find((r) => r.size === 'lean@S3')!.value).toBeCloseTo(0, 12);
    expect(h.before).toBe(finding(leaning, 'hole-cleanup', 'F3 hole h1').verdict);
    expect(h.after).toBe(finding(model, 'hole-cleanup', 'F3 hole h1').verdict);
    expect(h.sentence).toContain('inboard');
  });

  test('no hole of another station moves, nor the spar', () => {
    expect(moved.every((x) => x.station === 'S3')).toBe(true);
    const others = (m: typeof A) => m.readings.filter((r) => !/^(F3|R3)\/|^lean/.test(r.size));
    expect(others(model)).toEqual(others(leaning));
    expect(model.readings.some((r) => r.size.startsWith('F3/h1.front'))).toBe(false);
  });

  test('there and back again is where it was', () => {
    const back = truingList(model, [square('S3')], ribStances(leaning)).model;
    expect(back.readings.find((r) => r.size === 'F3/h1.M3.along')!.value).toBeCloseTo(0.3, 12);
    expect(back.readings.find((r) => r.size === 'lean@S3')!.value).toBeCloseTo(1, 12);
  });

  test('changed verdicts come first', () => {
    expect(moved.length).toBeGreaterThan(0);
    const marks = moved.map((x) => x.changed);
    expect(marks).toEqual([...marks].sort((a, b) => Number(b) - Number(a)));
  });
});

test('a row drawn far off its holes loses its edge', () => {
  // R row of M4 in panel A: flange 16, row 7.6: 8.4 mm, 2.6 D of 3.175; moved 3.1 it keeps 5.3: 1.7 D.
  const skewed = changed(A, (m) => readAs(m, 'skew@S4', 0, 'square'));
  const { moved } = truingList(skewed, [square('S4')], [{ station: 'S4', lean: 0, skew: 3.1 }]);
  const row = moved.find((x) => x.what === 'sight line' && x.place === 'R4 M4');
  if (row) expect([row.before, row.after]).toEqual(['fits', 'act']);
  expect(moved.length).toBeGreaterThan(0);
});

test('nothing trued, nothing moved', () => expect(truingList(B, ribStances(B), ribStances(B)).moved).toEqual([]));
