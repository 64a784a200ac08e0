import type { Size } from '../chains/size.ts';
import { movesOf } from '../model/acts.ts';
import { kept } from '../model/rested.ts';
import type { Model, Reading } from '../model/schema.ts';
import { readingHolds, sizeBook } from '../model/sizes.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Evidence, evidenceOf, type Rests } from './evidence.ts';
import type { Finding } from './finding.ts';
import { allAtStation, findingsOfRow } from './findingsOf.ts';

/*
 * What an answer or a size rests on, said everywhere alike: one word, and one mark that is told apart in black and
 * white. Sheets, terminal, plain data and screen ask this and nothing else. What was read before something moved it,
 * or was only worked out, or is asked about, is never called measured.
 */

/** What a value rests on. A finding, a size, a gate's item, a hole: each has one of these. */
export type BasisWord =
  | 'measured'
  | 'ticked'
  | 'mixed'
  | 'named'
  | 'recorded'
  | 'stock'
  | 'drawing'
  | 'not asked'
  | 'decided'
  | 'predicted'
  | 'stale'
  | 'asked';

/** A mark on paper and screen by its shape; undefined where a word alone is said. */
export type BasisMark =
  | 'disc'
  | 'tick'
  | 'half disc'
  | 'corners'
  | 'sheet'
  | 'two sheets'
  | 'hatched'
  | 'broken ring'
  | 'triangle';

export interface BasisSign {
  /** What it is called at the bench. */
  readonly word: string;
  /** The mark as a character, for the terminal and plain text. */
  readonly sign: string;
  readonly mark: BasisMark | undefined;
}

export const BASIS: Readonly<Record<BasisWord, BasisSign>> = {
  measured: { word: 'measured', sign: '●', mark: 'disc' },
  ticked: { word: 'looked at and ticked', sign: '✓', mark: 'tick' },
  mixed: { word: 'partly by the drawing', sign: '◐', mark: 'half disc' },
  named: { word: 'known by sheet and bag', sign: '▬', mark: 'two sheets' },
  recorded: { word: 'as written down', sign: '', mark: undefined },
  stock: { word: 'by the name of its sheet', sign: '▭', mark: 'sheet' },
  drawing: { word: 'by the drawing', sign: '□', mark: 'corners' },
  'not asked': { word: 'not asked', sign: '', mark: undefined },
  decided: { word: 'decided, not made', sign: '△', mark: 'triangle' },
  predicted: { word: 'worked out, not read', sign: '▨', mark: 'hatched' },
  stale: { word: 'read before something moved it', sign: '◌', mark: 'broken ring' },
  asked: { word: 'read, in doubt', sign: '', mark: undefined },
};

/** Weakest first: what several answers rest on together is the weakest of them. */
const WEAKEST: readonly BasisWord[] = [
  'asked',
  'stale',
  'predicted',
  'decided',
  'not asked',
  'drawing',
  'stock',
  'mixed',
  'recorded',
  'named',
  'ticked',
  'measured',
];

/** What several together rest on; not asked where there is none. */
export const weakest = (all: readonly BasisWord[]): BasisWord => WEAKEST.find((b) => all.includes(b)) ?? 'not asked';

/** In words: `partly by the drawing`. */
export const basisText = (basis: BasisWord): string => BASIS[basis].word;

/** With its mark before it, for the terminal: `◐ partly by the drawing`. */
export function basisMarked(basis: BasisWord): string {
  const { sign, word } = BASIS[basis];
  return sign === '' ? word : `${sign} ${word}`;
}

/** What was looked at for each finding of a station, or with no name for each that means the whole panel. */
const evidencesAt = kept((model, station): ReadonlyMap<Finding, Evidence> => {
  const skeleton = skeletonOf(model);
  return new Map(allAtStation(model, station).map((f) => [f, evidenceOf(skeleton, f)]));
});

/** What was looked at before a finding of a panel was said. */
export const lookedAt = (skeleton: Skeleton, f: Finding): Evidence =>
  evidencesAt(skeleton.model, f.station ?? '').get(f) ?? evidenceOf(skeleton, f);

/** The word for what was looked at. */
export function basisOfEvidence({ basis, rests, named }: Evidence): BasisWord {
  if (basis !== 'measured') return basis;
  if (named) return 'named';
  return rests.of > 0 && rests.ticked === rests.of ? 'ticked' : 'measured';
}

/** What a finding rests on. */
export const basisOfFinding = (skeleton: Skeleton, f: Finding): BasisWord => basisOfEvidence(lookedAt(skeleton, f));

/** What ticks and readings say together, where no finding is asked: not asked while nobody looked at any of it. */
export function basisOfRests({ read, of, ticked }: Rests): BasisWord {
  if (of === 0) return 'recorded';
  if (read === 0) return 'not asked';
  if (read < of) return 'mixed';
  return ticked === of ? 'ticked' : 'measured';
}

/** What a size rests on. */
export const basisOfSize = ({ origin, aged }: Pick<Size, 'origin' | 'aged'>): BasisWord => aged ?? origin;

/** What several sizes rest on together: partly by the drawing where only some of them were read. */
export function basisOfSizes(sizes: readonly Pick<Size, 'origin' | 'aged'>[]): BasisWord {
  const all = sizes.map(basisOfSize);
  const least = weakest(all);
  return (least === 'drawing' || least === 'stock') && all.includes('measured') ? 'mixed' : least;
}

/** What one reading is worth by now: measured while it holds. */
export function basisOfReading(model: Model, reading: Reading): BasisWord {
  if (reading.worked) return 'predicted';
  const entry = sizeBook(model).entryOf(reading.size);
  if (!entry) return 'measured';
  return readingHolds(model, entry.kind, movesOf(model, reading.size), reading) ? 'measured' : 'stale';
}

/** What a hole's clean-up rests on; not asked where there is nothing to clean up yet. */
export function basisOfHole(skeleton: Skeleton, joint: string, hole: string): BasisWord {
  const found = findingsOfRow(skeleton.model, { item: 'cleanup', joint }).find((f) => f.at.hole === hole);
  return found ? basisOfFinding(skeleton, found) : 'not asked';
}

/** What the room to a row's edges rests on, all its layers together. */
export function basisOfEdges(skeleton: Skeleton, joint: string): BasisWord {
  const own = findingsOfRow(skeleton.model, { item: 'edges', joint });
  return weakest(own.filter((f) => f.check === 'edge-distance').map((f) => basisOfFinding(skeleton, f)));
}

/** A finding's sentence with what it rests on after it: `M2 front is 0.32 mm loose. (measured)`. */
export const sentenceWithBasis = (
  skeleton: Skeleton,
  f: Finding,
  said: (basis: BasisWord) => string = basisText,
): string => `${f.sentence} (${said(basisOfFinding(skeleton, f))})`;

/** Places with what each rests on, those alike together: `M3 front, M4 front (measured); M5 rear (by the drawing)`. */
export function placesByBasis(
  skeleton: Skeleton,
  findings: readonly Finding[],
  said: (basis: BasisWord) => string = basisText,
): string {
  const groups = new Map<BasisWord, string[]>();
  for (const f of findings) {
    const basis = basisOfFinding(skeleton, f);
    groups.set(basis, [...(groups.get(basis) ?? []), f.place]);
  }
  return [...groups].map(([basis, places]) => `${places.join(', ')} (${said(basis)})`).join('; ');
}
