import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { exact } from '../../../src/chains/size.ts';
import { needOf } from '../../../src/checks/holes/cleanUpDrill.ts';
import { edgeChain, flangeEdge } from '../../../src/checks/holes/edges.ts';
import { nextSize } from '../../../src/checks/holes/nextSize.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, mainRib, panel, printed, readAs } from '../../model/panels.ts';

const A = panel('narrow-tail');
const plain = panel('plain');

const joint = (m: typeof A, id: string) => m.joints.find((j) => j.id === id)!;

describe('edge distance', () => {
  test('panel A: flange 14.0 less row 7.2 leaves 6.8, 2.14 D', () => {
    expect(flangeEdge(mainRib(A, 'M6').front)).toBeCloseTo(6.8, 12);
    expect(printed(finding(A, 'edge-distance', 'F6 M6').value, 2)).toBe('2.14');
  });

  test('panel B: the bracket flange of 22 with its row at 11', () => {
    expect(finding(panel('washed-out-wing'), 'edge-distance', 'K6 B6').value).toBeCloseTo(11 / 4.7625, 9);
  });

  test('what was read at a hole goes before what was drawn, the nearest hole counting', () => {
    const read = changed(A, (m) => {
      readAs(m, 'F6/h1.M6.edge', 6.6, 'caliper');
      readAs(m, 'F6/h2.M6.edge', 6.2, 'caliper');
    });
    expect(best(edgeChain(skeletonOf(read), read.joints.find((j) => j.id === 'F6')!, 'M6')!)).toBe(6.2);
    expect(finding(read, 'edge-distance', 'F6 M6').value).toBeCloseTo(6.2 / 3.175, 9);
  });

  test('a doubler has half its width less how far the row is off its middle', () => {
    expect(finding(A, 'edge-distance', 'F6 D6').value).toBeCloseTo(14 / 3.175, 9);
    const off = changed(A, (m) => {
      m.joints.find((j) => j.id === 'F6')!.holes[0]!.along = -3;
    });
    expect(finding(off, 'edge-distance', 'F6 D6').value).toBeCloseTo(11 / 3.175, 9);
  });

  test('a spar ends somewhere: R1 stands 7.8 from the tip rib and so 6.8 from the end of the rear spar', () => {
    // The row at -1036 + 7.8, the spar's end at -1035.
    expect(best(edgeChain(skeletonOf(A), joint(A, 'R1'), 'rear')!)).toBeCloseTo(1035 - 1036 + 7.8, 9);
    expect(finding(A, 'edge-distance', 'R1 rear').value).toBeCloseTo(6.8 / 3.175, 9);
    const short = changed(A, (m) => {
      m.spars.rear!.from = -1033;
    });
    const f = finding(short, 'edge-distance', 'R1 rear');
    expect(f.value).toBeCloseTo(4.8 / 3.175, 9);
    expect(f.verdict).toBe('act');
  });

  test('mirrored, the other end says the same', () => {
    expect(finding(A, 'edge-distance', 'R8 rear').value).toBeCloseTo(finding(A, 'edge-distance', 'R1 rear').value, 9);
  });

  test('an end flange stops where the bends of top and bottom begin', () => {
    const high = changed(A, (m) => {
      joint(m, 'R1').holes[0]!.up = 16;
    });
    // T1: 50.6/2 - 16 - (0.813 sheet + 2.4 radius), the sheet as drawn.
    const sheet = A.sheets.find((x) => x.id === 's032')!.thickness;
    const f = finding(high, 'edge-distance', 'R1 T1');
    expect(f.value * 3.175).toBeCloseTo(25.3 - 16 - sheet - 2.4, 9);
    expect(f.verdict).toBe('act');
  });

  test('a bracket has a foot and a standing leg: the nearest edge counts', () => {
    const at = (along: number): number =>
      finding(
        changed(panel('washed-out-wing'), (m) => {
          joint(m, 'K6').holes[0]!.along = along;
        }),
        'edge-distance',
        'K6 B6',
      ).value;
    const { width } = panel('washed-out-wing').brackets.find((b) => b.id === 'B6')!;
    expect(at(width / 2 - 4) * 4.7625).toBeCloseTo(4, 9);
  });
});

describe('room beside a bend', () => {
  test('panel A at a tab: 7.2 - 0.635 - the radius - half a head of 2 D', () => {
    expect(finding(A, 'bend-room', 'F4 M4').value).toBeCloseTo(7.2 - 0.635 - mainRib(A, 'M4').radius - 3.175, 9);
  });

  test('a hole in the bend of a cap is act', () => {
    const up = 86 / 2 - 2;
    const high = changed(A, (m) => {
      joint(m, 'F4').holes[0]!.up = up;
    });
    const f = finding(high, 'bend-room', 'F4 front');
    const sheet = A.sheets.find((x) => x.id === A.spars.front.sheet)!.thickness;
    const depth = A.readings.find((r) => r.size === 'front.depth@S4')!.value;
    expect(f.value).toBeCloseTo(depth / 2 - up - sheet - A.spars.front.radius - 3.175, 9);
    expect(f.verdict).toBe('act');
  });

  test('law: a row moved away from the bend by s has s more room, whichever way the flange turns', () => {
    for (const id of ['R1', 'F4', 'R8']) {
      const rib = joint(A, id).layers.find((l) => /^[MT]/.test(l))!;
      const moved = changed(A, (m) => {
        const found = m.ribs.find((r) => r.id === rib)!;
        if (found.kind !== 'main') return;
        found.front.row += 0.7;
      });
      const by = rib.startsWith('M') ? 0.7 : 0;
      const room = (m: typeof A): number => finding(m, 'bend-room', `${id} ${rib}`).value;
      expect(room(moved) - room(A)).toBeCloseTo(by, 9);
    }
  });
});

