import { describe, expect, it } from 'vitest';
import { openKernel } from '../../src/geometry/kernel.ts';
import { box, cylinder, difference, loft, type Solid } from '../../src/geometry/solids.ts';
import type { Vec3 } from '../../src/geometry/vector.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { sparSolid } from '../../src/parts/shapes/spar.ts';
import { densityOf, gramsPerMm3, massOf, massProperties, massText } from '../../src/solidChecks/mass.ts';
import { changed, flat, panel } from '../model/panels.ts';
import { channelArea, chordalLoss } from '../parts/measuring.ts';

const kernel = await openKernel();
const of = (solid: Solid) => massProperties(kernel.build(solid));
const PLAIN = panel('plain');
const A = panel('narrow-tail');
const report = (model = PLAIN) => massOf(skeletonOf(model), kernel);
const row = (id: string, model = PLAIN) => report(model).rows.find((r) => r.id === id)!;

describe('densities', () => {
  it('MT-1: 0.100 lb/in³ is 2767.99 kg/m³ and 0.098 is 2712.63', () => {
    expect(gramsPerMm3(densityOf('2024-T3')) * 1e6).toBeCloseTo(2767.99, 2);
    expect(gramsPerMm3(densityOf('6061-T6')) * 1e6).toBeCloseTo(2712.63, 2);
  });

  it('MT-3: a 24 by 48 in sheet of .032 6061 weighs 3.6127 lb', () => {
    const { volume } = of(box([0, 0, 0], [24 * 25.4, 48 * 25.4, 0.032 * 25.4]));
    expect((volume * gramsPerMm3(densityOf('6061-T6'))) / 453.59237).toBeCloseTo(3.6127, 3);
  });

  it('says which figures are from memory', () => {
    for (const alloy of ['5052-H32', '7075-T6'] as const) expect(densityOf(alloy).origin).toBe('from memory');
    for (const alloy of ['2024-0', '6061-T4'] as const) expect(densityOf(alloy).origin).toContain('MIL-HDBK-5J');
  });
});

describe('volume and centroid', () => {
  it.each([
    ['13.1', 80, 20, 0.8, 3, 1000, 92385.13201776, 3.739846020545],
    ['13.2', 60, 16, 0.635, 2.4, 350, 19646.29504353, 3.110790041076],
  ])('row %s: a formed channel, less the chords of its bends', (_, h, b, t, r, length, volume, xbar) => {
    const ring = (y: number) => ({ y, x: 0, z: 0, depth: h, capWidth: b });
    const found = of(sparSolid({ thickness: t, radius: r, opens: 'aft', stations: [ring(0), ring(length)] }));
    expect(found.volume + 2 * chordalLoss(r, t, 6) * length).toBeCloseTo(volume, 1);
    expect(channelArea(h, b, t, r) * length).toBeCloseTo(volume, 6);
    // The chords leave out a thousandth of the metal, at the bends near the web, 3 mm from the middle.
    expect(Math.abs(found.centroid[0] - xbar)).toBeLessThan(0.004);
    expect(found.centroid[1]).toBeCloseTo(length / 2, 3);
  });

  it('row 13.5: a plate with two holes, less the chords of its holes', () => {
    const holes = [
      [75, 40],
      [160, 32],
    ] as const;
    const n = 48;
    const found = of(
      difference(
        box([0, 0, 0], [300, 80, 0.5]),
        holes.map(([x, d]) => cylinder([x, 40, -1], [x, 40, 2], d / 2, { facets: n })),
      ),
    );
    const chords = (d: number) => (d / 2) ** 2 * (Math.PI - (n / 2) * Math.sin((2 * Math.PI) / n));
    expect(found.volume / 0.5 - holes.reduce((s, [, d]) => s + chords(d), 0)).toBeCloseTo(21939.11521925, 1);
    expect(found.centroid[0]).toBeCloseTo(153.9292971277, 1);
    expect(found.centroid[1]).toBeCloseTo(40, 3);
  });

  it('row 13.10: a frustum of radii 20 and 30, 100 high, less the chords of its rim', () => {
    const n = 720;
    const ring = (r: number, z: number): Vec3[] =>
      Array.from({ length: n }, (_, k) => [
        r * Math.cos((2 * Math.PI * k) / n),
        r * Math.sin((2 * Math.PI * k) / n),
        z,
      ]);
    const found = of(loft([ring(20, 0), ring(30, 100)]));
    expect(found.volume * (Math.PI / ((n / 2) * Math.sin((2 * Math.PI) / n)))).toBeCloseTo(198967.534727, 0);
    expect(found.centroid[2]).toBeCloseTo(56.5789473684, 4);
  });

  it('a second way, part by part: what the kernel holds, and of a spar its section’s polygon by its length', () => {
    const parts = solidsOf(skeletonOf(PLAIN), { magnify: 1 });
    for (const p of parts) expect(of(p.solid).volume / kernel.volume(p.solid)).toBeCloseTo(1, 4);
    const bare = changed(PLAIN, (m) => {
      m.joints = [];
      m.stages = [];
      delete (m as { now?: string }).now;
    });
    const rear = solidsOf(skeletonOf(bare), { magnify: 1 }).find((p) => p.id === 'rear')!;
    const loops = kernel.section(rear.solid, { origin: [0, 450, 0], u: [1, 0, 0], v: [0, 0, 1] });
    const area = loops
      .flatMap((loop) =>
        loop.map(([x, z], i) => (x * loop[(i + 1) % loop.length]![1] - z * loop[(i + 1) % loop.length]![0]) / 2),
      )
      .reduce((a, b) => a + b, 0);
    const { low, high } = kernel.bounds(rear.solid);
    expect(row('rear', bare).volume).toBeCloseTo(Math.abs(area) * (high[1] - low[1]), 0);
  });
});

