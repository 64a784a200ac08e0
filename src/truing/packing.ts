import { show } from '../checks/describe.ts';
import { twistsOf } from '../checks/fit/twistRead.ts';
import { leastSquares, minimax } from '../mechanics/minimax.ts';
import type { Edit } from '../model/edits/edits.ts';
import { limitFor } from '../model/limits.ts';
import { UPRIGHT } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { NEAR } from '../units/near.ts';

/*
 * Asks: what goes under which support so that the panel lies true? A pack of p mm under one spar turns the chord there by
 * p over web to web; between supports it is shared straight, beyond the last ones the spar goes straight on (it is stiff
 * in bending and soft in twist). It also bends the spar that it lifts. So what is made least is the largest residual of
 * both: twist at each station and end to end, and straightness of the lifted edge, each against its own first limit.
 * Packs come from those on hand, each piece once, a few in one place; nothing can be taken away by packing.
 */

export type PackSide = 'front' | 'rear';

/** Residuals as they are and what packs do to them: rows are residuals in their own limit, columns are supports. */
interface Problem {
  readonly side: PackSide;
  readonly supports: readonly string[];
  readonly rows: readonly Row[];
}

interface Row {
  readonly what: 'twist' | 'whole' | 'straight';
  readonly station: string;
  /** Residual now: degrees of twist, mm off straight. */
  readonly now: number;
  /** First limit of that residual, same unit. */
  readonly limit: number;
  /** Change for each mm of pack, support by support. */
  readonly by: readonly number[];
}

/** Share of a pack under each support that a place along the span gets: straight between supports and straight on beyond. */
export function sharesAt(y: number, supports: readonly number[]): number[] {
  const n = supports.length;
  if (n === 1) return [1];
  let k = 0;
  while (k < n - 2 && y > supports[k + 1]!) k++;
  const t = (y - supports[k]!) / (supports[k + 1]! - supports[k]!);
  return supports.map((_, j) => (j === k ? 1 - t : j === k + 1 ? t : 0));
}

const outer = ([a, b]: readonly [number | null, number | null]): number =>
  Math.max(NEAR, Math.min(Math.abs(a ?? Number.POSITIVE_INFINITY), Math.abs(b ?? Number.POSITIVE_INFINITY)));

function problemOf(skeleton: Skeleton, side: PackSide): Problem | undefined {
  const { model, book } = skeleton;
  const blocks = skeleton.bays.filter((b) => model.survey.supports.includes(b.station.id));
  const twists = twistsOf(skeleton, 'heights');
  if (blocks.length === 0 || twists.length === 0) return undefined;
  const ys = blocks.map((b) => b.station.y);
  const sign = side === 'front' ? 1 : -1;
  const turn = new Map(
    twists.map((t) => [
      t.bay,
      sharesAt(t.bay.station.y, ys).map((s) => (sign * s * 180) / Math.PI / book.get(`webs@${t.bay.station.id}`).best),
    ]),
  );
  const zero = twists.find((t) => t.bay.station.id === model.survey.reference);
  const by = (bay: (typeof twists)[number]['bay']): number[] =>
    turn.get(bay)!.map((v, j) => v - (zero ? turn.get(zero.bay)![j]! : 0));
  const twist = outer(limitFor(model, 'twist').fits);
  const rows: Row[] = twists.map((t) => ({
    what: 'twist',
    station: t.bay.station.id,
    now: t.residual,
    limit: twist,
    by: by(t.bay),
  }));
  const [first, last] = [twists[0]!, twists[twists.length - 1]!];
  if (first !== last)
    rows.push({
      what: 'whole',
      station: last.bay.station.id,
      now: last.residual - first.residual,
      limit: twist,
      by: by(last.bay).map((v, j) => v - by(first.bay)[j]!),
    });
  rows.push(...straightRows(skeleton, side, ys));
  return { side, supports: blocks.map((b) => b.station.id), rows };
}

