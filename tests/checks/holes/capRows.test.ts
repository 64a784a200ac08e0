import { describe, expect, it } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { bendRoomChain } from '../../../src/checks/holes/bendRoom.ts';
import { edgeAt, rowToRow } from '../../../src/checks/holes/edges.ts';
import { edgeLines, nextSize } from '../../../src/checks/holes/nextSize.ts';
import { bagOf, shankGrams } from '../../../src/checks/holes/rivets.ts';
import { partsIn, putBack, takenOff } from '../../../src/checks/holes/stages.ts';
import { askHoles } from '../../../src/drilling/drill.ts';
import { namesOf, tonight } from '../../../src/drilling/hold.ts';
import { applyEdit } from '../../../src/model/edits/edits.ts';
import { capLayers, capRow, drilledThrough, rowOfCount, rowOfPitch, rowPlaces } from '../../../src/model/edits/rows.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Joint, Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, flat, panel } from '../../model/panels.ts';

/* Rows in caps, room round holes, stages taken apart, rows laid out, the next size: by hand, with the limits' sources named. */

const A = panel('narrow-tail');

/** Panel A with a named strip under the front caps, and a six-layer row in the top cap at S4: skin, cap, strip, channel, shim, rib. */
const six: Model = changed(A, (m) => {
  m.skin ??= { sheet: 's020' };
  m.spars.front.strips = [{ id: 'C1', sheet: 's025', from: m.spars.front.from, to: m.spars.front.to, caps: 'both' }];
  m.doublers.push(flat('Q4', 'M4', 'front', 's020', 'top'));
  const like = m.joints.find((j) => j.id === 'F4')!;
  m.joints.push({
    ...structuredClone(like),
    id: 'U4',
    on: 'top',
    layers: ['skin', 'front', 'C1', 'D4', 'Q4', 'M4'],
    guide: 'front',
    holes: [{ id: 'h1', along: 0, up: 9, layers: [{ part: 'front', state: 'pilot', size: like.pilot }] }],
  });
});
const U4 = six.joints.find((j) => j.id === 'U4')!;

describe('a row in a cap', () => {
  it('goes through six layers, as they lie there, and the file keeps it', () => {
    expect(capLayers(six, 'S4', 'front', 'top')).toEqual(['skin', 'front', 'C1', 'D4', 'Q4', 'M4']);
    expect(capLayers(six, 'S4', 'front', 'bottom')).toEqual(['skin', 'front', 'C1', 'D4', 'M4']);
    const read = parseModel(writeModel(six));
    expect(read.ok && read.model.joints.find((j) => j.id === 'U4')).toEqual(U4);
  });

  it('its rivet grips all six: 0.020 + 0.032 + 0.025 + 0.025 + 0.020 + 0.025 = 0.147 in', () => {
    expect(bagOf(skeletonOf(six), U4).grip / 25.4).toBeCloseTo(0.147, 3);
  });

  // Cap 16.0 over the web: 16 - 9 = 7 to the free edge. Bend at 0.813 + 2.4: 9 - 3.213 - 3.175 = 2.61 to the head. Rib flange 14.0 - 7.2.
  it("has the cap's edge and bend beside it, and the rib's flange", () => {
    const lines = edgeLines(skeletonOf(six), U4);
    expect(lines.find((e) => e.part === 'front')!.mm).toBeCloseTo(7, 9);
    expect(lines.find((e) => e.part === 'front')!.bend).toBeCloseTo(9 - 0.8128 - 2.4 - 3.175, 3);
    expect(lines.find((e) => e.part === 'M4')!.mm).toBeCloseTo(6.8, 9);
    expect(edgeAt(skeletonOf(six), U4, 'skin', { along: 0, up: 9 })).toBeUndefined();
  });

  it('is drilled pilot only by way of the cap while the noses are off, and it is asked like any other', () => {
    const calm = changed(six, (m) => {
      m.readings = m.readings.filter((r) => !/^(D\d\.radius|height\.|bench\.|level@)/.test(r.size));
      for (const s of m.stages.slice(0, 1)) s.brings.push('skin', 'C1', 'Q4');
    });
    const a = askHoles(skeletonOf(calm), { ahead: true }).find((h) => h.id === 'U4/h1')!;
    expect(a).toMatchObject({ state: 'not yet', because: 'then', how: 'pilot' });
    expect(a.why).toContain('through skin, C1, D4, Q4 and M4 by way of the front spar');
  });

  it('can be started from a web row, and never through fewer than two layers', () => {
    const F4 = six.joints.find((j) => j.id === 'F4')!;
    const done = applyEdit(six, capRow(six, F4, 'bottom')!);
    expect(done.ok && done.model.joints.at(-1)).toMatchObject({
      on: 'bottom',
      station: 'S4',
      end: 'front',
      layers: ['skin', 'front', 'C1', 'D4', 'M4'],
    });
  });

  it('a packer on the web is no layer of a row in a cap', () => {
    expect(checkAll(six).some((f) => f.place === 'U4' && f.check === 'grip')).toBe(true);
  });
});

