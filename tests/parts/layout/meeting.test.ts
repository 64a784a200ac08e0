import { describe, expect, test } from 'vitest';
import { best, chain, covariance, uncertainty } from '../../../src/chains/chain.ts';
import type { Size } from '../../../src/chains/size.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Model } from '../../../src/model/schema.ts';
import { sizeBook } from '../../../src/model/sizes.ts';
import { byParts, feelableAt, feelerGaps } from '../../../src/parts/layout/feelers.ts';
import { capGapChain, capSplitChains, chordGapChain } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { column, inverse, minus, times, transpose } from '../../chains/dense.ts';
import { changed, finding, panel, printed } from '../../model/panels.ts';

const A = panel('narrow-tail');
const feel = (model: Model, gaps: Record<string, number>): Model =>
  changed(model, (m) => {
    for (const [size, value] of Object.entries(gaps)) m.readings.push({ size, value, instrument: 'feeler' });
  });
const placeOf = (model: Model, name: string) => skeletonOf(model).places.find((p) => `${p.rib.id} ${p.end}` === name)!;
const bayOf = (model: Model, station: string) => skeletonOf(model).bays.find((b) => b.station.id === station)!;

/* Item 14 of panel A: the 0.032 in channel at M5 leaves k = -0.23, u 0.27 by rule: 68 in 100 tighter than -0.10. */
describe('M5 between the webs, felt', () => {
  const thick = changed(A, (m) => {
    m.doublers.find((d) => d.id === 'D5')!.sheet = 's032';
  });

  test('by its parts: -0.23, u 0.27, 68 in 100 beyond -0.10', () => {
    const f = finding(thick, 'chord-gap', 'M5');
    expect([printed(f.value, 2), printed(f.u, 2)]).toEqual(['-0.23', '0.27']);
    const at = changed(thick, (m) => {
      m.limits.push({
        check: 'chord-gap',
        fits: [-0.1, 0.3],
        act: [-0.1, 0.6],
        origin: 'builder',
        reason: 'tighter than 0.10 props the spars',
      });
    });
    const tight = finding(at, 'chord-gap', 'M5');
    expect(Math.round(100 * tight.chance)).toBe(68);
    expect(tight.verdict).toBe('unsettled');
    for (const [felt, verdict] of [
      [-0.3, 'act'],
      [0.05, 'fits'],
    ] as const) {
      const done = finding(feel(at, { 'chord.M5': felt }), 'chord-gap', 'M5');
      expect(printed(done.u, 2)).toBe('0.03');
      expect(done.value).toBeCloseTo(felt, 2);
      expect(done.verdict).toBe(verdict);
      expect(done.basis).toBe('measured');
      expect(done.sentence).toContain('its parts alone say -0.23 mm');
    }
  });

  test('the length of M5 moves most, for it is least sure; every other chain it enters knows', () => {
    const felt = feel(thick, { 'chord.M5': 0.05 });
    const [before, after] = [skeletonOf(thick).book, skeletonOf(felt).book];
    const moved = (key: string): number => after.get(key).best - before.get(key).best;
    expect(moved('M5.length')).toBeLessThan(-0.2);
    expect(moved('webs@S5')).toBeGreaterThan(0.03);
    expect(Math.abs(moved('webs@S5'))).toBeLessThan(Math.abs(moved('M5.length')));
    expect(moved('M4.length')).toBe(0);
    expect(sizeBook(felt).get('M5.length').best).toBe(262.6); // what was read stays as it was read
  });
});

test('every gap of a station that a feeler can reach, and what its parts say', () => {
  expect(feelableAt(skeletonOf(A), bayOf(A, 'S5')).map((f) => f.key)).toEqual([
    'step.N5.tail',
    'gap.M5.front',
    'step.M5.front',
    'gap.M5.rear',
    'step.M5.rear',
    'chord.M5',
  ]);
  const held = changed(A, (m) => {
    m.readings.push({ size: 'M5.front.bias', value: 0.1, instrument: 'feeler' });
  });
  expect(feelableAt(skeletonOf(held), bayOf(held, 'S5')).map((f) => f.what)).toEqual([
    'steps',
    'caps',
    'top',
    'bottom',
    'steps',
    'caps',
    'steps',
    'webs',
  ]);
  for (const key of ['gap.M5.front', 'gap.M5.front.top', 'gap.M5.rear.bottom', 'chord.M5', 'gap.T1.rear'])
    expect(sizeBook(A).entries.get(key)?.kind, key).toBe('gap');
  // A skin step can be felt at an end that butts too; a gap between caps cannot.
  for (const key of ['step.T1.rear', 'step.N5.tail']) expect(sizeBook(A).entries.get(key)?.kind, key).toBe('step');
  for (const key of ['gap.N5.tail', 'chord.T1']) expect(sizeBook(A).entries.has(key), key).toBe(false);
});

