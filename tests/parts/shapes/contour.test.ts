import { describe, expect, it } from 'vitest';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { girth } from '../../../src/geometry/outline.ts';
import type { Solid } from '../../../src/geometry/solids.ts';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';
import { type ContourRow, contourBetween } from '../../../src/parts/shapes/contourBetween.ts';
import { fluted, takenUp } from '../../../src/parts/shapes/flutes.ts';
import {
  type EndShape,
  heightAt,
  type MainRibShape,
  mainRibPressed,
  mainRibSolid,
} from '../../../src/parts/shapes/mainRib.ts';
import { noseOutline } from '../../../src/parts/shapes/noseOutline.ts';
import { noseRibSolid } from '../../../src/parts/shapes/noseRib.ts';
import { tipRibSolid } from '../../../src/parts/shapes/tipRib.ts';
import { readOff } from '../../../src/solidChecks/readOff.ts';
import { changed, mainRib, panel, tipRib } from '../../model/panels.ts';
import { chordalLoss, expectClosed } from '../measuring.ts';

const kernel = await openKernel();

/** Half thickness of 0012 in hundredths of the chord, at hundredths of it: NACA Report 460, row 4.1. */
const TABLE = new Map([
  [20, 5.73754],
  [30, 6.00173],
  [40, 5.80301],
  [50, 5.29403],
  [60, 4.56337],
]);
const half = (at: number): number => 10 * TABLE.get(at)!;
const line = (rows: readonly ContourRow[], k: 1 | 2): Vec2[] => rows.map((row): Vec2 => [row[0], row[k]]);

describe('the contour between the spars', () => {
  const size = { length: 400, drawn: 400, cut: 200, front: 2 * half(20), rear: 2 * half(60) };

  it('row 4.1: is the section itself where the ends are as the section has them', () => {
    const rows = contourBetween({ kind: 'naca4', name: '0012', chord: 1000 }, size)!;
    for (const at of TABLE.keys()) {
      expect(Math.abs(heightAt(line(rows, 1), 10 * at - 200) - half(at))).toBeLessThan(0.012);
      expect(Math.abs(heightAt(line(rows, 2), 10 * at - 200) + half(at))).toBeLessThan(0.012);
    }
  });

  it('keeps the ends as measured, whatever the section has there, and lays its bulge between them', () => {
    const rows = contourBetween({ kind: 'naca4', name: '0012', chord: 1000 }, { ...size, front: 110, rear: 95 })!;
    expect(rows[0]).toEqual([0, 55, -55]);
    expect(rows[rows.length - 1]).toEqual([400, 47.5, -47.5]);
    // At 300 of 1000, a quarter of the way: 60.02 less three parts of 57.38 and one of 45.63, on 55 less a quarter of 7.5.
    const bulge = half(30) - (3 * half(20) + half(60)) / 4;
    expect(Math.abs(heightAt(line(rows, 1), 100) - (55 - 7.5 / 4 + bulge))).toBeLessThan(0.012);
  });

  it('is stretched to a rib that came out longer', () => {
    const rows = contourBetween({ kind: 'naca4', name: '0012', chord: 1000 }, { ...size, length: 401 })!;
    expect(rows[rows.length - 1]![0]).toBe(401);
  });

  it('curves more above than below on a cambered section', () => {
    const rows = contourBetween({ kind: 'naca4', name: '4412', chord: 1000 }, size)!;
    expect(heightAt(line(rows, 1), 200) + heightAt(line(rows, 2), 200)).toBeGreaterThan(5);
  });

  it('follows pasted coordinates through their own points', () => {
    const rows = contourBetween(
      {
        kind: 'points',
        chord: 100,
        points: [
          [100, 0],
          [60, 8],
          [20, 8],
          [0, 0],
          [20, -5],
          [60, -5],
          [100, 0],
        ],
      },
      { length: 60, drawn: 60, cut: 20, front: 13, rear: 6.5 },
    )!;
    // Level from 20 to 60, then half way down at 80: 4 over the straight line's end at 80, and the bulge is 8 − (8 + 2·4)/3.
    expect(heightAt(line(rows, 1), 40)).toBeCloseTo(6.5 + (3.25 - 6.5) * (2 / 3) + 8 - (8 * 1 + 4 * 2) / 3, 9);
  });

  it('is undefined where the section does not reach', () => {
    expect(contourBetween({ kind: 'naca4', name: '0012', chord: 500 }, size)).toBeUndefined();
  });
});

