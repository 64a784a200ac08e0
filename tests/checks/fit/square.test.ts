import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { nominalDiagonals } from '../../../src/checks/fit/square.ts';
import { changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* Limits: picked, no source. */
const B = panel('washed-out-wing');

describe('panel B, F4: the rear end of W4 stands 3.1 outboard', () => {
  test('nominal diagonals 659.85 and 677.60, and the next bay', () => {
    const bay34 = nominalDiagonals(330, 591.81, 571.4);
    expect([printed(bay34.ab, 2), printed(bay34.ba, 2)]).toEqual(['659.85', '677.60']);
    const bay45 = nominalDiagonals(330, 571.4, 551);
    expect([printed(bay45.ab, 2), printed(bay45.ba, 2)]).toEqual(['642.26', '659.85']);
  });

  test('bay 3-4: one long, the other right; bay 4-5: one right, the other 1.54 short', () => {
    const a = finding(B, 'diagonals', 'bay W3 to W4');
    expect(printed(a.value, 2)).toBe('1.56');
    expect(a.sentence).toContain('1.56 mm long');
    expect(a.sentence).toContain('is right');
    const b = finding(B, 'diagonals', 'bay W4 to W5');
    expect(printed(b.value, 2)).toBe('1.54');
    expect(b.sentence).toContain('1.54 mm short');
    for (const f of [a, b]) expect(f.sense).toBe('racked outboard at the rear');
  });

  // By hand: with W4's rear 3.1 outboard, front W3 to rear W4 is √(333.1² + 571.4²) = 661.41.
  test('both follow from 3.1 at W4', () => {
    expect(Math.abs(Math.hypot(333.1, 571.4) - 661.41)).toBeLessThan(0.01);
    expect(Math.hypot(326.9, 571.4) - Math.hypot(330, 571.4)).toBeCloseTo(-1.54, 2);
    expect(finding(B, 'skew', 'M4')).toMatchObject({ value: 3.1, verdict: 'act', sense: 'rear outboard' });
  });
});

test('panel B, F5: W6 leans 1.1 over 140, 0.79 in 100', () => {
  expect(printed(finding(B, 'lean', 'M6').value, 2)).toBe('0.79');
  expect(finding(B, 'lean', 'M6').sense).toBe('top outboard');
});

describe('published squareness', () => {
  const bay = (width: number, web: number, ab: number, ba: number, hand: 'right' | 'left' = 'right') =>
    finding(
      changed(panel('plain'), (m) => {
        m.hand = hand;
        m.webToWeb = web;
        m.stations[1]!.y = width;
        m.stations[2]!.y = width + 300;
        m.stations[3]!.y = width + 600;
        // A left panel lies to the left of its datum.
        if (hand === 'left') for (const s of m.stations) s.y -= 2 * width + 2000;
        m.readings = m.readings.filter((r) => !r.size.startsWith('webs@'));
        readAs(m, 'diagonal@S1-S2', ab, 'trammel');
        readAs(m, 'diagonal@S2-S1', ba, 'trammel');
      }),
      'diagonals',
      'bay S1 to S2',
    );

  // Row 10.1 (READ, formula): sides 400 and 300, diagonals 501 and 499: out of square by 1.25 over the 300.
  test('row 10.1: 400 × 300 with 501 and 499', () => {
    const f = bay(400, 300, 501, 499);
    expect(f.value).toBeCloseTo(2, 9);
    // C9: D1 - D2 = 4 w s/(D1 + D2)
    expect((f.value * 1000) / (4 * 400)).toBeCloseTo(1.25, 9);
    expect(f.sense).toBe('racked outboard at the rear');
    expect(bay(400, 300, 499, 501)).toMatchObject({
      value: expect.closeTo(-2, 9),
      sense: 'racked inboard at the rear',
    });
  });

  // SQ-1: a frame of 96 by 24 in racked by 0.1 degrees: 98.99516 and 98.91389, difference .08127.
  test('SQ-1: 96 × 24 racked by 0.1 degrees', () =>
    expect(bay(96 * 25.4, 24 * 25.4, 98.99516 * 25.4, 98.91389 * 25.4).value / 25.4).toBeCloseTo(0.08127, 9));

  // A left panel lies toward negative y, so the same diagonals rack it the other way.
  test('outboard is the other way on a left panel', () =>
    expect(bay(400, 300, 501, 499, 'left').sense).toBe('racked inboard at the rear'));
});

describe('by hand', () => {
  const plain = panel('plain');
  test('lean is counted over the height it was read over, else the rib end', () => {
    const lean = (over?: number) =>
      finding(
        changed(plain, (m) => {
          m.readings.push({
            size: 'lean@S2',
            value: 0.3,
            instrument: 'square',
            ...(over === undefined ? {} : { over }),
          });
        }),
        'lean',
        'M2',
      ).value;
    expect(lean(60)).toBeCloseTo(0.5, 12);
    expect(lean()).toBeCloseTo(30 / 77.0544, 12);
  });

  test('a tapered bay that is square has no difference to show', () => {
    const tapered = changed(plain, (m) => {
      m.webToWeb = [
        [0, 260],
        [900, 170],
      ];
      m.readings = m.readings.filter((r) => !r.size.startsWith('webs@'));
      readAs(m, 'diagonal@S1-S2', Math.hypot(300, 230), 'trammel');
      readAs(m, 'diagonal@S2-S1', Math.hypot(300, 260), 'trammel');
    });
    expect(finding(tapered, 'diagonals', 'bay S1 to S2').value).toBeCloseTo(0, 9);
  });

  test('only what was read is judged; one diagonal alone says nothing', () => {
    const one = changed(plain, (m) => readAs(m, 'diagonal@S1-S2', 360, 'tape'));
    expect(checkAll(one).some((f) => ['lean', 'skew', 'diagonals'].includes(f.check))).toBe(false);
  });
});