describe('the panel’s mass', () => {
  it('counts every part once, pieces and rivets too', () => {
    const rows = report(A).rows;
    expect(new Set(rows.map((r) => r.id)).size).toBe(rows.length);
    for (const id of [
      'front',
      'rear',
      'skin',
      ...A.ribs.map((r) => r.id),
      ...A.doublers.map((d) => d.id),
      ...A.brackets.map((b) => b.id),
    ])
      expect(
        rows.some((r) => r.id === id),
        id,
      ).toBe(true);
    expect(rows.filter((r) => r.kind === 'rivet')).toHaveLength(A.joints.reduce((sum, j) => sum + j.holes.length, 0));
    expect(report(A).mass).toBeCloseTo(
      rows.reduce((sum, r) => sum + r.mass, 0),
      9,
    );
  });

  it('a packer adds its plate, at its place, and no more', () => {
    // The skin is left off: it goes round a nose moved forward.
    const bare = changed(PLAIN, (m) => {
      delete (m as { skin?: unknown }).skin;
    });
    const packed = changed(bare, (m) => {
      m.doublers.push(flat('X', 'N2', 'tail', 's032', 'web', 40));
    });
    const x = row('X', packed);
    expect(x.volume).toBeCloseTo(0.8128 * 40 * 28, 1);
    expect(x.centroid[0]).toBeCloseTo(-0.4064, 3);
    expect(report(packed).mass - report(bare).mass).toBeCloseTo(x.mass, 1);
  });

  it('moments: aft of the front spar and outboard of the root, the same for either hand', () => {
    const { rows, moments, mass, centroid } = report();
    expect(moments.aft).toBeCloseTo(rows.reduce((sum, r) => sum + r.mass * r.centroid[0], 0) / 1000, 6);
    expect(moments.outboard).toBeCloseTo((mass * centroid[1]) / 1000, 6);
    expect(moments.outboardOf).toContain('S1');
    const left = changed(PLAIN, (m) => {
      m.hand = 'left';
      m.stations = m.stations.map((s) => ({ ...s, y: -s.y })).reverse();
      for (const s of [m.spars.front, m.spars.rear!]) [s.from, s.to] = [-s.to, -s.from];
      for (const j of m.joints) for (const h of j.holes) h.along = -h.along;
    });
    expect(report(left).moments.outboard).toBeCloseTo(moments.outboard, 1);
    expect(report(left).mass).toBeCloseTo(mass, 2);
    expect(Math.abs(report(A).moments.outboard)).toBeLessThan(5);
    expect(report(A).moments.outboardOf).toContain('middle');
  });

  it('prints every part, the sums and the caution', () => {
    const text = massText(PLAIN, report());
    for (const r of PLAIN.ribs) expect(text).toContain(r.id);
    expect(text).toContain('does not check strength');
    expect(text).toContain('from memory');
  });
});
