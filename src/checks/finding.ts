import { best, type Chain, shares, uncertainty } from '../chains/chain.ts';
import { chanceBelow } from '../chains/normal.ts';
import type { Aged } from '../chains/size.ts';
import type { Band } from '../model/checkRow.ts';
import type { CHECKS } from '../model/checkTable.ts';
import type { Limit } from '../model/limits.ts';
import { later } from '../model/rested/notes.ts';
import { NEAR } from '../units/near.ts';
import type { At } from './at.ts';

/** fits: inside the first threshold. watch: inside the second. act: beyond it. unsettled: too close to call. */
export type Verdict = 'fits' | 'watch' | 'act' | 'unsettled';
/**
 * What a finding's number rests on: all read; some of it; read before something moved it; worked out from what was
 * done; read, and asked about; the paper alone.
 */
export type Basis = 'measured' | 'mixed' | 'stale' | 'predicted' | 'asked' | 'drawing';
/** The checks there are: one for each row of the table. */
export type CheckId = keyof typeof CHECKS;

/** A finding's sentence in its parts. */
export interface Said {
  /** What is so and how surely, without its full stop. */
  readonly fact: string;
  /** Whole sentences that follow: how it is judged, what to know, what to do first. */
  readonly rest: readonly string[];
}

/** A check's answer at one place. Values in the unit of its limit, see `Limit`; never rounded. */
export interface Finding {
  readonly id: string;
  readonly check: CheckId;
  readonly at: At;
  /** Station id, or null where the whole panel is meant. */
  readonly station: string | null;
  /** Part and end, as the builder says it; written, never taken apart. */
  readonly place: string;
  readonly value: number;
  /** The value as reckoned, where it came out below what it can be and `value` is held there. */
  readonly below?: number;
  readonly unit: Limit['unit'];
  /** One standard uncertainty. */
  readonly u: number;
  /**
   * Whether low, high and chance come from draws of all sizes together: then they need not lie evenly about the
   * value.
   */
  readonly drawn?: true;
  /** value ∓ 2u, clipped where a size cannot be negative. */
  readonly low: number;
  readonly high: number;
  /** Chance that the true value lies beyond the act threshold. */
  readonly chance: number;
  readonly limits: Limit;
  readonly verdict: Verdict;
  readonly basis: Basis;
  /** The check's own word for the way it is off: loose, binds, proud, short, nose up … */
  readonly sense: string;
  readonly said: Said;
  /** The same in one line; written, never taken apart. */
  readonly sentence: string;
  readonly restsOn: Chain;
  /** For a kink that is only a neighbour's fault: the station of that neighbour. */
  readonly echoOf?: string;
}

const within = (low: number, high: number, [a, b]: Band): boolean =>
  (a === null || low >= a - NEAR) && (b === null || high <= b + NEAR);

/**
 * The verdict of an interval against two thresholds a side: wholly inside `fits` → fits; wholly beyond `act` → act;
 * inside `act` → watch; across an act threshold → unsettled. The idea of guard-banding is that of ISO 14253-1.
 *
 * @example `verdictOf(-0.51, -0.13, { fits: [-0.05, 0.2], act: [-0.1, 0.5] })` is 'act'.
 */
export function verdictOf(low: number, high: number, limit: { readonly fits: Band; readonly act: Band }): Verdict {
  const [a, b] = limit.act;
  if ((a !== null && high < a - NEAR) || (b !== null && low > b + NEAR)) return 'act';
  if (within(low, high, limit.fits)) return 'fits';
  return within(low, high, limit.act) ? 'watch' : 'unsettled';
}

/** Chance of lying beyond either act threshold, for a normal best ± u. */
export function chanceBeyond(value: number, u: number, [a, b]: Band): number {
  const under = a === null ? 0 : chanceBelow(a, value, u);
  const over = b === null ? 0 : 1 - chanceBelow(b, value, u);
  return under + over;
}

/** Of several reasons not to take a chain for read, the one that is said: the highest. */
const RANK: Readonly<Record<Aged, number>> = { predicted: 1, stale: 2, asked: 3 };

/**
 * asked, stale or predicted when any Size is; else measured when every uncertain Size was read, drawing when none
 * was, else mixed.
 */
export function basisOf(f: Chain): Basis {
  let read = 0;
  let drawn = 0;
  let aged: Aged | undefined;
  for (const { size } of f) {
    if (size.aged && (aged === undefined || RANK[size.aged] > RANK[aged])) aged = size.aged;
    if (size.origin === 'measured') read++;
    else if (size.u > 0) drawn++;
  }
  if (aged) return aged;
  if (read > 0) return drawn > 0 ? 'mixed' : 'measured';
  return 'drawing';
}

