import { describe, expect, it } from 'vitest';
import { verdictOf } from '../../src/checks/finding.ts';
import { STARTING_LIMITS } from '../../src/model/limits.ts';
import { levelOf, reachOf } from '../../src/remedies/reach.ts';
import { Draw } from '../random-panel.ts';

/* How far a finding reaches: agrees everywhere with the verdict of a value known exactly (the rule of verdicts, design of the checks). */

describe('reach', () => {
  it.each(STARTING_LIMITS.map((l) => [l.check, l] as const))(
    '%s: level is the verdict of an exact value',
    (_, limit) => {
      const d = new Draw(limit.check.length);
      const ends = [...limit.fits, ...limit.act].filter((v) => v !== null);
      const values = [
        ...ends,
        ...Array.from({ length: 400 }, () => d.between(-12, 12)),
        ...ends.flatMap((e) => [e - 1e-4, e + 1e-4]),
      ];
      for (const v of values)
        expect([v, { fits: 0, watch: 1, act: 2, unsettled: 2 }[verdictOf(v, v, limit)]]).toEqual([
          v,
          levelOf(reachOf(v, limit)),
        ]);
    },
  );

  it('grows outward, and is 1 where fits ends and 2 where act begins', () => {
    const cap = { fits: [-0.05, 0.2], act: [-0.1, 0.5] } as const;
    expect([0, 0.1, 0.2, 0.35, 0.5, -0.05, -0.1].map((v) => reachOf(v, cap))).toEqual(
      [0, 0.5, 1, 1.5, 2, 1, 2].map((v) => expect.closeTo(v, 9)),
    );
    expect(reachOf(0.25, { fits: [0.5, null], act: [0, null] })).toBeCloseTo(1.5, 9);
    expect(reachOf(2.4, { fits: [1.6, 3.2], act: [1.6, 3.2] })).toBe(0);
    expect(reachOf(3.3, { fits: [1.6, 3.2], act: [1.6, 3.2] })).toBeGreaterThan(2);
  });

  it('is a number for every band, open, empty, crossed or a single point', () => {
    const d = new Draw(7);
    const bound = (): number | null => d.one([null, 0, d.between(-3, 3)]);
    for (let i = 0; i < 2000; i++) {
      const bands = { fits: [bound(), bound()], act: [bound(), bound()] } as const;
      const value = d.one([0, d.between(-5, 5), 1e9]);
      expect(reachOf(value, bands), JSON.stringify([value, bands])).toBeGreaterThanOrEqual(0);
    }
  });
});