describe('against dense weighted least squares over every size of the panel', () => {
  const many = feel(
    changed(A, (m) => {
      m.instruments.push({ id: 'stick', name: 'the inside stick', scale: 4e-4, u: {} });
      m.readings.push(
        { size: 'M3.length', value: 262.6, instrument: 'caliper' },
        { size: 'M3.front.bias', value: 0.05, instrument: 'feeler' },
      );
    }),
    {
      'gap.M2.front': -0.25,
      'gap.M3.front': 0.33,
      'gap.M3.front.top': 0.1,
      'gap.M5.rear': 0.1,
      'chord.M5': 0.1,
      'chord.M6': 0.88,
      'chord.M3': -0.02,
    },
  );

  test('best values, uncertainties and covariances', () => {
    const s = skeletonOf(many);
    const parts = byParts(s);
    const gaps = s.bays.flatMap((b) => feelerGaps(parts, b));
    expect(gaps.map((g) => g.key)).toHaveLength(7);
    const keys = [...sizeBook(many).entries.keys()].filter((k) => !/^(gap|chord)\./.test(k) && sizeBook(many).find(k));
    const prior = keys.map((k) => sizeBook(many).get(k));
    const sigma = prior.map((a) => prior.map((b) => covariance(a, b)));
    const h = gaps.map((g) => prior.map((p) => g.computed.find((t) => t.size.key === p.key)?.c ?? 0));
    const innovation = times(times(h, sigma), transpose(h)).map((row, i) =>
      row.map((v, j) => v + (i === j ? gaps[i]!.read.u ** 2 : 0)),
    );
    const gain = times(times(sigma, transpose(h)), inverse(innovation));
    const miss = column(gaps.map((g) => g.read.best - best(g.computed)));
    const step = times(gain, miss);
    const after = minus(sigma, times(times(gain, h), sigma));
    const now = keys.map((k) => s.book.get(k));
    const far: string[] = [];
    now.forEach((a, i) => {
      if (Math.abs(a.best - prior[i]!.best - step[i]![0]!) > 1e-9) far.push(`${a.key}: ${a.best}`);
      now.forEach((b, j) => {
        if (Math.abs(covariance(a, b) - after[i]![j]!) > 1e-11) far.push(`${a.key}, ${b.key}`);
      });
    });
    expect(far).toEqual([]);
    // One stick reads all chords: a rib nobody felt has its room known a little better too.
    expect(s.book.get('webs@S7').u).toBeLessThan(sizeBook(many).get('webs@S7').u);
  });

  // Feeling every gap leaves the sums of the panel as sure as the feeler, whatever the parts.
  test('a gap felt is as sure as the feeler, and what it says is nearly what was felt', () => {
    const s = skeletonOf(many);
    for (const g of s.bays.flatMap((b) => feelerGaps(s, b))) {
      expect(uncertainty(g.computed), g.key).toBeLessThanOrEqual(g.read.u + 1e-9);
      expect(Math.abs(best(g.computed) - g.read.best), g.key).toBeLessThan(0.05);
    }
  });
});

