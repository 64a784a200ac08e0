import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { outboardAt } from '../model/hand.ts';
import type { Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { isDisputed } from '../remedies/disputed.ts';
import { measureFirst } from '../remedies/reach.ts';
import type { Remedy } from '../remedies/remedy.ts';

/** What the acts are asked of. */
export interface Scope {
  readonly model: Model;
  readonly skeleton: Skeleton;
  /** What is at act, or more likely than not beyond its limit; echoes of a neighbour's fault are left out. */
  readonly open: readonly Finding[];
  /** Those of them that no reading speaks for, or whose readings disagree: read before any metal. */
  readonly unread: ReadonlySet<string>;
  /** Remedies of a plan of least work, where one was found; they go before what is chosen here. */
  readonly planned: readonly Remedy[];
  /**
   * Place of a station along the span from the root, mm, the same for a left and a right half; from the left end of a
   * panel of both hands.
   */
  readonly along: (station: string | null | undefined) => number;
}

/** Whether a finding is at act, or more likely wrong than not: what the list shows. */
const isOpen = (f: Finding): boolean =>
  f.echoOf === undefined && (f.verdict === 'act' || (f.verdict === 'unsettled' && f.chance > 0.5));

export function scopeOf(model: Model, planned: readonly Remedy[]): Scope {
  const skeleton = skeletonOf(model);
  const open = checkAll(model).filter(isOpen);
  const first = measureFirst(model);
  const unread = open.filter((f) => first.has(f.id) || isDisputed(model, f));
  const out = outboardAt(model, 0);
  const places = new Map(model.stations.map((s) => [s.id, s.y * out]));
  return {
    model,
    skeleton,
    open,
    unread: new Set(unread.map((f) => f.id)),
    planned,
    along: (station) => places.get(station ?? '') ?? Number.NEGATIVE_INFINITY,
  };
}

/** Names of stations from the root out, each once. */
export function fromRootOut({ along }: Scope, stations: Iterable<string | null | undefined>): string[] {
  const names = [...new Set(stations)].filter((s) => s !== null && s !== undefined);
  return names.sort((a, b) => along(a) - along(b) || (a < b ? -1 : 1));
}

/** Things from the root out by their station, those of one station by their name. */
export function inSpanOrder<T>(
  { along }: Scope,
  things: readonly T[],
  place: (thing: T) => { readonly station: string | null | undefined; readonly name: string },
): T[] {
  const keyed = things.map((thing) => ({ thing, ...place(thing) }));
  const sorted = keyed.sort((a, b) => along(a.station) - along(b.station) || (a.name < b.name ? -1 : 1));
  return sorted.map((k) => k.thing);
}