/* AC-7 (AC 43.13-1B 4-57b and c): 1/8 rivet at 0.260 from the edge: 2D 0.250 passes; the next size, 5/32, wants 0.3125: fails. */
describe('AC-7', () => {
  const model = changed(plain, (m) => {
    m.instruments.push({ id: 'sure', name: 'given', u: { edge: 0 } });
    for (const part of ['N2', 'M2'])
      for (const h of ['h1', 'h2', 'h3'])
        m.readings.push({ size: `F2/${h}.${part}.edge`, value: 0.26 * 25.4, instrument: 'sure' });
  });
  const at = (along: number, diameter: number) => ({
    part: along ? 'M2' : 'front',
    along: exact('a', 'a', along),
    up: exact('u', 'u', 0),
    diameter,
  });

  test('the 1/8 in hole passes at 2.08 D', () => {
    const f = finding(model, 'edge-distance', 'F2 M2');
    expect(f.value).toBeCloseTo(0.26 / 0.125, 9);
    expect(f.verdict).toBe('fits');
  });

  const next = (m: typeof model, circles: ReturnType<typeof at>[]) =>
    nextSize(skeletonOf(m), m.joints[0]!, needOf(circles, 'front')!);
  const why = (m: typeof model, circles: ReturnType<typeof at>[]): string => {
    const up = next(m, circles);
    return up.ok ? '' : up.why;
  };

  test('going to 5/32 in does not: no larger size left', () => {
    expect(why(model, [at(0, 3.2639), at(0.5, 2.4892)])).toContain('7.94 mm'); // 2 × 5/32 in
    const wider = changed(model, (m) => {
      for (const r of m.readings) if (r.size.endsWith('.edge')) r.value = 0.32 * 25.4;
    });
    expect(next(wider, [at(0, 3.2639), at(0.5, 2.4892)]).ok).toBe(true);
  });

  test('a mismatch the next drill cannot clean up has no larger size left either', () => {
    expect(why(model, [at(0, 3.2639), at(2, 2.4892)])).toContain('would not clean it up');
  });
});

/* RV-3: 1/8 in: 2D .2500, 2.5D .3125, 3D .3750, 4D .5000. Pitch: never under 3D, usually 4D to 8D (NAVEDTRA 14018 ch. 13). */
describe('pitch', () => {
  const holes = (places: readonly (readonly [number, number])[]) =>
    finding(
      changed(plain, (m) => {
        m.joints[0]!.holes = places.map(([along, up], i) => ({
          id: `h${i + 1}`,
          along,
          up,
          layers: m.joints[0]!.holes[0]!.layers,
        }));
      }),
      'pitch',
      'F2',
    );
  const D = 3.175;

  test.each([
    [0.375, 3, 'watch'],
    [0.374, 2.992, 'act'],
    [0.5, 4, 'fits'],
    [0.499, 3.992, 'watch'],
    [1, 8, 'fits'],
    [1.01, 8.08, 'watch'],
  ] as const)('RV-3: %d in is %d D: %s', (inch, d, verdict) => {
    const f = holes([
      [0, 0],
      [0, inch * 25.4],
      [0, 2 * inch * 25.4],
    ]);
    expect(f.value).toBeCloseTo(d, 9);
    expect(f.verdict).toBe(verdict);
  });

  test('the closest pair counts, wherever it stands in the list', () => {
    const f = holes([
      [0, 30],
      [0, 0],
      [0, 18],
      [0, -20],
    ]);
    expect(f.value).toBeCloseTo(12 / D, 9);
    expect(f.sentence).toMatch(/h3 and h1|h1 and h3/);
  });

  // Two rows 30 apart, holes 8 apart along each: 8 is the pitch, though in order of height each hole's next is across.
  test('in two rows the closest pair may lie along a row', () => {
    const f = holes([
      [-15, 0],
      [15, 0],
      [-15, 8],
      [15, 8],
      [-15, 16],
      [15, 16],
    ]);
    expect(f.value).toBeCloseTo(8 / D, 9);
    expect(f.verdict).toBe('act');
    const staggered = holes([
      [-4, 0],
      [4, 6],
      [-4, 12],
      [4, 18],
    ]);
    expect(staggered.value).toBeCloseTo(10 / D, 9);
  });

  test('a gap in one row is said when nothing is too close', () => {
    expect(
      holes([
        [0, 0],
        [0, 15],
        [0, 50],
      ]),
    ).toMatchObject({ value: expect.closeTo(35 / D, 9), sense: 'wide', verdict: 'watch' });
    expect(
      holes([
        [0, 0],
        [0, 8],
        [0, 50],
      ]).sense,
    ).toBe('close');
  });

  test('one hole has no pitch', () => expect(() => holes([[0, 0]])).toThrow('0 findings'));
});
