import { best } from '../chains/chain.ts';
import { checkAll } from '../checks/checkAll.ts';
import { show } from '../checks/describe.ts';
import { type Finding, severity, type Verdict, verdictOf } from '../checks/finding.ts';
import { armsOf, offsetsOf, turningParts } from '../checks/holes/offsets.ts';
import { outboardAt } from '../model/hand.ts';
import { limitFor } from '../model/limits.ts';
import type { Joint, Model, Reading } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import type { Bay, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';

/*
 * Asks: I squared the ribs; what moved with them? Turning a rib by φ carries a line at arm s by s·tan φ along the span.
 * Lean turns it about its chord line, so a hole at height z goes by z·tan φ; skew swings its rear end about its front one,
 * so the rear row goes by the whole skew. The rib's own holes and those of the pieces fixed to it move; the spar's do not.
 * A sight line is the row pencilled on the rib's end flange, seen through the spar's pilot holes: it moves as its holes do.
 */

/** How a rib stands: lean in mm over 100 mm of height, top outboard positive; skew in mm at the rear end, outboard positive. */
export interface Stance {
  readonly station: string;
  readonly lean: number;
  readonly skew: number;
}

/** A hole or a sight line before and after. */
export interface Moved {
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

/** How the ribs stand by what was read; a rib whose lean or skew was not read is left out where neither was. */
export function stancesOf(model: Model): Stance[] {
  const { book, bays } = skeletonOf(model);
  return bays.flatMap((bay) => {
    const [lean, skew] = [book.find(`lean@${bay.station.id}`), book.find(`skew@${bay.station.id}`)];
    if (!lean && !skew) return [];
    const height =
      book.readingsOf(`lean@${bay.station.id}`).at(-1)?.over ?? bay.main?.front.height ?? bay.tip?.rear.height ?? 100;
    return [{ station: bay.station.id, lean: lean ? (100 * lean.best) / height : 0, skew: skew?.best ?? 0 }];
  });
}

/** How far a hole goes along the span, mm, when its rib is trued from one stance to another. Lean -1.1 over 140 trued, z = 40: 0.31 outboard. */
export function shiftOf(
  before: Stance,
  after: Stance,
  at: { readonly up: number; readonly end: 'front' | 'rear' },
): number {
  return ((after.lean - before.lean) / 100) * at.up + (at.end === 'rear' ? after.skew - before.skew : 0);
}

interface Carried {
  readonly bay: Bay;
  readonly joint: Joint;
  readonly hole: string;
  readonly by: number;
}

/** The model with every offset, lean and skew as after truing, and what was carried how far. */
function trued(
  skeleton: Skeleton,
  before: readonly Stance[],
  after: readonly Stance[],
): { model: Model; carried: Carried[] } {
  const { model } = skeleton;
  const book = sizeBook(model);
  const fresh = new Map<string, Reading[]>();
  const carried: Carried[] = [];
  for (const then of after) {
    const bay = skeleton.bays.find((b) => b.station.id === then.station);
    if (!bay) continue;
    const now = before.find((b) => b.station === then.station) ?? { station: then.station, lean: 0, skew: 0 };
    const parts = turningParts(skeleton, bay.station.id);
    const out = outboardAt(model, bay.station.y);
    for (const joint of skeleton.jointsAt(then.station)) {
      for (const hole of joint.holes) {
        const arm = armsOf(skeleton, joint, hole);
        const by = out * (((then.lean - now.lean) / 100) * arm.lean + (then.skew - now.skew) * arm.skew);
        const offsets = offsetsOf(skeleton, joint, hole);
        carried.push({ bay, joint, hole: hole.id, by });
        for (const layer of hole.layers) {
          if (!parts.has(layer.part) || layer.state === 'none' || by === 0) continue;
          const key = `${joint.id}/${hole.id}.${layer.part}.along`;
          const read = book.readingsOf(key);
          fresh.set(
            key,
            read.length > 0
              ? read.map((r) => ({ ...r, value: r.value + by }))
              : [{ size: key, value: best(offsets(layer.part).along) + by, instrument: 'pin' }],
          );
        }
      }
    }
    for (const [what, change] of [
      ['lean', then.lean - now.lean],
      ['skew', then.skew - now.skew],
    ] as const) {
      const key = `${what}@${then.station}`;
      const read = book.readingsOf(key);
      const height = bay.main?.front.height ?? bay.tip?.rear.height ?? 100;
      if (read.length > 0)
        fresh.set(
          key,
          read.map((r) => ({
            ...r,
            value: r.value + (what === 'lean' ? (change * (r.over ?? height)) / 100 : change),
          })),
        );
    }
  }
  const kept = model.readings.filter((r) => !fresh.has(r.size));
  return { model: { ...model, readings: [...kept, ...[...fresh.values()].flat()] }, carried };
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
 * What truing the ribs from one set of stances to another moves: every hole through a trued rib and every row on it, with
 * its verdict before and after. `before` is how they stand now, in which the offsets were read; stations not in `after`
 * are left alone.
 *
 * @example panel B, W6 leaning 1.1 over 140: `truingList(model, stancesOf(model), [{ station: 'W6', lean: 0, skew: 0 }])`
 */
export function truingList(model: Model, before: readonly Stance[], after: readonly Stance[]): TruingList {
  const skeleton = skeletonOf(model);
  const { model: later, carried } = trued(skeleton, before, after);
  const then = skeletonOf(later);
  const findings = (m: Model): Map<string, Finding> =>
    new Map(
      checkAll(m)
        .filter((f) => f.check === 'hole-cleanup')
        .map((f) => [holeName(f.at.joint, f.at.hole), f]),
    );
  const [was, is] = [findings(model), findings(later)];
  const moved: Moved[] = [];
  const note = (what: Moved['what'], station: string, place: string, by: number, b: Verdict, a: Verdict): void => {
    const way = `${show(model, Math.abs(by))} ${by * outboardAt(model, skeleton.bays.find((x) => x.station.id === station)!.station.y) < 0 ? 'inboard' : 'outboard'}`;
    moved.push({
      what,
      station,
      place,
      by,
      before: b,
      after: a,
      changed: a !== b,
      sentence: `${place} moved ${way}: ${a === b ? `still ${a}` : `was ${b}, now ${a}`}.`,
    });
  };
  for (const { bay, joint, hole, by } of carried) {
    const place = holeName(joint.id, hole);
    const [b, a] = [was.get(place), is.get(place)];
    if (by !== 0 && a && b) note('hole', bay.station.id, place, by, b.verdict, a.verdict);
  }
  for (const joint of new Set(carried.map((c) => c.joint))) {
    const own = carried.filter((c) => c.joint === joint);
    const by = own.reduce((most, c) => (Math.abs(c.by) > Math.abs(most) ? c.by : most), 0);
    const rib = own[0]!.bay.main ?? own[0]!.bay.tip;
    if (!rib || by === 0 || !joint.layers.includes(rib.id)) continue;
    const [b, a] = [rowVerdict(skeleton, joint, rib.id), rowVerdict(then, joint, rib.id)];
    if (b && a) note('sight line', own[0]!.bay.station.id, `${joint.id} ${rib.id}`, by, b, a);
  }
  moved.sort(
    (x, y) =>
      Number(y.changed) - Number(x.changed) || severity(y.after) - severity(x.after) || Math.abs(y.by) - Math.abs(x.by),
  );
  return { moved, model: later };
}