const end = (height: number, joggle: number, more: Partial<EndShape> = {}): EndShape => ({
  height,
  joggle,
  flat: joggle > 0 ? 17 : 0,
  tab: 14,
  corner: 2.4,
  ...more,
});
const RIB: MainRibShape = {
  length: 400,
  thickness: 0.635,
  radius: 1.6,
  flange: 14,
  turns: 1,
  front: end(112, 1.45),
  rear: end(89, 0.9),
};
const CURVED: MainRibShape = {
  ...RIB,
  contour: contourBetween(
    { kind: 'naca4', name: '0012', chord: 1000 },
    { length: 400, drawn: 400, cut: 200, front: 112 + 2.9, rear: 89 + 1.8 },
  )!,
};

const tallAt = (solid: Solid, x: number): number => {
  const z = kernel
    .section(solid, { origin: [x, 0, 0], u: [0, 1, 0], v: [0, 0, 1] })
    .flat()
    .map((p) => p[1]);
  return Math.max(...z) - Math.min(...z);
};

describe('a rib of that contour', () => {
  it('is closed, level under the caps at its end heights, and on the contour behind its joggles', () => {
    const solid = mainRibSolid(CURVED);
    expectClosed(kernel.build(solid));
    for (const x of [3, 10, 16.9]) expect(tallAt(solid, x)).toBeCloseTo(112, 6);
    for (const x of [397, 390, 383.1]) expect(tallAt(solid, x)).toBeCloseTo(89, 6);
    for (const x of [40, 100, 200, 300, 350])
      expect(tallAt(solid, x)).toBeCloseTo(2 * heightAt(line(CURVED.contour!, 1), x), 6);
    expect(tallAt(solid, 100) - tallAt(mainRibSolid(RIB), 100)).toBeGreaterThan(8);
    // From under the cap up to the contour no steeper than one in four.
    const [top] = mainRibPressed(CURVED).runs;
    for (const [i, q] of top!.points.slice(1).entries()) {
      const p = top!.points[i]!;
      if (q[0] - p[0] > 1e-6) expect(Math.abs(q[1] - p[1]) / (q[0] - p[0])).toBeLessThan(0.251);
    }
  });

  it('Steiner: weighs its web and the parallel strips of its flanges', () => {
    const plain = (height: number): EndShape => ({ height, joggle: 0, flat: 0, tab: 0, corner: 0 });
    const facets = 6;
    const shape: MainRibShape = { ...CURVED, front: plain(114.9), rear: plain(90.8), facets };
    const [t, r, b] = [0.635, 1.6, 14];
    const o = t + r;
    const upper = line(CURVED.contour!, 1);
    const long = girth(upper);
    const slope = (p: Vec2, q: Vec2): number => Math.atan2(q[1] - p[1], q[0] - p[0]);
    const turn = Math.abs(slope(upper[upper.length - 2]!, upper[upper.length - 1]!) - slope(upper[0]!, upper[1]!));
    const web = upper.slice(1).reduce((sum, q, i) => sum + (q[0] - upper[i]![0]) * (q[1] + upper[i]![1]), 0);
    // Strips at depth d are shorter by d times the turn; the bends' ring has its middle of area (4/3π)(Ro³ − R³)/(Ro² − R²) from its centre.
    const ring = (Math.PI / 4) * (o * o - r * r) - chordalLoss(r, t, facets);
    const middle = o - (4 / (3 * Math.PI)) * ((o ** 3 - r ** 3) / (o * o - r * r));
    const strip = (depth: number): number => long - depth * turn;
    const expected =
      t * (web - 2 * o * (long - (o * turn) / 2)) + 2 * (ring * strip(middle) + t * (b - o) * strip(t / 2));
    // The ends are cut square to the chord, not to the contour: some tenths of a cubic millimetre.
    expect(Math.abs(kernel.volume(mainRibSolid(shape)) - expected)).toBeLessThan(expected * 2e-4);
  });

  it('a tip rib goes on along it behind the front spar', () => {
    const outline = noseOutline(
      { kind: 'naca4', name: '0012', chord: 1000 },
      { length: 200, height: 2 * half(20), cut: 200 },
    );
    const rows = contourBetween(
      { kind: 'naca4', name: '0012', chord: 1000 },
      { length: 400, drawn: 400, cut: 200, front: 2 * half(20), rear: 2 * half(60) },
    )!;
    const solid = tipRibSolid({
      thickness: 0.635,
      radius: 1.6,
      flange: 14,
      turns: 1,
      outline,
      back: 400,
      rear: end(2 * half(60) - 1.8, 0.9),
      behind: rows,
    });
    expectClosed(kernel.build(solid));
    for (const at of [30, 40, 50]) expect(Math.abs(tallAt(solid, 10 * at - 200) - 2 * half(at))).toBeLessThan(0.03);
  });

  it('a panel whose ribs have it reads the same fits off the solids, and its skin lies on their crowns', () => {
    const straight = panel('plain');
    const contour = { kind: 'naca4', name: '0015', chord: 420 } as const;
    const curved = changed(straight, (m) => {
      for (const r of m.ribs) if (r.kind !== 'nose') r.contour = contour;
    });
    const [a, b] = [straight, curved].map((m) => {
      const s = skeletonOf(m);
      return { s, reads: readOff(s, kernel) };
    });
    for (const [i, place] of a!.s.places.entries())
      expect(b!.reads.cap(b!.s.places[i]!)).toEqual(
        a!.reads.cap(place) && {
          top: expect.closeTo(a!.reads.cap(place)!.top, 6),
          bottom: expect.closeTo(a!.reads.cap(place)!.bottom, 6),
        },
      );
    const parts = solidsOf(b!.s, { magnify: 1, skin: true });
    const skin = parts.find((p) => p.kind === 'skin')!;
    const main = parts.find((p) => p.id === 'M2')!;
    const top = (s: Solid): number => kernel.bounds(s).high[2];
    expect(top(main.solid)).toBeGreaterThan(top(solidsOf(a!.s, { magnify: 1 }).find((p) => p.id === 'M2')!.solid) + 1);
    const { y } = straight.stations.find((s) => s.id === mainRib(curved, 'M2').station)!;
    const cut = kernel
      .section(skin.solid, { origin: [0, y, 0], u: [1, 0, 0], v: [0, 0, 1] })
      .flat()
      .map((p) => p[1]);
    expect(Math.abs(Math.max(...cut) - top(main.solid) - 0.508)).toBeLessThan(0.3);
    expect(tipRib(curved, straight.ribs.find((r) => r.kind === 'tip')!.id).contour).toEqual(contour);
  });
});

