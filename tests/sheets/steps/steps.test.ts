import { describe, expect, test } from 'vitest';
import { askHoles } from '../../../src/drilling/drill.ts';
import { limitFor } from '../../../src/model/limits.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { PLACING, type Step } from '../../../src/sheets/steps/step.ts';
import { numberText } from '../../../src/sheets/steps/stepNumber.ts';
import { stepsOf } from '../../../src/sheets/steps/steps.ts';
import { demo, frozen } from '../../scene/panel.ts';

/*
 * Outside sources: the card of the trade (section 5.1), which is common practice; the order of assembly law, worked here from
 * the panel file alone; the starting limits; figures of the invented panel A, worked by an independent script.
 */

const narrow = frozen(demo('narrow-tail'));
const panels: readonly (readonly [string, Model])[] = [
  ['narrow tail', narrow],
  ['washed-out wing', demo('washed-out-wing')],
  ['plain', demo('plain')],
  ['narrow tail without stages', without(narrow)],
];
const by = (steps: readonly Step[], id: string): Step => steps.find((s) => s.id === id)!;

/** The same panel with no stages told. */
function without(model: Model): Model {
  const { now: _, ...rest } = model;
  return { ...rest, stages: [] };
}

const partsOf = (m: Model): string[] => [
  'front',
  ...(m.spars.rear ? ['rear'] : []),
  ...m.ribs.map((r) => r.id),
  ...m.doublers.map((d) => d.id),
  ...m.brackets.map((b) => b.id),
];

describe.each(panels)('the steps of the %s', (_, model) => {
  const steps = stepsOf(model);
  const at = new Map<string, number>();
  steps.forEach((s, i) => {
    if (PLACING.includes(s.kind)) for (const part of s.chosen) at.set(part, i);
  });

  test('put every part in its place once', () => {
    const placed = steps.filter((s) => PLACING.includes(s.kind)).flatMap((s) => s.chosen);
    expect([...placed].sort()).toEqual(partsOf(model).sort());
  });

  test('drill and open nothing before the last of its layers is in', () => {
    for (const [i, s] of steps.entries()) {
      if (s.check?.kind !== 'drill') continue;
      const joint = model.joints.find((j) => j.id === s.joint)!;
      const layers = s.check.pilot
        ? joint.layers.filter((p) => s.there.includes(p) || s.chosen.includes(p))
        : joint.layers;
      expect(layers.length).toBeGreaterThanOrEqual(2);
      for (const part of layers) expect(at.get(part)!, `${s.id} before ${part}`).toBeLessThan(i);
    }
  });

  test('open each joint once, and only after a pilot card for every layer', () => {
    for (const joint of model.joints) {
      const final = steps.findIndex(
        (s) => s.joint === joint.id && (s.kind === 'open' || s.id.startsWith(`open:${joint.id}`)),
      );
      const pilots = steps.map((s, i) => ({ s, i })).filter(({ s }) => s.kind === 'pilot' && s.joint === joint.id);
      expect(pilots.length, joint.id).toBeGreaterThanOrEqual(1);
      expect(final, joint.id).toBeGreaterThan(Math.max(...pilots.map((p) => p.i)));
      const holes = steps
        .filter((s) => s.joint === joint.id && s.id.startsWith('open:'))
        .reduce((sum, s) => sum + s.holes.length, 0);
      expect(holes, joint.id).toBe(joint.holes.length);
    }
  });

  test('lay spars before what stands between them, and what lies at a rib end before the rib', () => {
    for (const rib of model.ribs) expect(at.get(rib.id)!).toBeGreaterThan(at.get('front')!);
    for (const d of model.doublers) expect(at.get(d.id)!, d.id).toBeLessThan(at.get(d.part)!);
  });

  test('square and survey before the first pilot', () => {
    const first = steps.findIndex((s) => s.kind === 'pilot');
    for (const id of ['square', 'survey:twist', 'ask:pilots'])
      expect(steps.findIndex((s) => s.id === id)).toBeLessThan(first);
  });

  test('name each action once and count from one', () => {
    expect(new Set(steps.map((s) => s.id)).size).toBe(steps.length);
    expect(steps.map((s) => s.number)).toEqual(steps.map((_s, i) => i + 1));
  });

  test('keep to one number a card: no figure in their words but names of parts and places', () => {
    const names = new Set([
      ...partsOf(model),
      ...model.stations.map((s) => s.id),
      ...model.joints.flatMap((j) => j.holes.map((h) => h.id)),
    ]);
    for (const s of steps) {
      const figures = [s.title, ...s.lines, s.held ?? '']
        .join(' ')
        .split(/[^A-Za-z0-9.-]+/)
        .map((w) => w.replace(/\.$/, ''))
        .filter((w) => /\d/.test(w) && !names.has(w));
      expect(figures, s.id).toEqual([]);
    }
  });

  test('never say pilot and final on one card', () => {
    for (const s of steps) {
      const said = [s.title, ...s.lines, ...(s.check ? [numberText(s.check, 'mm').band] : [])].join(' ');
      expect(/pilot/i.test(said) && /\bfinal\b/i.test(said), s.id).toBe(false);
    }
  });

  test('show as there just what came before', () => {
    const there = new Set<string>();
    for (const s of steps) {
      expect(new Set(s.there.filter((p) => !s.chosen.includes(p)))).toEqual(
        new Set([...there].filter((p) => !s.chosen.includes(p))),
      );
      if (PLACING.includes(s.kind)) for (const p of s.chosen) there.add(p);
    }
  });

  test('name layers the other way round where the drill goes in from behind', () => {
    const fromBehind = steps.filter(
      (x) => x.kind === 'pilot' && x.lines.some((l) => l.startsWith('Through the holes')),
    );
    for (const s of fromBehind) {
      const joint = model.joints.find((j) => j.id === s.joint)!;
      const order = joint.layers.map((p) => s.layers.findIndex((l) => l.endsWith(p) || l.includes(`${p} `)));
      const named = order.filter((at) => at >= 0);
      expect(named, s.id).toEqual([...named].sort((a, b) => b - a));
    }
  });

  test('name layers in the order of the joint, from the drill side', () => {
    for (const s of steps.filter((x) => x.kind === 'open')) {
      const joint = model.joints.find((j) => j.id === s.joint)!;
      expect(s.layers).toHaveLength(joint.layers.length);
      joint.layers.forEach((p, i) => {
        expect(s.layers[i]).toContain(p === 'front' || p === 'rear' ? `${p} spar` : p);
      });
    }
  });
});

