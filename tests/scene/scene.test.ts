import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import type { Vec3 } from '../../src/geometry/vector.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { sceneOf } from '../../src/scene/scene.ts';
import type { Scene, SceneGap, SceneOptions } from '../../src/scene/shown.ts';
import { repeated } from '../bench/repeat.ts';
import { demo, frozen } from './panel.ts';

const QUESTIONS = ['tonight', 'build', 'measure', 'fit', 'drill', 'true'] as const;

function shown(model: Model, options: Partial<SceneOptions> = {}): Scene {
  return sceneOf(skeletonOf(model), checkAll(model), { magnify: 20, question: 'fit', station: null, ...options });
}

const gapAt = (scene: Scene, id: string): SceneGap => {
  const gap = scene.gaps.find((g) => g.id === id);
  if (!gap) throw new Error(`no gap ${id}; there are ${scene.gaps.map((g) => g.id).join(', ')}`);
  return gap;
};

/** Distance between the middles of a gap's two faces. */
function across({ corners }: SceneGap): number {
  const middle = (from: number): Vec3 => {
    const four = corners.slice(from, from + 4);
    return [0, 1, 2].map((k) => four.reduce((sum, p) => sum + p[k]!, 0) / 4) as unknown as Vec3;
  };
  const [a, b] = [middle(0), middle(4)];
  return Math.hypot(a[0] - b[0], a[1] - b[1], a[2] - b[2]);
}

describe('gaps of panel A', () => {
  const a = demo('narrow-tail');
  const scene = shown(a);

  it.each([
    // The numbers of demo-panels: clear height less rib less two doublers, and web to web less rib.
    ['cap-gap:M2-front/top', 'interference', '0.32 mm', 'act'],
    ['cap-gap:M2-front/bottom', 'interference', '0.32 mm', 'act'],
    ['cap-gap:M3-front/top', 'daylight', '0.28 mm', 'watch'],
    ['cap-gap:M5-front/top', 'daylight', '0.38 mm', 'unsettled'],
    ['chord-gap:M6/front', 'daylight', '0.95 mm', 'unsettled'],
    // Held straight M5 is 0.05 long; the spar bows 0.7 forward there, so what is drawn is daylight.
    ['chord-gap:M5/front', 'daylight', '0.05 mm', 'unsettled'],
    ['bend-ride:D4/top', 'interference', '0.57 mm', 'act'],
    ['nose-line:N4/nose', 'daylight', '1.19 mm', 'unsettled'],
    ['nose-line:T8/nose', 'interference', '0.90 mm', 'watch'],
  ])('%s is %s of %s', (id, kind, text, verdict) => {
    expect(gapAt(scene, id)).toMatchObject({ kind, text, verdict });
  });

  it('is drawn twenty times as large as it is, each cap with its half', () => {
    // Off the station the spar's own bow and twist go on to the next one: a tenth over the width of a flange at this scale.
    const near = (id: string, size: number) => expect(Math.abs(across(gapAt(scene, id)) - size), id).toBeLessThan(0.2);
    // M2: depth 85.93 less two caps of 0.8128, rib 83.35, two sheets of 0.635: drawn 86 and 83.1, so -6.396 in all, half a side.
    near('cap-gap:M2-front/top', (20 * (85.93 - 86) - 20 * (83.35 - 83.1) + (86 - 2 * 0.8128 - 83.1 - 2 * 0.635)) / -2);
    // M6: 0.9 short of its drawing, which leaves 264 - 0.8128 - 0.635 - 262.5, and 0.4 of bow; the bow falls off along the flange.
    expect(Math.abs(across(gapAt(scene, 'chord-gap:M6/front')) - (20 * (0.9 + 0.4) + 0.0522))).toBeLessThan(0.4);
    expect(across(gapAt(scene, 'bend-ride:D4/top'))).toBeCloseTo(20 * 0.565, 1);
    expect(across(gapAt(shown(a, { magnify: 1 }), 'chord-gap:M6/front'))).toBeCloseTo(1.345, 1);
  });

  it('says which state of the spar is drawn, where the number is for another', () => {
    expect(gapAt(scene, 'chord-gap:M6/front').state).toBe('spars held straight; drawn as the spar lies, 1.35 mm short');
    expect(gapAt(scene, 'nose-line:N4/nose').state).toContain('spar held straight');
    expect(gapAt(scene, 'nose-line:T8/nose').state).toBeUndefined();
  });

  it('keeps its true number at any enlargement', () => {
    expect(gapAt(shown(a, { magnify: 1 }), 'cap-gap:M2-front/top').text).toBe('0.32 mm');
    expect(gapAt(shown(a, { magnify: 50 }), 'cap-gap:M2-front/top').text).toBe('0.32 mm');
  });

  it('prints in the unit of the panel', () => {
    expect(gapAt(shown({ ...a, units: 'in' }), 'cap-gap:M2-front/top').text).toBe('0.013 in');
  });

  it('shows only what the question asks, and what fits only at the chosen station', () => {
    const asked = (s: Scene) => new Set(s.gaps.filter((g) => g.shown).map((g) => g.findingId.split(':')[0]));
    expect(asked(scene)).toEqual(new Set(['cap-gap', 'chord-gap', 'bend-ride']));
    expect([...asked(shown(a, { question: 'true' }))].every((c) => c?.startsWith('nose'))).toBe(true);
    expect(asked(shown(a, { question: 'build' })).size).toBe(0);
    const plain = demo('plain');
    expect(shown(plain).gaps.some((g) => g.shown)).toBe(false);
    expect(
      new Set(
        shown(plain, { station: 'S2' })
          .gaps.filter((g) => g.shown)
          .map((g) => g.station),
      ),
    ).toEqual(new Set(['S2']));
  });
});