describe('one side felt where nobody measured how the rib is held', () => {
  const one = feel(A, { 'gap.M5.front.top': 0.31 });
  const two = feel(A, { 'gap.M5.front.top': 0.31, 'gap.M5.front.bottom': 0.05 });
  const sides = (m: Model) => capSplitChains(skeletonOf(m), placeOf(m, 'M5 front'));

  test('the top is known, the bottom is what is left of the sum, and the sum is as before', () => {
    const { top, bottom, held } = sides(one);
    expect(held).toBe(true);
    expect(best(top)).toBeCloseTo(0.31, 4);
    expect(uncertainty(top)).toBeCloseTo(0.03, 4);
    expect(best(capGapChain(skeletonOf(one), placeOf(one, 'M5 front')))).toBeCloseTo(0.38, 4);
    expect(best(bottom)).toBeCloseTo(0.07, 4);
    expect(uncertainty(bottom)).toBeGreaterThan(0.09);
  });

  // trade 2.1: the same gap by two feelers carries 0.042 mm where by subtraction it carries 0.096.
  test('both felt: the sum carries 0.042 at most where by subtraction it carried 0.095', () => {
    const g = capGapChain(skeletonOf(two), placeOf(two, 'M5 front'));
    expect(uncertainty(capGapChain(skeletonOf(A), placeOf(A, 'M5 front')))).toBeGreaterThan(0.094);
    expect(uncertainty(g)).toBeLessThan(0.03 * Math.SQRT2);
    expect(uncertainty(g)).toBeGreaterThan(0.035);
    expect(best(g)).toBeCloseTo(0.36, 1);
    expect(finding(two, 'cap-split', 'M5 front').sense).toBe('daylight at the top');
  });
});

describe('what is remembered', () => {
  // A gap felt at M2 moves the sheet that every other station's doublers are cut from.
  test('a felt gap changes the answers of other stations, and taking it back restores them', () => {
    const drawn = changed(A, (m) => {
      m.readings = m.readings.filter((r) => r.size !== 'sheet.s025');
    });
    const before = checkAll(drawn);
    const felt: Model = {
      ...drawn,
      readings: [...drawn.readings, { size: 'gap.M2.front', value: -0.1, instrument: 'feeler' }],
    };
    const fresh = checkAll(structuredClone(felt));
    const kept = checkAll(felt);
    expect(kept.map((f) => [f.id, f.value, f.u])).toEqual(fresh.map((f) => [f.id, f.value, f.u]));
    const m7 = (all: readonly { id: string; value: number }[]): number =>
      all.find((f) => f.id === 'cap-gap:M7-front')!.value;
    expect(m7(kept)).not.toBe(m7(before));
    // Then a part of M2 is read again: M2's gap was felt, so that moves the sheet too.
    const again: Model = {
      ...felt,
      readings: felt.readings.map((r) => (r.size === 'M2.front.height' ? { ...r, value: 83.2 } : r)),
    };
    expect(checkAll(again).map((f) => [f.id, f.value, f.u])).toEqual(
      checkAll(structuredClone(again)).map((f) => [f.id, f.value, f.u]),
    );
    expect(checkAll({ ...again, readings: drawn.readings }).map((f) => f.value)).toEqual(before.map((f) => f.value));
  });

  test('a panel with felt gaps is written and read again as it was', () => {
    const felt = feel(A, { 'gap.M2.front': 0.2, 'chord.M5': -0.15 });
    const again = parseModel(writeModel(felt));
    expect(again.ok ? again.model : again.faults).toEqual(felt);
  });

  test('without a feeler the sizes are those of the book of sizes itself', () => {
    const [book, sizes] = [skeletonOf(A).book, sizeBook(A)];
    for (const key of sizes.entries.keys()) expect(book.find(key)).toBe(sizes.find(key));
  });
});

test('sizes felt as they were computed keep every best value', () => {
  const s = skeletonOf(A);
  const k = best(chordGapChain(s, bayOf(A, 'S5'), bayOf(A, 'S5').main!, 'straight'));
  const felt = feel(A, { 'chord.M5': k, 'gap.M5.front': best(capGapChain(s, placeOf(A, 'M5 front'))) });
  for (const f of checkAll(felt)) {
    const g = checkAll(A).find((x) => x.id === f.id);
    if (g) expect(f.value, f.id).toBeCloseTo(g.value, 9);
    if (g) expect(f.u, f.id).toBeLessThanOrEqual(g.u + 1e-9);
  }
});

// A reading with a spread: the mean of three feelings, s²/3 + 0.03² (JCGM 100, 4.2.3).
test('several feelings of one gap count by their mean and spread', () => {
  const three = changed(A, (m) => {
    for (const value of [0.3, 0.36, 0.33]) m.readings.push({ size: 'gap.M5.front', value, instrument: 'feeler' });
  });
  const felt: Size = skeletonOf(three).book.get('gap.M5.front');
  expect(felt.best).toBeCloseTo(0.33, 12);
  expect(felt.u).toBeCloseTo(Math.sqrt(0.0009 / 3 + 0.0009), 12);
  expect(uncertainty(chain([1, felt]))).toBe(felt.u);
});
