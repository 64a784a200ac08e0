import type { Finding } from '../checks/finding.ts';
import type { Joint, MainRib, Model, Rib } from '../model/schema.ts';
import type { RibPlace, Skeleton } from '../parts/layout/layout.ts';
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

/** Makes the remedies of its kind that answer a finding: from what is on hand, sized from the finding; none where they do not apply. */
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

/** The end of a main rib that is meant, front or rear; none for a nose or tip rib. */
export interface MainEnd {
  readonly rib: MainRib;
  readonly end: 'front' | 'rear';
  readonly place: RibPlace;
}

export function mainEnd({ place }: Asked): MainEnd | undefined {
  if (place?.rib.kind !== 'main' || place.end === 'tail') return undefined;
  return { rib: place.rib, end: place.end, place };
}
