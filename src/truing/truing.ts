import { checkAll } from '../checks/checkAll.ts';
import { show } from '../checks/describe.ts';
import { type Finding, severity, type Verdict, verdictOf } from '../checks/finding.ts';
import { outboardAt } from '../model/hand.ts';
import { limitFor } from '../model/limits.ts';
import type { Joint, Model } from '../model/schema.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { RibStance } from './stance.ts';
import { type Carried, trued } from './trued.ts';

/*
 * Asks: I squared the ribs; what moved with them? Turning a rib by φ carries a line at arm s by s·tan φ along the
 * span. Lean turns it about its chord line, so a hole at height z goes by z·tan φ; skew swings its rear end about its
 * front one, so the rear row goes by the whole skew. The rib's own holes and those of the pieces fixed to it move;
 * the spar's do not. A sight line is the row pencilled on the rib's end flange, seen through the spar's pilot holes:
 * it moves as its holes do.
 */

/** A hole or a sight line before and after. */
interface Moved {
  readonly what: 'hole' | 'sight line';
  readonly station: string;
  /** `F3 hole h1`, or `F3 M3` for the row of M3 seen through joint F3. */
  readonly place: string;
  /** How far it went along the span, mm, y positive. For a row: the farthest of its holes. */
  readonly by: number;
  readonly before: Verdict;
  readonly after: Verdict;
  readonly changed: boolean;
  readonly sentence: string;
}

export interface TruingList {
  /** Changed verdicts first, the worst first among them. */
  readonly moved: readonly Moved[];
  /** The model as it is after: offsets, lean and skew as they then are. */
  readonly model: Model;
}

/** Edge distance of a rib's row where the guide's holes fall on it, in rivet diameters, the worst of its holes. */
function rowVerdict(skeleton: Skeleton, joint: Joint, part: string): Verdict | undefined {
  const place = skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);
  if (!place) return undefined;
  const { book, model } = skeleton;
  const flange = book.get(`${place.key}.tab`).best - book.get(`${place.key}.row`).best;
  let worst = Number.POSITIVE_INFINITY;
  for (const hole of joint.holes) {
    const off = book.find(`${joint.id}/${hole.id}.${part}.along`)?.best ?? 0;
    worst = Math.min(worst, (flange - Math.abs(off)) / joint.rivet.diameter);
  }
  return Number.isFinite(worst) ? verdictOf(worst, worst, limitFor(model, 'edge-distance')) : undefined;
}

const holeName = (joint: string | undefined, hole: string | undefined): string => `${joint} hole ${hole}`;

/**
 * What truing the ribs from one set of stances to another moves: every hole through a trued rib and every row on it,
 * with its verdict before and after. `before` is how they stand now, in which the offsets were read; stations not in
 * `after` are left alone.
 *
 * @example panel B, W6 leaning 1.1 over 140: `truingList(model, stancesOf(model), [{ station: 'W6', lean: 0, skew: 0 }])`
 */
export function truingList(model: Model, before: readonly RibStance[], after: readonly RibStance[]): TruingList {
  const skeleton = skeletonOf(model);
  const { model: later, carried } = trued(skeleton, before, after);
  const moved = [...holesMoved(model, later, carried), ...rowsMoved(skeleton, skeletonOf(later), carried)];
  moved.sort(
    (x, y) =>
      Number(y.changed) - Number(x.changed) || severity(y.after) - severity(x.after) || Math.abs(y.by) - Math.abs(x.by),
  );
  return { moved, model: later };
}

/** Clean-up at every hole, by its name. */
function cleanUps(model: Model): ReadonlyMap<string, Finding> {
  const findings = checkAll(model).filter((f) => f.check === 'hole-cleanup');
  return new Map(findings.map((f) => [holeName(f.at.joint, f.at.hole), f]));
}

/** The holes that went anywhere, with their clean-up before and after. */
function holesMoved(model: Model, later: Model, carried: readonly Carried[]): Moved[] {
  const [was, is] = [cleanUps(model), cleanUps(later)];
  return carried.flatMap(({ bay, joint, hole, by }): Moved[] => {
    const place = holeName(joint.id, hole);
    const [before, after] = [was.get(place)?.verdict, is.get(place)?.verdict];
    return by !== 0 && before && after ? [movedAt(model, bay, { what: 'hole', place, by, before, after })] : [];
  });
}

/** The rows on trued ribs, as far as the farthest of their holes went, with their edge distance before and after. */
function rowsMoved(now: Skeleton, then: Skeleton, carried: readonly Carried[]): Moved[] {
  const farthest = new Map<Joint, Carried>();
  for (const c of carried) {
    const had = farthest.get(c.joint);
    if (!had || Math.abs(c.by) > Math.abs(had.by)) farthest.set(c.joint, c);
  }
  return [...farthest.values()].flatMap(({ bay, joint, by }): Moved[] => {
    const rib = bay.main ?? bay.tip;
    if (!rib || by === 0 || !joint.layers.includes(rib.id)) return [];
    const [before, after] = [rowVerdict(now, joint, rib.id), rowVerdict(then, joint, rib.id)];
    if (!before || !after) return [];
    return [movedAt(now.model, bay, { what: 'sight line', place: `${joint.id} ${rib.id}`, by, before, after })];
  });
}

function movedAt(
  model: Model,
  { station }: Bay,
  move: Pick<Moved, 'what' | 'place' | 'by' | 'before' | 'after'>,
): Moved {
  const { place, by, before, after } = move;
  const side = by * outboardAt(model, station.y) < 0 ? 'inboard' : 'outboard';
  const verdict = after === before ? `still ${after}` : `was ${before}, now ${after}`;
  return {
    ...move,
    station: station.id,
    changed: after !== before,
    sentence: `${place} moved ${show(model, Math.abs(by))} ${side}: ${verdict}.`,
  };
}
