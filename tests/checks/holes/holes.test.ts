import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { exact, type Size } from '../../../src/chains/size.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { circlesOf, type HoleCircle, needOf } from '../../../src/checks/holes/cleanUpDrill.ts';
import { askHoles } from '../../../src/drilling/drill.ts';
import { gatesOf } from '../../../src/drilling/gates.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { parseLength } from '../../../src/units/read.ts';
import { changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* C12. Clean-up limit: picked, no source (hand drilling wanders about 0.1 mm). */
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
const hole = (model: typeof A, joint: string, id: string) => {
  const j = model.joints.find((x) => x.id === joint)!;
  return needOf(circlesOf(skeletonOf(model), j, j.holes.find((h) => h.id === id)!), j.guide)!;
};
const drill = (name: string): number => {
  const read = parseLength(name);
  if (!read.ok) throw new Error(read.sentence);
  return read.value;
};
const circle = (part: string, along: number, up: number, diameter: number, u = 0): HoleCircle => {
  const s = (key: string, best: number): Size => ({ ...exact(key, key, best), u });
  return { part, along: s(`${part}.along`, along), up: s(`${part}.up`, up), diameter };
};

describe('panel A, item 10: S3, rib 0.30 along and 0.25 down', () => {
  const need = hole(A, 'F3', 'h1');
  const f = finding(A, 'hole-cleanup', 'F3 hole h1');

  test('following the spar hole it needs 0.1287 in against 0.1285: 49 in 100', () => {
    expect(Math.hypot(0.3, 0.25)).toBeCloseTo(0.391, 3);
    expect(printed(need.following / 25.4, 4)).toBe('0.1287');
    expect(need.uFollowing).toBeCloseTo(0.1, 12);
    expect(f.sentence).toContain('49 %');
  });

  test('on the best axis it needs 0.1134 in: 0.19 of margin through a bushing set midway', () => {
    expect(printed(need.bestAxis / 25.4, 4)).toBe('0.1134');
    expect(printed(f.value, 2)).toBe('0.19');
    expect(f.sense).toBe('bushing set midway');
    expect(need.axis.along).toBeCloseTo(0.15, 9);
    expect(need.axis.up).toBeCloseTo(-0.125, 9);
    expect(f.verdict).not.toBe('fits');
  });
});

describe('panel A, item 11: S6, one hole already opened', () => {
  test('it needs 0.1310 in, over #30; #21 wants 7.94 to an edge of 6.8: no larger size is left', () => {
    const f = finding(A, 'hole-cleanup', 'F6 hole h2');
    expect(printed(hole(A, 'F6', 'h2').bestAxis / 25.4, 4)).toBe('0.1310');
    expect(f.value).toBeLessThan(0);
    expect(f.sense).toBe('does not clean up');
    expect(f.sentence).toContain('7.94 mm');
    expect(f.sentence).toContain('6.80 mm');
    expect(f.sentence).toContain('No larger size is left');
  });
});

// By hand: (0.191 in + 0.1285 in)/2 + 0.9 mm = 4.9577 mm, 0.1952 in.
test('panel B, F5: K6 at W6 needs 0.1952 in where #11 is the largest of the design: no larger size is left', () => {
  expect(printed(hole(B, 'K6', 'h1').bestAxis / 25.4, 4)).toBe('0.1952');
  const f = finding(B, 'hole-cleanup', 'K6 hole h1');
  expect(f.sense).toBe('does not clean up');
  expect(f.sentence).toContain('No larger size is left, for this is the largest rivet of the design');
});

/* Allowance for perfect guiding, (D - d)/2, from the standard number drills (DR-3: steps .0305, .0305, .0320 in). */
describe('allowances of the drill ladder', () => {
  test.each([
    ['#40', '#30', '0.387'],
    ['#30', '#21', '0.387'],
    ['#40', '#21', '0.775'],
    ['#21', '#11', '0.406'],
  ])('%s to %s: %s mm', (from, to, mm) => {
    expect(((drill(to) - drill(from)) / 2).toFixed(3)).toBe(mm);
    const model = changed(panel('plain'), (m) => {
      const j = m.joints[0]!;
      j.pilot = drill(from);
      j.final = drill(to);
      for (const h of j.holes) for (const l of h.layers) if (l.state !== 'none') l.size = drill(from);
    });
    expect(printed(finding(model, 'hole-cleanup', 'F2 hole h1').value, 3)).toBe(mm);
  });
});

describe('what a hole needs', () => {
  test('two holes on the best axis: the larger, or half their sum and the offset', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 2, max: 5, noNaN: true }),
        fc.double({ min: 2, max: 5, noNaN: true }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        fc.double({ min: -2, max: 2, noNaN: true }),
        (d1, d2, x, z) => {
          const need = needOf([circle('front', 0, 0, d1), circle('M2', x, z, d2)], 'front')!;
          const e = Math.hypot(x, z);
          expect(need.bestAxis).toBeCloseTo(Math.max(d1, d2, (d1 + d2) / 2 + e), 8);
          expect(need.following).toBeCloseTo(Math.max(d1, 2 * e + d2), 8);
          expect(need.bestAxis).toBeLessThanOrEqual(need.following + 1e-9);
        },
      ),
      { seed: 31, numRuns: 400 },
    );
  });

  test('the circle on the best axis holds every layer', () => {
    fc.assert(
      fc.property(
        fc.array(
          fc.tuple(
            fc.double({ min: -1, max: 1, noNaN: true }),
            fc.double({ min: -1, max: 1, noNaN: true }),
            fc.double({ min: 2, max: 4, noNaN: true }),
          ),
          { minLength: 2, maxLength: 6 },
        ),
        (layers) => {
          const circles = layers.map(([x, z, d], i) => circle(`p${i}`, x, z, d));
          const need = needOf(circles, 'p0')!;
          const [x0, z0] = [circles[0]!.along.best, circles[0]!.up.best];
          for (const c of circles)
            expect(
              Math.hypot(c.along.best - x0 - need.axis.along, c.up.best - z0 - need.axis.up) + c.diameter / 2,
            ).toBeLessThanOrEqual(need.bestAxis / 2 + 1e-8);
        },
      ),
      { seed: 32, numRuns: 300 },
    );
  });

  // An offset next to nothing: its square is 0 to the machine, and 0/0 is no uncertainty.
  test('an offset smaller than any that could be read keeps its uncertainty', () => {
    const need = needOf([circle('front', 0, 0, 2.5), circle('M2', 5e-324, 0, 2.5, 0.1)], 'front')!;
    expect([need.uFollowing, need.uBest]).toEqual([0.1, 0.05]);
  });

  test('one layer drilled, or none, asks nothing yet', () => {
    expect(needOf([circle('front', 0, 0, 2.5)], 'front')).toBeUndefined();
    expect(needOf([], 'front')).toBeUndefined();
  });

  test('a guide that has no hole yet is stood in for by the first that has', () => {
    expect(needOf([circle('D2', 0, 0, 2.5), circle('M2', 0.3, 0, 2.5)], 'front')!.following).toBeCloseTo(3.1, 12);
  });

  test('layers without a hole are not among the circles; those drilled through the guide wander', () => {
    const j = A.joints.find((x) => x.id === 'F3')!;
    const circles = circlesOf(skeletonOf(A), j, j.holes[0]!);
    expect(circles.map((c) => c.part)).toEqual(['front', 'D3', 'M3']);
    expect(circles.map((c) => c.along.u)).toEqual([0, 0.1, 0.1]);
    expect(circles.map((c) => c.along.origin)).toEqual(['drawing', 'drawing', 'measured']);
  });

  test('an offset of 0 read between two layers is no offset', () => {
    const read = changed(A, (m) => {
      readAs(m, 'F3/h2.M3.along', 0, 'pin');
      readAs(m, 'F3/h2.M3.up', 0, 'pin');
    });
    expect(finding(read, 'hole-cleanup', 'F3 hole h2').value).toBeCloseTo((3.2639 - 2.4892) / 2, 9);
  });
});

