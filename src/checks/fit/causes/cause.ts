import type { Size } from '../../../chains/size.ts';
import type { Skeleton } from '../../../parts/layout/layout.ts';
import { UNSEEN } from '../../slack.ts';

export type CauseKind =
  | 'nose rib'
  | 'packer'
  | 'spar bow'
  | 'tip rib'
  | 'chord'
  | 'main rib'
  | 'neighbour'
  | 'sheet'
  | 'drawing'
  | 'not known';

export interface Cause {
  readonly kind: CauseKind;
  /** What it is, as one would point at it: `N4 itself`, `T8`, `the web to web at S8`. */
  readonly what: string;
  /** Part or station it belongs to, to go there. */
  readonly station: string | null;
  /** What it puts into the deviation, mm, in the finding's own sign. */
  readonly amount: number;
  /** Its share of the variance, 0 to 1. */
  readonly doubt: number;
  readonly sentence: string;
}

/** The reading that tells two causes apart. */
export interface Separating {
  readonly size: string;
  readonly instrument: string;
  readonly sentence: string;
}

export interface Explanation {
  /** Largest first. */
  readonly list: readonly Cause[];
  /** The whole in a sentence or two. */
  readonly sentence: string;
  /** What else to know before judging: a bow that hides or shows too much, a chord that will pull the spar. */
  readonly notes: readonly string[];
  readonly check: Separating | undefined;
}

/** One link of the deviation: a size, how it enters, and what of it is not as drawn, mm in the finding's own sign. */
export interface Link {
  readonly kind: CauseKind;
  readonly what: string;
  readonly station: string | null;
  readonly size: Size;
  readonly c: number;
  readonly amount: number;
}

/** A check's words for a deviation under nothing and over it. */
export type Senses = readonly [low: string, high: string];
export const PROUD: Senses = ['short', 'proud'];
export const LOOSE: Senses = ['tight', 'loose'];

export const side = (v: number, [low, high]: Senses): string => (v < 0 ? low : high);

/** Links of one name are one cause. */
export const nameOf = ({ kind, what }: Pick<Link, 'kind' | 'what'>): string => `${kind} ${what}`;

/** What is said of several things: the webs, the drawing's own sizes. */
const isMany = (kind: CauseKind): boolean => kind === 'drawing' || kind === 'chord';
/** A verb as its cause wants it: `[one, many]`. */
export const verb = (kind: CauseKind, [one, many]: readonly [string, string]): string => (isMany(kind) ? many : one);

/** What of a size is not as drawn, mm; the whole of it where no drawing gives it. */
export const offDrawing = (skeleton: Skeleton, size: Size): number =>
  size.best - (skeleton.book.nominal(size.key) ?? 0);

export const kindOf = (skeleton: Skeleton, size: Size) => skeleton.book.entryOf(size.key)?.kind;

export const sumOf = (links: readonly Link[]): number => links.reduce((sum, l) => sum + l.amount, 0);

/** What the drawings of the parts themselves leave between them, so that the links add up to the deviation. */
export function leftByDrawings(links: readonly Link[], whole: number, station: string): Link[] {
  const left = whole - sumOf(links);
  if (Math.abs(left) < UNSEEN) return [];
  return [
    {
      kind: 'drawing',
      what: 'the drawing’s own sizes',
      station,
      size: { key: 'drawing', name: 'drawing', best: 0, u: 0, tolerance: 0, origin: 'drawing' },
      c: 0,
      amount: left,
    },
  ];
}
