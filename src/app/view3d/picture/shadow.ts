import { DataTexture, LinearFilter, RGBAFormat } from 'three';
import { boxAround } from '../../../geometry/boxes.ts';
import { add, scale, subtract, type Vec2, type Vec3 } from '../../../geometry/vector.ts';
import { boxOf, triangleOf } from '../places.ts';
import type { ShownPart } from '../useSolids.ts';

/** Where a shadow lies on the bench, and its picture: black, as dense as it is dark. */
export interface Shadow {
  readonly texture: DataTexture;
  readonly low: readonly [x: number, y: number];
  readonly high: readonly [x: number, y: number];
}

/** Width of a cell of the picture, and how far a shadow's edge is soft, mm. */
const [CELL, SPREAD] = [7, 46];
/** Cells across the chord at most: a panel that is deep gets wider ones. */
const MOST_CELLS = 1000;
/** Daylight comes over the left shoulder: shadows fall a little forward and to the right, by shares of the height. */
const LEAN: readonly [x: number, y: number] = [-0.22, 0.28];
const DARKEST = 0.34;
/** Soft edges are the third of three running means one over another. */
const PASSES = 3;

/** The picture as cells: x across, y along. */
interface Field {
  readonly low: Vec2;
  readonly cell: number;
  readonly across: number;
  readonly along: number;
}

/** Cells that the shadow of parts falls on, with room for its soft edge. */
function fieldOf(parts: readonly ShownPart[]): Field {
  const { low, high } = boxAround(parts.map((p) => boxOf(p.mesh))) ?? { low: [0, 0, 0], high: [1, 1, 1] };
  const [wide, long] = [high[0] - low[0], high[1] - low[1]];
  const cell = Math.max(CELL, wide / MOST_CELLS, long / MOST_CELLS);
  const cells = (reach: number): number => Math.max(Math.ceil((reach + 4 * SPREAD) / cell), 1);
  return { low: [low[0] - 2 * SPREAD, low[1] - 2 * SPREAD], cell, across: cells(wide), along: cells(long) };
}

/** How much of each cell lies in the shadow of the metal on a bench at height z, 0 to 1. */
function shade(parts: readonly ShownPart[], { low, cell, across, along }: Field, z: number): Float32Array<ArrayBuffer> {
  const dark = new Float32Array(across * along);
  const drop = ([x, y, height]: Vec3, share: number): void => {
    const i = Math.floor((x + LEAN[0] * (height - z) - low[0]) / cell);
    const j = Math.floor((y + LEAN[1] * (height - z) - low[1]) / cell);
    const at = j * across + i;
    if (i >= 0 && j >= 0 && i < across && j < along) dark[at] = (dark[at] ?? 0) + share;
  };
  for (const { mesh } of parts)
    for (let t = 0; t < mesh.triangles.length / 3; t++) spread(triangleOf(mesh, t), cell, drop);
  // A sheet is met twice, on its way in and on its way out.
  return dark.map((v) => Math.min(v / 2, 1));
}

/** Drops the slid shadow of a triangle in grains, each with its share of a cell. */
function spread([a, b, c]: readonly [Vec3, Vec3, Vec3], cell: number, drop: (at: Vec3, share: number) => void): void {
  const [u, v] = [subtract(b, a), subtract(c, a)];
  // Upright webs count by how far their shadow is slid.
  const [sx, sy] = [u[0] + LEAN[0] * u[2], u[1] + LEAN[1] * u[2]];
  const [tx, ty] = [v[0] + LEAN[0] * v[2], v[1] + LEAN[1] * v[2]];
  const area = Math.abs(sx * ty - sy * tx) / 2 / (cell * cell);
  const n = Math.min(Math.ceil(Math.sqrt(2 * area)), 120) || 1;
  for (let k = 0; k < n * n; k++) {
    let [r, s] = [(Math.floor(k / n) + 0.5) / n, ((k % n) + 0.5) / n];
    if (r + s > 1) [r, s] = [1 - r, 1 - s];
    drop(add(a, add(scale(u, r), scale(v, s))), area / (n * n));
  }
}

/**
 * The soft shadow of the metal on a bench at height z: its plan, slid by its height and blurred. Always the same for
 * the same parts.
 */
export function shadowOf(parts: readonly ShownPart[], z: number): Shadow {
  const field = fieldOf(parts);
  const { low, cell, across, along } = field;
  const reach = Math.max(1, Math.round(SPREAD / PASSES / cell));
  const rows = { lines: along, length: across, step: 1, next: across };
  const columns = { lines: across, length: along, step: across, next: 1 };
  let soft = shade(parts, field, z);
  for (let pass = 0; pass < PASSES; pass++) soft = blurred(blurred(soft, rows, reach), columns, reach);
  const data = new Uint8Array(across * along * 4);
  soft.forEach((v, i) => {
    data[4 * i + 3] = Math.round(255 * DARKEST * Math.min(1, 1.5 * v));
  });
  const texture = new DataTexture(data, across, along, RGBAFormat);
  texture.magFilter = LinearFilter;
  texture.minFilter = LinearFilter;
  texture.needsUpdate = true;
  return { texture, low, high: [low[0] + across * cell, low[1] + along * cell] };
}

/** Which way a running mean goes: so many lines, from cell to cell by `step`, from line to line by `next`. */
interface Way {
  readonly lines: number;
  readonly length: number;
  readonly step: number;
  readonly next: number;
}

/** A running mean along rows or columns, so many cells to either side. */
function blurred(field: Float32Array, { lines, length, step, next }: Way, reach: number): Float32Array<ArrayBuffer> {
  const out = new Float32Array(field.length);
  for (let line = 0; line < lines; line++) {
    const cell = (i: number): number => (i < 0 || i >= length ? 0 : (field[line * next + i * step] ?? 0));
    let sum = 0;
    for (let i = -reach; i < length; i++) {
      sum += cell(i + reach) - cell(i - reach - 1);
      if (i >= 0) out[line * next + i * step] = sum / (2 * reach + 1);
    }
  }
  return out;
}
