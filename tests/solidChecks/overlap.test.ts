import { describe, expect, it } from 'vitest';
import type { Finding } from '../../src/checks/finding.ts';
import { wingPoint } from '../../src/geometry/frame.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import { box, placed } from '../../src/geometry/solids.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import type { PlacedSolid } from '../../src/parts/placed/build.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { solidFindings } from '../../src/solidChecks/asBuilt.ts';
import { boxPairs, FILM, planned, sharedIn } from '../../src/solidChecks/overlap.ts';
import { changed, flat, mainRib, PANELS, panel, readAs } from '../model/panels.ts';

const kernel = await openKernel();
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
const PLAIN = panel('plain');
const asked = new WeakMap<Model, Finding[]>();
function overlaps(model: Model): Finding[] {
  const known = asked.get(model) ?? solidFindings(skeletonOf(model), kernel).filter((f) => f.check === 'overlap');
  asked.set(model, known);
  return known;
}
const at = (model: Model, place: string) => {
  const found = overlaps(model).find((f) => f.place === place);
  if (!found)
    throw new Error(
      `no overlap at "${place}" among ${overlaps(model)
        .map((f) => f.place)
        .join(', ')}`,
    );
  return found;
};

describe('parts in the same place', () => {
  it('panel A, item 1: M2’s front end, with its doubler, bites the front spar by 0.32 in all, as C1 says', () => {
    const f = at(A, 'M2 front caps');
    expect(f.value).toBeCloseTo(-0.32, 3);
    expect(f).toMatchObject({ verdict: 'act', station: 'S2', basis: 'measured' });
    expect(f.sentence).toContain(
      'M2 front end, with D2, shares space with the front spar by 0.32 mm in all, 0.16 mm at the top cap and 0.16 mm at the bottom one',
    );
    expect(f.sentence).toContain('The chain of sizes says 0.32 mm too much metal between the caps');
  });

  it('panel A, item 5: doublers bent at 1.2 bite the spar’s bends, and nothing does once bent at 5/64 in', () => {
    expect(
      overlaps(A)
        .filter((f) => f.place.endsWith('bend'))
        .map((f) => f.station),
    ).toEqual(['S3', 'S4', 'S5', 'S6', 'S7']);
    const rebent = changed(A, (m) => {
      for (const r of m.readings) if (r.size.endsWith('.radius')) r.value = 1.98;
    });
    expect(overlaps(rebent).map((f) => f.place)).toEqual(['M2 front caps']);
  });

  it('panel B, F1: the strip finished long lies where W5’s rib does, 3.00 mm in all', () => {
    const f = at(B, 'M5 front caps');
    expect(f.value).toBeCloseTo(143 - 2 * 1.27 - 2 * 1.6002 - (140.46 - 0.2), 2);
    expect(f.sentence).toContain('front strip');
  });

  it('panel B, F4: M4 bites at its front because its rear end stands 3.1 outboard where the webs come together', () => {
    const f = at(B, 'M4 front web');
    // C3 without the skew is +0.10; the webs close by 20.4 in 330 there.
    expect(f.value).toBeCloseTo(0.1 - (3.1 * (571.4 - 551)) / 330, 1);
    expect(f.sentence).toContain('stands askew');
  });

  it('deepens by exactly what a rib is higher, and by what it is longer', () => {
    const tall = (more: number) =>
      changed(PLAIN, (m) => readAs(m, 'M2.front.height', mainRib(m, 'M2').front.height + more, 'caliper'));
    expect(at(tall(0.5), 'M2 front caps').value - at(tall(0.3), 'M2 front caps').value).toBeCloseTo(-0.2, 3);
    const long = (more: number) =>
      changed(PLAIN, (m) => readAs(m, 'M2.length', mainRib(m, 'M2').length + more, 'caliper'));
    expect(overlaps(long(0.08))).toEqual([]);
    const bite = at(long(0.35), 'M2 front web');
    expect(bite.value).toBeCloseTo(-0.25, 3);
    expect(bite.sentence).toContain('0.25 mm too much metal between the webs');
  });

  it('finds nothing in a panel that is as drawn', () => {
    expect(overlaps(PLAIN)).toEqual([]);
  });

  it('names what may be in the same place, and why', () => {
    const part = (kind: PlacedSolid['kind']): PlacedSolid => ({
      id: kind,
      kind,
      mark: kind,
      solid: box([0, 0, 0], [1, 1, 1]),
    });
    expect(planned(part('rivet'), part('main'))).toContain('rivet');
    expect(planned(part('nose'), part('skin'))).toContain('skin');
    expect(planned(part('nose'), part('spar'))).toBeUndefined();
  });
});