/** Height of the touched edge over a true bench, mm; undefined where it was not read. */
function edgeAt(skeleton: Skeleton, side: PackSide, id: string): number | undefined {
  const read = skeleton.book.find(`height.${side}@${id}`);
  return read && read.best + (skeleton.book.find(`bench.${side}@${id}`)?.best ?? 0);
}

function straightRows(skeleton: Skeleton, side: PackSide, ys: readonly number[]): Row[] {
  const { model } = skeleton;
  const read = skeleton.bays.flatMap((bay) => {
    const z = edgeAt(skeleton, side, bay.station.id);
    return z === undefined ? [] : [{ id: bay.station.id, y: bay.station.y, z, share: sharesAt(bay.station.y, ys) }];
  });
  const [a, b] = [read[0], read[read.length - 1]];
  if (!a || !b || read.length < 3) return [];
  const spar = model.spars[side];
  const limit = Math.min(
    outer(limitFor(model, 'bow').fits),
    spar ? Math.abs(spar.to - spar.from) / 2000 : Number.POSITIVE_INFINITY,
  );
  return read.slice(1, -1).map((r): Row => {
    const t = (r.y - a.y) / (b.y - a.y);
    return {
      what: 'straight',
      station: r.id,
      now: r.z - (1 - t) * a.z - t * b.z,
      limit,
      by: r.share.map((s, j) => s - (1 - t) * a.share[j]! - t * b.share[j]!),
    };
  });
}

const after = (row: Row, packs: readonly number[]): number =>
  row.by.reduce((sum, m, j) => sum + m * packs[j]!, row.now);
const scaled = (rows: readonly Row[]): { a: number[]; m: number[][] } => ({
  a: rows.map((r) => r.now / r.limit),
  m: rows.map((r) => r.by.map((v) => v / r.limit)),
});
const largest = (rows: readonly Row[], packs: readonly number[]): number =>
  rows.reduce((most, r) => Math.max(most, Math.abs(after(r, packs)) / r.limit), 0);

/** What a set of packs leaves. */
export interface Lie {
  /** Residual twist at each station that was read, degrees, nose up positive. */
  readonly twist: readonly { readonly station: string; readonly value: number }[];
  /** Twist end to end, degrees; 0 where only one station was read. */
  readonly whole: number;
  /** The lifted edge off its straight line at inner stations, mm, up positive. */
  readonly straight: readonly { readonly station: string; readonly value: number }[];
  /** Largest of them all as a share of its first limit: 1 is just inside. */
  readonly largest: number;
  /** What the height stand will read then, mm. */
  readonly heights: readonly { readonly station: string; readonly front: number; readonly rear: number }[];
}

function lieOf(skeleton: Skeleton, problem: Problem, packs: readonly number[]): Lie {
  const { rows, side } = problem;
  const of = (what: Row['what']): Row[] => rows.filter((r) => r.what === what);
  const whole = of('whole')[0];
  const ys = skeleton.bays.filter((b) => problem.supports.includes(b.station.id)).map((b) => b.station.y);
  const heights = skeleton.bays.flatMap((bay) => {
    const [front, rear] = [
      skeleton.book.find(`height.front@${bay.station.id}`),
      skeleton.book.find(`height.rear@${bay.station.id}`),
    ];
    if (!front || !rear) return [];
    const lift = sharesAt(bay.station.y, ys).reduce((sum, s, j) => sum + s * packs[j]!, 0);
    return [
      {
        station: bay.station.id,
        front: front.best + (side === 'front' ? lift : 0),
        rear: rear.best + (side === 'rear' ? lift : 0),
      },
    ];
  });
  return {
    twist: of('twist').map((r) => ({ station: r.station, value: after(r, packs) })),
    whole: whole ? after(whole, packs) : 0,
    straight: of('straight').map((r) => ({ station: r.station, value: after(r, packs) })),
    largest: largest(rows, packs),
    heights,
  };
}

