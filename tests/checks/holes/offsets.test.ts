import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { best, uncertainty } from '../../../src/chains/chain.ts';
import { exact, type Size } from '../../../src/chains/size.ts';
import { chanceBestAxis, chanceFollowing } from '../../../src/checks/holes/cleanUpChance.ts';
import { chainOf, circlesOf, type HoleCircle } from '../../../src/checks/holes/cleanUpDrill.ts';
import { armsOf, MARKING, offsetsOf, PUT_BACK, SIGHTING, WANDER } from '../../../src/checks/holes/offsets.ts';
import { askHoles } from '../../../src/drilling/drill.ts';
import { smallestHolding } from '../../../src/geometry/circle.ts';
import type { Model } from '../../../src/model/schema.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { ribStances } from '../../../src/truing/stance.ts';
import { truingList } from '../../../src/truing/truing.ts';
import { changed, panel, readAs } from '../../model/panels.ts';

/*
 * C12: marking, sighting, wander, and lean and skew times their arms. Sizes of the terms are picked (the rule's and the
 * pin's uncertainties of the instrument list); how they add is by hand. Chances: rows 9.12 and 9.14 of the published check
 * values, Rayleigh's closed form, and a slow twin that throws dice (mulberry32) and asks `smallestHolding` each time.
 */

const A = panel('narrow-tail');
const B = panel('washed-out-wing');
const at = (model: Model, joint: string, hole: string) => {
  const skeleton = skeletonOf(model);
  const j = model.joints.find((x) => x.id === joint)!;
  const h = j.holes.find((x) => x.id === hole)!;
  return { skeleton, j, h, offset: offsetsOf(skeleton, j, h), circles: circlesOf(skeleton, j, h) };
};
const edit = (model: Model, joint: string, change: (j: Model['joints'][number]) => void) =>
  changed(model, (m) => change(m.joints.find((j) => j.id === joint)!));
const through = (model: Model, joint: string, hole: string, part: string, by: string) =>
  edit(model, joint, (j) => {
    j.holes.find((h) => h.id === hole)!.layers.find((l) => l.part === part)!.through = by;
  });

describe('where a layer lies off the guide, and from what', () => {
  it('drilled through the guide it wanders', () => {
    const { offset } = at(A, 'F2', 'h1');
    expect(offset('front').along).toEqual([]);
    expect(best(offset('M2').along)).toBe(0);
    expect(uncertainty(offset('M2').along)).toBe(WANDER);
  });

  it('drilled through another layer it wanders from that one: √2', () => {
    const { offset } = at(through(A, 'F2', 'h1', 'M2', 'D2'), 'F2', 'h1');
    expect(uncertainty(offset('M2').along)).toBeCloseTo(WANDER * Math.SQRT2, 12);
    expect(uncertainty(offset('M2').up)).toBeCloseTo(WANDER * Math.SQRT2, 12);
    expect(offset('M2').along.map((t) => t.size.name)).toEqual(['drill wander', 'drill wander']);
  });

  it("drilled apart it carries its mark, the guide's mark and the sighting", () => {
    const { offset } = at(through(A, 'F2', 'h1', 'M2', 'apart'), 'F2', 'h1');
    expect(uncertainty(offset('M2').up)).toBeCloseTo(Math.hypot(MARKING, MARKING, SIGHTING), 12);
    expect(offset('M2').along.map((t) => t.size.name)).toEqual(['marking of M2', 'marking of front', 'sighting of M2']);
  });

  it("two layers drilled apart share the guide's mark: between them it cancels", () => {
    const both = through(through(A, 'F2', 'h1', 'M2', 'apart'), 'F2', 'h1', 'D2', 'apart');
    const { offset } = at(both, 'F2', 'h1');
    const between = [...offset('M2').along, ...offset('D2').along.map((t) => ({ ...t, c: -t.c }))];
    const keys = new Map<string, number>();
    for (const t of between) keys.set(t.size.key, (keys.get(t.size.key) ?? 0) + t.c);
    expect(keys.get('F2/h1.front.along.marking')).toBe(0);
  });

  it('as read with pins it is what was read, and nothing else', () => {
    const { offset } = at(through(A, 'F3', 'h1', 'M3', 'apart'), 'F3', 'h1');
    expect([best(offset('M3').along), best(offset('M3').up)]).toEqual([0.3, -0.25]);
    expect(offset('M3').along).toHaveLength(1);
  });

  it('put back after it was taken off, it may lie a little off', () => {
    const again = changed(A, (m) => {
      m.stages.push(
        { id: 'deburr', name: 'Apart, deburr', takes: ['M2', 'D2'], brings: [], opens: [] },
        { id: 'back', name: 'Together again', brings: ['M2', 'D2'], opens: [] },
      );
      m.now = 'back';
    });
    expect(uncertainty(at(again, 'F2', 'h1').offset('M2').up)).toBeCloseTo(Math.hypot(WANDER, PUT_BACK), 12);
    expect(uncertainty(at(again, 'F3', 'h2').offset('M3').up)).toBe(WANDER);
    expect(
      askHoles(skeletonOf(again), { stage: 'deburr' })
        .find((h) => h.id === 'F2/h1')!
        .layers.map((l) => l.state),
    ).toEqual(['none', 'pilot', 'off', 'off']);
    expect(askHoles(skeletonOf(again), { stage: 'deburr' }).find((h) => h.id === 'R2/h1')!.why).toBe(
      'M2 is off; final at the earliest at “Together again”',
    );
  });
});

