import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { forcedShape, skinStrips } from '../../../src/checks/fit/forcedFit.ts';
import { fromNominal, nosesOf } from '../../../src/checks/fit/noseLine.ts';
import { continuousBeam, fibreStress, influences, stripInertia } from '../../../src/mechanics/beam.ts';
import { modulusOf, plateStress, restingPlate } from '../../../src/mechanics/buckling.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, panel } from '../../model/panels.ts';

/* Limit: picked. Beam rows and buckling rows are in their own tests; here, what they come to on the panels. */
const A = panel('narrow-tail');

describe('panel A', () => {
  const s = skeletonOf(A);
  const strips = skinStrips(s);

  test('bending over each nose is that of the whole strip over all eight', () => {
    const noses = nosesOf(s, 'straight');
    const ys = noses.map((n) => n.bay.station.y);
    const { moments } = continuousBeam({
      spans: ys
        .slice(1)
        .map((y, i) => ({ length: y - ys[i]!, stiffness: modulusOf('6061-T6') * stripInertia(1, 0.508) })),
      heights: noses.map(fromNominal),
    });
    // N4 is 0.80 short and the strip sags there; far supports weigh less than a thousandth and are left out.
    strips.forEach((strip, i) => {
      expect(Math.abs(strip.stress) / fibreStress(moments[i + 1]!, 1, 0.508)).toBeCloseTo(1, 2);
    });
    expect(strips[2]!.stress).toBeLessThan(0);
  });

  test('against the flat side of the bay, 121 mm broad', () => {
    expect(strips[2]!.flat).toBeCloseTo(plateStress(restingPlate(290 / 121), modulusOf('6061-T6'), 0.508, 121), 9);
    expect(finding(A, 'forced-fit', 'skin at N4').value).toBeCloseTo(strips[2]!.stress / strips[2]!.flat, 12);
  });

  test('N4 strains it most; always called an estimate', () => {
    const all = [2, 3, 4, 5, 6, 7].map((i) => finding(A, 'forced-fit', `skin at N${i}`));
    expect(all.reduce((a, b) => (Math.abs(b.value) > Math.abs(a.value) ? b : a)).place).toBe('skin at N4');
    for (const f of all) expect(f.sentence).toContain('an estimate');
  });

  test('the value is the chain less what the drawing itself asks of the noses', () => {
    const f = finding(A, 'forced-fit', 'skin at N4');
    // A constant nose of 121 bends nothing: a straight line through all supports.
    expect(best(f.restsOn)).toBeCloseTo(f.value, 6);
  });
});

test('panel B: the nose 2.6 short at W8 strains the skin most there and at its neighbour', () => {
  const all = [2, 3, 4, 5, 6, 7, 8].map((i) => finding(panel('washed-out-wing'), 'forced-fit', `skin at N${i}`));
  const worst = [...all]
    .sort((a, b) => Math.abs(b.value) - Math.abs(a.value))
    .slice(0, 2)
    .map((f) => f.place);
  expect(worst.sort()).toEqual(['skin at N7', 'skin at N8']);
});

test('noses far out of line: buckle likely, act', () => {
  const bad = changed(A, (m) => {
    for (const r of m.readings) if (r.size === 'N4.length') r.value = 110;
  });
  const f = finding(bad, 'forced-fit', 'skin at N4');
  expect(f.verdict).toBe('act');
  expect(f.sentence).toMatch(/an estimate: buckle likely/);
});

describe('the line the pulled skin takes', () => {
  const s = skeletonOf(A);
  const noses = nosesOf(s, 'straight');
  const { points } = forcedShape(s)!;
  const at = (y: number): number => points.findIndex((p) => Math.abs(p.y - y) < 1e-9);

  test('goes through every nose', () => {
    for (const n of noses) expect(points[at(n.bay.station.y)]!.v).toBeCloseTo(fromNominal(n), 12);
  });

  // Laws of a beam bent only by its supports: no break in slope over a support, no bending at its two free ends.
  test('smoothly, and straight at both ends', () => {
    for (const n of noses.slice(1, -1)) {
      const i = at(n.bay.station.y);
      const slope = (j: number): number => (points[j + 1]!.v - points[j]!.v) / (points[j + 1]!.y - points[j]!.y);
      // One-sided slopes at the support, carried to it from two steps each side.
      const [left, right] = [1.5 * slope(i - 1) - 0.5 * slope(i - 2), 1.5 * slope(i) - 0.5 * slope(i + 1)];
      expect(Math.abs(left - right)).toBeLessThan(1e-4);
    }
    const curve = (i: number): number => points[i - 1]!.v - 2 * points[i]!.v + points[i + 1]!.v;
    expect(Math.abs(curve(1))).toBeLessThan(
      0.1 * Math.max(...points.slice(1, -1).map((_, i) => Math.abs(curve(i + 1)))),
    );
  });

  // Two equal spans, middle support raised by 1, ends free: a simple beam pushed up in its middle, (3a - 4a³) of its rise at a of the whole length.
  test('two equal spans: the closed form', () => {
    const two = changed(A, (m) => {
      m.ribs = m.ribs.filter((r) => r.kind === 'tip' || r.id === 'N4');
      m.stations = m.stations
        .filter((x) => ['S1', 'S4', 'S8'].includes(x.id))
        .map((x) => (x.id === 'S4' ? { ...x, y: 0 } : x));
      m.doublers = [];
      m.joints = [];
      m.stages = [];
      delete m.now;
      m.readings = [{ size: 'N4.length', value: 122, instrument: 'rule' }];
      m.survey.supports = [];
    });
    const shape = forcedShape(skeletonOf(two))!;
    for (const p of shape.points) {
      const a = Math.min(p.y + 1036, 1036 - p.y) / 2072;
      expect(p.v).toBeCloseTo(3 * a - 4 * a ** 3, 9);
    }
  });
});

test('without a skin nothing is pulled', () =>
  expect(
    skinStrips(
      skeletonOf(
        changed(A, (m) => {
          delete m.skin;
        }),
      ),
    ),
  ).toEqual([]));

test("the moment for each support alone is the continuous beam's", () => {
  const ys = [0, 150, 350, 480, 700, 820, 1000];
  const spans = ys.slice(1).map((y, i) => ({ length: y - ys[i]!, stiffness: 740 }));
  for (const at of [1, 3, 5]) {
    const g = influences(ys, at, 740);
    ys.forEach((_, j) => {
      expect(g[j]).toBeCloseTo(
        -continuousBeam({ spans, heights: ys.map((__, k) => (k === j ? 1 : 0)) }).moments[at]!,
        10,
      );
    });
  }
});