/* One question, one answer: the finding and the ledger rest on the same circles, and neither is surer than the other. */
describe('holes that were marked and drilled apart, and never read', () => {
  const unread = changed(A, (m) => {
    m.readings = m.readings.filter((r) => !r.size.includes('/'));
    for (const j of m.joints)
      for (const h of j.holes)
        for (const l of h.layers) if (l.part !== j.guide && l.state !== 'none') l.through = 'apart';
  });
  const findings = checkAll(unread).filter((f) => f.check === 'hole-cleanup');
  const answers = new Map(askHoles(skeletonOf(unread)).map((a) => [`${a.joint.id} hole ${a.hole.id}`, a]));

  test('are in doubt as a finding, and as a hole have no chance at all: nobody looked', () => {
    expect(findings.length).toBeGreaterThan(30);
    for (const f of findings) {
      expect(f.u, f.place).toBeGreaterThan(0.05); // marking by hand alone wanders more than this; picked, no source
      expect(f.verdict, f.place).not.toBe('fits');
      const a = answers.get(f.place)!;
      expect([a.bestChance, a.followChance], f.place).toEqual([undefined, undefined]);
      expect(a.state, f.place).not.toBe('now');
    }
  });

  test('the gate does not say that every hole cleans up', () => {
    const item = gatesOf(unread)
      .flatMap((g) => g.items)
      .find((i) => i.name === 'every hole cleans up')!;
    expect(item.answer).not.toBe('yes');
  });
});
