import { describe, expect, it } from 'vitest';
import { best } from '../../src/chains/chain.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Finding } from '../../src/checks/finding.ts';
import { openKernel } from '../../src/geometry/kernel.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { solidFindings } from '../../src/solidChecks/asBuilt.ts';
import { changed, PANELS, panel, readAs } from '../model/panels.ts';

const kernel = await openKernel();
const asked = new WeakMap<Model, Finding[]>();
function contacts(model: Model): Finding[] {
  const known = asked.get(model) ?? solidFindings(skeletonOf(model), kernel).filter((f) => f.check === 'contact');
  asked.set(model, known);
  return known;
}
const at = (model: Model, place: string): Finding => {
  const found = contacts(model).find((f) => f.place === place);
  if (!found)
    throw new Error(
      `no contact at "${place}" among ${contacts(model)
        .map((f) => f.place)
        .join(', ')}`,
    );
  return found;
};
const A = panel('narrow-tail');
const PLAIN = panel('plain');

describe('parts that should meet', () => {
  it('panel A, items 4 and 6: M6’s front tab stands 0.95 + 0.40 of bow off its doubler', () => {
    const f = at(A, 'M6 front tab');
    expect(f.value).toBeCloseTo(264 - 0.8128 - 0.635 - 261.6 + 0.4, 3);
    expect(f.sentence).toContain('M6 front tab stands 1.35 mm off D6');
    expect(f.sentence).toContain('1.35 mm of daylight between the webs, as bowed');
  });

  it('panel A, item 3: M5 stands 0.19 off each cap', () => {
    expect(at(A, 'M5 front caps').value).toBeCloseTo(0.19, 3);
  });

  it('every end has its tab, every nesting end its caps, every piece on a web its place', () => {
    const places = contacts(PLAIN).map((f) => f.place);
    expect(places).toEqual([
      'T1 rear tab',
      'T1 rear caps',
      'N2 tail tab',
      'M2 front tab',
      'M2 front caps',
      'D2 web',
      'M2 rear tab',
      'M2 rear caps',
      'N3 tail tab',
      'M3 front tab',
      'M3 front caps',
      'D3 web',
      'M3 rear tab',
      'M3 rear caps',
      'T4 rear tab',
      'T4 rear caps',
    ]);
    expect(new Set(contacts(PLAIN).map((f) => f.verdict))).toEqual(new Set(['fits']));
  });

  it.each(PANELS)('%s: distance and chain agree to a thousandth, where no rib stands askew', (name) => {
    const model = changed(panel(name), (m) => {
      m.readings = m.readings.filter((r) => !/^(skew|lean)/.test(r.size));
    });
    for (const f of contacts(model))
      if (f.restsOn.length > 0) expect(Math.abs(f.value - Math.max(0, best(f.restsOn))), f.place).toBeLessThan(0.001);
  });

  it('is the least distance of the two solids where nothing lies between', () => {
    const bare = changed(PLAIN, (m) => {
      m.doublers = [];
      m.joints = [];
      m.stages = [];
      delete (m as { now?: string }).now;
      readAs(m, 'M2.front.height', 74, 'caliper');
      readAs(m, 'M2.length', 197, 'caliper');
    });
    const parts = solidsOf(skeletonOf(bare), { magnify: 1 });
    const solid = (id: string) => parts.find((p) => p.id === id)!.solid;
    expect(kernel.distance(solid('M2'), solid('front'), 10)).toBeCloseTo(
      Math.min(at(bare, 'M2 front tab').value, at(bare, 'M2 front caps').value),
      3,
    );
  });

  it('keeps out of what a keystroke asks', () => {
    expect(checkAll(A).filter((f) => f.check === 'contact' || f.check === 'overlap')).toEqual([]);
  });
});
