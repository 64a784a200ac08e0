import { describe, expect, test } from 'vitest';
import { type TwistPoint, twistShape } from '../../../src/checks/fit/twistShape.ts';
import { finding, panel } from '../../model/panels.ts';

/* What is called level is the step limit (picked, 0.10°). The panels' readings are those of the demo panels' own list. */

const A = panel('narrow-tail');
const run = (...v: number[]): TwistPoint[] => v.map((value, i) => ({ station: `S${i + 1}`, y: 300 * i, v: value }));
const shape = (...v: number[]) => twistShape(A, run(...v), 'by level')!;

describe('the shape of made-up twists', () => {
  test('true', () => expect(shape(0, 0.05, -0.05, 0.02, 0)).toMatchObject({ kind: 'true' }));
  test('slope: grows evenly', () =>
    expect(shape(0, 0.1, 0.2, 0.3, 0.4)).toMatchObject({ kind: 'slope', stations: ['S1', 'S5'] }));
  test('hump: one station, either way', () => {
    expect(shape(0, 0, 0.4, 0, 0, 0)).toMatchObject({ kind: 'hump', stations: ['S3'] });
    expect(shape(0, 0, 0, -0.4, 0, 0).amount).toBeCloseTo(-0.4, 9);
  });
  test('two opposite stations are no hump', () => expect(shape(0, 0, 0.4, -0.4, 0, 0, 0, 0).kind).not.toBe('hump'));
  test('bend: level, then away, from either end', () => {
    expect(shape(0, 0.02, 0, 0.25, 0.6)).toMatchObject({ kind: 'bend', stations: ['S3', 'S5'] });
    expect(shape(0.6, 0.25, 0, 0.02, 0)).toMatchObject({ kind: 'bend', stations: ['S3', 'S1'] });
  });
  test('law: turned the other way, the same shape the other way', () => {
    for (const v of [
      [0, 0.1, 0.2, 0.3, 0.4],
      [0, 0, 0.4, 0, 0, 0],
      [0, 0.02, 0, 0.25, 0.6],
      [0.3, -0.2, 0.5, 0, 0.1],
    ]) {
      const [there, back] = [shape(...v), shape(...v.map((x) => -x))];
      expect(back).toMatchObject({ kind: there.kind, stations: there.stations });
      expect(back.amount).toBeCloseTo(-there.amount, 12);
    }
  });
  test('two readings have no shape', () => expect(twistShape(A, run(0, 1), 'by level')).toBeUndefined());
});

describe('in words', () => {
  // Item F2: -1.70 and -1.95 where the drawing says -1.38 and -1.65; all others within 0.08 and 0.03 down in the middle.
  test('panel B: a hump at two stations, not a slope', () => {
    const f = finding(panel('washed-out-wing'), 'twist', 'whole panel by level');
    expect(f.value).toBeCloseTo(0, 9);
    expect(f.sentence).toMatch(/A hump at W6 and W7 by level, 0\.(27|28|29)° nose down, not a slope/);
  });
  // Item 12: 0.087 to -0.022 over five stations, then -0.499 at the eighth.
  test('panel A bends from S5 to its tip', () =>
    expect(finding(A, 'twist', 'whole panel by heights').sentence).toMatch(
      /It bends by heights: near level up to S[45], then 0\.(48|50)° nose down by S8\./,
    ));
});