describe('flutes', () => {
  const FLUTES = { each: 3, width: 12, depth: 1.8 };

  it('are evenly along the flange, as deep as told at its edge and gone at the bend', () => {
    const solid = mainRibSolid({ ...RIB, flutes: FLUTES });
    expectClosed(kernel.build(solid));
    const plain = mainRibSolid(RIB);
    const topAt = (s: Solid, y: number, x: number): number =>
      Math.max(
        ...kernel
          .section(s, { origin: [x, 0, 0], u: [0, 1, 0], v: [0, 0, 1] })
          .flat()
          .filter((p) => Math.abs(p[0] - y) < 0.02)
          .map((p) => p[1]),
      );
    // Kept clear by cap, joggle and two more at each end, counted along the flange.
    const pressed = mainRibPressed({ ...RIB, flutes: FLUTES });
    expect(pressed.flutes!.clear).toBeCloseTo(17 + 4 * 1.45 + 2, 9);
    const slope = Math.hypot(400, (114.9 - 90.8) / 2) / 400;
    const middle = (k: number): number => {
      const [a, b] = [24.8 + 2.4 * slope, 400 * slope - 24.8 - 2.4 * slope];
      return (a + ((b - a) * (k + 0.5)) / 3) / slope;
    };
    for (const k of [0, 1, 2]) {
      const x = middle(k);
      const [, dip] = [plain, solid].map((s) => topAt(s, 14, x));
      expect(topAt(plain, 14, x) - dip!).toBeGreaterThan(1.7);
      expect(topAt(plain, 14, x) - dip!).toBeLessThan(1.85);
      expect(topAt(solid, 14, x + 8)).toBeCloseTo(topAt(plain, 14, x + 8), 6);
      expect(tallAt(solid, x)).toBeCloseTo(tallAt(plain, x), 3);
    }
  });

  it('Cavalieri: move metal and neither add nor take any', () => {
    const plain: EndShape = { height: 90, joggle: 0, flat: 0, tab: 0, corner: 0 };
    const shape: MainRibShape = { ...RIB, front: plain, rear: plain };
    expect(kernel.volume(mainRibSolid({ ...shape, flutes: FLUTES }))).toBeCloseTo(
      kernel.volume(mainRibSolid(shape)),
      6,
    );
  });

  it('go round a nose above and below, and leave its point where it was', () => {
    const outline = noseOutline({ kind: 'ellipse' }, { length: 120, height: 86, cut: 120 });
    const shape = { thickness: 0.635, radius: 1.6, flange: 14, turns: 1 as const, outline, tail: end(86, 0) };
    const [plain, pressed] = [
      noseRibSolid(shape),
      noseRibSolid({ ...shape, flutes: { each: 4, width: 9, depth: 1.5 } }),
    ];
    expectClosed(kernel.build(pressed));
    expect(kernel.bounds(pressed).low[0]).toBeCloseTo(kernel.bounds(plain).low[0], 6);
    const edge = kernel.section(pressed, { origin: [0, 13.9, 0], u: [1, 0, 0], v: [0, 0, 1] }).flat();
    const smooth = kernel.section(plain, { origin: [0, 13.9, 0], u: [1, 0, 0], v: [0, 0, 1] }).flat();
    expect(girth(edge)).toBeGreaterThan(girth(smooth) + 8 * takenUp({ width: 9, depth: 1.5 }));
  });

  it('take up what the wave is longer: the arc of a sine by the complete elliptic integral', () => {
    // E(k) by the arithmetic-geometric mean (Abramowitz and Stegun 17.6).
    // biome-ignore lint/correctness/noComponentHookFactories: a complete elliptic integral is called E
    const E = (m: number): number => {
      let [a, b, c, sum, two] = [1, Math.sqrt(1 - m), Math.sqrt(m), m / 2, 0.5];
      for (let i = 0; i < 12; i++) {
        [a, b, c] = [(a + b) / 2, Math.sqrt(a * b), (a - b) / 2];
        two *= 2;
        sum += two * c * c;
      }
      return (Math.PI / (2 * a)) * (1 - sum);
    };
    for (const [width, depth] of [
      [10, 1.5],
      [12, 3],
      [6, 0.5],
    ] as const) {
      const m = (Math.PI * depth) / width;
      expect(takenUp({ width, depth })).toBeCloseTo(
        ((2 * width) / Math.PI) * Math.hypot(1, m) * E((m * m) / (1 + m * m)) - width,
        9,
      );
    }
  });

  it('keep a run’s own points and names', () => {
    const { run, dents } = fluted(
      {
        points: [
          [0, 5],
          [100, 5],
          [200, 6],
        ],
        name: ['top', 'top'],
      },
      { each: 2, width: 10, depth: 1, clear: 20 },
    );
    expect(run.points).toContainEqual([100, 5]);
    expect(run.name).toHaveLength(run.points.length - 1);
    expect(dents).toHaveLength(run.points.length);
    const at = run.points[dents.indexOf(Math.max(...dents))]!;
    expect(at[0]).toBeCloseTo(
      20 +
        (girth([
          [0, 5],
          [100, 5],
          [200, 6],
        ]) -
          40) /
          4,
      2,
    );
  });
});
