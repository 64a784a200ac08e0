import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { onPaper } from '../../src/drilling/onPaper.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Hole, Model } from '../../src/model/schema.ts';

/* What the drawing says of itself: what was measured or drilled since is no fault of the drawing. Laws, no outside source. */

function modelOf(name: string): Model {
  const read = parseModel(readFileSync(`models/${name}.json`, 'utf8'));
  if (!read.ok) throw new Error(read.faults.map((f) => f.sentence).join(' '));
  return read.model;
}
const holes = (m: Model, change: (h: Hole) => Hole): Model => ({
  ...m,
  joints: m.joints.map((j) => ({ ...j, holes: j.holes.map(change) })),
});
const said = (m: Model): string[] => onPaper(m).map((f) => `${f.id} ${f.verdict} ${f.value}`);

test('a hole opened too soon is not blamed on the drawing', () => {
  // The demo's page: on paper narrow tail fits everywhere; F6 h2 was opened before its last layer was in.
  const m = modelOf('narrow-tail');
  expect(
    m.joints
      .find((j) => j.id === 'F6')!
      .holes.find((h) => h.id === 'h2')!
      .layers.some((l) => l.state === 'final'),
  ).toBe(true);
  expect(
    onPaper(m)
      .filter((f) => f.verdict !== 'fits')
      .map((f) => f.sentence),
  ).toEqual([]);
});

test.each(['narrow-tail', 'washed-out-wing'])('%s says the same on paper whatever was drilled and read', (name) => {
  const m = modelOf(name);
  const drawn = { ...holes(m, (h) => ({ ...h, layers: [] })), readings: [] };
  expect(said(m)).toEqual(said(drawn));
  expect(
    said(holes(m, (h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, state: 'final' as const, size: 9 })) }))),
  ).toEqual(said(drawn));
});

test('a hole drawn too near its edge still does not fit on paper', () => {
  const m = modelOf('narrow-tail');
  const flange = holes(m, (h) => ({ ...h, along: h.along + 6 }));
  expect(onPaper(flange).filter((f) => f.check === 'edge-distance' && f.verdict !== 'fits').length).toBeGreaterThan(0);
});
