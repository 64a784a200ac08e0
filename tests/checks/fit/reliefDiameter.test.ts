import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import type { Finding } from '../../../src/checks/finding.ts';
import { reliefDiameterLimit } from '../../../src/checks/fit/reliefDiameter.ts';
import { limitFor } from '../../../src/model/limits.ts';
import type { Model } from '../../../src/model/schema.ts';
import { panel } from '../../model/panels.ts';

const A = panel('narrow-tail');
const IN = 25.4;

/** The panel with every relief hole of its main ribs of one diameter, mm. */
const holesOf = (diameter: number | undefined): Model => ({
  ...A,
  ribs: A.ribs.map((r) => {
    if (r.kind !== 'main') return r;
    const { relief, ...front } = r.front;
    return relief ? { ...r, front: diameter === undefined ? front : { ...front, relief: { ...relief, diameter } } } : r;
  }),
});
const asked = (m: Model): Finding[] => checkAll(m).filter((f) => f.check === 'relief-diameter' && f.at.end === 'front');
const verdicts = (m: Model): string[] => [...new Set(asked(m).map((f) => f.verdict))];

describe('relief hole diameter', () => {
  test('3/16 in, as the panel has it, fits', () => expect(verdicts(holesOf((3 / 16) * IN))).toEqual(['fits']));

  // FAA-H-8083-31 ch. 4: not under 1/8 in for sheet up to and including 0.064 in; 3/16 in for thicker.
  test('published: 1/8 in is the least in thin sheet, 3/16 in in thicker', () => {
    const start = limitFor(A, 'relief-diameter');
    expect(reliefDiameterLimit(start, 0.025 * IN).fits[0]).toBeCloseTo(IN / 8, 9);
    expect(reliefDiameterLimit(start, 0.064 * IN).fits[0]).toBeCloseTo(2 * 0.064 * IN, 9);
    expect(reliefDiameterLimit(start, 0.072 * IN).fits[0]).toBeCloseTo((3 / 16) * IN, 9);
    expect(verdicts(holesOf(IN / 8))).toEqual(['fits']);
    expect(verdicts(holesOf(IN / 8 - 0.1))).toEqual(['watch']);
  });

  test('under twice the sheet is act, whatever the sheet', () => {
    const start = limitFor(A, 'relief-diameter');
    for (const sheet of [0.3, 0.635, 1.6, 2.5, 3.2]) expect(reliefDiameterLimit(start, sheet).act[0]).toBe(2 * sheet);
    expect(verdicts(holesOf(1))).toEqual(['act']);
  });

  test('a wider hole is never judged worse', () => {
    const rank = ['act', 'watch', 'fits'];
    const all = [0.8, 1.2, 1.3, 2, 3, 3.2, 4, 6.35].map((d) => rank.indexOf(verdicts(holesOf(d))[0] ?? ''));
    expect(all).toEqual([...all].sort((a, b) => a - b));
  });

  test('without a relief hole on the drawing nothing is asked', () => expect(asked(holesOf(undefined))).toEqual([]));
});
