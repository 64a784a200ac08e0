import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { stepChains } from '../../../src/checks/fit/skinStep.ts';
import { stepSumChain } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { allPrinted, changed, channel, finding, flat, panel, printed, readAs, reading } from '../../model/panels.ts';

/* C15, geometry. Limits: picked, no source. */
const A = panel('narrow-tail');
const place = (model: typeof A, rib: string, end: string) =>
  skeletonOf(model).places.find((p) => p.rib.id === rib && p.end === end)!;
const sum = (model: typeof A, rib: string): number => best(stepSumChain(skeletonOf(model), place(model, rib, 'front')));

describe('panel A: depth less rib height less twice the joggle', () => {
  test('each front end', () => {
    // By hand from the tables: M5: 85.83 - (82.55 + 2.90) = 0.38
    expect(
      allPrinted(
        ['M2', 'M3', 'M4', 'M5', 'M6', 'M7'].map((m) => sum(A, m)),
        2,
      ),
    ).toEqual(['-0.32', '0.28', '0.03', '0.38', '0.18', '0.18']);
    expect(finding(A, 'skin-step', 'M2 front').sense).toBe('rib proud');
    expect(finding(A, 'skin-step', 'M5 front')).toMatchObject({ value: expect.closeTo(0.19, 9), sense: 'cap proud' });
  });

  test('slipping a doubler or a shim into a gap does not change it', () => {
    const more = changed(A, (m) => {
      m.doublers = m.doublers.slice(1);
      m.doublers.push(flat('X', 'M5', 'front', 's020', 'top'), channel('Y', 'M6', 'front', 's032', 2.4));
    });
    for (const m of ['M2', 'M5', 'M6']) expect(sum(more, m)).toBe(sum(A, m));
  });
});

describe('by hand on the plain panel', () => {
  const plain = panel('plain');
  const steps = (change: (m: typeof plain) => void) => {
    const model = changed(plain, change);
    const s = stepChains(skeletonOf(model), place(model, 'M2', 'front'));
    return [best(s.top), best(s.bottom), s.held] as const;
  };

  test('80 - (77.0544 + 2 × 1.4728) = 0: flush, and said so', () => {
    const [top, bottom, held] = steps(() => {});
    expect([top, bottom]).toEqual([expect.closeTo(0, 9), expect.closeTo(0, 9)]);
    expect(held).toBe(false);
    expect(finding(plain, 'skin-step', 'M2 front').sense).toBe('flush');
  });

  test.each<[string, (m: typeof plain) => void, number]>([
    ['spar 0.4 deeper', (m) => readAs(m, 'front.depth@S2', 80.4, 'caliper'), 0.4],
    ['rib 0.4 higher', (m) => readAs(m, 'M2.front.height', 77.4544, 'caliper'), -0.4],
    ['joggle 0.2 deeper, contour and all', (m) => readAs(m, 'M2.front.joggle', 1.6728, 'feeler'), -0.4],
  ])('%s', (_, change, by) => {
    const [top, bottom] = steps(change);
    expect(top + bottom).toBeCloseTo(by, 9);
    expect(top).toBeCloseTo(bottom, 12);
  });

  test('held 0.1 above the middle: top less 0.1, bottom more 0.1', () => {
    const model = changed(plain, (m) => readAs(m, 'M2.front.bias', 0.1, 'feeler'));
    expect(steps((m) => readAs(m, 'M2.front.bias', 0.1, 'feeler'))).toEqual([
      expect.closeTo(-0.1, 9),
      expect.closeTo(0.1, 9),
      true,
    ]);
    expect(printed(finding(model, 'skin-step', 'M2 front top').value, 2)).toBe('-0.10');
    expect(printed(finding(model, 'skin-step', 'M2 front bottom').value, 2)).toBe('0.10');
  });
});

describe('every end that meets a spar', () => {
  const plain = panel('plain');

  test('a butting nose rib tail: half of what the spar is deeper than the rib, by hand', () => {
    const low = changed(plain, (m) => {
      reading(m, 'N2.tail.height').value = 77;
    });
    const f = finding(low, 'skin-step', 'N2 tail');
    expect(f.value).toBeCloseTo((80 - 77) / 2, 9);
    expect(f).toMatchObject({ sense: 'cap proud', verdict: 'act' });
  });

  test('a tip rib registered on the rear web: its far end at the front spar, by hand', () => {
    const tall = changed(plain, (m) => {
      reading(m, 'T1.height').value = 83;
    });
    const f = finding(tall, 'skin-step', 'T1 front');
    expect(f.value).toBeCloseTo((80 - 83) / 2, 9);
    expect(f).toMatchObject({ sense: 'rib proud', verdict: 'act', at: { part: 'T1', end: 'front', spar: 'front' } });
  });

  test('felt there, the feeler goes before the parts', () => {
    const felt = changed(plain, (m) => {
      m.readings = m.readings.filter((r) => r.size !== 'T1.height');
      readAs(m, 'step.T1.front', 1.4, 'feeler');
    });
    // By its parts 0, felt 0.7: nearer to the feeler, which is surer.
    expect(finding(felt, 'skin-step', 'T1 front').value).toBeGreaterThan(0.6);
    expect(finding(felt, 'skin-step', 'T1 front').value).toBeLessThan(0.7);
  });

  test('law: as many crossings as rib ends at a spar and tips past the front one', () => {
    const { places, bays } = skeletonOf(plain);
    const found = new Set(
      checkAll(plain).flatMap((f) => (f.check === 'skin-step' ? [`${f.at.part} ${f.at.end}`] : [])),
    );
    expect(found.size).toBe(places.length + bays.filter((b) => b.tip).length);
  });
});
