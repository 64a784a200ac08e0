import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { heightTwist, twistsOf } from '../../../src/checks/fit/twistRead.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { stancesOf } from '../../../src/parts/placed/stance.ts';
import { allPrinted, changed, finding, panel, printed, readAs, valuesAt } from '../../model/panels.ts';

/* C11. Limits: picked; NAVEDTRA 14018 ch. 9 allows 0 deg 12 min left to right on one type, an example of size only. */
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
const raw = (station: number): number => best(heightTwist(skeletonOf(A), skeletonOf(A).bays[station - 1]!, 'ignored')!);

describe('panel A', () => {
  test('item 12: by heights, the bench included', () => {
    const places = [1, 2, 3, 4, 5, 6, 7, 8].map((i) => `S${i} by heights`);
    expect(allPrinted(valuesAt(A, 'twist', places), 3)).toEqual([
      '0.087',
      '0.065',
      '0.022',
      '0.000',
      '-0.022',
      '-0.130',
      '-0.326',
      '-0.499',
    ]);
    expect(printed(finding(A, 'twist', 'whole panel by heights').value, 3)).toBe('-0.586');
    expect(finding(A, 'twist', 'whole panel by heights')).toMatchObject({
      verdict: 'act',
      sense: 'nose down',
      station: null,
    });
  });

  test('item 12: ignoring the bench it reads -0.391: a third of the twist is hidden', () => {
    expect(printed(raw(8) - raw(1), 3)).toBe('-0.391');
  });

  test('item 13: by level; it agrees at S8 only when the bench map is used', () => {
    expect(
      allPrinted(
        valuesAt(
          A,
          'twist',
          [1, 4, 6, 7, 8].map((i) => `S${i} by level`),
        ),
        1,
      ),
    ).toEqual(['0.1', '0.0', '-0.1', '-0.3', '-0.5']);
    expect(printed(raw(8), 2)).toBe('-0.33');
    const [level, heights] = [finding(A, 'twist', 'S8 by level'), finding(A, 'twist', 'S8 by heights')];
    expect(Math.abs(level.value - heights.value)).toBeLessThan(0.01);
    expect(Math.abs(level.value - raw(8))).toBeGreaterThan(2 * level.u);
  });

  // trade C11: √2 √(0.15² + 0.10²)/264 rad = 0.055 degrees on a mapped bench.
  test('how surely: 0.055 degrees', () => expect(printed(finding(A, 'twist', 'S4 by heights').u, 3)).toBe('0.055'));
});

/* The picture is turned by what the finding says (C11): whichever way a station was read, each less the reference's own. */
describe('drawn as read', () => {
  const DEGREES = 180 / Math.PI;
  const drawn = (model: typeof A): number[] =>
    stancesOf(skeletonOf(model), 1).map((t) => t.pitch * DEGREES - t.bay.station.washout);
  const only = (model: typeof A, way: RegExp, more: (typeof A)['readings'] = []): typeof A =>
    changed(model, (m) => {
      m.readings = [
        ...m.readings.filter((r) => !/^(height|bench|level|plumb)/.test(r.size) || way.test(r.size)),
        ...more,
      ];
    });

  test.each([
    ['heights', /^(height|bench)/],
    ['level', /^level/],
  ] as const)('by %s', (way, sizes) => {
    const model = only(A, sizes);
    const said = new Map(twistsOf(skeletonOf(model), way).map((t) => [t.bay.station.id, t.residual]));
    skeletonOf(model).bays.forEach((b, i) => {
      expect(drawn(model)[i]!, b.station.id).toBeCloseTo(said.get(b.station.id) ?? 0, 9);
    });
  });

  // 1.0 mm over an upright of 300 mm is 0.19 degrees.
  test('by plumb line', () => {
    const model = only(
      A,
      /^$/,
      A.stations.map((s, i) => ({ size: `plumb@${s.id}`, value: i === 7 ? -1 : 0, instrument: 'pin', over: 300 })),
    );
    expect(printed(drawn(model)[7]!, 2)).toBe('-0.19');
    expect(twistsOf(skeletonOf(model), 'plumb')[7]!.residual).toBeCloseTo(drawn(model)[7]!, 9);
  });

  test('station by station, each by the way it was read', () => {
    const model = changed(only(A, /^(height|bench|level)/), (m) => {
      m.readings = m.readings.filter((r) => !/^height.*@S8$/.test(r.size));
    });
    expect(drawn(model)[6]!).toBeCloseTo(
      twistsOf(skeletonOf(model), 'heights').find((t) => t.bay.station.id === 'S7')!.residual,
      9,
    );
    expect(drawn(model)[7]!).toBeCloseTo(
      twistsOf(skeletonOf(model), 'level').find((t) => t.bay.station.id === 'S8')!.residual,
      9,
    );
  });
});

