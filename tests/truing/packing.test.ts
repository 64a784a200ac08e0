import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { applyEdit } from '../../src/model/edits/edits.ts';
import type { Model } from '../../src/model/schema.ts';
import { attitudeWith, continuousPacks } from '../../src/truing/attitude.ts';
import { packing, packsUnder } from '../../src/truing/packing.ts';
import { putPacksIn } from '../../src/truing/putPacksIn.ts';
import { sharesAt } from '../../src/truing/residuals.ts';
import { allPrinted, changed, finding, panel, printed } from '../model/panels.ts';

const A = panel('narrow-tail');

describe('panel A, item 12', () => {
  test('least squares, any thickness: -0.40, -0.19, +0.50, +2.32 under the front', () => {
    expect(allPrinted(continuousPacks(A, 'front')!, 2)).toEqual(['-0.40', '-0.19', '0.50', '2.32']);
    expect(allPrinted(continuousPacks(A, 'rear')!, 2)).toEqual(['0.40', '0.19', '-0.50', '-2.32']);
  });

  test('the set 0, 0, +0.6, +2.2 leaves at most 0.09 degrees and -0.11 end to end', () => {
    const attitude = attitudeWith(A, 'front', [0, 0, 0.6, 2.2])!;
    expect(printed(Math.max(...attitude.twist.map((t) => Math.abs(t.value))), 2)).toBe('0.09');
    expect(printed(attitude.whole, 2)).toBe('-0.11');
  });

  test('what the stand reads then: 2.2 more at S8, 0.6 at S6, in proportion between', () => {
    const attitude = attitudeWith(A, 'front', [0, 0, 0.6, 2.2])!;
    expect(
      attitude.heights.map((h) =>
        Number((h.front - [60.2, 60.2, 60.1, 60.1, 60, 59.9, 59.9, 59.8][Number(h.station[1]) - 1]!).toFixed(2)),
      ),
    ).toEqual([0, 0, 0, 0.21, 0.39, 0.6, 1.44, 2.2]);
    expect(attitude.heights.map((h) => h.rear)).toEqual([76.9, 76.8, 76.9, 76.9, 76.8, 77.2, 77.9, 78.3]);
  });

  test('nothing put under it is the twist as found', () => {
    expect(
      allPrinted(
        attitudeWith(A, 'front', [0, 0, 0, 0])!.twist.map((t) => t.value),
        3,
      ),
    ).toEqual(['0.087', '0.065', '0.022', '0.000', '-0.022', '-0.130', '-0.326', '-0.499']);
  });

  test('from the drawer: inside the limits, proven, every piece on hand once, and what is left', () => {
    const plan = packing(A)!;
    expect(plan).toMatchObject({ side: 'front', proven: true });
    expect(plan.after.largest).toBeLessThan(1);
    expect(plan.after.largest).toBeGreaterThanOrEqual(plan.bound);
    expect([...plan.packs.flatMap((p) => p.pieces), ...plan.left].sort()).toEqual([...A.stock.packs].sort());
    expect(Math.abs(plan.after.whole)).toBeLessThan(0.2);
    expect(plan.planing.map((p) => p.station)).toContain('S1');
    expect(plan.sentences[0]).toMatch(/^Pack under the front spar: /);
    // The set of item 12 leaves less twist and bends the spar more: its largest share of a limit is larger.
    expect(plan.after.largest).toBeLessThan(attitudeWith(A, 'front', [0, 0, 0.6, 2.2])!.largest);
  });
});

test('a pack is shared straight between supports and goes straight on beyond them', () => {
  expect(sharesAt(0, [0, 100, 300])).toEqual([1, 0, 0]);
  expect(sharesAt(150, [0, 100, 300])).toEqual([0, 0.75, 0.25]);
  expect(sharesAt(400, [0, 100, 300])).toEqual([0, -0.5, 1.5]);
  expect(sharesAt(-50, [0, 100, 300])).toEqual([1.5, -0.5, 0]);
  expect(sharesAt(40, [10])).toEqual([1]);
});

/** Every choice of up to `most` pieces in each place, tried one by one. */
function brute(model: Model, pieces: readonly number[], places: number, most: number): number {
  let best = Infinity;
  const go = (totals: number[], left: readonly number[]): void => {
    if (totals.length === places) {
      best = Math.min(best, attitudeWith(model, 'front', totals)!.largest);
      return;
    }
    for (let mask = 0; mask < 1 << left.length; mask++) {
      const taken = left.filter((_, i) => mask & (1 << i));
      if (taken.length <= most)
        go(
          [...totals, taken.reduce((s, t) => s + t, 0)],
          left.filter((_, i) => !(mask & (1 << i))),
        );
    }
  };
  go([], pieces);
  return best;
}