describe('room round a hole', () => {
  it("is reckoned from the layer's own hole now, and from the drill's axis at final and next size", () => {
    // Panel A, S3 left of the middle: M3's flange points to -y, its pilot stands +0.30 along: 6.8 + 0.30 to the free edge now.
    const F3 = A.joints.find((j) => j.id === 'F3')!;
    const line = edgeLines(skeletonOf(A), F3, F3.holes[0]!).find((e) => e.part === 'M3')!;
    expect(line.mm).toBeCloseTo(7.1, 9);
    expect(line.atAxis).toBeCloseTo(6.95, 9); // midway, for following the spar does not clean up
    expect(line.final).toBeCloseTo(6.95 / 3.175, 9);
    expect(line.next).toBeCloseTo(6.8 / 3.9688, 9); // the next size may follow the spar
    // S6 right of the middle: +0.45 brings M6's hole nearer its free edge.
    const F6 = A.joints.find((j) => j.id === 'F6')!;
    expect(edgeLines(skeletonOf(A), F6, F6.holes[1]!).find((e) => e.part === 'M6')!.mm).toBeCloseTo(6.35, 9);
  });

  it('from the bend to the head: row - (thickness + radius) - head/2', () => {
    const F4 = A.joints.find((j) => j.id === 'F4')!;
    const rib = A.ribs.find((r) => r.id === 'M4')!;
    const room = (joint: typeof F4): number => best(bendRoomChain(skeletonOf(A), joint, 'M4', { along: 0, up: 0 })!);
    expect(room(F4)).toBeCloseTo(7.2 - 0.635 - rib.radius - 3.175, 9);
    expect(room({ ...F4, rivet: { ...F4.rivet, head: 10 } })).toBeCloseTo(7.2 - 0.635 - rib.radius - 5, 9);
  });

  it('two rows: 2.5 D (TM 10-5410-229-13&P 5-6(3)(b)); one row asks nothing', () => {
    const rows = (apart: number): Model =>
      changed(A, (m) => {
        const j = m.joints.find((x) => x.id === 'F4')!;
        j.holes = [0, apart].flatMap((along, k) =>
          [12, -12].map((up, i) => ({ id: `h${2 * k + i}`, along: along - apart / 2, up, layers: [] })),
        );
      });
    expect(rowToRow(A.joints[0]!)).toBeUndefined();
    expect(finding(rows(2.5 * 3.175), 'rows', 'F4').verdict).toBe('fits');
    expect(finding(rows(2.49 * 3.175), 'rows', 'F4').verdict).toBe('act');
  });
});

describe('the next size', () => {
  // Row of three, 24 apart, flanges wide enough: #21 is left. Mass: 2768 kg/m³ × π/4 × D² × (2.7178 + 1.5 D), the shank alone.
  const wide = changed(A, (m) => {
    for (const r of m.ribs)
      if (r.kind === 'main') r.front.tab = 18;
      else if (r.kind === 'nose') r.tail.tab = 18;
  });
  const F6 = wide.joints.find((j) => j.id === 'F6')!;
  const ask = (model: Model, j: Joint) => {
    const a = askHoles(skeletonOf(model)).find((h) => h.id === 'F6/h2')!;
    return nextSize(skeletonOf(model), j, a.need!, j.holes[1]);
  };

  it('says what it weighs, and that one of three is over 20 % (MIL-R-47196A)', () => {
    const up = ask(wide, F6);
    const weigh = (d: number): number => 0.00276799 * (Math.PI / 4) * d * d * (2.7178 + 1.5 * d);
    expect(up.ok && up.grams).toBeCloseTo(weigh(3.9688) - weigh(3.175), 4);
    expect(up.ok && up.note).toContain('one of 3');
    expect(shankGrams(skeletonOf(wide), { ...F6, layers: [] }, 3.175)).toBeCloseTo(
      0.00276799 * (Math.PI / 4) * 3.175 ** 2 * 4.7625,
      6,
    );
  });

  it('wants 3 D of pitch too', () => {
    const close = changed(wide, (m) => {
      m.joints.find((j) => j.id === 'F6')!.holes[0]!.up = 11;
    });
    expect(ask(close, close.joints.find((j) => j.id === 'F6')!)).toMatchObject({
      ok: false,
      why: expect.stringContaining('11.00 mm apart'),
    });
  });
});