describe('panel A', () => {
  const steps = stepsOf(narrow);

  test('a rib card says which way up and round', () => {
    const m5 = by(steps, 'stand:M5');
    expect(m5.title).toBe('Stand rib M5 at station S5');
    // S5 is right of the middle of a panel that is both hands in one: outboard is right of who stands behind it.
    expect(m5.lines[0]).toBe('Flange points outboard, to your right.');
    expect(by(steps, 'stand:M4').lines[0]).toBe('Flange points outboard, to your left.');
    expect(by(steps, 'stand:N5').lines[0]).toBe('Flange points outboard, to your left.');
    expect(by(steps, 'stand:T1').edge).toBe('The leading edge is to your left.');
    expect(by(steps, 'stand:T8').edge).toBe('The leading edge is to your right.');
  });

  test('the leaves come from the limits: 0.10 where the side is expected to fit, 0.25 where it is to be watched', () => {
    const { fits, act } = limitFor(narrow, 'cap-split');
    // demo-panels: G is +0.03 at S4 and +0.38 at S5; half of it each side is 0.015 and 0.19.
    expect(by(steps, 'feel:M4').check).toEqual({ kind: 'feeler', feels: [{ side: 'top and bottom', leaf: fits[1] }] });
    expect(by(steps, 'feel:M5.front').check).toEqual({
      kind: 'feeler',
      feels: [{ side: 'top and bottom', leaf: act[1] }],
    });
    expect([fits[1], act[1]]).toEqual([0.1, 0.25]);
  });

  test('a rib held off its middle has a leaf each side: the thin one on top, the thick one below', () => {
    // Lifted by 0.15 of the 0.38 there is: 0.04 on top, 0.34 below is beyond 0.25, so lift less: 0.10 gives 0.09 and 0.29; 0.05 gives 0.14 and 0.24.
    const lifted: Model = {
      ...narrow,
      readings: [
        ...narrow.readings,
        { size: 'M5.front.bias', value: 0.06, instrument: 'caliper' },
        { size: 'M5.front.height', value: 82.62, instrument: 'caliper' },
      ].filter((r) => !(r.size === 'M5.front.height' && r.value === 82.55)),
    };
    const feels = by(stepsOf(lifted), 'feel:M5.front').check;
    // 84.20 - 82.62 - 1.27 = 0.31; 0.155 each side, less and more 0.06: 0.095 on top, 0.215 below.
    expect(feels).toEqual({
      kind: 'feeler',
      feels: [
        { side: 'top', leaf: 0.1 },
        { side: 'bottom', leaf: 0.25 },
      ],
    });
  });

  test('what the checks hold back is said without numbers', () => {
    expect(by(steps, 'stand:M2').held).toBe('between the caps: M2 front binds (measured)');
    expect(by(steps, 'slip:D2').held).toContain('rides');
    expect(by(steps, 'stand:M4').held).toBeUndefined();
  });

  test('front pilots are drilled from ahead through spar, doubler and rib; nose ribs from inside, through the holes that are there', () => {
    const front = by(steps, 'pilot:F5@pilots');
    expect([front.standing, front.layers, front.check]).toEqual([
      'ahead',
      ['front spar web', 'doubler D5', 'rib M5 flange'],
      { kind: 'drill', diameter: 2.4892, holes: 3, pilot: true },
    ]);
    const nose = by(steps, 'pilot:F5@noses');
    expect([nose.standing, nose.title]).toEqual(['behind', 'Drill pilots in nose rib N5 at S5']);
    expect(numberText(front.check!, 'mm')).toEqual({
      large: [{ figure: '#40', words: '3 holes' }],
      small: 'drill 0.0980 in = 2.49 mm',
      band: 'PILOT ONLY. Do not open.',
    });
  });

  test('a clamp stands beside each hole, none in one', () => {
    const clamp = by(steps, 'clamp:M5');
    expect(clamp.clamps).toHaveLength(6);
    const holes = [...by(steps, 'pilot:F5@pilots').holes, ...by(steps, 'pilot:R5@pilots').holes];
    for (const c of clamp.clamps) {
      const near = Math.min(...holes.map((h) => Math.hypot(h[1] - c[1], h[2] - c[2], h[0] - c[0])));
      expect(near).toBeGreaterThan(3);
      expect(near).toBeLessThan(10);
    }
  });

  test('the hole that can not clean up is a card of its own: stop', () => {
    // demo-panels item 11: the S6 hole needs more than #30, and there is no step.
    const worst = askHoles(skeletonOf(narrow)).filter(
      (h) => h.joint.id === 'F6' && (h.need?.bestAxis ?? 0) > h.joint.final,
    );
    expect(worst).toHaveLength(1);
    const stop = by(steps, 'open:F6-stop');
    expect([stop.kind, stop.holes.length, stop.check]).toEqual(['ask', 1, undefined]);
    expect(by(steps, 'open:F6').holes).toHaveLength(2);
  });

  test('packs are those of the packing plan', () => {
    expect(steps.filter((s) => s.kind === 'pack').map((s) => [s.station, s.check])).toEqual([
      ['S3', { kind: 'pack', total: 0.1, pieces: [0.1], basis: 'measured' }],
      ['S6', { kind: 'pack', total: 1, pieces: [1], basis: 'measured' }],
      ['S8', { kind: 'pack', total: 2.2, pieces: [2, 0.2], basis: 'measured' }],
    ]);
  });

  test('an added packer has its card before its nose rib, whatever the stages say', () => {
    const added: Model = {
      ...narrow,
      doublers: [
        ...narrow.doublers,
        {
          id: 'P4',
          form: 'flat',
          on: 'web',
          sheet: 's032',
          part: 'N4',
          end: 'tail',
          height: 40,
          width: 28,
          designed: false,
        },
      ],
    };
    const ids = stepsOf(added).map((s) => s.id);
    expect(ids.indexOf('slip:P4')).toBe(ids.indexOf('stand:N4') - 1);
    expect(by(stepsOf(added), 'slip:P4').title).toBe('Slip packer P4 on the front spar web at S4');
  });

  test('a row in a cap is drilled from above, through the cap', () => {
    const f5 = narrow.joints.find((j) => j.id === 'F5')!;
    const bare = (part: string) => ({ part, state: 'none' as const, size: 0 });
    const row: Model = {
      ...narrow,
      joints: [
        ...narrow.joints,
        {
          ...f5,
          id: 'C5',
          on: 'top',
          layers: ['front', 'M5'],
          guide: 'front',
          holes: [-8, 8].map((along, i) => ({ id: `h${i + 1}`, along, up: 7, layers: ['front', 'M5'].map(bare) })),
        },
      ],
    };
    const pilot = by(stepsOf(row), 'pilot:C5@pilots');
    expect([pilot.title, pilot.goes, pilot.layers]).toEqual([
      'Drill pilots in the top cap of the front spar at S5',
      [0, 0, -1],
      ['front spar top cap', 'rib M5 flange'],
    ]);
    // Over half the measured depth of 85.83 there, 7 mm aft of the web's flat face, 16 mm apart.
    for (const [x, , z] of pilot.holes) expect(Math.hypot(x - pilot.holes[0]![0], z - 42.915)).toBeLessThan(1);
    expect(Math.abs(pilot.holes[0]![1] - pilot.holes[1]![1])).toBeCloseTo(16, 9);
  });

  test('a tick makes no new steps', () => {
    // What is remembered is the last panel asked about: this one, not one of the tests before.
    const before = { ...narrow };
    const own = stepsOf(before);
    expect(stepsOf({ ...before, ticks: [{ step: 'stand:M5', by: 'AB', date: '2026-05-17' }] })).toBe(own);
  });
});
