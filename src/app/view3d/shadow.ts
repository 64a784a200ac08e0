import { DataTexture, LinearFilter, RGBAFormat } from 'three';
import type { ShownPart } from './useSolids.ts';

/** Where a shadow lies on the bench, and its picture: black, as dense as it is dark. */
export interface Shadow {
  readonly texture: DataTexture;
  readonly low: readonly [x: number, y: number];
  readonly high: readonly [x: number, y: number];
}

const CELL = 7;
const SPREAD = 46;
/** Daylight comes over the left shoulder: shadows fall a little forward and to the right, by shares of the height. */
const LEAN: readonly [x: number, y: number] = [-0.22, 0.28];
const DARKEST = 0.34;

/** The soft shadow of the metal on a bench at height z: its plan, slid by its height and blurred. Always the same for the same parts. */
export function shadowOf(parts: readonly ShownPart[], z: number): Shadow {
  let [x0, y0, x1, y1] = [Infinity, Infinity, -Infinity, -Infinity];
  for (const {
    mesh: { positions: p },
  } of parts) {
    for (let i = 0; i < p.length; i += 3) {
      x0 = Math.min(x0, p[i]!);
      x1 = Math.max(x1, p[i]!);
      y0 = Math.min(y0, p[i + 1]!);
      y1 = Math.max(y1, p[i + 1]!);
    }
  }
  if (!Number.isFinite(x0)) [x0, y0, x1, y1] = [0, 0, 1, 1];
  const cell = Math.max(CELL, (x1 - x0) / 1000, (y1 - y0) / 1000);
  const [low, high] = [
    [x0 - 2 * SPREAD, y0 - 2 * SPREAD],
    [x1 + 2 * SPREAD, y1 + 2 * SPREAD],
  ] as const;
  const across = Math.max(Math.ceil((high[0] - low[0]) / cell), 1);
  const along = Math.max(Math.ceil((high[1] - low[1]) / cell), 1);
  let field = new Float32Array(across * along);
  const drop = (x: number, y: number, high_: number, area: number): void => {
    const i = Math.floor((x + LEAN[0] * (high_ - z) - low[0]) / cell);
    const j = Math.floor((y + LEAN[1] * (high_ - z) - low[1]) / cell);
    if (i >= 0 && j >= 0 && i < across && j < along) field[j * across + i]! += area / (cell * cell);
  };
  for (const {
    mesh: { positions: p, triangles: t },
  } of parts) {
    for (let k = 0; k < t.length; k += 3) {
      const [a, b, c] = [t[k]! * 3, t[k + 1]! * 3, t[k + 2]! * 3];
      const [ux, uy, uz, vx, vy, vz] = [
        p[b]! - p[a]!,
        p[b + 1]! - p[a + 1]!,
        p[b + 2]! - p[a + 2]!,
        p[c]! - p[a]!,
        p[c + 1]! - p[a + 1]!,
        p[c + 2]! - p[a + 2]!,
      ];
      // Area of the slid shadow of the triangle; upright webs count by how far their shadow is slid.
      const [sx, sy, tx, ty] = [ux + LEAN[0] * uz, uy + LEAN[1] * uz, vx + LEAN[0] * vz, vy + LEAN[1] * vz];
      const area = Math.abs(sx * ty - sy * tx) / 2;
      const n = Math.min(Math.ceil(Math.sqrt((2 * area) / (cell * cell))), 120) || 1;
      for (let i = 0; i < n; i++) {
        for (let j = 0; j < n; j++) {
          let [r, s] = [(i + 0.5) / n, (j + 0.5) / n];
          if (r + s > 1) [r, s] = [1 - r, 1 - s];
          drop(p[a]! + ux * r + vx * s, p[a + 1]! + uy * r + vy * s, p[a + 2]! + uz * r + vz * s, area / (n * n));
        }
      }
    }
  }
  // A sheet is met twice, on its way in and on its way out.
  field = field.map((v) => Math.min(v / 2, 1));
  const reach = Math.max(1, Math.round(SPREAD / 3 / cell));
  for (let pass = 0; pass < 3; pass++)
    field = blurred(blurred(field, across, along, 1, reach), across, along, across, reach);
  const data = new Uint8Array(across * along * 4);
  field.forEach((v, i) => {
    data[4 * i + 3] = Math.round(255 * DARKEST * Math.min(1, 1.5 * v));
  });
  const texture = new DataTexture(data, across, along, RGBAFormat);
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearFilter;
  texture.needsUpdate = true;
  return { texture, low: [low[0], low[1]], high: [low[0] + across * cell, low[1] + along * cell] };
}

/** A running mean along rows (step 1) or columns (step = row length). */
function blurred(
  field: Float32Array,
  across: number,
  along: number,
  step: number,
  reach: number,
): Float32Array<ArrayBuffer> {
  const out = new Float32Array(field.length);
  const [lines, length, next] = step === 1 ? [along, across, across] : [across, along, 1];
  for (let line = 0; line < lines; line++) {
    const at = line * next;
    let sum = 0;
    for (let i = -reach; i < length; i++) {
      if (i + reach < length) sum += field[at + (i + reach) * step]!;
      if (i - reach - 1 >= 0) sum -= field[at + (i - reach - 1) * step]!;
      if (i >= 0) out[at + i * step] = sum / (2 * reach + 1);
    }
  }
  return out;
}
