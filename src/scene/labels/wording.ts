import { pieceOf } from '../../checks/at.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { formatAngle, formatLength } from '../../units.ts';

/** The words of a label: whose it is, what is so, and the same said of several parts at once. */
export interface Wording {
  readonly head: string;
  readonly tail: string;
  readonly many: string;
}

/** A finding with its size as a label prints it: without sign or unit mark. */
interface Said {
  readonly f: Finding;
  readonly size: string;
}

/** Below this a size is a touch and is not said, mm. */
const NOTHING = 0.005;

const said = (head: string, tail: string, many = tail): Wording => ({ head, tail, many });

const piece = ({ at }: Finding): string => pieceOf(at) ?? at.spar ?? 'panel';
/** A rib end: the front one goes without saying. */
const ribEnd = (f: Finding): string => (f.at.end === 'rear' ? `${piece(f)} rear` : piece(f));
const angle = ({ value }: Finding): string => formatAngle((Math.abs(value) * Math.PI) / 180);

function cleanUp({ f, size }: Said): Wording {
  const hole = `${f.at.joint} ${f.at.hole}`;
  if (f.value >= 0) return said(hole, `spare ${size}`);
  return said(hole, f.verdict === 'act' ? 'will not clean up' : 'may not clean up');
}

function capGap({ f, size }: Said): Wording {
  if (Math.abs(f.value) < NOTHING) return said(ribEnd(f), 'just fits');
  return f.value < 0 ? said(ribEnd(f), `binds ${size}`, `bind ${size}`) : said(ribEnd(f), `loose ${size}`);
}

function chordGap({ f, size }: Said): Wording {
  if (Math.abs(f.value) < NOTHING) return said(piece(f), 'just fills');
  return said(piece(f), `${f.value < 0 ? 'long' : 'short'} ${size}`);
}

const WORDING: Partial<Record<CheckId, (s: Said) => Wording>> = {
  'cap-gap': capGap,
  'cap-split': ({ f, size }) => said(ribEnd(f), `daylight ${size}`),
  'bend-ride': ({ f, size }) => said(piece(f), `rides ${size}`, `ride ${size}`),
  'chord-gap': chordGap,
  seating: ({ f, size }) => said(piece(f), `daylight ${size}`),
  'nose-kink': ({ f, size }) => said(piece(f), `kinks ${f.sense} ${size}`, `kink ${f.sense} ${size}`),
  'nose-line': ({ f, size }) => said(piece(f), `${f.sense} ${size}`),
  relief: ({ f, size }) => said(ribEnd(f), `notch ${f.value < 0 ? 'under cap' : 'clears'} ${size}`),
  'bend-radius': ({ f, size }) => said(piece(f), `bent at ${size}`),
  'hole-cleanup': cleanUp,
  twist: ({ f }) => said(f.station ?? 'panel', `${f.sense} ${angle(f)}`),
  'twist-step': ({ f }) => said(`${f.at.from} to ${f.at.to}`, `${f.sense} ${angle(f)}`),
  bow: ({ f, size }) => said(`${f.at.spar} ${f.at.what}`, `${size} ${f.sense}`),
  lean: ({ f, size }) => said(piece(f), `leans ${size} in 100`),
  'edge-distance': ({ f }) => said(f.place, `edge ${f.value.toFixed(2)} D`),
  pitch: ({ f }) => said(f.place, `pitch ${f.value.toFixed(2)} D`),
  rows: ({ f }) => said(f.place, `rows ${f.value.toFixed(2)} D`),
};

/** Example: M2 whose front end is 0.32 mm too tall is "M2" and "binds 0.32". */
export function wordingOf({ model }: Skeleton, f: Finding): Wording {
  const size = formatLength(Math.abs(f.value), model.units, { unitMark: false });
  return WORDING[f.check]?.({ f, size }) ?? said(f.place, `${f.sense} ${size}`);
}

/** "M2 binds 0.32"; with others alike, "D2 and 5 more ride 0.57". */
export function labelText(skeleton: Skeleton, f: Finding, others: number): string {
  const { head, tail, many } = wordingOf(skeleton, f);
  return others > 0 ? `${head} and ${others} more ${many}` : `${head} ${tail}`;
}
