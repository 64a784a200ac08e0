import { show } from '../checks/describe.ts';
import { twistsOf } from '../checks/fit/twistRead.ts';
import type { Vec2 } from '../geometry/vector.ts';
import { shearModulusOf } from '../mechanics/buckling.ts';
import { type Cell, cells, openTorsion, type Wall } from '../mechanics/torsion.ts';
import { alongAt } from '../model/along.ts';
import type { Model, Spar } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { thickness } from '../parts/layout/meeting.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { noseOutline } from '../parts/shapes/noseOutline.ts';
import { NEAR } from '../units/near.ts';

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
  /** Twist found, degrees, nose up positive; undefined where nothing was read. */
  readonly twist: number | undefined;
  /** The two stations it was found between: the ends, or those that differ most where the panel comes back. */
  readonly between: readonly [string, string] | undefined;
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
  const strips = spar.strips
    .filter((s) => y >= s.from && y <= s.to)
    .map((s): Wall => ({ length: cap * (s.caps === 'both' ? 2 : 1), thickness: thickness(skeleton, s.sheet).best }));
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
  for (let i = 1; i < points.length; i++)
    sum += Math.hypot(points[i]![0] - points[i - 1]![0], points[i]![1] - points[i - 1]![1]);
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
    all.push({
      area: ((deep + back) / 2) * chord,
      walls: [
        { length: 2 * side, thickness: skin },
        { length: back, thickness: thickness(skeleton, rear.sheet).best },
      ],
    });
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

/** A twist that was found: degrees from one bay to another, nose up positive. */
interface Found {
  readonly twist: number;
  readonly from: number;
  readonly to: number;
}

/**
 * The twist that skinning would lock in: from the first to the last station, by the first way that has both; where the panel
 * twists and comes back (a hump), between the two stations that differ most, the nearest such pair.
 */
function foundTwist(skeleton: Skeleton): Found | undefined {
  for (const way of ['heights', 'level', 'plumb'] as const) {
    const all = twistsOf(skeleton, way).map((t) => ({ at: t.bay.index, v: t.residual }));
    if (all.length < 2) continue;
    const [first, last] = [all[0]!, all[all.length - 1]!];
    let most = { twist: last.v - first.v, from: first.at, to: last.at };
    if (Math.max(...all.map((t) => t.v)) - Math.min(...all.map((t) => t.v)) < 2 * Math.abs(most.twist)) return most;
    for (const [i, a] of all.entries()) {
      for (const b of all.slice(i + 1)) {
        const [more, same] = [Math.abs(b.v - a.v) - Math.abs(most.twist), b.at - a.at < most.to - most.from];
        if (more > NEAR || (more > -NEAR && same)) most = { twist: b.v - a.v, from: a.at, to: b.at };
      }
    }
    return most;
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
  const opens = ys.map((y) => openTorsion(spars.flatMap((s) => channelWalls(skeleton, s, y))));
  const open = effective(ys, opens);
  const sections = bays.map((b) => cellsAt(skeleton, b, skin));
  if (sections.some((s) => s.all.length === 0)) return undefined;
  const answers = sections.map((s) => cells(s.all, s.shared, 1, shear));
  const closed = effective(
    ys,
    answers.map((a) => a.constant),
  );
  const found = foundTwist(skeleton);
  const twist = found?.twist;
  const [from, to] = [found?.from ?? 0, found?.to ?? bays.length - 1];
  const part = <T>(list: readonly T[]): readonly T[] => list.slice(from, to + 1);
  const length = Math.max(1, ys[to]! - ys[from]!);
  const rate = (Math.abs(twist ?? 0) * Math.PI) / 180 / length;
  const [torqueBare, torque] = [opens, answers.map((a) => a.constant)].map(
    (c) => (shear * effective(part(ys), part(c)) * rate) / 1000,
  ) as [number, number];
  const slim = part(answers).reduce((a, b) => (b.constant < a.constant ? b : a));
  const flows = slim.flows.map((q) => q * torque * 1000);
  const times = closed / open;
  const between = found && ([bays[from]!.station.id, bays[to]!.station.id] as const);
  const where = found && to - from < bays.length - 1 ? `between ${between![0]} and ${between![1]}` : 'from end to end';
  const how = `Skinned, the panel is about ${round(times)} times as stiff in twist as bare, an estimate`;
  const sentence =
    twist === undefined || Math.abs(twist) < 0.005
      ? `${how}. Whatever twist is in it then stays.`
      : `${how}. The ${show(model, Math.abs(twist), 'deg')} found ${where} takes ${round(torqueBare)} N·m to hold out now and ${round(torque)} N·m then, a shear flow of up to ${round(Math.max(...flows.map(Math.abs)))} N/mm: take it out before the skin goes on.`;
  return { open, closed, times, twist, between, torqueBare, torque, flows, sentence };
}