/** What is asked about the readings a chain rests on, and what to do; undefined where nothing is. */
export function inDoubt(f: Chain): string | undefined {
  const [first, ...others] = new Set(f.flatMap(({ size }) => size.asked ?? []));
  if (first === undefined) return undefined;
  const more = others.length > 0 ? ` So are ${others.length} more of its readings.` : '';
  return `In doubt: ${first}${more} Read it again, or say that it reads so.`;
}

/** The Size that carries most of the doubt, or undefined when nothing is uncertain: what to measure (again) first. */
export function mostDoubt(f: Chain): Chain[number] | undefined {
  let most = 0;
  let at: Chain[number] | undefined;
  for (const [i, part] of shares(f).entries()) if (part > most) [most, at] = [part, f[i]];
  return at;
}

/** How a value is spread that is no plain sum of its chain, from draws of all sizes together. */
export interface Spread {
  /** The range that holds all but a normal distribution's tails beyond 2u. */
  readonly low: number;
  readonly high: number;
  /** Share of the draws beyond the act threshold. */
  readonly chance: number;
}

/** What a check hands over for judging; `judge` fills in the rest. */
export interface Draft {
  readonly check: CheckId;
  readonly at: At;
  readonly place: string;
  readonly restsOn: Chain;
  readonly limit: Limit;
  /** Where the value is not the plain sum of the chain. */
  readonly value?: number;
  readonly u?: number;
  /** Where the value is no plain sum: its spread, instead of value ∓ 2u of a normal. */
  readonly spread?: Spread | undefined;
  /** Where the chance of lying beyond the act threshold is known better than from value and u. */
  readonly chance?: number | undefined;
  /** Least value the size can have, such as 0 for a stand-off. */
  readonly floor?: number;
  readonly sense: (value: number) => string;
  readonly say: (judged: Judged) => Said;
  /** A stricter verdict from a second condition of the same check. */
  readonly atLeast?: Verdict | undefined;
  /** Where the answer was also read directly, whatever its parts rest on. */
  readonly basis?: Basis | undefined;
  readonly echoOf?: string;
}

export type Judged = Omit<Finding, 'said' | 'sentence'>;

const ORDER: Record<Verdict, number> = { fits: 0, watch: 1, unsettled: 2, act: 3 };

/** Rank of a verdict, worst highest: act, unsettled, watch, fits. */
export function severity(v: Verdict): number {
  return ORDER[v];
}

const normalSpread = (value: number, u: number, act: Band): Spread => ({
  low: value - 2 * u,
  high: value + 2 * u,
  chance: chanceBeyond(value, u, act),
});

const stricter = (a: Verdict, b: Verdict): Verdict => (severity(b) > severity(a) ? b : a);

/** What is said, and what is asked about its readings where it does not say so itself. */
const doubted = (said: Said, doubt: string | undefined): Said =>
  doubt === undefined || said.rest.includes(doubt) ? said : { ...said, rest: [...said.rest, doubt] };

/** Turns a draft into a Finding: value, interval, chance, verdict, basis, sentence. */
export function judge(draft: Draft): Finding {
  const plain = draft.value ?? best(draft.restsOn);
  const { act, unit } = draft.limit;
  const u = draft.u ?? uncertainty(draft.restsOn);
  const { low, high, chance: reckoned } = draft.spread ?? normalSpread(plain, u, act);
  const chance = draft.chance ?? reckoned;
  const doubt = inDoubt(draft.restsOn);
  const atLeast = stricter(draft.atLeast ?? 'fits', doubt === undefined ? 'fits' : 'unsettled');
  const verdict = stricter(verdictOf(low, high, draft.limit), atLeast);
  const floor = draft.floor ?? Number.NEGATIVE_INFINITY;
  const finding: Finding = {
    id: `${draft.check}:${draft.place.replaceAll(' ', '-')}`,
    check: draft.check,
    at: draft.at,
    station: draft.at.station ?? null,
    place: draft.place,
    value: Math.max(floor, plain),
    unit,
    u,
    ...(draft.spread ? { drawn: true as const } : {}),
    low: Math.max(floor, low),
    high: Math.max(floor, high),
    chance,
    limits: draft.limit,
    ...(plain < floor ? { below: plain } : {}),
    verdict,
    basis: doubt === undefined ? (draft.basis ?? basisOf(draft.restsOn)) : 'asked',
    sense: draft.sense(plain),
    restsOn: draft.restsOn,
    ...(draft.echoOf === undefined ? {} : { echoOf: draft.echoOf }),
    get said() {
      return said();
    },
    get sentence() {
      return [`${this.said.fact}.`, ...this.said.rest].join(' ');
    },
  };
  // Written when first read: a keystroke asks thousands of questions and shows a dozen sentences.
  const said = later(() => doubted(draft.say(finding), doubt));
  return finding;
}
