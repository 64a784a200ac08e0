import { describe, expect, test } from 'vitest';
import { chain, uncertainty } from '../../../src/chains/chain.ts';
import { fromReadings, type Size } from '../../../src/chains/size.ts';
import { waysTogether } from '../../../src/checks/fit/twistTogether.ts';
import { changed, finding, panel, readAs } from '../../model/panels.ts';

/* JCGM 100 says how independent estimates of one thing are weighted: 1/u² each. Signs and limits by hand. */

const size = (key: string, best: number, u: number, aged?: Size['aged']): Size => ({
  ...fromReadings(key, key, [best], u),
  ...(aged ? { aged } : {}),
});
const way = (name: string, best: number, u: number, aged?: Size['aged']) => ({
  way: name,
  chain: chain([1, size(name, best, u, aged)]),
  residual: best,
});

describe('two ways as one', () => {
  // By hand: weights 100 and 400: (30 + 96)/500 = 0.252; u = 1/√500 = 0.0447.
  test('0.30 ± 0.10 and 0.24 ± 0.05 are 0.252 ± 0.0447', () => {
    const all = waysTogether([way('a', 0.3, 0.1), way('b', 0.24, 0.05)])!;
    expect(all.residual).toBeCloseTo(0.252, 12);
    expect(uncertainty(all.chain)).toBeCloseTo(1 / Math.sqrt(500), 12);
    expect(all.apart).toBeCloseTo(0.06 / Math.hypot(0.1, 0.05), 12);
  });

  test('the two that lie furthest apart are named', () => {
    const all = waysTogether([way('a', 0, 0.1), way('b', 0.1, 0.1), way('c', -0.5, 0.1)])!;
    expect(all.pair).toEqual(['b', 'c']);
    expect(all.apart).toBeCloseTo(0.6 / Math.hypot(0.1, 0.1), 12);
  });

  test('one alone is no two; what was read before the metal moved has no say beside what was read since', () => {
    expect(waysTogether([way('a', 0.3, 0.1)])).toBeUndefined();
    expect(waysTogether([way('a', 9, 0.1, 'stale'), way('b', 0.2, 0.1)])).toBeUndefined();
    const all = waysTogether([way('a', 9, 0.1, 'stale'), way('b', 0.2, 0.1), way('c', 0.3, 0.1)])!;
    expect(all.residual).toBeCloseTo(0.25, 12);
    expect(waysTogether([way('a', 0.1, 0.1, 'stale'), way('b', 0.2, 0.1, 'stale')])).toBeDefined();
  });
});

describe('steps and the whole panel, by all ways', () => {
  const A = panel('narrow-tail');

  test('a step read by heights and by level is one weighted answer, surer than either', () => {
    const [h, l, c] = ['by heights', 'by level', 'combined'].map((w) => finding(A, 'twist-step', `S6 to S7 ${w}`));
    const [wh, wl] = [1 / h!.u ** 2, 1 / l!.u ** 2];
    expect(c!.value).toBeCloseTo((wh * h!.value + wl * l!.value) / (wh + wl), 9);
    expect(c!.u).toBeCloseTo(1 / Math.sqrt(wh + wl), 9);
    expect(c!.u).toBeLessThan(Math.min(h!.u, l!.u));
  });

  test('so is the panel from end to end, between the outermost stations that both ways read', () => {
    const [h, l, c] = ['by heights', 'by level', 'combined'].map((w) => finding(A, 'twist', `whole panel ${w}`));
    const [wh, wl] = [1 / h!.u ** 2, 1 / l!.u ** 2];
    expect(c!.value).toBeCloseTo((wh * h!.value + wl * l!.value) / (wh + wl), 9);
    expect(c!.at).toMatchObject({ from: 'S1', to: 'S8', way: 'combined' });
  });

  test('two ways that cannot both be right conclude nothing of the step', () => {
    const off = changed(A, (m) => readAs(m, 'level@S7', 0.1, 'level-reversed'));
    expect(finding(off, 'twist-step', 'S6 to S7 combined').verdict).toBe('unsettled');
    expect(finding(off, 'twist-step', 'S6 to S7 combined').sentence).toMatch(/by heights and by level disagree/);
  });
});

describe('stations that were not read', () => {
  const bare = changed(panel('plain'), (m) => {
    m.readings = m.readings.filter((r) => !/^(level|height|plumb)/.test(r.size));
  });
  const levels = (values: Record<string, number>, more: (m: typeof bare) => void = () => {}) =>
    changed(bare, (m) => {
      m.survey.reference = undefined;
      for (const [id, v] of Object.entries(values)) readAs(m, `level@${id}`, v, 'level-reversed');
      more(m);
    });

  // Limits of a step 0.15 and 0.30: two bays may differ by 0.20 and 0.30, for the panel may not by more.
  test('a step over two bays is held to the sum of both, never more than the panel', () => {
    expect(finding(levels({ S1: 0, S2: 0 }), 'twist-step', 'S1 to S2 by level').limits).toMatchObject({
      fits: [-0.15, 0.15],
      act: [-0.3, 0.3],
    });
    expect(finding(levels({ S1: 0, S3: 0 }), 'twist-step', 'S1 to S3 by level').limits).toMatchObject({
      fits: [-0.2, 0.2],
      act: [-0.3, 0.3],
    });
    const fine = levels({ S1: 0, S3: 0, S4: 0 }, (m) =>
      m.limits.push({ check: 'twist-step', fits: [-0.06, 0.06], act: [-0.1, 0.1], origin: 'drawing', reason: 'here' }),
    );
    expect(finding(fine, 'twist-step', 'S1 to S3 by level').limits).toMatchObject({
      fits: [-0.12, 0.12],
      act: [-0.2, 0.2],
    });
    expect(finding(fine, 'twist-step', 'S3 to S4 by level').limits).toMatchObject({
      fits: [-0.06, 0.06],
      act: [-0.1, 0.1],
    });
  });

  test('where the reference was not read that way, only differences are known, and it says so', () => {
    const model = levels({ S2: 5, S3: 5.4 }, (m) => {
      m.survey.reference = 'S1';
    });
    expect(() => finding(model, 'twist', 'S2 by level')).toThrow('0 findings');
    expect(finding(model, 'twist-step', 'S2 to S3 by level').value).toBeCloseTo(0.4, 12);
    expect(finding(model, 'twist', 'whole panel by level').value).toBeCloseTo(0.4, 12);
    expect(finding(model, 'twist', 'whole panel by level').sentence).toMatch(/S1 was not read by level/);
  });

  test('one station alone without its reference concludes nothing', () => {
    const model = levels({ S2: 0 }, (m) => {
      m.survey.reference = 'S1';
    });
    expect(finding(model, 'twist', 'S2 by level').verdict).toBe('unsettled');
    expect(finding(model, 'twist', 'S2 by level').sentence).toMatch(/read S1 by level too/);
  });
});
