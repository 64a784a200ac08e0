/*
 * What is to be said of a check once and for all, in one row of the table of checks.
 */

/** A band with open ends: null means no bound on that side. */
export type Band = readonly [number | null, number | null];

/** Two thresholds a side: inside `fits` is good; beyond `act` must not be left; between them is watch. */
export interface StartingLimit {
  readonly fits: Band;
  readonly act: Band;
  /** D: rivet diameters. mm/100: mm in 100 mm. u: combined standard uncertainties. x: a ratio. */
  readonly unit: 'mm' | 'deg' | 'D' | 'mm/100' | 'degC' | 'u' | 'x';
  /** Where the numbers come from, in words for the card and the sheet. */
  readonly origin: string;
}

/** Words for a value on the low side and on the high side. */
type Sides = readonly [low: string, high: string];

/**
 * What is written of a finding at its place on the bench. {size} is its value without sign or unit, {angle} in degrees,
 * {ratio} with its two places, {sense} the check's own word.
 */
export interface LabelWords {
  /** Whose it is; the whole place where left out. */
  readonly of?: 'piece' | 'end' | 'hole' | 'station' | 'step' | 'line';
  readonly over: string;
  /** Below nothing; as above nothing where left out. */
  readonly under?: string;
  /** The same of several parts at once, where the word changes. */
  readonly overs?: string;
  readonly unders?: string;
  /** Below nothing and at act. */
  readonly act?: string;
  /** Where there is nothing to print. */
  readonly nothing?: string;
}

export interface CheckRow {
  /** What it is called on the screen. */
  readonly name: string;
  /**
   * The question that asks it; readings: of the readings themselves, before any conclusion; solids: of the built
   * solids.
   */
  readonly asks: 'readings' | 'fit' | 'true' | 'drill' | 'solids';
  /** None where the check reckons its limit from the part. */
  readonly limit?: StartingLimit;
  /** "a chance it is … by more than"; under and over where left out. */
  readonly beyond?: Sides;
  /** What it means to lie toward either end of the bar of its limits. */
  readonly ends?: Sides;
  /** The positive side is the better one: daylight, not metal in the same place. */
  readonly daylight?: true;
  /** The item of the ready gates that asks it. */
  readonly gate?:
    | 'together'
    | 'square'
    | 'straight'
    | 'twist'
    | 'edges'
    | 'corners'
    | 'noses'
    | 'steps'
    | 'grip'
    | 'cleanup'
    | 'agree';
  /** At act it must be put right before any hole at its station is opened. */
  readonly first?: true;
  /** At act its part must not be put in. */
  readonly blocks?: true;
  /** How its value is sampled; the plain sum of its chain where left out. */
  readonly sampled?: 'relief' | 'ride' | 'hole' | 'seat' | 'not';
  /** A reading is never asked for its sake: it is about the readings, or repeats another's question. */
  readonly unasked?: true;
  /** Checks that look at one fault from two sides; at one place the worst of a family is labelled. */
  readonly family?: 'caps' | 'webs' | 'nose' | 'twist';
  /** Where left out: the place, its sense and its size. */
  readonly label?: LabelWords;
}
