import {
  type Body,
  lineDrawing,
  type Pane,
  paneRound,
  type Sight,
  seenAt,
  sightFrom,
} from '../../geometry/lineDrawing.ts';
import type { Mesh } from '../../geometry/mesh.ts';
import { add, dot, scale, subtract, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import { once } from '../../once.ts';
import type { Ink } from '../paper/page.ts';
import { planOf } from './standHere.ts';
import { PLACING, type Standing, type Step } from './step.ts';
import { type Lay, type PartMesh, type PictureBox, path } from './stepInk.ts';

/*
 * The picture of a step, from the solids themselves: what is there grey, the part that matters dark with a thick outline,
 * an arrow the way it goes in, dots where clamps go, rings round the holes; and a small plan with "you stand here".
 * Ink in mm, the box's upper left corner at the origin, y down.
 */

/** What pictures and plans are drawn for; where there is less room they are shown smaller. */
export const PICTURE: PictureBox = { width: 104, height: 60 };
export const PLAN: PictureBox = { width: 104, height: 25 };

export interface StepPicture {
  readonly ink: readonly Ink[];
  /** The whole panel from above, turned so that who does the step stands below it or at its end. */
  readonly plan: readonly Ink[];
}

const RADIANS = Math.PI / 180;
/** Where the eye is for who stands there: turned from behind the trailing edge, and tipped from straight above. */
const TURNS: Record<Standing, number> = {
  behind: 0,
  ahead: 180 * RADIANS,
  'left end': -64 * RADIANS,
  'right end': 64 * RADIANS,
};
/** Further round to the side on which the part is open, so that its flanges are seen. */
const ROUND = 26 * RADIANS;
const TIP = 56 * RADIANS;

/** Grid steps a mm of paper. */
const FINE = 6;
/** Least width shown, mm of metal, so that a small part is seen with what is round it. */
const LEAST = 170;
/** How far a part is drawn out of its place, mm of metal, at least, and as a share of its own length that way. */
const OUT = 45;
const OUT_SHARE = 1.1;

interface Bounds {
  readonly low: Vec3;
  readonly high: Vec3;
}

const boundsOf = once(({ positions }: Mesh): Bounds => {
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  for (let i = 0; i < positions.length; i++) {
    const k = (i % 3) as 0 | 1 | 2;
    low[k] = Math.min(low[k], positions[i]!);
    high[k] = Math.max(high[k], positions[i]!);
  }
  return { low, high };
});

const corners = ({ low, high }: Bounds, shift: Vec3 = [0, 0, 0]): Vec3[] =>
  [0, 1, 2, 3, 4, 5, 6, 7].map((i) =>
    add([i & 1 ? high[0] : low[0], i & 2 ? high[1] : low[1], i & 4 ? high[2] : low[2]], shift),
  );

function round(boxes: readonly Bounds[]): Bounds {
  const least = (k: 0 | 1 | 2): number => Math.min(...boxes.map((b) => b.low[k]));
  const most = (k: 0 | 1 | 2): number => Math.max(...boxes.map((b) => b.high[k]));
  return { low: [least(0), least(1), least(2)], high: [most(0), most(1), most(2)] };
}

/** How far each chosen part is drawn out of its place. */
function shiftsOf(step: Step, parts: ReadonlyMap<string, Mesh>): Map<string, Vec3> {
  const shifts = new Map<string, Vec3>();
  if (step.kind === 'apart' || step.kind === 'together') {
    // Apart: what is ahead of the spar forward, what is between the spars up.
    const ribs = step.chosen.flatMap((id) => (parts.has(id) ? [{ id, box: boundsOf(parts.get(id)!) }] : []));
    const front = parts.get('front');
    const web = front ? boundsOf(front).low[0] : 0;
    for (const { id, box } of ribs) {
      const middle = (box.low[0] + box.high[0]) / 2;
      shifts.set(
        id,
        middle < web ? [-60, 0, 0] : box.high[0] - box.low[0] < 60 && middle < web + 60 ? [-20, 0, 130] : [0, 0, 120],
      );
    }
    return shifts;
  }
  if (!PLACING.includes(step.kind) || !step.goes) return shifts;
  const boxes = step.chosen.flatMap((id) => (parts.has(id) ? [boundsOf(parts.get(id)!)] : []));
  if (boxes.length === 0) return shifts;
  const all = round(boxes);
  const own = Math.abs(dot(step.goes, subtract(all.high, all.low)));
  const far = Math.max(OUT, Math.min(OUT_SHARE * own, 140));
  for (const id of step.chosen) shifts.set(id, scale(step.goes, -far));
  return shifts;
}

/** The pane widened to the shape of the box. */
function fitted(pane: Pane, box: PictureBox): Pane {
  const [w, h] = [Math.max(pane.right - pane.left, LEAST), pane.top - pane.bottom];
  const mm = Math.max(w / box.width, h / box.height);
  const [cx, cy] = [(pane.left + pane.right) / 2, (pane.bottom + pane.top) / 2];
  const [hw, hh] = [(mm * box.width) / 2, (mm * box.height) / 2];
  return { left: cx - hw, right: cx + hw, bottom: cy - hh, top: cy + hh, step: mm / FINE };
}

/** A block arrow on paper from a point to a point, white round a black body, so that it is seen on grey and on white. */
function arrow([x0, y0]: Vec2, [x1, y1]: Vec2): Ink[] {
  const long = Math.hypot(x1 - x0, y1 - y0);
  if (long < 1) return [];
  const [ux, uy] = [(x1 - x0) / long, (y1 - y0) / long];
  const at = (along: number, across: number): Vec2 => [x0 + ux * along - uy * across, y0 + uy * along + ux * across];
  const head = Math.min(5, long * 0.6);
  const shape = (grow: number): Vec2[] => [
    at(-grow, -1 - grow),
    at(long - head, -1 - grow),
    at(long - head - grow, -2.8 - 1.8 * grow),
    at(long + 1.8 * grow, 0),
    at(long - head - grow, 2.8 + 1.8 * grow),
    at(long - head, 1 + grow),
    at(-grow, 1 + grow),
  ];
  const same: Lay = (p) => p;
  return [...path([shape(0.7)], same, null, 'paper'), ...path([shape(0)], same, null, 'ink')];
}

function closeUp(step: Step, parts: readonly PartMesh[], box: PictureBox): Ink[] {
  const meshes = new Map(parts.map((p) => [p.id, p.mesh]));
  const shifts = shiftsOf(step, meshes);
  const sight = sightFrom(turnOf(step), TIP);
  const shown = parts.filter(
    (p) =>
      step.there.includes(p.id) ||
      step.chosen.includes(p.id) ||
      [...step.there, ...step.chosen].some((id) => p.id.startsWith(`${id}-strip`)),
  );
  const chosen = shown.filter((p) => step.chosen.includes(p.id));
  const bodies = shown.map(
    (p): Body => ({
      mesh: p.mesh,
      chosen: step.chosen.includes(p.id),
      ...(shifts.has(p.id) ? { shift: shifts.get(p.id)! } : {}),
    }),
  );
  const whole = chosen.length === 0 || step.kind === 'square';
  const near = step.kind === 'pack' ? [blockAt(step, parts)] : [...step.holes, ...step.clamps, ...step.feels];
  const framed =
    whole && step.kind !== 'pack'
      ? shown.flatMap((p) => corners(boundsOf(p.mesh), shifts.get(p.id)))
      : step.kind === 'pack'
        ? near.flatMap((p) => corners({ low: add(p, [-90, -120, -30]), high: add(p, [90, 120, 60]) }))
        : step.kind === 'lay'
          ? chosen.flatMap((p) => [
              ...corners(leftEnd(boundsOf(p.mesh))),
              ...corners(leftEnd(boundsOf(p.mesh)), shifts.get(p.id)),
            ])
          : [
              ...chosen.flatMap((p) => [...corners(boundsOf(p.mesh)), ...corners(boundsOf(p.mesh), shifts.get(p.id))]),
              ...near,
            ];
  const turned = whole && step.kind !== 'pack' ? { ...sight, ...sightFrom(wholeTurn(step.standing), TIP) } : sight;
  const pane = fitted(
    paneRound(
      framed.map((p) => seenAt(turned, p)),
      14,
      1,
    ),
    box,
  );
  const inside = bodies.filter((b) => isInside(b, turned, pane));
  const drawing = lineDrawing(inside, turned, pane);
  const mm = box.width / (pane.right - pane.left);
  const lay: Lay = ([x, y]) => [(x - pane.left) * mm, (pane.top - y) * mm];
  const place = (p: Vec3): Vec2 => lay(seenAt(turned, p));
  const ghost =
    shifts.size > 0
      ? lineDrawing(
          chosen.map((p) => ({ mesh: p.mesh, chosen: true })),
          turned,
          { ...pane, step: 2 * pane.step },
        ).chosenShape
      : [];
  return [
    ...path(drawing.restShape, lay, null, 'light'),
    ...path(drawing.rest, lay, 'hairline', 'none'),
    ...path(drawing.chosenShape, lay, 'heavy', 'dark'),
    ...path(drawing.chosen, lay, 'outline', 'none'),
    ...path(ghost, lay, 'hidden', 'none', true),
    ...step.holes.flatMap((p): Ink[] => {
      const [x, y] = place(p);
      return [
        { kind: 'circle', x, y, r: 2.1, stroke: null, fill: 'paper' },
        { kind: 'circle', x, y, r: 1.9, stroke: 'outline', fill: 'none' },
        { kind: 'circle', x, y, r: 0.6, stroke: null, fill: 'ink' },
      ];
    }),
    ...(step.kind === 'clamp' ? step.clamps : []).flatMap((p): Ink[] => {
      const [x, y] = place(p);
      return [
        { kind: 'circle', x, y, r: 1.9, stroke: null, fill: 'paper' },
        { kind: 'circle', x, y, r: 1.4, stroke: null, fill: 'ink' },
      ];
    }),
    ...step.feels.flatMap((p): Ink[] => {
      const [x, y] = place(p);
      return [{ kind: 'circle', x, y, r: 3, stroke: 'heavy', fill: 'none' }];
    }),
    ...arrows(step, chosen, shifts, place, near),
  ];
}

/** The left end of something long. */
const leftEnd = ({ low, high }: Bounds): Bounds => ({
  low: [low[0] - 40, low[1], low[2]],
  high: [high[0] + 40, Math.min(high[1], low[1] + 260), high[2]],
});

/** Whole views are seen well from the side, so that a long panel fills the picture. */
const wholeTurn = (s: Standing): number => (s === 'behind' || s === 'ahead' ? TURNS[s] - 48 * RADIANS : TURNS[s]);

/** Near views go round to the side on which the part is open; from the left where it has none. */
function turnOf(step: Step): number {
  if (step.standing !== 'behind' && step.standing !== 'ahead') return TURNS[step.standing];
  return TURNS[step.standing] + (step.opens ?? -1) * (step.standing === 'behind' ? 1 : -1) * ROUND;
}

function isInside(b: Body, sight: Sight, pane: Pane): boolean {
  const seen = corners(boundsOf(b.mesh as Mesh), b.shift).map((p) => seenAt(sight, p));
  const [xs, ys] = [seen.map((p) => p[0]), seen.map((p) => p[1])];
  return (
    Math.max(...xs) > pane.left &&
    Math.min(...xs) < pane.right &&
    Math.max(...ys) > pane.bottom &&
    Math.min(...ys) < pane.top
  );
}

/** Arrows the way parts go in, or the drill; a part taken out goes the other way. */
function arrows(
  step: Step,
  chosen: readonly PartMesh[],
  shifts: ReadonlyMap<string, Vec3>,
  place: (p: Vec3) => Vec2,
  near: readonly Vec3[],
): Ink[] {
  if (step.kind === 'pack') {
    const [x, y] = place(near[0]!);
    return arrow([x, y + 14], [x, y + 1.5]);
  }
  if (step.holes.length > 0 && step.goes) {
    const middle = scale(step.holes.reduce(add, [0, 0, 0] as Vec3), 1 / step.holes.length);
    const [tip, tail] = [place(add(middle, scale(step.goes, -8))), place(add(middle, scale(step.goes, -60)))];
    return arrow(tail, tip);
  }
  const moved = chosen.filter((p) => shifts.has(p.id));
  return moved.slice(0, 3).flatMap((p) => {
    const { low, high } = step.kind === 'lay' ? leftEnd(boundsOf(p.mesh)) : boundsOf(p.mesh);
    const middle = scale(add(low, high), 0.5);
    const shift = shifts.get(p.id)!;
    const [from, to] = [place(add(middle, scale(shift, 0.85))), place(add(middle, scale(shift, 0.15)))];
    return step.kind === 'apart' ? arrow(to, from) : arrow(from, to);
  });
}

/** Under a spar's web at a station: where its jig block is. The nearest corner of what stands there tells the station. */
function blockAt(step: Step, parts: readonly PartMesh[]): Vec3 {
  const spar = parts.find((p) => p.id === step.chosen[0]);
  if (!spar) return [0, 0, 0];
  const y = step.at ?? 0;
  // The lowest corner of the spar nearest the station.
  const { positions } = spar.mesh;
  let [found, least]: [Vec3, number] = [[0, y, 0], Number.POSITIVE_INFINITY];
  for (let i = 0; i < positions.length; i += 3) {
    const worth = Math.abs(positions[i + 1]! - y) + positions[i + 2]!;
    if (worth < least) [found, least] = [[positions[i]!, y, positions[i + 2]!], worth];
  }
  return found;
}

/** A step's picture in one box and its plan in another. */
export function stepPicture(
  step: Step,
  parts: readonly PartMesh[],
  box: PictureBox = PICTURE,
  planBox: PictureBox = PLAN,
): StepPicture {
  return { ink: closeUp(step, parts, box), plan: planOf(step, parts, planBox) };
}
