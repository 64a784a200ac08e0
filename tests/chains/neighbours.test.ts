import { describe, expect, test } from 'vitest';
import { doubtsOff, median, saidByOthers, type Told } from '../../src/chains/neighbours.ts';
import { Draw } from '../random-panel.ts';

/* Expected values by hand and by law; the repeated-median line is Siegel's (Biometrika 69, 1982). */

const row = (values: readonly number[], step = 100): Told[] =>
  values.map((value, i) => ({ at: i * step, value, u: 0 }));

describe('what the others say of a reading', () => {
  test('one other says nothing, two say their middle and doubt it by what they differ', () => {
    expect(saidByOthers(0, row([60]), 1)).toBeUndefined();
    expect(saidByOthers(0, row([60, 60]), 1)?.value).toBe(60);
    expect(saidByOthers(0, row([60, 62]), 1)!.u).toBeGreaterThan(saidByOthers(0, row([60, 60]), 1)!.u);
  });

  test('on a straight line they say the line, between them and beyond them', () => {
    const line = row([10, 12, 14, 16, 18]);
    expect(saidByOthers(250, line, 0.1)?.value).toBeCloseTo(15, 12);
    expect(saidByOthers(500, line, 0.1)?.value).toBeCloseTo(20, 12);
    expect(saidByOthers(500, line, 0.1)!.u).toBeGreaterThan(saidByOthers(200, line, 0.1)!.u);
  });

  test('of eight, three that are far off change neither the line nor, by much, its doubt', () => {
    const clean = row([1, 2, 3, 4, 5, 6, 7, 8]);
    const spoilt = clean.map((t, i) => ([1, 4, 6].includes(i) ? { ...t, value: 500 * (i + 1) } : t));
    const [a, b] = [saidByOthers(350, clean, 0.2)!, saidByOthers(350, spoilt, 0.2)!];
    expect(b.value).toBeCloseTo(a.value, 9);
    expect(b.u).toBeCloseTo(a.u, 9);
  });

  test('moved along, raised or turned they say the same of what moves with them', () => {
    const d = new Draw(7);
    for (let n = 0; n < 200; n++) {
      const told = row(Array.from({ length: 5 + Math.floor(d.next() * 4) }, () => d.between(-5, 5)));
      const [shift, lift, turn] = [d.between(-900, 900), d.between(-50, 50), d.between(-0.1, 0.1)];
      const moved = told.map((t) => ({ ...t, at: t.at + shift, value: t.value + lift + turn * t.at }));
      const [was, is] = [saidByOthers(230, told, 1)!, saidByOthers(230 + shift, moved, 1)!];
      expect(is.value).toBeCloseTo(was.value + lift + turn * 230, 6);
      expect(is.u).toBeCloseTo(was.u, 6);
    }
  });

  test('how far off: in doubts of both', () => {
    expect(doubtsOff({ at: 0, value: 5, u: 3 }, { value: 0, u: 4 })).toBe(1);
    expect(median([3, 1, 2])).toBe(2);
    expect(median([4, 1, 2, 3])).toBe(2.5);
  });
});