/**
 * What given packs under one spar would leave, mm in the order of the supports along the span; negative is metal planed
 * off the block. Undefined where no heights were read or there are no blocks. Panel A, front 0, 0, 0.6, 2.2: at most 0.09°.
 */
export function lieWith(model: Model, side: PackSide, packs: readonly number[]): Lie | undefined {
  const skeleton = skeletonOf(model);
  const problem = problemOf(skeleton, side);
  return problem && lieOf(skeleton, problem, packs);
}

/**
 * Packs of any thickness, negative too, with the least sum of squared twist: what the jig asks for before anyone looks in
 * the drawer. Panel A, front: -0.40, -0.19, +0.50, +2.32 mm.
 */
export function continuousPacks(model: Model, side: PackSide): number[] | undefined {
  const problem = problemOf(skeletonOf(model), side);
  if (!problem) return undefined;
  const { a, m } = scaled(problem.rows.filter((r) => r.what === 'twist'));
  return leastSquares(a, m);
}

/** Pieces that can go in one place, thinnest stack first: every different choice of up to `most` of those on hand. */
function stacks(pieces: readonly number[], most: number): number[][] {
  const all: number[][] = [[]];
  const grow = (from: number, taken: readonly number[]): void => {
    if (taken.length === most) return;
    for (let i = from; i < pieces.length; i++) {
      if (i > from && pieces[i] === pieces[i - 1]) continue;
      const next = [...taken, pieces[i]!];
      all.push(next);
      grow(i + 1, next);
    }
  };
  grow(0, []);
  return all.sort((a, b) => thick(a) - thick(b) || a.length - b.length);
}

const thick = (pieces: readonly number[]): number => pieces.reduce((sum, t) => sum + t, 0);

function without(pieces: readonly number[], taken: readonly number[]): number[] {
  const left = [...pieces];
  for (const t of taken) left.splice(left.indexOf(t), 1);
  return left;
}

interface Search {
  readonly value: number;
  readonly choice: readonly (readonly number[])[];
  /** Whether every choice was looked at or shown to be no better. */
  readonly proven: boolean;
}

/**
 * The best choice of pieces for each support: branch and bound. `bound` gives the least that can be reached whatever goes
 * under the supports not yet filled; it is convex in the next pack, so once it passes the best known the thicker (or
 * thinner) ones can all be left out.
 */
function searched(
  columns: number,
  pieces: readonly number[],
  most: number,
  bound: (packs: readonly number[]) => { least: number; next: number },
): Search {
  let value = Number.POSITIVE_INFINITY;
  let choice: number[][] = [];
  let looks = 0;
  const MOST_LOOKS = 60_000;
  const go = (packs: number[], taken: number[][], left: readonly number[], aim: number): void => {
    if (packs.length === columns) return;
    const options = stacks(left, most);
    let start = options.findIndex((o) => thick(o) >= aim);
    if (start < 0) start = options.length;
    const visit = (pieces: number[]): boolean => {
      if (looks++ > MOST_LOOKS) return false;
      const now = [...packs, thick(pieces)];
      const { least, next } = bound(now);
      if (least >= value - NEAR) return false;
      if (now.length === columns) {
        value = least;
        choice = [...taken, pieces];
      } else go(now, [...taken, pieces], without(left, pieces), next);
      return true;
    };
    for (let i = start - 1; i >= 0; i--) if (!visit(options[i]!)) break;
    for (let i = start; i < options.length; i++) if (!visit(options[i]!)) break;
  };
  go(
    [],
    [],
    [...pieces].sort((a, b) => a - b),
    bound([]).next,
  );
  return { value, choice, proven: looks <= MOST_LOOKS };
}

/** Residuals with the first supports filled, and what the others still can do. */
function rest(
  a: readonly number[],
  m: readonly (readonly number[])[],
  packs: readonly number[],
): { a: number[]; m: number[][] } {
  return {
    a: a.map((v, i) => packs.reduce((sum, p, j) => sum + m[i]![j]! * p, v)),
    m: m.map((row) => row.slice(packs.length)),
  };
}