describe('panel B, F2: a hump at W6 and W7', () => {
  test('residual from the drawing washout', () => {
    const places = [1, 2, 3, 4, 5, 6, 7, 8, 9].map((i) => `W${i} by level`);
    expect(allPrinted(valuesAt(B, 'twist', places), 2)).toEqual([
      '0.00',
      '0.02',
      '0.00',
      '0.02',
      '-0.05',
      '-0.32',
      '-0.30',
      '-0.08',
      '0.00',
    ]);
  });

  test('the steps into it and out of it are the largest; end to end shows nothing', () => {
    const steps = valuesAt(
      B,
      'twist-step',
      [1, 2, 3, 4, 5, 6, 7, 8].map((i) => `W${i} to W${i + 1} by level`),
    );
    expect(
      steps
        .map((s, i) => [Math.abs(s), i] as const)
        .sort((a, b) => b[0] - a[0])
        .slice(0, 2)
        .map(([, i]) => i),
    ).toEqual([4, 6]);
    expect(finding(B, 'twist', 'whole panel by level').value).toBeCloseTo(0, 9);
  });
});

/* NAVEDTRA 14018 ch. 9, wing twist check: the manual's case for one type, an oracle for the logic. */
describe('an allowance of 0 deg 12 min', () => {
  const plain = changed(panel('plain'), (m) => {
    m.instruments.push({ id: 'sure', name: 'given', u: { level: 0, heightOver: 0, webToWeb: 0 } });
    m.limits.push({ check: 'twist', fits: [-0.2, 0.2], act: [-0.2, 0.2], origin: 'drawing', reason: '0 deg 12 min' });
    m.readings = m.readings.filter((r) => !r.size.startsWith('level@'));
    m.stations[1]!.washout = 1 + 35 / 60;
  });
  const at = (minutes: number) =>
    finding(
      changed(plain, (m) => m.readings.push({ size: 'level@S2', value: 1 + minutes / 60, instrument: 'sure' })),
      'twist',
      'S2 by level',
    );

  // TW-1: 1 deg 35 min against 1 deg 46 min differ by 11 min: inside.
  test('TW-1: 1 deg 46 min against 1 deg 35 min is 11 min: inside', () => {
    expect(at(46).value * 60).toBeCloseTo(11, 9);
    expect(at(46)).toMatchObject({ verdict: 'fits', sense: 'nose up' });
    expect(at(48).verdict).toBe('act');
    expect(at(24).verdict).toBe('fits');
    expect(at(22)).toMatchObject({ verdict: 'act', sense: 'nose down' });
  });

  // TW-3: 12 min over 12, 24, 30, 48 in of chord is .04189, .08378, .10472, .16755 in of height.
  test.each([
    [12, 0.04189],
    [24, 0.08378],
    [30, 0.10472],
    [48, 0.16755],
  ])('TW-3: over %d in it is %d in of height', (chord, rise) => {
    const model = changed(plain, (m) => {
      m.stations[1]!.washout = 0;
      for (const [size, value] of [
        ['webs@S2', chord * 25.4],
        ['height.front@S2', 60 + rise * 25.4],
        ['height.rear@S2', 75],
      ] as const) {
        m.readings = m.readings.filter((r) => r.size !== size);
        m.readings.push({ size, value, instrument: 'sure' });
      }
    });
    expect(finding(model, 'twist', 'S2 by heights').value * 60).toBeCloseTo(12, 2);
  });
});

