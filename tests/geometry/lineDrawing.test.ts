import { describe, expect, test } from 'vitest';
import { openKernel } from '../../src/geometry/kernel.ts';
import { lineDrawing, type Pane, type Sight, seenAt, sightFrom } from '../../src/geometry/lineDrawing.ts';
import type { Mesh } from '../../src/geometry/mesh.ts';
import { loopsOf, simplified } from '../../src/geometry/pixelLoops.ts';
import { box, cylinder, difference, extrusion, union } from '../../src/geometry/solids.ts';
import { cross, dot, subtract, unit, type Vec2, type Vec3 } from '../../src/geometry/vector.ts';

/*
 * Outside sources: solid geometry by hand (a box from a general point shows 3 faces, 9 edges, 7 corners), the law of a
 * convex solid (an edge is seen exactly when one of its two faces is turned to the eye), the area of a shadow, and the
 * shoelace formula.
 */

const kernel = await openKernel();
const PANE: Pane = { left: -80, right: 80, bottom: -80, top: 80, step: 0.25 };
const long = (lines: readonly (readonly Vec2[])[]): number =>
  lines.reduce(
    (sum, l) => sum + l.slice(1).reduce((s, p, i) => s + Math.hypot(p[0] - l[i]![0], p[1] - l[i]![1]), 0),
    0,
  );
const area = (loops: readonly (readonly Vec2[])[]): number =>
  loops.reduce(
    (sum, l) =>
      sum +
      l.reduce((s, p, i) => {
        const q = l[(i + 1) % l.length]!;
        return s + p[0] * q[1] - p[1] * q[0];
      }, 0) /
        2,
    0,
  );
const drawn = (mesh: Mesh, sight: Sight) => lineDrawing([{ mesh }], sight, PANE);

/** Every edge of a convex solid between faces that differ, with the faces' outward normals, worked here from its triangles. */
function edgesOf({ positions, triangles }: Mesh): { a: Vec3; b: Vec3; normals: readonly Vec3[] }[] {
  const corner = (i: number): Vec3 => [positions[3 * i]!, positions[3 * i + 1]!, positions[3 * i + 2]!];
  const found = new Map<string, { a: Vec3; b: Vec3; normals: Vec3[] }>();
  const name = (p: Vec3): string => p.map((v) => v.toFixed(3)).join();
  for (let t = 0; t < triangles.length; t += 3) {
    const [a, b, c] = [corner(triangles[t]!), corner(triangles[t + 1]!), corner(triangles[t + 2]!)];
    const normal = unit(cross(subtract(b, a), subtract(c, a)));
    for (const [p, q] of [
      [a, b],
      [b, c],
      [c, a],
    ] as const) {
      const key = [name(p), name(q)].sort().join(' ');
      const edge = found.get(key) ?? { a: p, b: q, normals: [] };
      edge.normals.push(normal);
      found.set(key, edge);
    }
  }
  return [...found.values()].filter((e) => dot(e.normals[0]!, e.normals[1]!) < 0.999);
}

/** What the law of a convex solid says is seen, as a length in the picture. */
function lawful(mesh: Mesh, sight: Sight): { seen: number; hidden: number; edges: number } {
  let [seen, hidden, edges] = [0, 0, 0];
  for (const { a, b, normals } of edgesOf(mesh)) {
    const [p, q] = [seenAt(sight, a), seenAt(sight, b)];
    const l = Math.hypot(p[0] - q[0], p[1] - q[1]);
    if (normals.some((m) => dot(m, sight.out) > 1e-9)) {
      seen += l;
      edges++;
    } else hidden += l;
  }
  return { seen, hidden, edges };
}

describe('a box', () => {
  const mesh = kernel.build(box([-30, -20, -12], [30, 20, 12]));
  const sight = sightFrom(-0.5, 0.9);

  test('shows nine of its twelve edges from a general place', () => {
    const law = lawful(mesh, sight);
    expect(law.edges).toBe(9);
    expect(edgesOf(mesh)).toHaveLength(12);
    const drawing = drawn(mesh, sight);
    // Two edges meet in four of the seven corners seen and three in the other three: lines there join or end, none is lost.
    expect(long(drawing.rest)).toBeCloseTo(law.seen, 0);
    expect(long(drawing.rest)).toBeLessThan(law.seen + law.hidden / 4);
    const ends = new Set(drawing.rest.flatMap((l) => l.map(([x, y]) => `${Math.round(x)},${Math.round(y)}`)));
    expect(ends.size).toBe(7);
  });

  test('covers its shadow: the sum of its three faces as they are turned', () => {
    const faces =
      60 * 40 * Math.abs(sight.out[2]) + 60 * 24 * Math.abs(sight.out[1]) + 40 * 24 * Math.abs(sight.out[0]);
    expect(area(drawn(mesh, sight).restShape) / faces).toBeCloseTo(1, 2);
  });

  test('square to a face shows that face alone', () => {
    const drawing = drawn(mesh, sightFrom(0, 0));
    expect(long(drawing.rest)).toBeCloseTo(2 * (60 + 40), 0);
    expect(area(drawing.restShape) / (60 * 40)).toBeCloseTo(1, 2);
  });
});