const squares = (a: readonly number[], m: readonly (readonly number[])[], p: readonly number[]): number =>
  a.reduce((sum, v, i) => sum + p.reduce((s, x, j) => s + m[i]![j]! * x, v) ** 2, 0);

/** A pack under one support. */
export interface Pack {
  readonly station: string;
  readonly pieces: readonly number[];
  readonly total: number;
}

export interface PackingPlan {
  readonly side: PackSide;
  readonly packs: readonly Pack[];
  readonly before: Lie;
  readonly after: Lie;
  /** No choice of packs, of any thickness even, can leave a largest residual below this. */
  readonly bound: number;
  /** True where no other choice from the drawer leaves a smaller largest residual. */
  readonly proven: boolean;
  /** Pieces left on hand. */
  readonly left: readonly number[];
  /** Where the jig stands too high: plane that much off the block or pack the other spar there, mm. */
  readonly planing: readonly { readonly station: string; readonly amount: number }[];
  readonly sentences: readonly string[];
}

/**
 * The packs to put under one spar's blocks, exact over the pieces on hand: least largest residual, and among choices that
 * leave the same, the least sum of squares. Each piece of `stock.packs` is used once; at most `most` (3) in one place.
 */
export function packsUnder(model: Model, side: PackSide, most = 3): PackingPlan | undefined {
  const skeleton = skeletonOf(model);
  const problem = problemOf(skeleton, side);
  if (!problem) return undefined;
  const { a, m } = scaled(problem.rows);
  const n = problem.supports.length;
  const lowest = minimax(a, m).r;
  const first = searched(n, model.stock.packs, most, (packs) => {
    const now = rest(a, m, packs);
    const { r, p } = minimax(now.a, now.m);
    return { least: r, next: p[0] ?? 0 };
  });
  const second = searched(n, model.stock.packs, most, (packs) => {
    const now = rest(a, m, packs);
    if (minimax(now.a, now.m).r > first.value + 1e-7) return { least: Number.POSITIVE_INFINITY, next: 0 };
    const p = leastSquares(now.a, now.m);
    return { least: squares(now.a, now.m, p), next: p[0] ?? 0 };
  });
  const choice = second.choice.length === n ? second.choice : first.choice;
  const totals = choice.map(thick);
  const packs = problem.supports.map(
    (station, j): Pack => ({ station, pieces: [...choice[j]!].sort((x, y) => y - x), total: totals[j]! }),
  );
  const asked = continuousPacks(model, side) ?? [];
  const smallest = Math.min(...model.stock.packs, Number.POSITIVE_INFINITY);
  const worth = Number.isFinite(smallest) ? smallest : 0.1;
  const planing = problem.supports.flatMap((station, j) =>
    totals[j] === 0 && asked[j]! < -worth ? [{ station, amount: -asked[j]! }] : [],
  );
  const plan = {
    side,
    packs,
    before: lieOf(
      skeleton,
      problem,
      totals.map(() => 0),
    ),
    after: lieOf(skeleton, problem, totals),
    bound: lowest,
    proven: first.proven,
    left: without([...model.stock.packs], choice.flat()),
    planing,
  };
  return { ...plan, sentences: sentencesOf(model, plan) };
}

/** The better of packing the front and packing the rear; undefined where no heights were read or there are no blocks. */
export function packing(model: Model, most = 3): PackingPlan | undefined {
  const [front, rear] = [packsUnder(model, 'front', most), packsUnder(model, 'rear', most)];
  if (!front || !rear) return front ?? rear;
  return rear.after.largest < front.after.largest - NEAR ? rear : front;
}

/** What a reading says that was worked out from a plan and not read again. */
const WORKED_OUT = 'worked out after packing: read it again';

/**
 * The step of putting a plan's packs in: they leave the drawer, and heights, levels and plumb lines are moved by what the
 * packs do, each marked as worked out until it is read again.
 */
