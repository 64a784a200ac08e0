import { describe, expect, it } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { heightTwist, twistsOf } from '../../../src/checks/fit/twistRead.ts';
import { applyEdit, type Edit } from '../../../src/model/edits/edits.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { bias } from '../../../src/remedies/offers/bias.ts';
import { remediesFor } from '../../../src/remedies/offers/offers.ts';
import { packRemedy } from '../../../src/remedies/offers/packing.ts';
import { pullStraight } from '../../../src/remedies/offers/straight.ts';
import { swap } from '../../../src/remedies/offers/swap.ts';
import { packing } from '../../../src/truing/packing.ts';
import { changed, finding, mainRib, panel, reading } from '../../model/panels.ts';

/*
 * Ribs exchanged, spars pulled, the jig packed. Laws: holes stay with the rib they are in, so a place whose rib goes has
 * none in the one that comes; the three ways to read one twist turn together; what nobody read says so.
 */

const A = panel('narrow-tail');

function taken(m: Model, edit: Edit): Model {
  const done = applyEdit(m, edit);
  if (!done.ok) throw new Error(done.faults.map((f) => f.sentence).join('\n'));
  return done.model;
}
const layersOf = (m: Model, joint: string, part: string) =>
  m.joints.find((j) => j.id === joint)!.holes.map((h) => h.layers.find((l) => l.part === part)!);

describe('drilled ribs exchanged', () => {
  // M3 is piloted at F3 and read 0.3 off there; M5 is drilled final at F5: neither hole is at the other's place.
  const m = changed(A, (x) => {
    for (const h of x.joints.find((j) => j.id === 'F5')!.holes)
      for (const l of h.layers)
        if (l.part === 'M5') Object.assign(l, { state: 'final', size: x.joints.find((j) => j.id === 'F5')!.final });
    for (const h of x.joints.find((j) => j.id === 'F3')!.holes) h.layers.find((l) => l.part === 'D3')!.through = 'M3';
    x.readings.push({ size: 'R5/h1.M5.edge', value: 7, instrument: 'caliper' });
  });
  const remedy = swap(m, mainRib(m, 'M3'), mainRib(m, 'M5'));
  const after = taken(m, remedy.edit);

  it('bring the holes they have to the other place, drilled apart from it, and no reading of one', () => {
    for (const [joint, part, from] of [
      ['F3', 'M5', 'F5'],
      ['R3', 'M5', 'R5'],
      ['F5', 'M3', 'F3'],
      ['R5', 'M3', 'R3'],
    ] as const) {
      const had = layersOf(m, from, part).map(({ state, size }) => ({ state, size }));
      expect(had.length, joint).toBeGreaterThan(0);
      expect(layersOf(after, joint, part), joint).toMatchObject(
        had.map((h) => (h.state === 'none' ? { ...h, size: 0 } : { ...h, state: 'pilot', through: 'apart' })),
      );
    }
    expect(after.readings.filter((r) => /^[FR][35]\//.test(r.size))).toEqual([]);
    // Spars and doublers stay, and keep what is drilled in them.
    for (const part of ['front', 'D3'])
      expect(layersOf(after, 'F3', part)).toMatchObject(
        layersOf(m, 'F3', part).map(({ state, size }) => ({ state, size })),
      );
    expect(layersOf(after, 'F4', 'M4')).toEqual(layersOf(m, 'F4', 'M4'));
  });
  it('are named where a hole was drilled through them, so that the exchange is not refused', () => {
    expect(layersOf(after, 'F3', 'D3').map((l) => l.through)).toEqual(layersOf(m, 'F3', 'D3').map(() => 'M5'));
  });
  it('are offered, and told that their holes go along', () => {
    expect(remedy.cost.holesLost).toBe(12);
    expect(remedy.note).toMatch(/look both rows through/);
    const offered = remediesFor(A, finding(A, 'cap-gap', 'M2 front')).find((r) => r.id === 'swap:M2:M3');
    expect(offered?.note).toMatch(/look both rows through/);
    expect(offered?.cost.holesLost).toBeGreaterThan(0);
  });
});

describe('the jig packed', () => {
  /** Panel A, plumb lines read as its heights are, and the web to web read once, at S6, half a millimetre wide. */
  const wide = changed(A, (x) => {
    x.readings = x.readings.filter((r) => !r.size.startsWith('plumb@') && !r.size.startsWith('level@'));
    x.readings.push({ size: 'webs@S6', value: 264.5, instrument: 'trammel' });
  });
  const m = changed(wide, (x) => {
    for (const bay of skeletonOf(wide).bays) {
      const degrees = heightTwist(skeletonOf(wide), bay);
      if (degrees)
        x.readings.push({
          size: `plumb@${bay.station.id}`,
          value: (300 * best(degrees) * Math.PI) / 180,
          over: 300,
          instrument: 'square',
        });
    }
  });
  const [remedy] = packRemedy(m);
  const plan = packing(m)!;
  const after = taken(m, remedy!.edit);
  const by = (way: 'heights' | 'plumb', x: Model) =>
    new Map(twistsOf(skeletonOf(x), way).map((t) => [t.bay.station.id, t.residual]));

  it('turns plumb lines as it turns heights: readings that agreed agree still', () => {
    const [before, heights, plumbs] = [by('plumb', m), by('heights', after), by('plumb', after)];
    expect(Math.max(...[...plumbs].map(([id, v]) => Math.abs(v - before.get(id)!)))).toBeGreaterThan(0.1);
    for (const [id, v] of heights) {
      expect(by('heights', m).get(id)!, id).toBeCloseTo(before.get(id)!, 3);
      expect(v, id).toBeCloseTo(plumbs.get(id)!, 3);
    }
  });
  it('leaves what its plan says, with web to web as read', () => {
    for (const { station, value } of plan.after.twist)
      expect(by('heights', after).get(station)!, station).toBeCloseTo(value, 6);
  });
  it('takes its packs off what is on hand, and says that nobody read it', () => {
    const used = plan.packs.flatMap((p) => p.pieces);
    expect(used.length).toBeGreaterThan(0);
    expect([...after.stock.packs, ...used].sort()).toEqual([...m.stock.packs].sort());
    expect(
      after.readings
        .filter((r) => r.size.startsWith(`height.${plan.side}@`) && r.value !== reading(m, r.size).value)
        .every((r) => /worked out.*read it again/.test(r.note ?? '')),
    ).toBe(true);
  });
});

it('a rib held elsewhere and a spar pulled straight are worked out, not read', () => {
  const held = taken(A, bias(A, mainRib(A, 'M4'), 'front', 0.1).edit);
  expect(reading(held, 'M4.front.bias')).toMatchObject({
    value: 0.1,
    note: expect.stringMatching(/worked out.*read it again/),
  });
  const bowed = A.readings.filter((r) => r.size.startsWith('front.bow@'));
  expect(bowed.length).toBeGreaterThan(0);
  const pulled = taken(A, pullStraight('front', 'S4').edit);
  for (const { size } of bowed)
    expect(reading(pulled, size)).toMatchObject({ value: 0, note: expect.stringMatching(/worked out.*read it again/) });
});
