import { paneRound } from '../../geometry/lineDrawing.ts';
import type { Mesh } from '../../geometry/mesh.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Ink } from '../paper/page.ts';
import type { Step } from './step.ts';
import { type Lay, type PartMesh, type PictureBox, path } from './stepInk.ts';

/*
 * Where you stand: the whole panel from above as outlines, what is there solid, what is still to come dashed, the part
 * that matters black; and a person, who looks at the panel.
 */

const hulls = new WeakMap<Mesh, Vec2[]>();

/** The outline round a part as seen from above: (y, −x), so that forward is up. Andrew's monotone chain. */
function hullOf(mesh: Mesh): Vec2[] {
  let hull = hulls.get(mesh);
  if (!hull) {
    const points: Vec2[] = [];
    for (let i = 0; i < mesh.positions.length; i += 3) points.push([mesh.positions[i + 1]!, -mesh.positions[i]!]);
    points.sort((a, b) => a[0] - b[0] || a[1] - b[1]);
    const half = (list: readonly Vec2[]): Vec2[] => {
      const out: Vec2[] = [];
      for (const p of list) {
        while (out.length >= 2) {
          const [a, b] = [out[out.length - 2]!, out[out.length - 1]!];
          if ((b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0]) > 1e-6) break;
          out.pop();
        }
        out.push(p);
      }
      return out.slice(0, -1);
    };
    hull = [...half(points), ...half(points.reverse())];
    hulls.set(mesh, hull);
  }
  return hull;
}

/** A person from above, facing up the paper when turned by nothing: shoulders and head. */
export function person([x, y]: Vec2, facing: 'up' | 'left' | 'right'): Ink[] {
  const turn = ([a, b]: Vec2): Vec2 =>
    facing === 'up' ? [x + a, y + b] : facing === 'right' ? [x - b, y + a] : [x + b, y - a];
  const shoulders: Vec2[] = [
    [-3.6, 1.2],
    [-2.6, -0.6],
    [2.6, -0.6],
    [3.6, 1.2],
    [2.4, 2],
    [-2.4, 2],
  ];
  const same: Lay = (p) => p;
  const nose: Vec2[] = [
    [-0.9, -1.2],
    [0, -3],
    [0.9, -1.2],
  ];
  const [hx, hy] = turn([0, 0.2]);
  return [
    ...path([shoulders.map(turn)], same, null, 'ink'),
    ...path([nose.map(turn)], same, null, 'ink'),
    { kind: 'circle', x: hx, y: hy, r: 1.9, stroke: 'outline', fill: 'paper' },
  ];
}

/** The plan of a step, turned so that who does it stands below the panel or at its end. */
export function planOf(step: Step, parts: readonly PartMesh[], box: PictureBox): Ink[] {
  const flip = step.standing === 'ahead' ? -1 : 1;
  const shown = parts.filter((p) => p.id !== 'skin');
  const outlines = shown.map((p) => ({ id: p.id, hull: hullOf(p.mesh).map(([a, b]): Vec2 => [a * flip, b * flip]) }));
  const all = outlines.flatMap((o) => o.hull);
  const pane = paneRound(all, 0, 1);
  const atEnd = step.standing === 'left end' || step.standing === 'right end';
  const room = {
    left: step.standing === 'left end' ? 11 : 2,
    right: step.standing === 'right end' ? 11 : 2,
    top: 5,
    bottom: atEnd ? 2 : 8.5,
  };
  const mm = Math.min(
    (box.width - room.left - room.right) / (pane.right - pane.left),
    (box.height - room.top - room.bottom) / (pane.top - pane.bottom),
  );
  const [wide, high] = [(pane.right - pane.left) * mm, (pane.top - pane.bottom) * mm];
  const x0 = room.left + (box.width - room.left - room.right - wide) / 2;
  const y0 = room.top + (box.height - room.top - room.bottom - high) / 2;
  const lay: Lay = ([x, y]) => [x0 + (x - pane.left) * mm, y0 + (pane.top - y) * mm];
  const isThere = (id: string): boolean =>
    step.there.includes(id) || step.there.some((t) => id.startsWith(`${t}-strip`));
  const chosen = outlines.filter((o) => step.chosen.includes(o.id));
  const middle =
    step.at !== undefined
      ? lay([step.at * flip, pane.bottom])
      : chosen.length > 0 && chosen.length < shown.length / 3
        ? lay(centre(chosen.flatMap((o) => o.hull)))
        : lay([(pane.left + pane.right) / 2, pane.bottom]);
  const stand: Vec2 =
    step.standing === 'left end'
      ? [x0 - 5, y0 + high / 2]
      : step.standing === 'right end'
        ? [x0 + wide + 5, y0 + high / 2]
        : [Math.min(Math.max(middle[0], 5), box.width - 5), y0 + high + 5];
  const up = step.standing !== 'ahead';
  // The leading edge is named at the end that is further from where the work is.
  const left = middle[0] > x0 + wide / 2;
  const label: Ink[] = [
    {
      kind: 'text',
      x: left ? x0 + 0.5 : x0 + wide - 0.5,
      y: up ? y0 - 1.6 : y0 + high + 3.8,
      text: 'leading edge',
      size: 10,
      align: left ? 'start' : 'end',
    },
  ];
  if (step.at !== undefined && step.station)
    label.push({ kind: 'text', x: middle[0], y: y0 - 1.6, text: step.station, size: 10, bold: true, align: 'middle' });
  if (step.kind === 'pack' && step.at !== undefined)
    label.push({
      kind: 'circle',
      x: middle[0],
      y: lay(centre(chosen.flatMap((o) => o.hull)))[1],
      r: 1.8,
      stroke: 'outline',
      fill: 'paper',
    });
  return [
    ...outlines
      .filter((o) => !isThere(o.id) && !step.chosen.includes(o.id))
      .flatMap((o) => path([o.hull], lay, 'hidden', 'none', true)),
    ...outlines
      .filter((o) => isThere(o.id) && !step.chosen.includes(o.id))
      .flatMap((o) => path([o.hull], lay, 'hairline', 'light')),
    ...chosen.flatMap((o) => path([o.hull], lay, 'heavy', 'ink')),
    ...label,
    ...person(stand, step.standing === 'left end' ? 'right' : step.standing === 'right end' ? 'left' : 'up'),
  ];
}

function centre(points: readonly Vec2[]): Vec2 {
  return [points.reduce((s, p) => s + p[0], 0) / points.length, points.reduce((s, p) => s + p[1], 0) / points.length];
}