describe('exact over the stock', () => {
  const piece = fc.integer({ min: 1, max: 25 }).map((n) => n / 10);
  test('against every choice, three supports and up to five pieces', () => {
    fc.assert(
      fc.property(
        fc.array(piece, { minLength: 1, maxLength: 5 }),
        fc.array(fc.double({ min: -1.5, max: 1.5, noNaN: true }), { minLength: 8, maxLength: 8 }),
        fc.integer({ min: 1, max: 3 }),
        (packs, nudges, most) => {
          const model = changed(A, (m) => {
            m.stock.packs = packs;
            m.survey.supports = ['S1', 'S4', 'S8'];
            m.readings
              .filter((r) => r.size.startsWith('height.front'))
              .forEach((r, i) => {
                r.value += nudges[i]!;
              });
          });
          const plan = packsUnder(model, 'front', most)!;
          expect(plan.proven).toBe(true);
          expect(plan.after.largest).toBeCloseTo(brute(model, packs, 3, most), 9);
          expect(plan.after.largest).toBeGreaterThanOrEqual(plan.bound - 1e-9);
          for (const p of plan.packs) expect(p.pieces.length).toBeLessThanOrEqual(most);
        },
      ),
      { seed: 91, numRuns: 12 },
    );
  });

  test('an empty drawer leaves it as it is', () => {
    const plan = packsUnder(
      changed(A, (m) => {
        m.stock.packs = [];
      }),
      'front',
    )!;
    expect(plan.packs.every((p) => p.total === 0)).toBe(true);
    expect(plan.after).toEqual(plan.before);
    expect(plan.sentences[0]).toBe('No pack on hand under the front spar betters it.');
  });

  test('never makes it worse, whichever spar', () => {
    for (const side of ['front', 'rear'] as const) {
      const plan = packsUnder(A, side)!;
      expect(plan.after.largest).toBeLessThanOrEqual(plan.before.largest + 1e-12);
    }
  });

  test('the reference station stays at zero', () => {
    const plan = packsUnder(
      changed(A, (m) => {
        m.survey.reference = 'S4';
      }),
      'front',
    )!;
    expect(plan.after.twist.find((t) => t.station === 'S4')!.value).toBeCloseTo(0, 12);
  });
});

/* Counted from a reference station, the whole spar may be lifted alike and nothing changes: no block stands too high. */
describe('from a reference station', () => {
  const from = (reference: string) =>
    changed(A, (m) => {
      m.survey.reference = reference;
    });

  test.each(['S1', 'S2', 'S4', 'S8'])('%s: no metal is taken off where packing alone lays it true', (reference) => {
    const plan = packsUnder(from(reference), 'front')!;
    expect(plan.after.largest).toBeLessThan(0.6);
    expect(plan.planing).toEqual([]);
    expect(plan.sentences.join(' ')).not.toMatch(/[Pp]lane/);
  });

  test.each(['S1', 'S4', 'S8'])(
    '%s: what the jig asks for is never less than nothing, and leaves no more twist',
    (reference) => {
      const model = from(reference);
      const asked = continuousPacks(model, 'front')!;
      expect(Math.min(...asked)).toBeCloseTo(0, 12);
      const left = (packs: number[]) =>
        attitudeWith(model, 'front', packs)!.twist.reduce((s, t) => s + t.value ** 2, 0);
      // The same packs all a millimetre less: the same twist from the reference.
      expect(left(asked.map((p) => p - 1))).toBeCloseTo(left(asked), 6);
      for (let j = 0; j < asked.length; j++) {
        for (const d of [-0.2, 0.2])
          expect(left(asked.map((p, k) => (k === j ? p + d : p)))).toBeGreaterThanOrEqual(left(asked) - 1e-9);
      }
    },
  );
});

describe('the plan taken', () => {
  const plan = packing(A)!;
  const done = applyEdit(A, putPacksIn(A, plan));
  if (!done.ok) throw new Error(done.faults[0]?.sentence);
  const after = done.model;

  test('the skeleton then reads what the plan said it would, by heights and by level alike', () => {
    for (const t of plan.after.twist)
      expect(finding(after, 'twist', `${t.station} by heights`).value).toBeCloseTo(t.value, 9);
    expect(finding(after, 'twist', 'whole panel by heights').value).toBeCloseTo(plan.after.whole, 9);
    // 2.2 mm under the front at S8 over 264 between the webs turns it by 0.477°, less what the reference station itself turned: the level goes along.
    const moved = finding(after, 'twist', 'S8 by level').value - finding(A, 'twist', 'S8 by level').value;
    expect(moved).toBeCloseTo(
      ((plan.packs.at(-1)!.total / 264) * 180) / Math.PI -
        (finding(after, 'twist', 'S4 by heights').value - finding(A, 'twist', 'S4 by heights').value) *
          (A.survey.reference === 'S4' ? 1 : 0),
      3,
    );
  });

  test('the packs leave the drawer, and what was not read says so', () => {
    expect(after.stock.packs).toEqual(plan.left);
    const changedOnes = after.readings.filter((r, i) => r !== A.readings[i]);
    expect(changedOnes.length).toBeGreaterThan(8);
    expect(
      changedOnes.every(
        (r) => /^(height\.front|level|plumb)@/.test(r.size) && r.note === 'worked out after packing: read it again',
      ),
    ).toBe(true);
  });

  test('asked again, there is little left to pack', () =>
    expect(packsUnder(after, plan.side)!.before.largest).toBeCloseTo(plan.after.largest, 9));
});

test('without heights or without blocks there is nothing to pack', () => {
  expect(packing(panel('plain'))).toBeUndefined();
  expect(
    packing(
      changed(A, (m) => {
        m.survey.supports = [];
      }),
    ),
  ).toBeUndefined();
});
