import { readFileSync } from 'node:fs';
import { describe, expect, test } from 'vitest';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { cylinder } from '../../../src/geometry/solids.ts';
import type { Vec3 } from '../../../src/geometry/vector.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { doublerMarks } from '../../../src/parts/flat/cutDoublers.ts';
import { sizesFor } from '../../../src/parts/flat/drawnRibs.ts';
import { drillStrips } from '../../../src/parts/flat/drillStrip.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';

/* Strips by hand from the panel file; their holes against the holes in the built solids, found by pushing a pin through. */

const kernel = await openKernel();
const open = (name: string) => {
  const read = parseModel(readFileSync(new URL(`../../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not parse`);
  return read.model;
};
const A = open('narrow-tail');

describe('drill strips of panel A', () => {
  const strips = drillStrips(sizesFor(skeletonOf(A), 0));
  const serving = (joint: string, part: string) =>
    strips.find((s) => s.serves.some((k) => k.joint === joint && k.part === part))!;

  test('row 7.2 from the web, 6.8 from the edge of a 14.0 tab, holes 24 apart', () => {
    const strip = serving('F2', 'N2');
    expect(strip.layer).toBe('nose rib tab');
    expect(strip.edges).toEqual([0, 14]);
    expect(strip.row).toBe(7.2);
    expect(strip.holes.map((h) => [h.x, h.y])).toEqual([
      [7.2, 24],
      [7.2, 0],
      [7.2, -24],
    ]);
    expect([strip.pilot, strip.final]).toEqual([2.4892, 3.2639]);
  });

  // Flanges point outboard. Looking aft from ahead of the nose, the left half of the panel is on your right.
  test('looking aft a left rib’s tab goes to the right, a right one’s to the left; looking forward the other way', () => {
    expect([serving('F2', 'M2').looking, serving('F2', 'M2').tabSide]).toEqual(['aft', 1]);
    expect([serving('F7', 'M7').looking, serving('F7', 'M7').tabSide]).toEqual(['aft', -1]);
    expect([serving('R2', 'M2').looking, serving('R2', 'M2').tabSide]).toEqual(['forward', -1]);
  });

  test('a doubler 28 wide, centred on the tab, reaches 7 past it each side', () =>
    expect(serving('F2', 'D2').edges).toEqual([-7, 21]));

  test('the spar’s web goes on: no edges, and every station of one hand on one strip', () => {
    const strip = serving('F2', 'front');
    expect(strip.edges).toBeNull();
    expect(strip.serves.map((s) => s.station)).toEqual(['S2', 'S3', 'S4']);
  });

  test('every layer of every joint has a strip, and each once', () => {
    const all = strips.flatMap((s) => s.serves.map((k) => `${k.joint}/${k.part}`));
    expect(new Set(all).size).toBe(all.length);
    for (const j of A.joints) for (const part of j.layers) expect(all).toContain(`${j.id}/${part}`);
  });

  test('a row in a cap takes no strip and puts no mark in a doubler’s web', () => {
    const like = A.joints.find((j) => j.id === 'F4')!;
    const capped = {
      ...A,
      joints: [...A.joints, { ...like, id: 'C4', on: 'top' as const, layers: ['front', 'D4', 'M4'] }],
    };
    const b = sizesFor(skeletonOf(capped), 1);
    expect(
      drillStrips(b)
        .flatMap((s) => s.serves)
        .some((k) => k.joint === 'C4'),
    ).toBe(false);
    const place = b.skeleton.places.find((p) => p.rib.id === 'M4' && p.end === 'front')!;
    expect(doublerMarks(b, place, place.doublers[0]!)).toHaveLength(3);
  });

  test('a packer’s strip on panel B', () => {
    const b = open('washed-out-wing');
    const strip = drillStrips(sizesFor(skeletonOf(b), 0)).find((s) => s.serves.some((k) => k.part === 'D6'))!;
    expect(strip.layer).toBe('packer');
    expect(strip.edges![1] - strip.edges![0]).toBeCloseTo(84, 9);
  });
});

describe('holes of a doubler’s flat', () => {
  const skeleton = skeletonOf(A);
  const b = sizesFor(skeleton, 1);
  const parts = solidsOf(skeleton, { magnify: 1 });

  /** Whether a pin of nearly the hole's size goes through the part at a place of the wing, along x. */
  const goesThrough = (id: string, [x, y, z]: Vec3, size: number): boolean => {
    const part = parts.find((p) => p.id === id)!;
    const pin = cylinder([x - 8, y, z], [x + 8, y, z], size / 2, { facets: 24 });
    return kernel.overlap(part.solid, pin).volume < 1e-3;
  };

  // Stations whose holes were not read as off their drawing place.
  test.each(['M4', 'M7'])('lie where the solid at %s has them, and nowhere else', (rib) => {
    const place = skeleton.places.find((p) => p.rib.id === rib && p.end === 'front')!;
    const d = place.doublers[0]!;
    const { y } = place.bay.station;
    const outboard = y < 0 ? -1 : 1;
    const turns = place.rib.turns === 'outboard' ? outboard : -outboard;
    const stance = b.byStation.get(place.bay.station.id)!;
    const marks = doublerMarks(b, place, d);
    expect(marks).toHaveLength(3);
    for (const m of marks) {
      // Seen from the rib, looking forward: the flat's right is the wing's right. It is centred on the tab.
      const at = (dy: number): Vec3 => [
        stance.front + 1.1,
        y + turns * (place.spec.tab / 2) + m.at[0] + dy,
        stance.z + m.at[1],
      ];
      expect(goesThrough(d.id, at(0), 2.2), `${m.name} at its place`).toBe(true);
      expect(goesThrough(d.id, at(3), 2.2), `${m.name} 3 mm off`).toBe(false);
    }
  });
});
