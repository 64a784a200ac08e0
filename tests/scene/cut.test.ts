import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import { upThrough } from '../../src/geometry/loops.ts';
import { signedArea } from '../../src/geometry/outline.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { apartBy } from '../../src/scene/apart.ts';
import { cornerOf, sharedStretch, topOf } from '../../src/scene/corner.ts';
import { cutOf, stylesOf } from '../../src/scene/cut.ts';
import { bayThrough, flangePlane, placeInWords } from '../../src/scene/cutPlace.ts';
import { cutSizes } from '../../src/scene/cutSizes.ts';
import { drawnPlacesOf } from '../../src/scene/drawnPlaces.ts';
import { nearPlane, nearReach } from '../../src/scene/nearPlane.ts';
import { demo } from './panel.ts';

const areaOf = (loops: readonly (readonly Vec2[])[]): number => loops.reduce((sum, l) => sum + signedArea(l), 0);
const across = (y: number) => ({ origin: [0, y, 0], u: [1, 0, 0], v: [0, 0, 1] }) as const;

const a = demo('narrow-tail');
const skeleton = skeletonOf(a);
const bayAt = (id: string) => skeleton.bays.find((b) => b.station.id === id)!;

describe('a recipe shortened to what a plane can meet', () => {
  it.each(['narrow-tail', 'washed-out-wing', 'plain'])('has the same section as the whole, %s', async (name) => {
    const kernel = await openKernel();
    const of = skeletonOf(demo(name));
    const places = [flangePlane(of, of.bays[1]!), (of.bays[1]!.station.y + of.bays[2]!.station.y) / 2];
    for (const y of places) {
      for (const part of solidsOf(of, { magnify: 20 })) {
        const near = nearPlane(part.solid, y);
        const whole = areaOf(kernel.section(part.solid, across(y)));
        expect(near ? areaOf(kernel.section(near, across(y))) : 0, `${part.id} at ${y}`).toBeCloseTo(whole, 4);
        const [least, most] = nearReach(part.solid);
        const { low, high } = kernel.bounds(part.solid);
        expect(least).toBeLessThanOrEqual(low[1] + 1e-3);
        expect(most).toBeGreaterThanOrEqual(high[1] - 1e-3);
      }
    }
  });
});

describe('the cut through S2 of panel A', () => {
  it('meets both spars and what stands at S2, each hatched otherwise than what it touches', async () => {
    const cut = cutOf(await openKernel(), skeleton, { magnify: 1, y: flangePlane(skeleton, bayAt('S2')) });
    expect(cut.parts.map((p) => p.id)).toEqual(['front', 'rear', 'M2', 'N2', 'D2', 'H2']);
    const style = (id: string) => cut.parts.find((p) => p.id === id)!.style;
    for (const [p, q] of [
      ['front', 'D2'],
      ['D2', 'M2'],
      ['rear', 'M2'],
      ['front', 'N2'],
      ['rear', 'H2'],
    ] as const)
      expect(style(p), `${p} ${q}`).not.toBe(style(q));
    // The spar's web, 86 high and 0.8128 thick, and two caps.
    expect(areaOf(cut.parts[0]!.loops)).toBeGreaterThan(0.8128 * (86 + 2 * 13) * 0.85);
  });

  it('shows the metal that D2 and the caps both want, 0.16 deep above and below', async () => {
    const cut = cutOf(await openKernel(), skeleton, { magnify: 1, y: flangePlane(skeleton, bayAt('S2')) });
    const shared = cut.shared.find((s) => s.parts.includes('front') && s.parts.includes('D2'))!;
    const corner = cornerOf(
      skeleton,
      cut,
      skeleton.placesAt('S2').find((p) => p.rib.id === 'M2' && p.end === 'front')!,
    )!;
    const [near, far] = sharedStretch(corner, ['front', 'D2', 'M2'])!;
    const mid = (near + far) / 2;
    const deep = topOf(corner, 'D2', mid)![1] - topOf(corner, 'front', mid)![0];
    expect(deep).toBeCloseTo(0.16, 1);
    const above = upThrough(
      corner.shared.find((s) => s === corner.shared.find((t) => t.parts.join() === shared.parts.join()))!.loops,
      mid,
    ).filter(([from]) => from > 0);
    expect(above.at(-1)![1] - above.at(-1)![0]).toBeCloseTo(deep, 3);
  });

  it('writes the true sizes, in the unit of the panel, however much is enlarged', () => {
    const y = flangePlane(skeleton, bayAt('S2'));
    for (const magnify of [1, 20]) {
      const texts = cutSizes(drawnPlacesOf(skeleton, magnify), checkAll(a), y).map((s) => s.text);
      for (const text of ['84.30 clear', '83.35 M2', '264.00 web to web', '121.10 nose', 'binds 0.16'])
        expect(texts).toContain(text);
      expect(texts.length).toBeLessThanOrEqual(10);
    }
    const inch = skeletonOf({ ...a, units: 'in' });
    expect(cutSizes(drawnPlacesOf(inch, 1), checkAll(inch.model), y).map((s) => s.text)).toContain('3.319 clear');
  });

  it('between stations has only what is there: clear heights and web to web', () => {
    const ids = cutSizes(drawnPlacesOf(skeleton, 10), checkAll(a), -580).map((s) => s.id);
    expect(ids).toEqual(['front-clear', 'rear-clear', 'webs']);
  });
});

