import type { Skeleton } from '../parts/layout/layout.ts';
import type { Finding } from './finding.ts';

/*
 * Which rooms can be felt as they stand, instead of being reckoned from their parts? A gap at the caps or between the
 * webs, and the steps from cap to rib. What a caliper on each part leaves too close to call, one leaf in the room
 * itself may settle.
 */

type Keys = readonly string[];

const known = (skeleton: Skeleton, keys: Keys): boolean => keys.every((k) => skeleton.book.entryOf(k) !== undefined);

/** The ways a finding's room can be felt: each the sizes that say it together. None where it cannot be felt. */
export function feltInstead(skeleton: Skeleton, { check, at }: Finding): readonly Keys[] {
  const { part, end } = at;
  if (check === 'chord-gap' && part !== undefined) return [[`chord.${part}`]];
  if (part === undefined || end === undefined) return [];
  if (check === 'skin-step') return [[`step.${part}.${end}`]].filter((keys) => known(skeleton, keys));
  if (check !== 'cap-gap' && check !== 'cap-split') return [];
  const key = `gap.${part}.${end}`;
  return [[key], [`${key}.top`, `${key}.bottom`]].filter((keys) => known(skeleton, keys));
}

/**
 * Sizes to feel that may settle what its parts leave too close to call. A spar's seat hangs on every rib it may rest
 * on.
 */
export function feltToSettle(skeleton: Skeleton, finding: Finding): Keys {
  const seat = skeleton.bays.flatMap(({ main }) => (main ? [`chord.${main.id}`] : []));
  const keys = finding.check === 'seating' ? seat : (feltInstead(skeleton, finding)[0] ?? []);
  return known(skeleton, keys) ? keys : [];
}
