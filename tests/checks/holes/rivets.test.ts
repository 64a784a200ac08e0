import { describe, expect, it } from 'vitest';
import { bagList, blindFor, solidToBuy } from '../../../src/checks/holes/rivets.ts';
import { ledgerOf, ledgerText } from '../../../src/drilling/ledger.ts';
import { applyEdit } from '../../../src/model/edits/edits.ts';
import { layerDrilled, layRow, mostHoles, rowPlaces } from '../../../src/model/edits/rows.ts';
import type { Rivet } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, flat, panel } from '../../model/panels.ts';

/* Grips: US Army TM 10-5410-221-14/1 table 4-3 (1/8 in blind); RV-1 (grip + 1.5 D); BR-1, BR-3 of the published check values. */

const inch = (v: number): number => v * 25.4;
const TABLE: Rivet[] = [
  [0.02, 0.062],
  [0.063, 0.125],
  [0.126, 0.187],
  [0.188, 0.25],
].map(([a, b]) => ({ kind: 'blind', diameter: inch(1 / 8), grip: [inch(a!), inch(b!)] }));

describe('which rivet', () => {
  it('BR-1: 0.057 in takes the 0.020 to 0.062 range; BR-3: 0.0625 lies between two ranges and takes none', () => {
    expect(blindFor(TABLE, inch(1 / 8), inch(0.057))).toEqual([TABLE[0]]);
    expect(blindFor(TABLE, inch(1 / 8), inch(0.0625))).toEqual([]);
  });

  it('RV-1: 0.100 in of sheet and 5/32 in want 0.334 in, bought as 11/32', () => {
    expect(solidToBuy(inch(0.1), inch(5 / 32)) / 25.4).toBeCloseTo(11 / 32, 9);
  });

  it('panel A item 8: a packer behind N4 puts its bag out of range and into the next', () => {
    const packed = changed(panel('narrow-tail'), (m) => {
      m.doublers.push({ ...flat('P4', 'N4', 'tail', 's032', 'web', 60) });
      m.joints.find((j) => j.id === 'F4')!.layers.splice(1, 0, 'P4');
    });
    const bag = bagList(skeletonOf(packed)).find((b) => b.joint.id === 'F4')!;
    expect(bag.grip / 25.4).toBeCloseTo(0.139, 3);
    expect(bag.changed).toBe(true);
    expect(bag.take).toContain('0.126 to 0.187 in');
    expect(bagList(skeletonOf(panel('narrow-tail'))).some((b) => b.changed)).toBe(false);
  });
});

describe('rows', () => {
  it('are even about the middle, and as many as edge and pitch allow', () => {
    expect(rowPlaces({ count: 3, pitch: 24, along: 0 })).toEqual([24, 0, -24]);
    expect(rowPlaces({ count: 2, pitch: 20, along: 0 })).toEqual([10, -10]);
    const d = inch(1 / 8);
    const n = mostHoles(70, 2.5 * d, 4 * d);
    expect((n - 1) * 4 * d + 5 * d).toBeLessThanOrEqual(70);
    expect(n * 4 * d + 5 * d).toBeGreaterThan(70);
  });

  it('are not moved once a hole is drilled, and remember what was drilled', () => {
    const A = panel('narrow-tail');
    const F4 = A.joints.find((j) => j.id === 'F4')!;
    expect(layRow(F4, { count: 4, pitch: 18, along: 0 })).toBeNull();
    const bare = { ...F4, holes: [] };
    const laid = applyEdit(
      { ...A, joints: A.joints.map((j) => (j === F4 ? bare : j)) },
      layRow(bare, { count: 4, pitch: 18, along: 0 })!,
    );
    expect(laid.ok && laid.model.joints.find((j) => j.id === 'F4')!.holes.map((h) => h.up)).toEqual([27, 9, -9, -27]);
    const after = applyEdit(A, layerDrilled(F4, 'h1', 'N4', 'pilot'));
    expect(
      after.ok && after.model.joints.find((j) => j.id === 'F4')!.holes[0]!.layers.find((l) => l.part === 'N4'),
    ).toEqual({ part: 'N4', state: 'pilot', size: F4.pilot });
  });
});

describe('the ledger', () => {
  it('has a row for every hole and says what is in doubt, with the caution', () => {
    const A = panel('narrow-tail');
    const rows = ledgerOf(A);
    expect(rows).toHaveLength(A.joints.reduce((n, j) => n + j.holes.length, 0));
    expect(rows.find((r) => r.hole === 'F6 h2')!.why).toContain('no larger size is left');
    const text = ledgerText(A);
    expect(text).toContain('May I drill pilots? no');
    expect(text).toContain('not approved on certificated structure');
  });
});
