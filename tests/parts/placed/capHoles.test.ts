import { describe, expect, it } from 'vitest';
import { openKernel } from '../../../src/geometry/kernel.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { holePlaces } from '../../../src/parts/placed/holePlaces.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';
import { changed, flat, panel } from '../../model/panels.ts';
import { extentOf } from '../measuring.ts';

/* Rows in caps, cut in every layer they go through. Against what a drill takes out: the hole's area times the sheet. */

const kernel = await openKernel();
const LAYERS = ['skin', 'front', 'C1', 'D4', 'Q4', 'M4'] as const;

/** Panel A, true to the drawing, with a six-layer row in a cap at S4: skin, cap, strip, channel, shim, rib. */
const withRow = (on: 'top' | 'bottom', drilled: readonly string[]): Model =>
  changed(panel('narrow-tail'), (m) => {
    m.readings = [];
    m.skin ??= { sheet: 's020' };
    m.spars.front.strips = [{ id: 'C1', sheet: 's025', from: m.spars.front.from, to: m.spars.front.to, caps: 'both' }];
    m.doublers.push(flat('Q4', 'M4', 'front', 's020', on));
    const like = m.joints.find((j) => j.id === 'F4')!;
    m.joints = [
      {
        ...structuredClone(like),
        id: 'U4',
        on,
        layers: [...LAYERS],
        guide: 'front',
        holes: [
          {
            id: 'h1',
            along: 1.2,
            up: 9,
            layers: drilled.map((part) => ({ part, state: 'final' as const, size: 3.2 })),
          },
        ],
      },
    ];
    m.brackets = [];
  });

const solidIn = (model: Model, id: string) =>
  solidsOf(skeletonOf(model), { magnify: 1, skin: true }).find((p) => p.id === id)!;
const idOf = (layer: string, on: string): string => (layer === 'C1' ? `front-strip1-${on}` : layer);
const thick: Record<string, string> = { skin: 's020', C1: 's025', Q4: 's020' };

describe.each(['top', 'bottom'] as const)('a row in the %s cap', (on) => {
  const bare = withRow(on, []);
  const full = withRow(on, LAYERS);
  // Twelve corners on the true circle (HoleShape).
  const area = (12 / 2) * Math.sin((2 * Math.PI) / 12) * 1.6 ** 2;

  it.each(LAYERS)('takes the hole out of %s, once, where it is asked for', (layer) => {
    const [whole, cut] = [bare, full].map((m) => solidIn(m, idOf(layer, on)));
    const sheet = thick[layer] ?? whole!.sheet!;
    const t = bare.sheets.find((s) => s.id === sheet)!.thickness;
    const taken = kernel.volume(whole!.solid) - kernel.volume(cut!.solid);
    // A flange or skin that slopes to the hole's axis gives a little more, as its sine.
    expect(taken / (area * t)).toBeGreaterThan(0.999);
    expect(taken / (area * t)).toBeLessThan(layer === 'skin' ? 1.02 : 1.006);
    const { low, high } = extentOf(kernel.build(cut!.solid), 'hole');
    const [place] = holePlaces(skeletonOf(full), full.joints[0]!);
    expect((low[0] + high[0]) / 2).toBeCloseTo(place!.at[0], 1);
    expect((low[1] + high[1]) / 2).toBeCloseTo(place!.at[1], 4);
    expect(Math.sign(low[2])).toBe(on === 'top' ? 1 : -1);
  });

  it('cuts only the layers drilled so far', () => {
    const some = withRow(on, ['front', 'M4']);
    for (const layer of LAYERS) {
      const same =
        Math.abs(
          kernel.volume(solidIn(some, idOf(layer, on)).solid) - kernel.volume(solidIn(bare, idOf(layer, on)).solid),
        ) < 1e-6;
      expect(same, layer).toBe(layer !== 'front' && layer !== 'M4');
    }
  });

  it('is riveted square to the cap, its head outside the skin and its grip through all six', () => {
    const [rivet] = solidsOf(skeletonOf(full), { magnify: 1, rivets: true }).filter((p) => p.kind === 'rivet');
    const mesh = kernel.build(rivet!.solid);
    const grip = LAYERS.reduce(
      (sum, layer) => sum + full.sheets.find((s) => s.id === (thick[layer] ?? solidIn(full, layer).sheet))!.thickness,
      0,
    );
    const [head, upset] = ['head', 'upset head'].map((name) => extentOf(mesh, name));
    const gap = on === 'top' ? head!.low[2] - upset!.high[2] : upset!.low[2] - head!.high[2];
    expect(gap).toBeCloseTo(grip, 4);
    const half = extentOf(kernel.build(solidIn(full, 'front').solid), `${on} cap`);
    const outside = on === 'top' ? head!.low[2] - half.high[2] : half.low[2] - head!.high[2];
    expect(outside).toBeGreaterThan(0);
    expect(outside).toBeLessThan(1);
  });
});
