import { basisText } from '../../checks/basis.ts';
import { drillName } from '../../units/drills.ts';
import { formatLength } from '../../units.ts';
import type { StepNumber } from './step.ts';

/** The one number of a card in words: large, what it is of, and the line that must not be overlooked. */
export interface NumberText {
  /** Large figures, each with the words beside it. */
  readonly large: readonly { readonly figure: string; readonly words: string }[];
  /** The same size in the other unit, or how it is made up. */
  readonly small: string;
  /** In white on black: "PILOT ONLY. Do not open." */
  readonly band: string;
}

const SIDES = {
  'top and bottom': 'must NOT go in, top or bottom',
  top: 'must NOT go in at the top',
  bottom: 'must NOT go in at the bottom',
  front: 'must NOT go in at the front',
  rear: 'must NOT go in at the rear',
} as const;

const both = (mm: number, units: 'mm' | 'in'): readonly [string, string] =>
  units === 'mm' ? [formatLength(mm, 'mm'), formatLength(mm, 'in')] : [formatLength(mm, 'in'), formatLength(mm, 'mm')];

/** What a card, the screen and the terminal say of a step's number, in the panel's own unit first. */
export function numberText(number: StepNumber, units: 'mm' | 'in'): NumberText {
  switch (number.kind) {
    case 'feeler':
      return {
        large: number.feels.map((f) => ({ figure: both(f.leaf, units)[0], words: SIDES[f.side] })),
        small: `feeler leaf ${[...new Set(number.feels.map((f) => both(f.leaf, units)[1]))].join(', ')}`,
        band: '',
      };
    case 'drill': {
      const name = drillName(number.diameter);
      const [inch, mm] = [formatLength(number.diameter, 'in', { digits: 4 }), formatLength(number.diameter, 'mm')];
      return {
        large: [{ figure: name ?? inch, words: number.holes === 1 ? 'one hole' : `${number.holes} holes` }],
        small: name ? `drill ${inch} = ${mm}` : `drill ${mm}`,
        band: number.pilot ? 'PILOT ONLY. Do not open.' : 'FINAL. Through every layer.',
      };
    }
    case 'pack': {
      const [own, other] = both(number.total, units);
      return {
        large: [{ figure: own, words: 'pack' }],
        small: `${number.pieces.length > 1 ? `made of ${number.pieces.map((p) => both(p, units)[0]).join(' + ')}` : other}; heights ${basisText(number.basis)}`,
        band: '',
      };
    }
    case 'sheet': {
      const [own, other] = both(number.thickness, units);
      return { large: [{ figure: own, words: 'sheet' }], small: `${other}; ${basisText(number.basis)}`, band: '' };
    }
    case 'count':
      return { large: [{ figure: String(number.count), words: number.what }], small: '', band: '' };
  }
}