export function packed(model: Model, plan: PackingPlan): Edit {
  const skeleton = skeletonOf(model);
  const ys = skeleton.bays.filter((b) => plan.packs.some((p) => p.station === b.station.id)).map((b) => b.station.y);
  const moves = new Map<string, { readonly by: number; readonly angle: boolean }>();
  for (const bay of skeleton.bays) {
    const { id, y } = bay.station;
    const lift = sharesAt(y, ys).reduce((sum, share, j) => sum + share * plan.packs[j]!.total, 0);
    const turn = ((plan.side === 'front' ? 1 : -1) * lift) / skeleton.book.get(`webs@${id}`).best;
    moves.set(`height.${plan.side}@${id}`, { by: lift, angle: false });
    moves.set(`level@${id}`, { by: (turn * 180) / Math.PI, angle: false });
    moves.set(`plumb@${id}`, { by: turn, angle: true });
  }
  return {
    name: `packed under the ${plan.side} spar`,
    apply: (m) => ({
      ...m,
      stock: { ...m.stock, packs: [...plan.left] },
      readings: m.readings.map((r) => {
        const move = moves.get(r.size);
        if (!move || Math.abs(move.by) < 1e-12) return r;
        return { ...r, value: r.value + (move.angle ? move.by * (r.over ?? UPRIGHT) : move.by), note: WORKED_OUT };
      }),
    }),
  };
}

/** A twist as a person says it: `0.11° nose down`, `level`. */
const noseWords = (model: Model, v: number): string =>
  Math.abs(v) < 0.005 ? 'level' : `${show(model, Math.abs(v), 'deg')} nose ${v < 0 ? 'down' : 'up'}`;

function sentencesOf(model: Model, plan: Omit<PackingPlan, 'sentences'>): string[] {
  const put = plan.packs
    .filter((p) => p.total > 0)
    .map(
      (p) =>
        `${p.station} ${show(model, p.total)}${p.pieces.length > 1 ? ` (${p.pieces.map((t) => show(model, t)).join(' + ')})` : ''}`,
    );
  const most = plan.after.twist.reduce((w, t) => (Math.abs(t.value) > Math.abs(w.value) ? t : w), {
    station: '',
    value: 0,
  });
  const bent = plan.after.straight.reduce((w, t) => (Math.abs(t.value) > Math.abs(w.value) ? t : w), {
    station: '',
    value: 0,
  });
  const out: string[] = [];
  out.push(
    put.length > 0
      ? `Pack under the ${plan.side} spar: ${put.join(', ')}.`
      : `No pack on hand under the ${plan.side} spar betters it.`,
  );
  out.push(
    `Then no station is twisted more than ${show(model, Math.abs(most.value), 'deg')}${most.station ? ` (${most.station})` : ''}, end to end ${noseWords(model, plan.after.whole)}; before, ${noseWords(model, plan.before.whole)}.`,
  );
  if (bent.station)
    out.push(
      `The ${plan.side} spar then lies ${show(model, Math.abs(bent.value))} ${bent.value < 0 ? 'under' : 'over'} its straight line at ${bent.station}.`,
    );
  for (const p of plan.planing)
    out.push(
      `${p.station} stands ${show(model, p.amount)} too high: plane its ${plan.side} block or pack its ${plan.side === 'front' ? 'rear' : 'front'}.`,
    );
  if (plan.after.largest > 1)
    out.push(`Packs alone do not bring it inside its limits${plan.bound > 1 ? ', of any thickness' : ''}.`);
  out.push('The bare skeleton is soft in twist: pack, read the heights again, and only then pin.');
  if (!plan.proven)
    out.push(
      `Not every choice was tried; no choice could leave less than ${(100 * plan.bound).toFixed(0)} % of a limit, this one leaves ${(100 * plan.after.largest).toFixed(0)} %.`,
    );
  return out;
}
