import type { Finding } from '../checks/finding.ts';
import type { Joint, Model, Rib } from '../model/schema.ts';
import type { EndName, RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { Remedy } from './remedy.ts';

/** A finding, and what stands where it is. */
export interface Asked {
  readonly skeleton: Skeleton;
  readonly model: Model;
  readonly finding: Finding;
  /** The rib end it is at. */
  readonly place: RibPlace | undefined;
  readonly rib: Rib | undefined;
  readonly joint: Joint | undefined;
}

/**
 * Makes the remedies of its kind that answer a finding: from what is on hand, sized from the finding; none where they
 * do not apply.
 */
export type Maker = (asked: Asked) => readonly Remedy[];

export function askedOf(model: Model, finding: Finding): Asked {
  const skeleton = skeletonOf(model);
  const { part, end, joint } = finding.at;
  return {
    skeleton,
    model,
    finding,
    place: skeleton.places.find((p) => p.rib.id === part && p.end === end),
    rib: model.ribs.find((r) => r.id === part),
    joint: model.joints.find((j) => j.id === joint),
  };
}

/** The end of a rib that is meant, of whatever kind the rib is. */
export interface RibEndAt {
  readonly rib: Rib;
  readonly end: EndName;
  readonly place: RibPlace;
}

export const ribEndAt = ({ place }: Asked): RibEndAt | undefined => place && { rib: place.rib, end: place.end, place };
