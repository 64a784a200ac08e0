import type { Joint, SparName } from '../model/schema.ts';
import type { EndName, RibPlace, Skeleton } from '../parts/layout/layout.ts';

/**
 * Where a finding is, by the marks of the panel itself; what does not apply is left out. Code asks this and never
 * takes a place, an id or a sentence apart: those are written to be read.
 *
 * @example The channel doubler at the front of M2: `{ station: 'S2', part: 'M2', end: 'front', spar: 'front', doubler: 'D2' }`.
 */
export interface At {
  /** The one station it belongs to; left out where the whole panel is meant. */
  readonly station?: string | undefined;
  /** The stations it lies between, for a bay or a step of twist. */
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  /** The rib; where no rib is meant, the part. */
  readonly part?: string | undefined;
  readonly end?: EndName | undefined;
  readonly side?: 'top' | 'bottom' | undefined;
  /** The spar met, or the spar itself where no part is named. */
  readonly spar?: SparName | undefined;
  /** The doubler, packer or shim between part and spar. */
  readonly doubler?: string | undefined;
  readonly joint?: string | undefined;
  readonly hole?: string | undefined;
  /** The part of a joint's layers that is meant. */
  readonly layer?: string | undefined;
  readonly sheet?: string | undefined;
  /** The second part, where two share space. */
  readonly with?: string | undefined;
  /** What of an end meets the spar, or what of a spar or skin. */
  readonly what?: 'caps' | 'web' | 'webs' | 'bend' | 'tab' | 'skin' | 'steps' | 'bow' | 'camber' | undefined;
  /** How a twist was read. */
  readonly way?: 'heights' | 'level' | 'plumb' | 'combined' | undefined;
  /** Key in the size book of the size that was read. */
  readonly size?: string | undefined;
}

/** A rib end: station, part, end and the spar it meets. */
export function atEnd({ bay, rib, end, spar }: RibPlace): At {
  return { station: bay.station.id, part: rib.id, end, spar };
}

/**
 * Whether a finding is where is asked: all that is said of the place is so of it; said as undefined, it is left out
 * there too.
 */
export function isAt(at: At, asked: At): boolean {
  return (Object.keys(asked) as (keyof At)[]).every((k) => at[k] === asked[k]);
}

/** The rib end that is meant; undefined where none is. */
export function placeAt(skeleton: Skeleton, { station, part, end }: At): RibPlace | undefined {
  return skeleton.placesAt(station ?? '').find((p) => p.rib.id === part && p.end === end);
}

/** A joint: its station, itself and the spar it is on. */
export function atJoint({ station, id, end }: Joint): At {
  return { station, joint: id, spar: end };
}

/**
 * The mark of the one piece that is meant: the doubler, else the part, else the joint; undefined for a spar, a bay or
 * the whole panel.
 */
export function pieceOf(at: At): string | undefined {
  return at.doubler ?? at.part ?? at.joint;
}
