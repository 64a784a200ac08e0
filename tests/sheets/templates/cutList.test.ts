import { describe, expect, test } from 'vitest';
import type { Model } from '../../../src/model/schema.ts';
import { cutListSheet } from '../../../src/sheets/templates/cutList.ts';
import { cutMass } from '../../../src/sheets/templates/cutMass.ts';
import { blanksFor, GAP, nestOn } from '../../../src/sheets/templates/onBlanks.ts';
import { cutPieces, ribPieces } from '../../../src/sheets/templates/pieces.ts';
import { job, panel } from '../panel.ts';

/* The cut list of the demo panels, by hand from the panel file and the handbook's density of 6061, 0.098 lb/in³. */

const A = panel('narrow-tail');
const said = (model: Model, remake: readonly string[] = []): string =>
  cutListSheet(job(model), remake)
    .pages.flatMap((p) => p.ink.flatMap((i) => (i.kind === 'text' ? [i.text] : [])))
    .join(' ');
const withBlanks = (blanks: Model['stock']['blanks'] & {}): Model => ({ ...A, stock: { ...A.stock, blanks } });

describe('what is on it', () => {
  const text = said(A);

  test('every doubler with its flat, bend lines, radius, grain, count and place', () => {
    for (const id of ['D2', 'D3', 'D4', 'D5', 'D6', 'D7']) expect(text).toContain(id);
    expect(text).toContain('28.00 × 109.01');
    // D4 by hand from its lower edge: 14.0 - (1.9844 + 0.635) = 11.38; + 3.5586 = 14.94; + 84.37 - 5.2388 = 94.07; + 3.5586 = 97.63.
    expect(text).toMatch(/11\.38, 14\.94, 94\.07, ?97\.63/);
    for (const words of ['5/64 in', 'across bends', 'front of M4 at S4', 'channel doubler', '6061-T6', 'Arrow'])
      expect(text).toContain(words);
  });

  test('mass of D4: 28 × 109.01 × 0.635 mm at 0.098 lb/in³ is 5.26 g', () => {
    const piece = cutPieces(A).find((p) => p.parts[0]!.id === 'D4')!;
    const density = (0.098 * 453.59237) / 25.4 ** 3;
    const tall =
      84.37 - 2 * (1.9844 + 0.635) + 2 * (14 - 1.9844 - 0.635) + 2 * 90 * (0.01743 * 1.9844 + 0.0078 * 0.635);
    expect(piece.mass).toBeCloseTo(28 * tall * 0.635 * density, 6);
  });

  test('nothing added to the drawing is said so; ribs made again are listed and add nothing', () => {
    expect(text).toContain('Nothing was added to the drawing.');
    const again = said(A, ['M6', 'T8']);
    expect(again).toContain('adding nothing: M6, T8');
    expect(again).toContain('287.21 × 107.82');
  });

  test('a packer added at the last nose rib counts as added, outboard, about the middle of a panel of both hands', () => {
    const packer = {
      id: 'P7',
      form: 'flat',
      on: 'web',
      sheet: 's032',
      part: 'N7',
      end: 'tail',
      height: 40,
      width: 28,
      designed: false,
    } as const;
    const model: Model = { ...A, doublers: [...A.doublers, packer] };
    const found = cutMass(model, cutPieces(model));
    const grams = (28 * 40 * 0.8128 * 0.098 * 453.59237) / 25.4 ** 3;
    expect(found.added).toBeCloseTo(grams, 9);
    // S7 stands at 742 of 1036.
    expect(found.addedOutboard).toBeCloseTo(grams, 9);
    expect(found.addedMoment).toBeCloseTo(grams * 742, 6);
    expect(said(model)).toMatch(/Added to the drawing 2\.5 g, of it 2\.5 g in the outboard half/);
  });

  test('on a right-hand wing the root is the first station', () => {
    const B = panel('washed-out-wing');
    const model: Model = { ...B, doublers: B.doublers.map((d) => ({ ...d, designed: false })) };
    const { added, addedMoment } = cutMass(model, cutPieces(model));
    // D6 at W6: 1670 - 30 outboard.
    expect(addedMoment / added).toBeCloseTo(1640, 9);
  });
});

describe('on the sheet on hand', () => {
  const pieces = cutPieces(A);

  test('none listed: one size assumed, said, and the pieces on it', () => {
    expect(said(A)).toContain('a size assumed: the file lists no blank of this sheet on hand');
    const nesting = nestOn(A, 's025', pieces);
    expect([nesting.assumed, nesting.used.length, nesting.left.length, nesting.least]).toEqual([true, 1, 0, 1]);
    // Six of 28 × about 109: 0.0099 of the 0.186 m².
    expect(nesting.used[0]!.blank.width).toBeCloseTo(24 * 25.4, 9);
  });

  test('grain runs across the bends: along the blank', () => {
    for (const p of nestOn(A, 's025', pieces).used.flatMap((u) => u.placed)) {
      expect(p.turned).toBe(false);
      expect(p.width).toBeGreaterThan(108);
      expect(p.height).toBeCloseTo(28, 9);
    }
  });

  test('blanks on hand are used and no others; what finds no room is named', () => {
    // 120 × 95 takes three of 28 with two gaps between (90); the fourth has no room.
    const model = withBlanks([
      { sheet: 's025', width: 120, height: 3 * 28 + 2 * GAP + 5, count: 1 },
      { sheet: 's032', width: 600, height: 300, count: 4 },
    ]);
    const nesting = nestOn(model, 's025', pieces);
    expect([nesting.assumed, nesting.used.length, nesting.left.length]).toEqual([false, 1, 3]);
    expect(said(model)).toMatch(/No room on what is on hand for D\d, D\d, D\d\./);
    expect(nestOn(withBlanks([{ sheet: 's025', width: 120, height: 95, count: 2 }]), 's025', pieces)).toMatchObject({
      left: [],
      least: 2,
    });
  });

  test('a blank with the grain the wrong way takes none', () => {
    expect(
      nestOn(withBlanks([{ sheet: 's025', width: 100, height: 600, count: 1 }]), 's025', pieces).left,
    ).toHaveLength(6);
    expect(said(withBlanks([{ sheet: 's025', width: 100, height: 600, count: 1 }]))).toContain(
      'Nothing fits on what is on hand.',
    );
  });

  test('a long rib has a larger size assumed', () => {
    const B = panel('washed-out-wing');
    const tip = ribPieces(B, ['T1']);
    const { blanks } = blanksFor(
      B,
      's032',
      tip.map((p) => ({ id: 'T1', along: 888, across: 194, turns: p.pattern.grain === null })),
    );
    expect(blanks[0]!.width).toBeCloseTo(48 * 25.4, 9);
  });

  test('shares of the sheet add up to the whole', () => {
    const [, metal, offcut] = /(\d+) % of the sheet begun becomes pieces, (\d+) % is offcut/.exec(said(A))!;
    expect(Number(metal) + Number(offcut)).toBe(100);
    // Six by 28 × 108.9 on 609.6 × 304.8 is 9.8 %.
    expect(Number(metal)).toBe(10);
  });
});

test('a panel with nothing to cut says so', () => {
  expect(said({ ...A, doublers: [] })).toContain('There is nothing to cut');
});
