import type { Vec2 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { Model, Spar } from '../model/schema.ts';
import { noseOutline } from '../parts/noseOutline.ts';
import { type Bay, type Skeleton, skeletonOf, thickness } from '../parts/skeleton.ts';
import { shearModulusOf } from './buckling.ts';
import { show } from './describe.ts';
import { type Cell, cells, openTorsion, type Wall } from './torsion.ts';
import { twistsOf } from './twist.ts';

/*
 * Asks: what does the skin do to a twist left in the skeleton? The bare skeleton is two open channels, the skinned panel
 * closed cells: a nose cell round the front and a box between the spars. Once the skin is on, the twist is locked in, and
 * it would take the torque given here to hold it out. Ribs keep the shape and add nothing. All of it is an estimate.
 */

export interface LockIn {
  /** Torsion constants over the whole length, mm⁴: the length over ∫dy/J, so that tapered panels count where they are weak. */
  readonly open: number;
  readonly closed: number;
  /** So many times stiffer once skinned. */
  readonly times: number;
  /** Twist found from end to end, degrees, nose up positive; undefined where nothing was read. */
  readonly twist: number | undefined;
  /** Torque that holds that twist out, N·m, bare and skinned. */
  readonly torqueBare: number;
  readonly torque: number;
  /** Shear flow round the cells then, N/mm, where the panel is slimmest: nose cell first, then the box. */
  readonly flows: readonly number[];
  readonly sentence: string;
}

/** Walls of a channel at a place along the span: web, two caps, and the strips lying in them. */
function channelWalls(skeleton: Skeleton, spar: Spar, y: number): Wall[] {
  const t = thickness(skeleton, spar.sheet).best;
  const cap = alongAt(spar.capWidth, y);
  const strips = spar.strips.filter((s) => y >= s.from && y <= s.to).map((s): Wall => ({ length: cap * (s.caps === 'both' ? 2 : 1), thickness: thickness(skeleton, s.sheet).best }));
  return [{ length: alongAt(spar.depth, y), thickness: t }, { length: 2 * cap, thickness: t }, ...strips];
}

function areaOf(points: readonly Vec2[]): number {
  let twice = 0;
  points.forEach(([x, z], i) => {
    const [nx, nz] = points[(i + 1) % points.length]!;
    twice += x * nz - nx * z;
  });
  return Math.abs(twice) / 2;
}

function girthOf(points: readonly Vec2[]): number {
  let sum = 0;
  for (let i = 1; i < points.length; i++) sum += Math.hypot(points[i]![0] - points[i - 1]![0], points[i]![1] - points[i - 1]![1]);
  return sum;
}

/** The cells at a station once skinned, and the walls they share. */
function cellsAt(skeleton: Skeleton, bay: Bay, skin: number): { all: Cell[]; shared: Wall[] } {
  const { model } = skeleton;
  const { y, nose } = bay.station;
  const { front, rear } = model.spars;
  const deep = alongAt(front.depth, y);
  const web: Wall = { length: deep, thickness: thickness(skeleton, front.sheet).best };
  const all: Cell[] = [];
  if (nose > 0) {
    const profile = bay.nose?.profile ?? bay.tip?.profile ?? { kind: 'ellipse' as const };
    const outline = noseOutline(profile, { length: nose, height: deep, cut: nose });
    all.push({ area: areaOf(outline), walls: [{ length: girthOf(outline), thickness: skin }] });
  }
  if (rear) {
    const back = alongAt(rear.depth, y);
    const chord = skeleton.book.get(`webs@${bay.station.id}`).best;
    const side = Math.hypot(chord, (deep - back) / 2);
    all.push({ area: ((deep + back) / 2) * chord, walls: [{ length: 2 * side, thickness: skin }, { length: back, thickness: thickness(skeleton, rear.sheet).best }] });
  }
  if (all.length === 1) return { all: [{ ...all[0]!, walls: [...all[0]!.walls, web] }], shared: [] };
  return { all, shared: [web] };
}

/** Length over ∫dy/J, by straight lines between stations. */
function effective(ys: readonly number[], constants: readonly number[]): number {
  if (ys.length === 1) return constants[0]!;
  let sum = 0;
  for (let i = 1; i < ys.length; i++) sum += ((ys[i]! - ys[i - 1]!) * (1 / constants[i]! + 1 / constants[i - 1]!)) / 2;
  return (ys[ys.length - 1]! - ys[0]!) / sum;
}

/** Twist found from the first to the last station, degrees, by the first way that has both ends. */
function foundTwist(skeleton: Skeleton): number | undefined {
  for (const way of ['heights', 'level', 'plumb'] as const) {
    const all = twistsOf(skeleton, way);
    if (all.length > 1) return all[all.length - 1]!.residual - all[0]!.residual;
  }
  return undefined;
}

const round = (v: number): string => (v >= 100 ? Number(v.toPrecision(2)).toString() : v.toPrecision(2));

/**
 * What skinning does to the panel in torsion; undefined where the panel has no skin or no cell it could close.
 *
 * @example panel A: some thousand times stiffer once skinned; the 0.59° found, held by a finger now, would take over 100 N·m
 */
export function lockIn(model: Model): LockIn | undefined {
  const skeleton = skeletonOf(model);
  const sheet = model.skin && model.sheets.find((s) => s.id === model.skin!.sheet);
  const { bays } = skeleton;
  if (!sheet || bays.length === 0) return undefined;
  const skin = thickness(skeleton, sheet.id).best;
  const shear = shearModulusOf(sheet.alloy);
  const ys = bays.map((b) => b.station.y);
  const spars = [model.spars.front, ...(model.spars.rear ? [model.spars.rear] : [])];
  const open = effective(ys, ys.map((y) => openTorsion(spars.flatMap((s) => channelWalls(skeleton, s, y)))));
  const sections = bays.map((b) => cellsAt(skeleton, b, skin));
  if (sections.some((s) => s.all.length === 0)) return undefined;
  const answers = sections.map((s) => cells(s.all, s.shared, 1, shear));
  const closed = effective(ys, answers.map((a) => a.constant));
  const length = Math.max(1, ys[ys.length - 1]! - ys[0]!);
  const twist = foundTwist(skeleton);
  const rate = (Math.abs(twist ?? 0) * Math.PI) / 180 / length;
  const [torqueBare, torque] = [(shear * open * rate) / 1000, (shear * closed * rate) / 1000];
  const slim = answers.reduce((a, b) => (b.constant < a.constant ? b : a));
  const flows = slim.flows.map((q) => q * torque * 1000);
  const times = closed / open;
  const how = `Skinned, the panel is about ${round(times)} times as stiff in twist as bare, an estimate`;
  const sentence = twist === undefined || Math.abs(twist) < 0.005
    ? `${how}. Whatever twist is in it then stays.`
    : `${how}. The ${show(model, Math.abs(twist), 'deg')} found from end to end takes ${round(torqueBare)} N·m to hold out now and ${round(torque)} N·m then, a shear flow of up to ${round(Math.max(...flows.map(Math.abs)))} N/mm: take it out before the skin goes on.`;
  return { open, closed, times, twist, torqueBare, torque, flows, sentence };
}
