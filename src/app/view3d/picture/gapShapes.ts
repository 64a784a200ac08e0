import { type BufferGeometry, Color } from 'three';
import { cross, dot, subtract, type Vec2, type Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneGap } from '../../../scene/shown.ts';
import { geometryOf } from './attributes.ts';
import { MARK_NUMBER } from './hatch.ts';

/* A gap as a shape of six sides: which of its eight corners make its triangles and its edges. */

type Corner = 0 | 1 | 2 | 3 | 4 | 5 | 6 | 7;

/** Corners of its six sides, two triangles each. */
export const GAP_TRIANGLES: readonly (readonly [Corner, Corner, Corner])[] = [
  [0, 2, 1],
  [0, 3, 2],
  [4, 5, 6],
  [4, 6, 7],
  [0, 1, 5],
  [0, 5, 4],
  [1, 2, 6],
  [1, 6, 5],
  [2, 3, 7],
  [2, 7, 6],
  [3, 0, 4],
  [3, 4, 7],
];

const GAP_EDGES: readonly (readonly [Corner, Corner])[] = [
  [0, 1],
  [1, 2],
  [2, 3],
  [3, 0],
  [4, 5],
  [5, 6],
  [6, 7],
  [7, 4],
  [0, 4],
  [1, 5],
  [2, 6],
  [3, 7],
];

/** The tone of a gap's verdict; a faint one is half metal. */
function toneOf({ verdict, faint }: SceneGap, light: Light): Color {
  const tone = new Color(PALETTE[light][verdict]);
  return faint ? tone.lerp(new Color(PALETTE[light].metal), 0.5) : tone;
}

/** Whether its corners run so that its sides face outward. */
function facesOutward({ corners: c }: SceneGap): boolean {
  const [u, v, w] = [subtract(c[1], c[0]), subtract(c[3], c[0]), subtract(c[4], c[0])];
  return dot(u, cross(v, w)) > 0;
}

/** The gaps of one kind as one surface, turned outward whichever way their corners run. */
export function gapGeometry(gaps: readonly SceneGap[], light: Light): BufferGeometry {
  const positions: number[] = [];
  const tones: number[] = [];
  const marks: number[] = [];
  for (const gap of gaps) {
    const { r, g, b } = toneOf(gap, light);
    const outward = facesOutward(gap);
    for (const triangle of GAP_TRIANGLES) {
      for (const i of outward ? triangle : [...triangle].reverse()) {
        positions.push(...gap.corners[i]);
        tones.push(r, g, b);
        marks.push(MARK_NUMBER[gap.verdict]);
      }
    }
  }
  const geometry = geometryOf({ position: [positions, 3], aTone: [tones, 3], aMark: [marks, 1] });
  geometry.computeVertexNormals();
  return geometry;
}

/** The twelve edges of each gap as segments, six numbers each, and their colours likewise. */
export function gapEdges(gaps: readonly SceneGap[], light: Light): { segments: Float32Array; colors: Float32Array } {
  const segments: number[] = [];
  const colors: number[] = [];
  for (const gap of gaps) {
    const { r, g, b } = toneOf(gap, light);
    for (const [i, k] of GAP_EDGES) {
      segments.push(...gap.corners[i], ...gap.corners[k]);
      colors.push(r, g, b, r, g, b);
    }
  }
  return { segments: Float32Array.from(segments), colors: Float32Array.from(colors) };
}

/** Where the plane at y goes through a gap, as x and z, counterclockwise; nothing where it misses it. */
export function gapCut({ corners }: SceneGap, y: number): Vec2[] {
  const through = (a: Vec3, b: Vec3): Vec2[] => {
    if (a[1] > y === b[1] > y) return [];
    const t = (y - a[1]) / (b[1] - a[1]);
    return [[a[0] + t * (b[0] - a[0]), a[2] + t * (b[2] - a[2])]];
  };
  const points = GAP_EDGES.flatMap(([i, k]) => through(corners[i], corners[k]));
  const many = Math.max(points.length, 1);
  const [u, v] = [points.reduce((sum, p) => sum + p[0], 0) / many, points.reduce((sum, p) => sum + p[1], 0) / many];
  return points.sort((p, q) => Math.atan2(p[1] - v, p[0] - u) - Math.atan2(q[1] - v, q[0] - u));
}
