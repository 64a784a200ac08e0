/*
 * Where labels go: near what they speak of, never over one another, off the skeleton where there is room, leaders not crossing.
 */

export interface Wanted {
  readonly id: string;
  /** Where the leader points, px. */
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

export interface Laid {
  readonly id: string;
  readonly left: number;
  readonly top: number;
  /** Where the leader leaves the label. */
  readonly fromX: number;
  readonly fromY: number;
}

/** A place on the canvas that is taken, px. */
export interface Box {
  readonly left: number;
  readonly top: number;
  readonly width: number;
  readonly height: number;
}

export interface Field {
  readonly width: number;
  readonly height: number;
  /** Outline of the skeleton on the screen, counterclockwise or clockwise; labels keep off it where they can. */
  readonly hull: readonly (readonly [number, number])[];
  /** Places that other writing has taken. */
  readonly taken?: readonly Box[];
}

const GAP = 6;
const EDGE = 6;
const TURNS = 16;
const REACHES = [36, 58, 86, 120, 164, 214];

/** Greedy, in the order given: each label takes the cheapest free place; one that finds none is left out. */
export function laidOut(wanted: readonly Wanted[], field: Field): Laid[] {
  const done: (Laid & Wanted)[] = [];
  for (const w of wanted) {
    if (w.x < -20 || w.y < -20 || w.x > field.width + 20 || w.y > field.height + 20) continue;
    let best: Laid | undefined;
    let least = Infinity;
    for (const reach of REACHES) {
      for (let k = 0; k < TURNS; k++) {
        const turn = (2 * Math.PI * k) / TURNS - Math.PI / 2;
        const [dx, dy] = [Math.cos(turn), Math.sin(turn)];
        const left = w.x + dx * (reach + w.width / 2) - w.width / 2;
        const top = w.y + dy * (reach + w.height / 2) - w.height / 2;
        if (left < EDGE || top < EDGE || left + w.width > field.width - EDGE || top + w.height > field.height - EDGE)
          continue;
        const fromX = Math.min(Math.max(w.x, left + 8), left + w.width - 8);
        const fromY = w.y < top ? top : w.y > top + w.height ? top + w.height : top + w.height / 2;
        const here: Laid = {
          id: w.id,
          left,
          top,
          fromX: w.y >= top && w.y <= top + w.height ? (w.x < left ? left : left + w.width) : fromX,
          fromY,
        };
        const cost = costOf(here, w, done, wanted, field, dy) + reach;
        if (cost < least) {
          least = cost;
          best = here;
        }
      }
    }
    if (best) done.push({ ...w, ...best });
  }
  return done;
}

function costOf(
  here: Laid,
  w: Wanted,
  done: readonly (Laid & Wanted)[],
  wanted: readonly Wanted[],
  field: Field,
  dy: number,
): number {
  let cost = dy > 0.1 ? 14 : 0;
  for (const t of field.taken ?? [])
    if (
      here.left < t.left + t.width + GAP &&
      t.left < here.left + w.width + GAP &&
      here.top < t.top + t.height + GAP &&
      t.top < here.top + w.height + GAP
    )
      return Infinity;
  for (const t of field.taken ?? [])
    if (throughBox([here.fromX, here.fromY], [w.x, w.y], t, t.width, t.height)) cost += 90;
  for (const d of done) {
    const apart =
      here.left > d.left + d.width + GAP ||
      d.left > here.left + w.width + GAP ||
      here.top > d.top + d.height + GAP ||
      d.top > here.top + w.height + GAP;
    if (!apart) return Infinity;
    if (crosses([here.fromX, here.fromY], [w.x, w.y], [d.fromX, d.fromY], [d.x, d.y])) cost += 120;
    if (throughBox([here.fromX, here.fromY], [w.x, w.y], d, d.width, d.height)) cost += 160;
    if (throughBox([d.fromX, d.fromY], [d.x, d.y], here, w.width, w.height)) cost += 160;
  }
  for (const o of wanted) {
    if (
      o.id !== w.id &&
      o.x > here.left - 4 &&
      o.x < here.left + w.width + 4 &&
      o.y > here.top - 4 &&
      o.y < here.top + w.height + 4
    )
      cost += 70;
  }
  const spots: [number, number][] = [
    [here.left, here.top],
    [here.left + w.width, here.top],
    [here.left, here.top + w.height],
    [here.left + w.width, here.top + w.height],
    [here.left + w.width / 2, here.top + w.height / 2],
  ];
  for (const s of spots) if (inside(s, field.hull)) cost += 34;
  return cost;
}

type P = readonly [number, number];

const side = (a: P, b: P, c: P): number => (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0]);

function crosses(a: P, b: P, c: P, d: P): boolean {
  return side(a, b, c) * side(a, b, d) < 0 && side(c, d, a) * side(c, d, b) < 0;
}

function throughBox(a: P, b: P, { left, top }: Pick<Box, 'left' | 'top'>, width: number, height: number): boolean {
  const [l, t, r, m] = [left - 2, top - 2, left + width + 2, top + height + 2];
  return crosses(a, b, [l, t], [r, m]) || crosses(a, b, [r, t], [l, m]);
}

function inside([x, y]: P, hull: readonly P[]): boolean {
  let into = false;
  for (let i = 0, j = hull.length - 1; i < hull.length; j = i++) {
    const [p, q] = [hull[i]!, hull[j]!];
    if (p[1] > y !== q[1] > y && x < ((q[0] - p[0]) * (y - p[1])) / (q[1] - p[1]) + p[0]) into = !into;
  }
  return into;
}

/** The outline round a cloud of points. */
export function hullOf(points: readonly P[]): P[] {
  const sorted = [...points].sort((a, b) => a[0] - b[0] || a[1] - b[1]);
  const half = (list: readonly P[]): P[] => {
    const out: P[] = [];
    for (const p of list) {
      while (out.length >= 2 && side(out[out.length - 2]!, out[out.length - 1]!, p) <= 0) out.pop();
      out.push(p);
    }
    return out.slice(0, -1);
  };
  return [...half(sorted), ...half(sorted.reverse())];
}