it('what does not touch may be hatched alike, and no more than four ways are needed', () => {
  const box = (u: number, v: number): Vec2[] => [
    [u, v],
    [u + 4, v],
    [u + 4, v + 1],
    [u, v + 1],
  ];
  expect(stylesOf([[box(0, 0)], [box(0, 1)], [box(0, 2)], [box(20, 0)]])).toEqual([0, 1, 0, 0]);
});

describe('places along the span', () => {
  it('says the place and the station, in the unit of the panel', () => {
    const y = flangePlane(skeleton, bayAt('S2'));
    expect(bayThrough(skeleton, y)?.station.id).toBe('S2');
    expect(placeInWords(skeleton, y)).toMatch(/^[−-]750\.\d\d mm, through the flanges of S2$/);
    expect(placeInWords(skeleton, -600)).toMatch(/, 142\.00 mm right of S2$/);
    expect(placeInWords(skeletonOf({ ...a, units: 'in' }), -600)).toMatch(/^[−-]23\.622 in, 5\.591 in right of S2$/);
    expect(bayThrough(skeleton, -600)).toBeUndefined();
  });

  it('cuts every station on the side its flanges point to', () => {
    for (const bay of skeleton.bays) expect(bayThrough(skeleton, flangePlane(skeleton, bay))).toBe(bay);
  });
});

describe('pulled apart', () => {
  const moves = apartBy(
    skeleton,
    solidsOf(skeleton, { magnify: 1, skin: true }).map(({ id, kind, station = null, on }) => ({
      id,
      kind,
      station,
      on,
    })),
  );
  it('leaves the main ribs, and moves the rest the way it comes off', () => {
    expect(moves.has('M2')).toBe(false);
    const x = (id: string) => moves.get(id)![0];
    expect(x('N2')).toBeLessThan(x('front'));
    expect(x('front')).toBeLessThan(x('D2'));
    expect(x('D2')).toBeLessThan(0);
    expect(x('rear')).toBeGreaterThan(0);
    expect(x('H2')).toBeGreaterThan(x('rear'));
    expect(moves.get('T1')![1]).toBeLessThan(0);
    expect(moves.get('T8')![1]).toBeGreaterThan(0);
    expect(moves.get('skin')![2]).toBeGreaterThan(0);
  });

  it('takes what a later stage brings further', () => {
    const early = apartBy(skeletonOf({ ...a, stages: [{ id: 's', name: 's', brings: ['N2'], opens: [] }] }), [
      { id: 'N2', kind: 'nose', station: 'S2', on: undefined },
    ]);
    expect(moves.get('N2')![0]).toBeLessThan(early.get('N2')![0]);
  });
});