describe('parts that the chains say just touch', () => {
  it.each(PANELS)('%s: no film of shared metal between them, tapered, bowed and twisted as it is', (name) => {
    const bites = new Set(overlaps(panel(name)).flatMap((f) => f.place.split(' ')[0]!));
    const parts = solidsOf(skeletonOf(panel(name)), { magnify: 1 });
    kernel.together(() => {
      for (const [a, b] of boxPairs(parts, kernel)) {
        if ([a, b].some((p) => bites.has(p.id) || p.id.startsWith('D'))) continue;
        expect(kernel.overlap(a.solid, b.solid).depth, `${a.id} and ${b.id}`).toBeLessThan(FILM);
      }
    });
  });

  it('a plate on a twisting web, a shim under a cap and a strip lie without biting', () => {
    const model = changed(B, (m) => {
      m.spars.front.webDoublers.push({ sheet: 's032', from: 900, to: 1500, height: 60 });
      m.doublers.push(flat('X1', 'M7', 'front', 's025', 'top'), flat('X2', 'M7', 'rear', 's025', 'web', 40));
      for (const id of ['M4', 'M5', 'M7']) mainRib(m, id).length -= 4;
      mainRib(m, 'M7').front.height -= 1;
      m.readings = m.readings.filter((r) => !r.size.startsWith('skew'));
    });
    expect(overlaps(model).map((f) => f.place)).toEqual(['M5 front caps']);
  });
});

describe('the sweep along the span', () => {
  it('finds every pair whose boxes meet, as trying all of them does', () => {
    const parts = solidsOf(skeletonOf(A), { magnify: 1 });
    const key = (a: PlacedSolid, b: PlacedSolid) => [a.id, b.id].sort().join(' ');
    const meets = (a: PlacedSolid, b: PlacedSolid) => {
      const [p, q] = [kernel.bounds(a.solid), kernel.bounds(b.solid)];
      return ([0, 1, 2] as const).every((k) => p.low[k] <= q.high[k] && q.low[k] <= p.high[k]);
    };
    const slow = parts.flatMap((a, i) =>
      parts
        .slice(i + 1)
        .filter((b) => meets(a, b))
        .map((b) => key(a, b)),
    );
    expect(
      boxPairs(parts, kernel)
        .map(([a, b]) => key(a, b))
        .sort(),
    ).toEqual(slow.sort());
  });

  it('answers the same wherever a long part is cut up for speed', () => {
    const beam: PlacedSolid = { id: 'beam', kind: 'spar', mark: 'beam', solid: box([0, 0, 0], [10, 4000, 10]) };
    const at3 = (y: number): PlacedSolid => ({
      id: `peg${y}`,
      kind: 'main',
      mark: 'peg',
      solid: placed(box([9.5, -5, 2], [20, 5, 8]), {
        origin: wingPoint(0, y, 0),
        axes: [
          [1, 0, 0],
          [0, 1, 0],
          [0, 0, 1],
        ],
      }),
    });
    const shared = sharedIn([beam, ...[100, 2000, 3000].map(at3)], kernel);
    expect(shared.map((s) => s.overlap.depth)).toEqual([0.5, 0.5, 0.5].map((d) => expect.closeTo(d, 9)));
  });
});
