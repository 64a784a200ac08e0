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
import { add, type Vec2, type Vec3 } from '../../geometry/vector.ts';
import type { Fill, Ink, Stroke } from '../paper/page.ts';
import { planOf } from './standHere.ts';
import type { Standing, Step } from './step.ts';
import { arrows, shiftsOf } from './stepArrows.ts';
import { boundsOf, corners, leftEnd } from './stepBounds.ts';
import { cornersOf, type Lay, type PartMesh, type PictureBox, path, STEP_PICTURE, STEP_PLAN } from './stepInk.ts';

/*
 * The picture of a step, from the solids themselves: what is there grey, the part that matters dark with a thick
 * outline, an arrow the way it goes in, dots where clamps go, rings round the holes; and a small plan with "you stand
 * here". Ink in mm, the box's upper left corner at the origin, y down.
 */

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
/** The pane widened to the shape of the box. */
function fitted(pane: Pane, box: PictureBox): Pane {
  const [w, h] = [Math.max(pane.right - pane.left, LEAST), pane.top - pane.bottom];
  const mm = Math.max(w / box.width, h / box.height);
  const [cx, cy] = [(pane.left + pane.right) / 2, (pane.bottom + pane.top) / 2];
  const [hw, hh] = [(mm * box.width) / 2, (mm * box.height) / 2];
  return { left: cx - hw, right: cx + hw, bottom: cy - hh, top: cy + hh, step: mm / FINE };
}

/** Parts as a step shows them: those that are there or handled, with how far the handled ones are drawn out. */
interface Shown {
  readonly all: readonly PartMesh[];
  readonly chosen: readonly PartMesh[];
  readonly shifts: ReadonlyMap<string, Vec3>;
  /** Where the jig block is that gets a pack. */
  readonly block: Vec3 | undefined;
}

function shownIn(step: Step, parts: readonly PartMesh[]): Shown {
  const seen = [...step.there, ...step.chosen];
  const all = parts.filter((p) => seen.includes(p.id) || seen.some((id) => p.id.startsWith(`${id}-strip`)));
  const chosen = all.filter((p) => step.chosen.includes(p.id));
  const block = step.kind === 'pack' ? blockAt(step, parts) : undefined;
  return { all, chosen, shifts: shiftsOf(step, parts), block };
}

/** The whole panel is shown where nothing in particular is handled. */
const showsWhole = (step: Step, { chosen, block }: Shown): boolean =>
  block === undefined && (chosen.length === 0 || step.kind === 'square');

/** Points that must be in the picture. */
function framedBy(step: Step, shown: Shown): Vec3[] {
  const { all, chosen, shifts, block } = shown;
  if (block) return corners({ low: add(block, [-90, -120, -30]), high: add(block, [90, 120, 60]) });
  if (showsWhole(step, shown)) return all.flatMap((p) => corners(boundsOf(p.mesh), shifts.get(p.id)));
  const boxOf = ({ mesh }: PartMesh) => (step.kind === 'lay' ? leftEnd(boundsOf(mesh)) : boundsOf(mesh));
  const handled = chosen.flatMap((p) => [...corners(boxOf(p)), ...corners(boxOf(p), shifts.get(p.id))]);
  return step.kind === 'lay' ? handled : [...handled, ...step.holes, ...step.clamps, ...step.feels];
}

/** Rings and dots where something is done: holes, clamps, the feeler. */
function marksInk(step: Step, place: (p: Vec3) => Vec2): Ink[] {
  const circle = ([x, y]: Vec2, r: number, stroke: Stroke | null, fill: Fill): Ink => ({
    kind: 'circle',
    x,
    y,
    r,
    stroke,
    fill,
  });
  const clamps = step.kind === 'clamp' ? step.clamps : [];
  return [
    ...step.holes
      .map(place)
      .flatMap((p) => [circle(p, 2.1, null, 'paper'), circle(p, 1.9, 'outline', 'none'), circle(p, 0.6, null, 'ink')]),
    ...clamps.map(place).flatMap((p) => [circle(p, 1.9, null, 'paper'), circle(p, 1.4, null, 'ink')]),
    ...step.feels.map(place).map((p) => circle(p, 3, 'heavy', 'none')),
  ];
}

function closeUp(step: Step, parts: readonly PartMesh[], box: PictureBox): Ink[] {
  const shown = shownIn(step, parts);
  const { all, chosen, shifts, block } = shown;
  const sight = sightFrom(showsWhole(step, shown) ? wholeTurn(step.standing) : turnOf(step), TIP);
  const framed = framedBy(step, shown).map((p) => seenAt(sight, p));
  const pane = fitted(paneRound(framed, 14, 1), box);
  const bodies = all.map(({ id, mesh }): Body => {
    const shift = shifts.get(id);
    return { mesh, chosen: step.chosen.includes(id), ...(shift ? { shift } : {}) };
  });
  const drawing = lineDrawing(
    bodies.filter((b) => isInside(b, sight, pane)),
    sight,
    pane,
  );
  const mm = box.width / (pane.right - pane.left);
  const lay: Lay = ([x, y]) => [(x - pane.left) * mm, (pane.top - y) * mm];
  const place = (p: Vec3): Vec2 => lay(seenAt(sight, p));
  const inPlace = chosen.map((p) => ({ mesh: p.mesh, chosen: true }));
  const ghost = shifts.size > 0 ? lineDrawing(inPlace, sight, { ...pane, step: 2 * pane.step }).chosenShape : [];
  return [
    ...path(drawing.restShape, lay, null, 'light'),
    ...path(drawing.rest, lay, 'hairline', 'none'),
    ...path(drawing.chosenShape, lay, 'heavy', 'dark'),
    ...path(drawing.chosen, lay, 'outline', 'none'),
    ...path(ghost, lay, 'hidden', 'none', true),
    ...marksInk(step, place),
    ...arrows(step, { chosen, shifts, block, place }),
  ];
}

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

/**
 * Under a spar's web at a station: where its jig block is. The nearest corner of what stands there tells the station.
 */
function blockAt(step: Step, parts: readonly PartMesh[]): Vec3 {
  const spar = parts.find((p) => p.id === step.chosen[0]);
  if (!spar) return [0, 0, 0];
  const y = step.at ?? 0;
  // The lowest corner of the spar nearest the station.
  let found: Vec3 = [0, y, 0];
  let least = Number.POSITIVE_INFINITY;
  for (const [x, along, z] of cornersOf(spar.mesh)) {
    const worth = Math.abs(along - y) + z;
    if (worth < least) [found, least] = [[x, y, z], worth];
  }
  return found;
}

/** A step's picture in one box and its plan in another. */
export function stepPicture(
  step: Step,
  parts: readonly PartMesh[],
  box: PictureBox = STEP_PICTURE,
  planBox: PictureBox = STEP_PLAN,
): StepPicture {
  return { ink: closeUp(step, parts, box), plan: planOf(step, parts, planBox) };
}
