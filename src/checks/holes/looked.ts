import type { Hole, Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { lookedThrough, restsOn } from '../evidence.ts';

/* Whether anybody looked at a hole: without it nothing is known of how its layers line up. */

/** Whether anybody looked through a hole's layers, or read where each lies. */
export function isLooked(skeleton: Skeleton, joint: Joint, hole: Hole): boolean {
  return restsOn(skeleton, lookedThrough(joint, hole.id)).missing.length === 0;
}

/** Whether any offset of a hole was read: enough to say that it will not clean up, never that it will. */
function isPartlyRead(skeleton: Skeleton, joint: Joint, hole: Hole): boolean {
  const keys = lookedThrough(joint, hole.id).flatMap((w) => w.keys);
  return keys.some((k) => skeleton.book.readingsOf(k).length > 0);
}

/** Whether enough is known of a hole for a chance that it cleans up: a hole nobody looked at has none. */
export const hasChance = (skeleton: Skeleton, joint: Joint, hole: Hole): boolean =>
  isLooked(skeleton, joint, hole) || isPartlyRead(skeleton, joint, hole);