describe('gaps and solids', () => {
  it('gaps lie on the faces of the solids', async () => {
    const kernel = await openKernel();
    // A panel without twist or bow, so that the axes of a part are those of the wing and its box is the part itself.
    const model = demo('plain');
    const stretched: Model = {
      ...model,
      readings: [
        { size: 'M2.length', value: 195.1, instrument: 'rule' },
        { size: 'M2.front.height', value: 78.0, instrument: 'caliper' },
      ],
    };
    const skeleton = skeletonOf(stretched);
    const scene = shown(stretched, { magnify: 10 });
    const box = (id: string) => kernel.bounds(solidsOf(skeleton, { magnify: 10 }).find((p) => p.id === id)!.solid);
    const chord = gapAt(scene, 'chord-gap:M2/front');
    // The rib's front face is the least x of the rib; the doubler's back the web's aft face and one sheet.
    expect(chord.corners[0][0]).toBeCloseTo(box('M2').low[0], 3);
    const packed = stretched.doublers.find((d) => d.part === 'M2' && d.end === 'front');
    const front = stretched.sheets.find((s) => s.id === stretched.spars.front.sheet)!.thickness;
    const sheet = packed ? stretched.sheets.find((s) => s.id === packed.sheet)!.thickness : 0;
    expect(chord.corners[4][0]).toBeCloseTo(front + sheet, 3);
    const cap = gapAt(scene, 'cap-gap:M2-front/top');
    if (packed) expect(cap.corners[0][2]).toBeCloseTo(box(packed.id).high[2], 3);
    expect(cap.corners[4][2]).toBeCloseTo(box('front').high[2] - front, 3);
  });

  it('noses are where the solids have them', async () => {
    const kernel = await openKernel();
    const model = demo('plain');
    const longer: Model = {
      ...model,
      readings: [{ size: 'N2.length', value: model.ribs.find((r) => r.id === 'N2')!.length + 0.7, instrument: 'rule' }],
    };
    const scene = shown(longer, { magnify: 10, question: 'true' });
    const nose = solidsOf(skeletonOf(longer), { magnify: 10 }).find((p) => p.id === 'N2')!;
    const gap = gapAt(scene, 'nose-line:N2/nose');
    expect(gap).toMatchObject({ kind: 'interference', text: '0.70 mm' });
    expect(gap.corners[0][0]).toBeCloseTo(kernel.bounds(nose.solid).low[0], 2);
    expect(across(gap)).toBeCloseTo(7, 3);
    const line = scene.lines.find((l) => l.kind === 'nose-line')!;
    expect(line.points[1]![0]).toBeCloseTo(gap.corners[4][0], 6);
  });
});