describe('taken apart and put back', () => {
  const m = {
    ...A,
    stages: [
      { id: 'a', name: 'a', brings: ['M2'], opens: [] },
      { id: 'b', name: 'b', takes: ['M2', 'M3'], brings: [], opens: [] },
      { id: 'c', name: 'c', brings: ['M2', 'M3'], opens: [] },
    ],
  } as Model;
  it('a part is off from when it is taken to when it is put back, and then it was put back', () => {
    for (const part of ['M2', 'M3']) {
      expect([0, 1, 2].map((i) => partsIn(m, i)(part))).toEqual([true, false, true]);
      expect([0, 1, 2].map((i) => takenOff(m, i)(part))).toEqual([false, true, false]);
      expect([0, 1, 2].map((i) => putBack(m, i)(part))).toEqual([false, false, true]);
    }
    expect(putBack(m, 2)('front')).toBe(false);
  });
});

describe('rows from edge, pitch and count', () => {
  it('keep the edge at both ends', () => {
    expect(rowPlaces(rowOfCount({ length: 70, edge: 8 }, 4)!)).toEqual([27, 9, -9, -27]); // 54 between the end holes
    expect(rowOfPitch({ length: 70, edge: 8 }, 13)).toEqual({ count: 5, pitch: 13, along: 0 });
    expect(rowOfPitch({ length: 15, edge: 8 }, 13)).toBeNull();
    expect(rowOfCount({ length: 16, edge: 8 }, 1)).toEqual({ count: 1, pitch: 0, along: 0 });
  });

  it('one step records several layers, apart where so, and how the rib stood', () => {
    const F4 = A.joints.find((j) => j.id === 'F4')!;
    const done = applyEdit(
      A,
      drilledThrough(F4, 'h1', { parts: ['N4'], state: 'pilot', apart: true, stood: { lean: 0.2, skew: -0.5 } }),
    );
    const j = done.ok ? done.model.joints.find((x) => x.id === 'F4')! : undefined;
    expect(j?.stood).toEqual({ lean: 0.2, skew: -0.5 });
    expect(j!.holes[0]!.layers.find((l) => l.part === 'N4')).toEqual({
      part: 'N4',
      state: 'pilot',
      size: F4.pilot,
      through: 'apart',
    });
  });
});

describe('which holes to leave alone tonight', () => {
  it('panel A: all of them, and F6 h2 has no larger size left', () => {
    const t = tonight(askHoles(skeletonOf(A)));
    expect(t.headline).toBe('Drill no hole yet. F6 h2 is in doubt, and no larger size is left.');
    expect(t.alone[0]).toMatchObject({ names: 'F6 h2', reason: 'in doubt, and no larger size is left' });
    expect(t.alone.flatMap((w) => w.holes)).toHaveLength(50);
    expect(t.alone.find((w) => w.names.startsWith('F2'))!.reason).toBe(
      'N2, N3, N4, N5, N6 and N7 are not in yet; in at “Nose ribs on, match drill the front web”',
    );
  });

  it('looking ahead, names what may be drilled then, whole joints by their name', () => {
    const t = tonight(askHoles(skeletonOf(A), { stage: 'noses', ahead: true }), 'then');
    expect(namesOf(t.drill)).toBe('F2, F3, F4, F5, F6 h1, F6 h3 and F7');
    expect(t.headline).toMatch(/^Planned then: F2, .*asked again when that stage is reached\. F6 h2 is in doubt/);
  });

  it('every hole of every panel is named once, or done', () => {
    for (const model of [A, panel('washed-out-wing'), panel('plain'), six]) {
      const answers = askHoles(skeletonOf(model));
      const { drill, alone } = tonight(answers);
      expect(
        drill.length + alone.reduce((n, w) => n + w.holes.length, 0) + answers.filter((a) => a.state === 'done').length,
      ).toBe(answers.length);
    }
    expect(tonight([]).headline).toBe('No holes are laid out yet.');
  });
});

it('a gap left between the layers thickens the stack, and is what the rivet grips (C17)', () => {
  const left = changed(A, (m) => {
    m.readings.push({ size: 'F4.gap', value: 0.5, instrument: 'feeler' });
  });
  const F4 = left.joints.find((j) => j.id === 'F4')!;
  expect(bagOf(skeletonOf(left), F4).grip - bagOf(skeletonOf(A), F4).grip).toBeCloseTo(0.5, 9);
  expect(bagOf(skeletonOf(left), F4).changed).toBe(true); // 2.72 + 0.5 = 3.22 mm, past 0.125 in
});