describe('lean and skew times their arms', () => {
  // Panel B, W6 leaning 1.1 outboard over 140, right panel: 1.1/140 × 30 = 0.2357 along +y at h1, none at the chord line.
  const apart = changed(through(B, 'K6', 'h2', 'M6', 'apart'), (m) => {
    m.readings = m.readings.filter((r) => !r.size.startsWith('K6/'));
  });
  const lifted = edit(apart, 'K6', (j) => {
    j.holes.find((h) => h.id === 'h2')!.up = 30;
  });

  it('a layer drilled apart carries all of the lean', () => {
    expect(best(at(lifted, 'K6', 'h2').offset('M6').along)).toBeCloseTo((1.1 / 140) * 30, 12);
    expect(best(at(apart, 'K6', 'h2').offset('M6').along)).toBe(0);
    expect(best(at(lifted, 'K6', 'h2').offset('B6').along)).toBe(0); // the bracket does not turn with the rib
  });

  it('one drilled through the guide has moved by what the rib was turned since', () => {
    const stood = edit(B, 'K6', (j) => {
      j.stood = { lean: 0, skew: 0 };
    });
    expect(best(at(stood, 'K6', 'h3').offset('M6').along)).toBeCloseTo((-1.1 / 140) * 30, 12);
    const asNow = edit(B, 'K6', (j) => {
      j.stood = { lean: 110 / 140, skew: 0 };
    });
    expect(best(at(asNow, 'K6', 'h3').offset('M6').along)).toBeCloseTo(0, 12);
    expect(best(at(B, 'K6', 'h3').offset('M6').along)).toBe(0);
  });

  it('a skewed rib carries its rear row by the whole skew, its front row not at all', () => {
    const { skeleton, j, h } = at(B, 'R4', 'h1');
    expect(armsOf(skeleton, j, h).skew).toBe(1);
    expect(armsOf(skeleton, at(B, 'F4', 'h1').j, h).skew).toBe(0);
    const stood = edit(B, 'R4', (x) => {
      x.stood = { lean: 0, skew: 0 };
    });
    expect(best(at(stood, 'R4', 'h1').offset('M4').along)).toBeCloseTo(3.1, 12);
  });

  it('the truing list starts from the same offsets: trued square, a layer drilled apart comes home', () => {
    const after = truingList(lifted, ribStances(lifted), [{ station: 'W6', lean: 0, skew: 0 }]).model;
    expect(best(at(after, 'K6', 'h2').offset('M6').along)).toBeCloseTo(0, 12);
  });

  it('F5: opened to #11, 0.9 off, leaning: no larger size is left, and squaring it first is worth 0.24', () => {
    const a = askHoles(skeletonOf(B)).find((x) => x.id === 'K6/h1')!;
    expect(a).toMatchObject({ state: 'in doubt', because: 'doubt' });
    expect(a.why).toContain('0.1952 in'); // (0.191 + 0.1285)/2 + 0.9 mm by hand
    expect(a.why).toContain('no larger size is left, for this is the largest rivet of the design');
    expect(a.why).toContain('a new M6, drilled through the holes of the front spar');
    expect(a.why).toContain('squaring M6 first carries its hole 0.24 mm inboard');
    expect(a.layers.filter((l) => l.state === 'opened early').map((l) => l.part)).toEqual(['D6', 'front']);
  });
});

const size = (key: string, value: number, u: number): Size => ({ ...exact(key, key, value), u });
const circle = (part: string, along: number, up: number, diameter: number, u: number): HoleCircle => ({
  part,
  along: size(`${part}.along`, along, u),
  up: size(`${part}.up`, up, u),
  diameter,
});