describe('labels', () => {
  it.each(['narrow-tail', 'washed-out-wing', 'plain'])(
    'of %s are a dozen at most, whatever is asked and chosen',
    (name) => {
      const model = demo(name);
      for (const question of QUESTIONS) {
        for (const station of [null, ...model.stations.map((s) => s.id)]) {
          const { labels } = shown(model, { question, station });
          expect(labels.length).toBeLessThanOrEqual(12);
          expect(new Set(labels.map((l) => l.id)).size).toBe(labels.length);
          for (const l of labels) expect(l.anchor.every(Number.isFinite)).toBe(true);
        }
      }
    },
  );

  it('say the worst first, the part mark first, and a fault of many parts once', () => {
    const texts = shown(demo('narrow-tail')).labels.map((l) => l.text);
    expect(texts.slice(0, 3)).toEqual(['M2 binds 0.32', 'D4 and 5 more ride 0.57', 'M6 daylight 1.03']);
  });

  it('name what stands at the chosen station, and put its findings first', () => {
    const labels = shown(demo('narrow-tail'), { station: 'S6' }).labels;
    expect(labels.filter((l) => l.verdict === null).map((l) => l.text)).toEqual(['M6', 'N6', 'D6']);
    expect(labels[0]!.station).toBe('S6');
  });

  it('of a long panel spread along the span, and a large group is spoken of near its middle', () => {
    const long = repeated(demo('narrow-tail'), 80);
    const [first, last] = [long.stations[0]!.y, long.stations.at(-1)!.y];
    const share = (y: number) => (y - first) / (last - first);
    for (const station of [null, 'S2-1', 'S6-8']) {
      const others = shown(long, { station }).labels.filter((l) => l.station !== station);
      const groups = others.filter((l) => / and \d+ more /.test(l.text));
      expect(groups.length).toBeGreaterThan(2);
      for (const l of groups) expect(Math.abs(share(l.anchor[1]) - 0.5), l.text).toBeLessThan(0.33);
      const at = groups.map((l) => share(l.anchor[1]));
      expect(Math.max(...at) - Math.min(...at)).toBeGreaterThan(0.25);
    }
  });

  it('beside the marks of a station say which way its flanges point', () => {
    const marks = shown(demo('narrow-tail'), { station: 'S6' }).labels.filter((l) => l.verdict === null);
    expect(marks.find((l) => l.text === 'M6')!.points).toEqual([0, 1, 0]);
    expect(shown(demo('narrow-tail'), { station: 'S2' }).labels.find((l) => l.id === 'mark:M2')!.points).toEqual([
      0, -1, 0,
    ]);
  });

  it('of parts that stand apart are their marks only, and no gap is shown', () => {
    const scene = shown(demo('narrow-tail'), { apart: true });
    expect(scene.labels.every((l) => l.verdict === null)).toBe(true);
    expect(scene.labels.map((l) => l.text)).toEqual(
      expect.arrayContaining(['front spar', 'rear spar', 'M2', 'N2', 'T1', 'T8']),
    );
    expect(scene.gaps.some((g) => g.shown)).toBe(false);
  });

  it('leave echoes to their source', () => {
    const { labels } = shown(demo('narrow-tail'), { question: 'true' });
    expect(labels.some((l) => l.text.startsWith('N4 kinks'))).toBe(true);
    expect(labels.some((l) => l.text.startsWith('N5 kinks'))).toBe(false);
  });

  it('always show the chosen finding', () => {
    expect(shown(demo('plain'), { finding: 'cap-gap:M2-front' }).labels.map((l) => l.findingId)).toEqual([
      'cap-gap:M2-front',
    ]);
  });
});

