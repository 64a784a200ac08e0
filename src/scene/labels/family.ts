import { pieceOf } from '../../checks/at.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';

/** Checks that look at the same fault from two sides; the worst of a family speaks. */
type Family = 'caps' | 'webs' | 'nose' | 'twist';

const FAMILY: Partial<Record<CheckId, Family>> = {
  'cap-gap': 'caps',
  'cap-split': 'caps',
  'skin-step': 'caps',
  'chord-gap': 'webs',
  seating: 'webs',
  'nose-line': 'nose',
  'nose-kink': 'nose',
  twist: 'twist',
  'twist-step': 'twist',
};

export const familyOf = ({ check }: Finding): Family | undefined => FAMILY[check];

/** Equal for findings that speak of one fault at one place: a rib end above and below is one, and so are both ends of a rib between the webs. */
export function subjectKey(f: Finding): string {
  const family = familyOf(f);
  return [family ?? f.check, ...placeKey(f, family)].map((mark) => mark ?? '').join(' ');
}

function placeKey({ at, station }: Finding, family: Family | undefined): readonly (string | undefined | null)[] {
  if (family === 'twist') return [station];
  if (family === 'webs') return [at.part];
  const piece = pieceOf(at);
  return [piece, at.end, at.spar, at.what, at.hole, at.layer, at.with, at.from, at.to, piece ?? at.size, station];
}
