import type { Edit } from '../model/edits/edits.ts';
import { UPRIGHT } from '../model/quantities.ts';
import type { Model, Reading } from '../model/schema.ts';
import type { Bay } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { PackingPlan } from './packingPlan.ts';
import { movedBy, sharesAt } from './residuals.ts';
import { UNMOVED } from './slack.ts';

/** What a reading says that was worked out from a plan and not read again. */
const WORKED_OUT = 'worked out after packing: read it again';

/** How packs move a reading: by mm or degrees, or by so much a mm of what it was read over. */
interface Move {
  readonly by: number;
  readonly over: boolean;
}

/**
 * The step of putting a plan's packs in: they leave the drawer, and heights, levels, plumb lines and the camber of
 * the spar that they bend are moved by what the packs do, each marked as worked out until it is read again.
 */
export function putPacksIn(model: Model, plan: PackingPlan): Edit {
  const moves = movesOf(model, plan);
  const read = (r: Reading): Reading => {
    const move = moves.get(r.size);
    if (!move || Math.abs(move.by) < UNMOVED) return r;
    const by = move.over ? move.by * (r.over ?? UPRIGHT) : move.by;
    return { ...r, value: r.value + by, note: WORKED_OUT };
  };
  return {
    name: `packed under the ${plan.side} spar`,
    apply: (m) => ({ ...m, stock: { ...m.stock, packs: [...plan.left] }, readings: m.readings.map(read) }),
  };
}

/** What a plan moves, by size. */
function movesOf(model: Model, plan: PackingPlan): ReadonlyMap<string, Move> {
  const { bays, book } = skeletonOf(model);
  const supports = bays.filter((b) => plan.packs.some((p) => p.station === b.station.id));
  const ys = supports.map((b) => b.station.y);
  const totals = plan.packs.map((p) => p.total);
  const sign = plan.side === 'front' ? 1 : -1;
  const moves = new Map<string, Move>();
  const liftAt = (y: number): number => movedBy(sharesAt(y, ys), totals);
  const bentAt = bentBy(bays, liftAt);
  for (const { station } of bays) {
    const lift = liftAt(station.y);
    const turn = (sign * lift) / book.get(`webs@${station.id}`).best;
    moves.set(`height.${plan.side}@${station.id}`, { by: lift, over: false });
    moves.set(`${plan.side}.camber@${station.id}`, { by: bentAt(station.y), over: false });
    moves.set(`level@${station.id}`, { by: (turn * 180) / Math.PI, over: false });
    moves.set(`plumb@${station.id}`, { by: turn, over: true });
  }
  return moves;
}

/** How far a lift bends a spar up, mm, off the straight line through its first and last station. */
function bentBy(bays: readonly Bay[], liftAt: (y: number) => number): (y: number) => number {
  const [first, last] = [bays[0]?.station.y ?? 0, bays.at(-1)?.station.y ?? 0];
  const [a, b] = [liftAt(first), liftAt(last)];
  return (y) => liftAt(y) - (last > first ? a + ((b - a) * (y - first)) / (last - first) : a);
}