describe('holes', () => {
  const a = demo('narrow-tail');
  const state = (model: Model, id: string, stage?: string) =>
    shown(model, { question: 'drill', ...(stage ? { stage } : {}) }).holes.find((h) => h.id === id)?.state;

  it('are marked by the same answer as the ledger', () => {
    for (const model of [a, demo('washed-out-wing'), { ...a, now: 'noses' }]) {
      const marks = shown(model, { question: 'drill' }).holes;
      const answers = askHoles(skeletonOf(model));
      expect(marks.map((h) => [h.id, h.state])).toEqual(answers.map((h) => [h.id, h.state]));
    }
    const far = structuredClone(a);
    far.readings.find((r) => r.size === 'F6/h2.M6.along')!.value = 0.8;
    expect(state(far, 'F6/h2')).toBe('never');
  });

  it('change with the stage looked ahead to', () => {
    const rows = ['pilots', 'noses', 'brackets'].map((stage) => [
      state(a, 'F2/h1', stage),
      state(a, 'R2/h1', stage),
      state(a, 'K2/h1', stage),
      state(a, 'F6/h2', stage),
    ]);
    // Nothing may be drilled ahead of its stage; R2 is piloted and nobody looked through it; the plan opens F2 on the way.
    expect(rows).toEqual([
      ['not yet', 'not yet', 'not yet', 'in doubt'],
      ['not yet', 'not yet', 'not yet', 'in doubt'],
      ['done', 'not asked', 'not yet', 'in doubt'],
    ]);
  });

  // By hand: base spar 80 deep; 9 from the web's face on the top cap's outside; M2's row 7.2 outboard of 300.
  it('in a cap stand on its outside', () => {
    const capped = structuredClone(demo('plain'));
    const like = capped.joints.find((j) => j.end === 'front')!;
    capped.joints.push({
      ...like,
      id: 'U2',
      on: 'top',
      layers: ['front', 'M2'],
      guide: 'front',
      holes: [{ id: 'h1', along: 10, up: 9, layers: [] }],
    });
    const mark = shown(capped, { question: 'drill', magnify: 1 }).holes.find((h) => h.id === 'U2/h1')!;
    const depth = skeletonOf(capped).book.get('front.depth@S2').best;
    expect(mark.at[0]).toBeCloseTo(9, 6);
    expect(mark.at[1]).toBeCloseTo(capped.stations.find((s) => s.id === 'S2')!.y + 7.2 + 10, 6);
    expect(Math.abs(mark.at[2])).toBeCloseTo(depth / 2, 6);
    expect(Math.abs(mark.axis[2])).toBeCloseTo(1, 6);
  });
});

describe('faces', () => {
  it('colour the place: the front tab of a short rib, the bend of a riding doubler looked at, a kinked nose', () => {
    const a = demo('narrow-tail');
    const fit = shown(a).faces.map((f) => `${f.part} ${f.face} ${f.verdict}`);
    expect(fit).toContain('M6 front tab unsettled');
    expect(fit).not.toContain('D3 bend act');
    expect(shown(a, { station: 'S3' }).faces.map((f) => `${f.part} ${f.face} ${f.verdict}`)).toContain('D3 bend act');
    expect(fit).not.toContain('M6 rear tab unsettled');
    expect(shown(a, { question: 'true' }).faces.map((f) => `${f.part} ${f.face} ${f.verdict}`)).toContain(
      'N4 top flange unsettled',
    );
  });

  it('from two metres whole ribs are coloured at every station at act, and nowhere else; watch is quiet', () => {
    for (const model of [demo('narrow-tail'), demo('washed-out-wing')]) {
      const { faces } = shown(model, { question: 'tonight' });
      const atAct = checkAll(model).filter((f) => f.verdict === 'act' && !f.echoOf && f.station !== null);
      expect(atAct.length).toBeGreaterThan(0);
      expect(new Set(faces.map((f) => f.station))).toEqual(new Set(atAct.map((f) => f.station)));
      for (const { part, face, verdict } of faces) {
        expect(verdict, part).toBe('act');
        expect(model.ribs.map((r) => r.id)).toContain(part);
        expect(['web', 'web inside', 'top flange', 'bottom flange']).toContain(face);
      }
    }
  });

  it('name faces that the solids have', async () => {
    const kernel = await openKernel();
    const a = demo('narrow-tail');
    const meshes = new Map(solidsOf(skeletonOf(a), { magnify: 20 }).map((p) => [p.id, kernel.build(p.solid)]));
    for (const question of QUESTIONS) {
      for (const { part, face } of shown(a, { question }).faces)
        expect(
          meshes.get(part)?.faces.map((f) => f.name),
          `${part} ${face}`,
        ).toContain(face);
    }
  });
});

it('changes nothing it is given', () => {
  const model = frozen(demo('narrow-tail'));
  const skeleton = skeletonOf(model);
  const findings = frozen([...checkAll(model)]);
  for (const question of QUESTIONS)
    expect(() => sceneOf(skeleton, findings, frozen({ magnify: 20, question, station: 'S2' }))).not.toThrow();
});

it('is the same for the same panel asked twice', () => {
  const model = demo('washed-out-wing');
  expect(shown(model)).toEqual(shown(model));
});
