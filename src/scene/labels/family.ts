import { pieceOf } from '../../checks/at.ts';
import type { Finding } from '../../checks/finding.ts';
import type { CheckRow } from '../../model/checkRow.ts';
import { checkRow } from '../../model/checkTable.ts';

type Family = CheckRow['family'];

/** Checks that look at the same fault from two sides; the worst of a family speaks. */
export const familyOf = ({ check }: Finding): Family => checkRow(check).family;

/**
 * Equal for findings that speak of one fault at one place: a rib end above and below is one, and so are both ends of
 * a rib between the webs.
 */
export function subjectKey(f: Finding): string {
  const family = familyOf(f);
  return [family ?? f.check, ...placeKey(f, family)].map((mark) => mark ?? '').join(' ');
}

function placeKey({ at, station }: Finding, family: Family): readonly (string | undefined | null)[] {
  if (family === 'twist') return [station];
  if (family === 'webs') return [at.part];
  const piece = pieceOf(at);
  return [piece, at.end, at.spar, at.what, at.hole, at.layer, at.with, at.from, at.to, piece ?? at.size, station];
}