describe('conventions, by hand on the plain panel', () => {
  const bare = changed(panel('plain'), (m) => {
    m.readings = m.readings.filter((r) => !r.size.startsWith('level@'));
  });
  const withHeights = (front: number, rear: number, more: (m: typeof bare) => void = () => {}) =>
    changed(bare, (m) => {
      for (const st of ['S1', 'S2']) {
        readAs(m, `height.front@${st}`, st === 'S1' ? 60 : front, 'stand');
        readAs(m, `height.rear@${st}`, st === 'S1' ? 75 : rear, 'stand');
      }
      more(m);
    });

  test('front 1 mm up over a 200 mm chord is nose up 0.2865 degrees', () => {
    expect(finding(withHeights(61, 75), 'twist', 'S2 by heights')).toMatchObject({
      value: expect.closeTo(0.286479, 5),
      sense: 'nose up',
    });
    expect(finding(withHeights(60, 76), 'twist', 'S2 by heights').value).toBeCloseTo(-0.286479, 5);
  });

  test('a bench 1 mm high under the front hides a nose that is up', () => {
    expect(
      finding(
        withHeights(60, 75, (m) => readAs(m, 'bench.front@S2', 1, 'straightedge')),
        'twist',
        'S2 by heights',
      ).value,
    ).toBeCloseTo(0.286479, 5);
    expect(
      finding(
        withHeights(60, 75, (m) => readAs(m, 'bench.rear@S2', 1, 'straightedge')),
        'twist',
        'S2 by heights',
      ).value,
    ).toBeCloseTo(-0.286479, 5);
  });

  test('the reference station is taken as zero, its own doubt with it', () => {
    const model = withHeights(61, 75, (m) => {
      m.survey.reference = 'S2';
    });
    const twists = twistsOf(skeletonOf(model), 'heights');
    expect(twists.map((t) => t.residual)).toEqual([expect.closeTo(-0.286479, 5), 0]);
    expect(finding(model, 'twist', 'S2 by heights').u).toBe(0);
  });

  test('washout of the drawing is not twist', () => {
    const model = changed(bare, (m) => {
      for (const [i, s] of m.stations.entries()) {
        s.washout = -i;
        readAs(m, `level@${s.id}`, -i, 'level-reversed');
      }
    });
    expect(valuesAt(model, 'twist', ['S1 by level', 'S4 by level', 'whole panel by level'])).toEqual([0, 0, 0]);
  });

  test('one station read has no steps; none read has nothing', () => {
    const one = changed(bare, (m) => readAs(m, 'level@S3', 0.4, 'level'));
    expect(twistsOf(skeletonOf(one), 'level')).toHaveLength(1);
    expect(() => finding(one, 'twist', 'whole panel by level')).toThrow('0 findings');
    expect(twistsOf(skeletonOf(bare), 'level')).toEqual([]);
  });
});

describe('read in more ways than one', () => {
  // By hand at S8: heights -0.499 ± 0.0553, level -0.5 ± 0.07: weights 327 and 204.
  test('panel A, S8: heights and level weighted by 1/u²', () => {
    const [h, l, c] = ['by heights', 'by level', 'combined'].map((w) => finding(A, 'twist', `S8 ${w}`));
    const [wh, wl] = [1 / h!.u ** 2, 1 / l!.u ** 2];
    expect(c!.value).toBeCloseTo((wh * h!.value + wl * l!.value) / (wh + wl), 9);
    expect(c!.u).toBeCloseTo(1 / Math.sqrt(wh + wl), 9);
    expect(c!.u).toBeLessThan(Math.min(h!.u, l!.u));
    expect(() => finding(A, 'twist', 'S2 combined')).toThrow('0 findings');
  });

  test('they agree within three combined uncertainties, or it is said before any conclusion', () => {
    expect(() => finding(A, 'disagreement', 'S8 twist')).toThrow('0 findings');
    const off = changed(A, (m) => readAs(m, 'level@S8', -0.1, 'level-reversed'));
    const f = finding(off, 'disagreement', 'S8 twist');
    expect(f.value).toBeCloseTo(
      Math.abs(-0.1 - finding(A, 'twist', 'S8 by heights').value) /
        Math.hypot(finding(A, 'twist', 'S8 by heights').u, 0.07),
      9,
    );
    expect(f.verdict).toBe('act');
    expect(finding(off, 'twist', 'S8 combined').verdict).toBe('unsettled');
  });

  // A reference station that the level never saw gives the two no common zero.
  test('only where they count from one zero', () => {
    const at = (reference: string) =>
      changed(A, (m) => {
        m.survey.reference = reference;
      });
    expect(finding(at('S4'), 'twist', 'S8 combined').u).toBeGreaterThan(0);
    expect(() => finding(at('S5'), 'twist', 'S8 combined')).toThrow('0 findings');
  });
});

describe('by plumb line', () => {
  // By hand: 1.0 mm at the top of a 300 mm upright is 1/300 rad = 0.19099 degrees; aft at the top is nose up.
  const plumbed = (value: number, over?: number) =>
    changed(panel('plain'), (m) => {
      m.readings = m.readings.filter((r) => !r.size.startsWith('level@'));
      m.readings.push({ size: 'plumb@S2', value, instrument: 'square', ...(over ? { over } : {}) });
    });

  test('offset over length, aft at the top is nose up', () => {
    expect(finding(plumbed(1), 'twist', 'S2 by plumb line')).toMatchObject({
      value: expect.closeTo(0.190986, 6),
      u: expect.closeTo(0.3 * 0.190986, 6),
      sense: 'nose up',
    });
    expect(finding(plumbed(-1, 600), 'twist', 'S2 by plumb line').value).toBeCloseTo(-0.095493, 6);
  });
});
