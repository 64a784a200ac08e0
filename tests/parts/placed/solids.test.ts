import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import type { Model, Profile, Reading, Spar } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import type { PlacedSolid } from '../../../src/parts/placed/build.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';
import { FILM, sharedIn } from '../../../src/solidChecks/overlap.ts';
import { expectClosed, extentOf } from '../measuring.ts';

const kernel = await openKernel();

function panel(name: string): Model {
  const read = parseModel(readFileSync(new URL(`../../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name}: ${read.faults[0]?.path}`);
  return read.model;
}

const PLAIN = panel('plain');
const reading = (size: string, value: number): Reading => ({ size, value, instrument: 'caliper' });
const read = (...readings: Reading[]): Model => ({ ...PLAIN, readings });
const parts = (model: Model, magnify = 1) => solidsOf(skeletonOf(model), { magnify });
const part = (all: readonly PlacedSolid[], id: string) => {
  const found = all.find((p) => p.id === id);
  if (!found) throw new Error(`no part ${id} among ${all.map((p) => p.id).join(' ')}`);
  return found.solid;
};
const face = (all: readonly PlacedSolid[], id: string, name: string) => extentOf(kernel.build(part(all, id)), name);
const sheet = (id: string) => PLAIN.sheets.find((s) => s.id === id)!.thickness;

describe('a panel exactly as drawn', () => {
  const all = parts(PLAIN);

  it('has every part once, each one closed', () => {
    expect(new Set(all.map((p) => p.id)).size).toBe(all.length);
    for (const p of [...PLAIN.ribs, ...PLAIN.doublers]) part(all, p.id);
    for (const p of all) expectClosed(kernel.build(p.solid));
  });

  it('has no two parts in the same place', () => {
    kernel.together(() => {
      for (const [i, p] of all.entries())
        for (const q of all.slice(i + 1))
          expect(kernel.overlap(p.solid, q.solid).volume, `${p.id} and ${q.id}`).toBeLessThan(1e-3);
    });
  });

  it('stands rear tabs on the rear web, and leaves the free chord gap in front', () => {
    const t = sheet('s032');
    for (const id of ['M2', 'M3']) {
      expect(face(all, id, 'rear tab').high[0]).toBeCloseTo(200, 4);
      const doubler = PLAIN.doublers.find((d) => d.part === id)!;
      const rib = PLAIN.ribs.find((r) => r.id === id)!;
      const gap = face(all, id, 'front tab').low[0] - face(all, doubler.id, 'to part').low[0];
      expect(gap).toBeCloseTo(200 - t - sheet(doubler.sheet) - rib.length, 4);
    }
  });

  it('leaves half the cap gap sum at each cap', () => {
    const d = PLAIN.doublers[0]!;
    const rib = PLAIN.ribs.find((r) => r.id === d.part);
    if (rib?.kind !== 'main') throw new Error('a main rib was expected');
    const sum = 80 - 2 * sheet('s032') - rib.front.height - 2 * sheet(d.sheet);
    const top = face(all, 'front', 'top cap inside').low[2] - face(all, d.id, 'top leg').high[2];
    const bottom = face(all, d.id, 'bottom leg').low[2] - face(all, 'front', 'bottom cap inside').high[2];
    expect(top).toBeCloseTo(sum / 2, 4);
    expect(bottom).toBeCloseTo(sum / 2, 4);
  });

  it('puts the noses where the drawing does', () => {
    for (const id of ['N2', 'N3']) expect(kernel.bounds(part(all, id)).low[0]).toBeCloseTo(-100, 6);
  });

  it('drills where holes are and nowhere else', () => {
    const holed = (id: string) => kernel.build(part(all, id)).faces.some((f) => f.name === 'hole');
    const layers = PLAIN.joints.flatMap((j) => j.holes.flatMap((h) => h.layers));
    for (const id of new Set(layers.map((l) => l.part)))
      expect(holed(id), id).toBe(layers.some((l) => l.part === id && l.state !== 'none'));
  });

  it('gives the same objects for the same question', () => {
    expect(parts(PLAIN)).toBe(all);
  });
});

describe('measured parts', () => {
  it('a rib short by 0.4 leaves 0.4 more, as the chain says', () => {
    const rib = PLAIN.ribs.find((r) => r.id === 'M2')!;
    const drawn = parts(PLAIN);
    const found = parts(read(reading('M2.length', rib.length - 0.4)));
    expect(face(found, 'M2', 'front tab').low[0] - face(drawn, 'M2', 'front tab').low[0]).toBeCloseTo(0.4, 4);
  });

  it('enlarges deviations only: a reading equal to the drawing moves nothing at any magnification', () => {
    const same = parts(read(reading('front.depth@S2', 80)), 50);
    for (const p of parts(PLAIN)) {
      const [a, b] = [kernel.bounds(p.solid), kernel.bounds(part(same, p.id))];
      for (const k of [0, 1, 2] as const) expect(b.low[k]).toBeCloseTo(a.low[k], 6);
    }
    const deep = parts(read(reading('front.depth@S2', 80.1)), 20);
    expect(kernel.bounds(part(deep, 'front')).high[2]).toBeCloseTo(41, 6);
  });

  it('a spar bowed forward carries its noses forward', () => {
    const bowed = parts(read(reading('front.bow@S2', 0.7)));
    expect(kernel.bounds(part(bowed, 'N2')).low[0]).toBeCloseTo(-100.7, 5);
    expect(kernel.bounds(part(bowed, 'front')).low[0]).toBeCloseTo(-0.7, 5);
  });

  it('twist turns a whole section nose up, square in itself', () => {
    const up = 200 * Math.tan(0.01);
    const heights = PLAIN.stations.flatMap((s) => [
      reading(`height.front@${s.id}`, s.id === 'S2' ? 60 + up : 60),
      reading(`height.rear@${s.id}`, 75),
    ]);
    const twisted = parts(read(...heights));
    const nose = kernel.bounds(part(twisted, 'N2'));
    const flat = kernel.bounds(
      part(parts(read(...heights.map((r) => ({ ...r, value: r.size.includes('front') ? 60 : 75 })))), 'N2'),
    );
    // The nose rises by 0.01 of its 100, and with the front spar's own height over the line through its ends.
    expect(nose.high[2] - flat.high[2]).toBeGreaterThan(0.5);
    const rear = kernel.overlap(part(twisted, 'rear'), part(twisted, 'M2'));
    expect(rear.depth).toBeLessThan(0.02);
  });

  it('the clamped panel has no chord gap', () => {
    const clamped = parts({ ...read(reading('M2.length', 198)), stand: 'clamped' });
    const d = PLAIN.doublers.find((x) => x.part === 'M2')!;
    expect(kernel.distance(part(clamped, d.id), part(clamped, 'M2'), 5)).toBeLessThan(1e-3);
    expect(kernel.distance(part(clamped, 'rear'), part(clamped, 'M2'), 5)).toBeLessThan(0.01);
  });
});

describe('the two demo panels', () => {
  it.each(['narrow-tail', 'washed-out-wing'])(
    '%s: every part closes at every magnification, skin and rivets too',
    (name) => {
      const skeleton = skeletonOf(panel(name));
      for (const magnify of [1, 20, 50]) {
        for (const p of solidsOf(skeleton, { magnify, skin: true, rivets: true })) expectClosed(kernel.build(p.solid));
      }
    },
  );

  it('panel A: doubler D2 bites by the 0.32 that C1 says, spread over both caps, and M5 into the front by C3', () => {
    const all = solidsOf(skeletonOf(panel('narrow-tail')), { magnify: 1 });
    const lumps = kernel.overlap(part(all, 'front'), part(all, 'D2')).lumps;
    expect(lumps.length).toBeGreaterThan(0);
    const tall = kernel.bounds(part(all, 'D2'));
    expect(tall.high[2] - tall.low[2]).toBeCloseTo(83.35 + 2 * 0.635, 1);
  });

  it('panel B: the strip that was finished long runs under W5', () => {
    const all = solidsOf(skeletonOf(panel('washed-out-wing')), { magnify: 1 });
    const bite = kernel.overlap(part(all, 'front-strip1-top'), part(all, 'M5'));
    expect(bite.volume).toBeGreaterThan(100);
    expect(kernel.overlap(part(all, 'front-strip1-top'), part(all, 'M6')).volume).toBe(0);
  });
});

describe('profiles and hands, through the model', () => {
  const PROFILES: readonly Profile[] = [
    { kind: 'ellipse' },
    { kind: 'naca4', name: '0012', chord: 420 },
    { kind: 'naca4', name: '2412', chord: 420 },
    {
      kind: 'points',
      chord: 300,
      points: [
        [300, 0],
        [150, 24],
        [60, 22],
        [15, 11],
        [0, 0],
        [15, -8],
        [60, -12],
        [150, -12],
        [300, 0],
      ],
    },
  ];
  const bare = (change: (m: Model) => void): Model => {
    const model = structuredClone({ ...PLAIN, joints: [], stages: [] }) as Model;
    delete (model as { now?: string }).now;
    change(model);
    return model;
  };
  const shaped = (profile: Profile) =>
    bare((m) => {
      for (const r of m.ribs) if (r.kind !== 'main') r.profile = profile;
    });
  /** The same panel on the other side: places along the span turned, in order. */
  const mirrored = (model: Model): Model => ({
    ...model,
    hand: 'left',
    stations: model.stations.map((s) => ({ ...s, y: 0 - s.y })).reverse(),
    spars: { front: turned(model.spars.front), rear: turned(model.spars.rear!) },
  });
  const turned = (spar: Spar): Spar => ({ ...spar, from: 0 - spar.to, to: 0 - spar.from });

  it.each(PROFILES.map((p) => [p.kind === 'naca4' ? p.name : p.kind, p] as const))(
    '%s: nose and tip ribs close, reach their nose and have its height at the spar',
    (_, profile) => {
      const all = parts(shaped(profile));
      for (const id of ['N2', 'T1', 'T4']) {
        expectClosed(kernel.build(part(all, id)));
        expect(kernel.bounds(part(all, id)).low[0]).toBeCloseTo(-100, 3);
      }
      const tall = face(all, 'N2', 'top flange').high[2] - face(all, 'N2', 'bottom flange').low[2];
      // The flanges begin 2.5 mm ahead of the tail, a little lower on a curved profile.
      expect(Math.abs(tall - 80)).toBeLessThan(0.4);
      expect(sharedIn(all, kernel)).toEqual([]);
    },
  );

  it.each(PROFILES.map((p) => [p.kind === 'naca4' ? p.name : p.kind, p] as const))(
    '%s: the left panel is the right one in the mirror, part by part',
    (_, profile) => {
      const [right, left] = [parts(shaped(profile)), parts(mirrored(shaped(profile)))];
      for (const p of right) {
        const other = part(left, p.id);
        expect(kernel.volume(other), p.id).toBeCloseTo(kernel.volume(p.solid), 3);
        const [a, b] = [kernel.bounds(p.solid), kernel.bounds(other)];
        for (const k of [0, 2] as const) {
          expect(b.low[k]).toBeCloseTo(a.low[k], 5);
          expect(b.high[k]).toBeCloseTo(a.high[k], 5);
        }
        expect(b.low[1]).toBeCloseTo(-a.high[1], 5);
      }
    },
  );

  it('a bracket stands on its row and rests on a bowed web without biting', () => {
    const all = solidsOf(skeletonOf(panel('narrow-tail')), { magnify: 1 });
    for (const id of ['H2', 'H4', 'H5', 'H7']) {
      expect(kernel.overlap(part(all, 'rear'), part(all, id)).depth, id).toBeLessThan(FILM);
      expect(kernel.distance(part(all, 'rear'), part(all, id), 1), id).toBeLessThan(0.002);
    }
    const wing = solidsOf(skeletonOf(panel('washed-out-wing')), { magnify: 1 });
    expect(kernel.overlap(part(wing, 'N6'), part(wing, 'B6')).depth).toBeLessThan(FILM);
  });

  it('panel B turns with its level readings: W9 stands 2.2° nose down', () => {
    const wing = solidsOf(skeletonOf(panel('washed-out-wing')), { magnify: 1 });
    const tip = part(wing, 'T9');
    if (tip.kind !== 'placed') throw new Error('a rib is placed');
    expect((Math.atan2(-tip.frame.axes[0][2], tip.frame.axes[0][0]) * 180) / Math.PI).toBeCloseTo(-2.2, 6);
  });
});