/** A plain generator for the slow twin. */
function dice(seed: number): () => number {
  let s = seed;
  return () => {
    s = (s + 0x6d2b79f5) | 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
}

function thrown(circles: readonly HoleCircle[], final: number, n: number, follow: boolean): number {
  const roll = dice(11);
  const normal = () => Math.sqrt(-2 * Math.log(1 - roll())) * Math.cos(2 * Math.PI * roll());
  let good = 0;
  for (let i = 0; i < n; i++) {
    const drawn = new Map<string, number>();
    const of = (s: Size): number => {
      if (!drawn.has(s.key)) drawn.set(s.key, s.u === 0 ? 0 : normal() * s.u);
      return drawn.get(s.key)!;
    };
    const there = circles.map((c) => ({
      x: c.along.best + chainOf(c, 'along').reduce((sum, t) => sum + t.c * of(t.size), 0),
      y: c.up.best + chainOf(c, 'up').reduce((sum, t) => sum + t.c * of(t.size), 0),
      r: c.diameter / 2,
    }));
    const needs = follow
      ? Math.max(...there.map((c) => 2 * Math.hypot(c.x - there[0]!.x, c.y - there[0]!.y) + 2 * c.r))
      : 2 * smallestHolding(there).r;
    if (needs <= final) good++;
  }
  return good / n;
}

describe('the chance to clean up', () => {
  it('rows 9.12 and 9.14: one layer off by a mean, and a pair that both wander', () => {
    expect(
      chanceFollowing([circle('g', 0, 0, 2.5, 0), circle('a', 0.1, 0, 2.5, 0.1)], circle('g', 0, 0, 2.5, 0), 3),
    ).toBeCloseTo(0.879145876851, 10);
    const pair = [circle('a', 0, 0, 2.5, 0.1), circle('b', 0, 0, 2.5, 0.1)];
    expect(chanceBestAxis(pair, 2.75)).toBeCloseTo(0.7903886128489, 10);
  });

  it('two layers through one guide: the product of two Rayleigh chances', () => {
    const g = circle('g', 0, 0, 2.5, 0);
    const p = 1 - Math.exp(-(0.25 ** 2) / (2 * 0.1 ** 2));
    expect(chanceFollowing([g, circle('a', 0, 0, 2.5, 0.1), circle('b', 0, 0, 2.5, 0.1)], g, 3)).toBeCloseTo(p * p, 12);
  });

  it('three and four layers against dice', () => {
    for (const circles of [
      [circle('g', 0, 0, 2.5, 0), circle('a', 0.2, 0.1, 2.5, 0.1), circle('b', -0.2, 0.1, 2.7, 0.12)],
      [
        circle('g', 0, 0, 2.5, 0),
        circle('a', 0, 0.3, 2.5, 0.15),
        circle('b', 0.3, 0, 2.5, 0.1),
        circle('c', -0.2, -0.1, 2.6, 0.1),
      ],
    ]) {
      for (const final of [2.8, 2.95, 3.1])
        expect(Math.abs(chanceBestAxis(circles, final) - thrown(circles, final, 20_000, false))).toBeLessThan(0.015); // four of the twin's own errors
    }
  });

  it('layers that one lean turns together are sampled together', () => {
    const lean = size('lean', 0, 0.2);
    const leaning = (part: string): HoleCircle => {
      const along = size(`${part}.w`, 0, 0.05);
      return {
        ...circle(part, 0, 0, 2.5, 0.05),
        along: { ...along, u: Math.hypot(0.2, 0.05) },
        terms: {
          along: [
            { c: 1, size: lean },
            { c: 1, size: along },
          ],
          up: [{ c: 1, size: size(`${part}.up`, 0, 0.05) }],
        },
      };
    };
    const circles = [circle('g', 0, 0, 2.5, 0), leaning('a'), leaning('b')];
    const p = chanceFollowing(circles, circles[0]!, 3);
    expect(Math.abs(p - thrown(circles, 3, 20_000, true))).toBeLessThan(0.015);
    const alone = chanceFollowing(circles.slice(0, 2), circles[0]!, 3);
    expect(p).toBeGreaterThan(alone * alone); // not as if each leaned by itself
    expect(p).toBeLessThanOrEqual(alone + 0.01);
  });

  it('law: a larger drill cleans up no less, and the best axis no less than the guide', () => {
    const place = fc.double({ min: -0.3, max: 0.3, noNaN: true });
    fc.assert(
      fc.property(
        fc.array(fc.tuple(place, place), { minLength: 1, maxLength: 3 }),
        fc.double({ min: 2.6, max: 3.4, noNaN: true }),
        (layers, final) => {
          const circles = [circle('g', 0, 0, 2.5, 0), ...layers.map(([x, y], i) => circle(`p${i}`, x, y, 2.5, 0.1))];
          const follow = chanceFollowing(circles, circles[0]!, final);
          expect(chanceBestAxis(circles, final)).toBeGreaterThanOrEqual(follow - 0.01);
          expect(chanceBestAxis(circles, final + 0.1)).toBeGreaterThanOrEqual(chanceBestAxis(circles, final) - 1e-9);
          expect(chanceFollowing(circles, circles[0]!, final + 0.1)).toBeGreaterThanOrEqual(follow - 1e-9);
        },
      ),
      { seed: 41, numRuns: 40 },
    );
  });

  it('reading one station again leaves what is known of the others’ holes as it was, the same objects', () => {
    const before = askHoles(skeletonOf({ ...A }));
    const after = askHoles(
      skeletonOf({
        ...A,
        readings: A.readings.map((r) => (r.size === 'M5.front.height' ? { ...r, value: 82.56 } : r)),
      }),
    );
    expect(after.filter((a, i) => a.circles !== before[i]!.circles).every((a) => a.joint.station === 'S5')).toBe(true);
    const far = changed(A, (m) => readAs(m, 'F6/h2.M6.along', 0.8, 'pin'));
    expect(askHoles(skeletonOf(far)).find((a) => a.id === 'F6/h2')!.state).toBe('never');
  });
});
