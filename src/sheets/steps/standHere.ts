import { hullOf } from '../../geometry/hull.ts';
import { type Pane, paneRound } from '../../geometry/lineDrawing.ts';
import type { Mesh } from '../../geometry/mesh.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import { once } from '../../once.ts';
import type { Fill, Ink, Stroke } from '../paper/page.ts';
import { textAt } from '../paper/text.ts';
import type { Standing, Step } from './step.ts';
import { cornersOf, type Lay, type PartMesh, type PictureBox, path } from './stepInk.ts';

/*
 * Where you stand: the whole panel from above as outlines, what is there solid, what is still to come dashed, the part
 * that matters black; and a person, who looks at the panel.
 */

/** The outline round a part as seen from above: (y, −x), so that forward is up. */
const outlineOf = once((mesh: Mesh): readonly Vec2[] => hullOf([...cornersOf(mesh)].map(([x, y]): Vec2 => [y, -x])));

export type Facing = 'up' | 'left' | 'right';

/** A point of a figure that faces up the paper, turned to face another way. */
const TURNED: Readonly<Record<Facing, (p: Vec2) => Vec2>> = {
  up: ([a, b]) => [a, b],
  right: ([a, b]) => [-b, a],
  left: ([a, b]) => [b, -a],
};

const SHOULDERS: readonly Vec2[] = [
  [-3.6, 1.2],
  [-2.6, -0.6],
  [2.6, -0.6],
  [3.6, 1.2],
  [2.4, 2],
  [-2.4, 2],
];
const NOSE: readonly Vec2[] = [
  [-0.9, -1.2],
  [0, -3],
  [0.9, -1.2],
];

/** A person from above: shoulders and head. */
export function person([x, y]: Vec2, facing: Facing): Ink[] {
  const lay: Lay = (p) => {
    const [a, b] = TURNED[facing](p);
    return [x + a, y + b];
  };
  const [hx, hy] = lay([0, 0.2]);
  return [
    ...path([SHOULDERS], lay, null, 'ink'),
    ...path([NOSE], lay, null, 'ink'),
    { kind: 'circle', x: hx, y: hy, r: 1.9, stroke: 'outline', fill: 'paper' },
  ];
}

/** A part's outline from above, turned as the plan is. */
interface Outline {
  readonly id: string;
  readonly hull: readonly Vec2[];
}

/** The drawn panel on the page: where its points come, its corner, and how large it is, mm of page. */
interface Laid {
  readonly lay: Lay;
  readonly pane: Pane;
  readonly x: number;
  readonly y: number;
  readonly wide: number;
  readonly high: number;
}

/** Room left round the panel for words and for the person, mm of page. */
function roomRound(standing: Standing): Readonly<Record<'left' | 'right' | 'top' | 'bottom', number>> {
  const atEnd = standing === 'left end' || standing === 'right end';
  return {
    left: standing === 'left end' ? 11 : 2,
    right: standing === 'right end' ? 11 : 2,
    top: 5,
    bottom: atEnd ? 2 : 8.5,
  };
}

function laidIn(outlines: readonly Outline[], standing: Standing, box: PictureBox): Laid {
  const all = outlines.flatMap((o) => o.hull);
  const pane = paneRound(all, 0, 1);
  const room = roomRound(standing);
  const [width, height] = [box.width - room.left - room.right, box.height - room.top - room.bottom];
  const mm = Math.min(width / (pane.right - pane.left), height / (pane.top - pane.bottom));
  const [wide, high] = [(pane.right - pane.left) * mm, (pane.top - pane.bottom) * mm];
  const x = room.left + (width - wide) / 2;
  const y = room.top + (height - high) / 2;
  return { lay: ([a, b]) => [x + (a - pane.left) * mm, y + (pane.top - b) * mm], pane, x, y, wide, high };
}

/** Where the work is: its station, else the few parts that are handled, else the middle of the panel. */
function workAt(step: Step, outlines: readonly Outline[], chosen: readonly Outline[], { lay, pane }: Laid): Vec2 {
  if (step.at !== undefined) return lay([step.at * flipOf(step), pane.bottom]);
  if (chosen.length > 0 && chosen.length < outlines.length / 3) return lay(centre(chosen.flatMap((o) => o.hull)));
  return lay([(pane.left + pane.right) / 2, pane.bottom]);
}

/** From ahead the panel is seen turned half round. */
const flipOf = (step: Step): 1 | -1 => (step.standing === 'ahead' ? -1 : 1);

function standsAt(step: Step, { x, y, wide, high }: Laid, work: Vec2, box: PictureBox): { at: Vec2; facing: Facing } {
  if (step.standing === 'left end') return { at: [x - 5, y + high / 2], facing: 'right' };
  if (step.standing === 'right end') return { at: [x + wide + 5, y + high / 2], facing: 'left' };
  return { at: [Math.min(Math.max(work[0], 5), box.width - 5), y + high + 5], facing: 'up' };
}

/** Names on the plan: the leading edge, the station; and a ring where a pack goes. */
function labelsInk(step: Step, chosen: readonly Outline[], { lay, x, y, wide, high }: Laid, [at]: Vec2): Ink[] {
  // The leading edge is named at the end that is further from where the work is.
  const isLeft = at > x + wide / 2;
  const over = y - 1.6;
  const under = y + high + 3.8;
  const edge = textAt('leading edge', [isLeft ? x + 0.5 : x + wide - 0.5, step.standing === 'ahead' ? under : over], {
    align: isLeft ? 'start' : 'end',
  });
  if (step.at === undefined) return [edge];
  const name = step.station ? [textAt(step.station, [at, over], { bold: true, align: 'middle' })] : [];
  if (step.kind !== 'pack') return [edge, ...name];
  const [, down] = lay(centre(chosen.flatMap((o) => o.hull)));
  return [edge, ...name, { kind: 'circle', x: at, y: down, r: 1.8, stroke: 'outline', fill: 'paper' }];
}

/** The plan of a step, turned so that who does it stands below the panel or at its end. */
export function planOf(step: Step, parts: readonly PartMesh[], box: PictureBox): Ink[] {
  const flip = flipOf(step);
  const outlines = parts
    .filter((p) => p.id !== 'skin')
    .map((p): Outline => ({ id: p.id, hull: outlineOf(p.mesh).map(([a, b]): Vec2 => [a * flip, b * flip]) }));
  const laid = laidIn(outlines, step.standing, box);
  const chosen = outlines.filter((o) => step.chosen.includes(o.id));
  const others = outlines.filter((o) => !step.chosen.includes(o.id));
  const work = workAt(step, outlines, chosen, laid);
  const { at, facing } = standsAt(step, laid, work, box);
  const drawn = (list: readonly Outline[], stroke: Stroke, fill: Fill): Ink[] =>
    list.flatMap((o) => path([o.hull], laid.lay, stroke, fill, true));
  return [
    ...drawn(
      others.filter((o) => !isThere(step, o.id)),
      'hidden',
      'none',
    ),
    ...drawn(
      others.filter((o) => isThere(step, o.id)),
      'hairline',
      'light',
    ),
    ...drawn(chosen, 'heavy', 'ink'),
    ...labelsInk(step, chosen, laid, work),
    ...person(at, facing),
  ];
}

/** A spar's strips are there as soon as the spar is. */
const isThere = (step: Step, id: string): boolean =>
  step.there.includes(id) || step.there.some((t) => id.startsWith(`${t}-strip`));

const centre = (points: readonly Vec2[]): Vec2 => [
  points.reduce((sum, p) => sum + p[0], 0) / points.length,
  points.reduce((sum, p) => sum + p[1], 0) / points.length,
];
