import { describe, expect, test } from 'vitest';
import { limitFor, STARTING_LIMITS } from '../../src/model/limits.ts';
import { changed, finding, panel } from './panels.ts';

describe('starting limits', () => {
  // A careful builder's list: what fits and what must not be left.
  test.each([
    ['cap-gap', [-0.05, 0.2], [-0.1, 0.5]],
    ['cap-split', [null, 0.1], [null, 0.25]],
    ['chord-gap', [-0.1, 0.3], [-0.2, 0.6]],
    ['nose-kink', [-0.5, 0.5], [-1, 1]],
    ['nose-line', [-1, 1], [-2, 2]],
    ['lean', [-0.3, 0.3], [-0.6, 0.6]],
    ['skew', [-1, 1], [-2, 2]],
    ['diagonals', [-1, 1], [-2, 2]],
    ['bow', [-1, 1], [-2, 2]],
    ['twist', [-0.2, 0.2], [-0.3, 0.3]],
    // A level turned end for end tells a step to ±0.20 degrees: the trade's 0.10 and 0.20 could never be settled with it.
    ['twist-step', [-0.15, 0.15], [-0.3, 0.3]],
    ['edge-distance', [2, null], [2, null]],
    ['pitch', [4, 8], [3, null]],
    ['hole-cleanup', [0.1, null], [0, null]],
    ['skin-step', [-0.1, 0.3], [-0.2, 0.6]],
    ['relief', [0.5, null], [0, null]],
    ['bend-ride', [null, 0.05], [null, 0.1]],
  ])('%s fits %j, act %j', (check, fits, act) => {
    expect(limitFor(panel('plain'), check)).toMatchObject({ fits, act });
  });

  test('each says where it comes from, and no act threshold lies inside its fits', () => {
    for (const l of STARTING_LIMITS) {
      expect(l.origin.length).toBeGreaterThan(10);
      const [[f1, f2], [a1, a2]] = [l.fits, l.act];
      if (a1 !== null) expect(f1 !== null && a1 <= f1, l.check).toBe(true);
      if (a2 !== null) expect(f2 !== null && a2 >= f2, l.check).toBe(true);
    }
    expect(new Set(STARTING_LIMITS.map((l) => l.check)).size).toBe(STARTING_LIMITS.length);
  });

  test('a check without a limit is a fault of the program', () =>
    expect(() => limitFor(panel('plain'), 'paint')).toThrow(RangeError));
});

describe("the panel's own limits", () => {
  const own = changed(panel('narrow-tail'), (m) => {
    m.limits.push({
      check: 'cap-gap',
      fits: [-0.3, 0.6],
      act: [-0.6, 0.9],
      origin: 'drawing',
      reason: 'sheet 3, note 2',
    });
  });

  test('stand in the place of the starting value, with who says so and why', () => {
    expect(limitFor(own, 'cap-gap')).toMatchObject({
      fits: [-0.3, 0.6],
      act: [-0.6, 0.9],
      unit: 'mm',
      origin: 'drawing: sheet 3, note 2',
    });
    expect(limitFor(own, 'chord-gap')).toEqual(limitFor(panel('narrow-tail'), 'chord-gap'));
    expect(limitFor(panel('narrow-tail'), 'cap-gap').fits).toEqual([-0.05, 0.2]);
  });

  // By hand: M2 at -0.32 ± 0.19 spans -0.30, and lies inside -0.60: watch, where the starting limit said act.
  test('change the verdict and not the value', () => {
    expect(finding(panel('narrow-tail'), 'cap-gap', 'M2 front').verdict).toBe('act');
    const f = finding(own, 'cap-gap', 'M2 front');
    expect(f.verdict).toBe('watch');
    expect(f.limits).toMatchObject({ fits: [-0.3, 0.6], act: [-0.6, 0.9], origin: 'drawing: sheet 3, note 2' });
    expect(f.value).toBe(finding(panel('narrow-tail'), 'cap-gap', 'M2 front').value);
  });
});