test('of a convex solid just the edges are seen that have a face turned to the eye', () => {
  const outlines: Vec2[][] = [
    [
      [0, 30],
      [-26, -15],
      [26, -15],
    ],
    [
      [-25, -20],
      [25, -24],
      [30, 10],
      [4, 32],
      [-28, 14],
    ],
    [
      [20, 0],
      [10, 18],
      [-10, 18],
      [-20, 0],
      [-10, -18],
      [10, -18],
    ],
  ];
  for (const outline of outlines) {
    const mesh = kernel.build(extrusion(outline, { axis: 'y', from: -22, to: 22 }));
    for (const [turn, tip] of [
      [0.3, 0.7],
      [-1.1, 1.2],
      [2.4, 0.4],
      [4.2, 1.0],
      [5.5, 2.2],
    ] as const) {
      const sight = sightFrom(turn, tip);
      const law = lawful(mesh, sight);
      expect(long(drawn(mesh, sight).rest) / law.seen, `${outline.length} sides from ${turn}, ${tip}`).toBeCloseTo(
        1,
        2,
      );
    }
  }
});

test('what stands in front hides what is behind, and only there', () => {
  const sight = sightFrom(0, Math.PI / 2); // from behind, level: x comes to the eye
  const wall = kernel.build(box([0, -40, -30], [1, 40, 30]));
  const far = kernel.build(box([-50, -60, -10], [-49, 60, 10]));
  const both = lineDrawing([{ mesh: wall }, { mesh: far, chosen: true }], sight, PANE);
  // Two strips of 20 mm each side, three edges each: 20 + 20 + 20.
  // Four places where the wall cuts an edge off, each good to one grid step.
  expect(Math.abs(long(both.chosen) - 2 * (2 * 20 + 20))).toBeLessThanOrEqual(4 * PANE.step);
  expect(area(both.chosenShape) / (2 * 20 * 20)).toBeCloseTo(1, 1);
  const moved = lineDrawing([{ mesh: wall }, { mesh: far, chosen: true, shift: [60, 0, 0] }], sight, PANE);
  expect(long(moved.chosen)).toBeCloseTo(2 * (120 + 20), 0);
});

test('a thin sheet hides one that touches its back', () => {
  const sight = sightFrom(0.4, 1.1);
  const web = kernel.build(box([0, -40, -30], [0.8, 40, 30]));
  const doubler = kernel.build(box([-0.635, -14, -20], [0, 14, 20]));
  const drawing = lineDrawing([{ mesh: web }, { mesh: doubler, chosen: true }], sight, PANE);
  expect(drawing.chosen).toEqual([]);
  expect(drawing.chosenShape).toEqual([]);
  expect(long(drawing.rest)).toBeCloseTo(lawful(web, sight).seen, 0);
});

test('a round bar has an outline where no crisp edge is: two straight sides and what is seen of its rims', () => {
  const bar = kernel.build(cylinder([0, -40, 0], [0, 40, 0], 12, { facets: 96 }));
  const drawing = drawn(bar, sightFrom(0, Math.PI / 2));
  expect(long(drawing.rest)).toBeCloseTo(2 * 80 + 2 * 24, 0);
});

test('a hole is open: what is behind shows through it, and its border winds the other way', () => {
  const plate = kernel.build(
    difference(box([0, -40, -30], [1, 40, 30]), [cylinder([-5, 0, 0], [5, 0, 0], 15, { facets: 128 })]),
  );
  const drawing = drawn(plate, sightFrom(0, Math.PI / 2));
  expect(area(drawing.restShape) / (80 * 60 - Math.PI * 15 ** 2)).toBeCloseTo(1, 2);
  expect(drawing.restShape.map((l) => Math.sign(area([l]))).sort()).toEqual([-1, 1]);
});

test('the order of bodies changes nothing', () => {
  const a = kernel.build(union([box([0, 0, 0], [30, 10, 10]), box([0, 0, 0], [10, 30, 10])]));
  const b = kernel.build(box([12, 12, -5], [28, 28, 15]));
  const sight = sightFrom(0.7, 0.8);
  const [one, two] = [
    lineDrawing([{ mesh: a }, { mesh: b }], sight, PANE),
    lineDrawing([{ mesh: b }, { mesh: a }], sight, PANE),
  ];
  expect(long(one.rest)).toBeCloseTo(long(two.rest), 6);
  expect(area(one.restShape)).toBeCloseTo(area(two.restShape), 6);
});

describe('loops on a grid', () => {
  const owner = (rows: readonly string[]): Uint16Array => Uint16Array.from(rows.join(''), (c) => Number(c));

  test('two cells that touch at a corner stay two, a hole is its own', () => {
    expect(loopsOf(owner(['10', '01']), 2, [false, true])).toHaveLength(2);
    expect(loopsOf(owner(['111', '101', '111']), 3, [false, true])).toHaveLength(2);
  });

  test('the middles of the steps round a rectangle cut a triangle of 1/8 off each corner', () => {
    const loops = loopsOf(owner(['0000', '0110', '0110', '0000']), 4, [false, true]);
    expect(area(loops)).toBeCloseTo(4 - 4 / 8, 9);
  });
});

test('a line keeps its ends and moves by no more than it may', () => {
  const line: Vec2[] = Array.from({ length: 101 }, (_, i) => [i, 5 * Math.sin(i / 10)]);
  const short = simplified(line, 0.5);
  expect([short[0], short.at(-1)]).toEqual([line[0], line.at(-1)]);
  expect(short.length).toBeLessThan(30);
  for (const [x, y] of line) {
    const at = short.findIndex((p) => p[0] >= x);
    const [p, q] = [short[Math.max(at - 1, 0)]!, short[at]!];
    const off =
      p === q
        ? 0
        : Math.abs((q[0] - p[0]) * (y - p[1]) - (q[1] - p[1]) * (x - p[0])) / Math.hypot(q[0] - p[0], q[1] - p[1]);
    expect(off).toBeLessThanOrEqual(0.5 + 1e-9);
  }
});
