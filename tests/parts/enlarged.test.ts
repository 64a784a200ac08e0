import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { applyEdit, measure, redraw, usualInstrument } from '../../src/model/edits/edits.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { sizeBook } from '../../src/model/sizes.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { drawnSizes } from '../../src/parts/placed/stance.ts';
import { sceneOf } from '../../src/scene/scene.ts';
import { randomPanel } from '../random-panel.ts';

/*
 * Whatever is read or drawn, and however much the deviations are enlarged, the skeleton can be drawn: a slip of the hand in
 * one size must not take the picture from the builder. The bounds are the law of design: at ×1 the drawing is true, and
 * no enlargement shows less than what is there.
 */

const open = (name: string): Model => {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(name);
  return read.model;
};

/** The panel with one reading more, sure of itself. */
function withReading(model: Model, size: string, value: number): Model {
  const done = applyEdit(model, {
    name: 'read',
    apply: (m) => ({
      ...m,
      readings: [
        ...m.readings.filter((r) => r.size !== size),
        { size, value, instrument: usualInstrument(m, size), sure: true },
      ],
    }),
  });
  if (!done.ok) throw new Error(done.faults[0]!.sentence);
  return done.model;
}

const drawAll = (model: Model): void => {
  for (const magnify of [1, 10, 50]) {
    solidsOf(skeletonOf(model), { magnify, skin: true });
    sceneOf(skeletonOf(model), checkAll(model), { magnify, question: 'fit', station: null });
  }
};

describe('a sheet far from its drawing', () => {
  it.each([0.3, 0.5, 1.11, 1.81, 5.81])(
    '0.81 mm drawn, %f mm read: drawn at ×1, ×10 and ×50, true at ×1 and never less than true',
    (thick) => {
      const model = withReading(open('narrow-tail'), 'sheet.s032', thick);
      drawAll(model);
      const skeleton = skeletonOf(model);
      const { best } = skeleton.book.get('sheet.s032');
      const drawing = skeleton.book.nominal('sheet.s032')!;
      const [at1, at10, at50] = [1, 10, 50].map((magnify) => drawnSizes(skeleton, magnify)('sheet.s032')!);
      expect(at1).toBeCloseTo(best, 12);
      for (const at of [at10!, at50!])
        expect(best > drawing ? at : -at).toBeGreaterThanOrEqual((best > drawing ? best : -best) - 1e-12);
      expect(Math.max(at10!, at50!)).toBeLessThanOrEqual(Math.max(3 * drawing, best) + 1e-12);
    },
  );
});

describe('any sizes, changed again and again', () => {
  const lots = (seed: number): (() => number) => {
    let s = seed;
    return () => {
      s = (Math.imul(s, 1664525) + 1013904223) >>> 0;
      return s / 4294967296;
    };
  };
  it.each(Array.from({ length: 16 }, (_, i) => i + 1))('draw %i can be shown', (seed) => {
    const lot = lots(seed * 7919);
    const pick = <T>(list: readonly T[]): T => list[Math.floor(lot() * list.length)]!;
    let model =
      lot() < 0.5 ? open(pick(['narrow-tail', 'washed-out-wing', 'plain'])) : randomPanel(Math.floor(lot() * 1e6));
    let taken = 0;
    for (let i = 0; i < 8; i++) {
      const book = sizeBook(model);
      const size =
        lot() < 0.25
          ? `sheet.${pick(model.sheets).id}`
          : pick([...book.entries.keys()].filter((key) => book.find(key) ?? book.nominal(key)));
      const base = book.find(size)?.best ?? book.nominal(size);
      const off = (lot() - 0.5) * pick([0.2, 1, 4, 20]);
      if (base === undefined) continue;
      const edit =
        lot() < 0.5
          ? measure(model, size, [base + off], { instrument: usualInstrument(model, size) })
          : redraw(model, size, (book.nominal(size) ?? base) + off);
      const done = edit && applyEdit(model, edit);
      if (!done?.ok) continue;
      taken++;
      model = done.model;
      drawAll(model);
    }
    expect(taken).toBeGreaterThan(0);
  });
});
