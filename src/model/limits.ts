import type { Model } from './schema.ts';

/** A band with open ends: null means no bound on that side. */
export type Band = readonly [number | null, number | null];

/** Two thresholds a side: inside `fits` is good; beyond `act` must not be left; between them is watch. */
export interface Limit {
  readonly check: string;
  readonly fits: Band;
  readonly act: Band;
  /** D: rivet diameters. mm/100: mm in 100 mm. u: combined standard uncertainties. x: a ratio. */
  readonly unit: 'mm' | 'deg' | 'D' | 'mm/100' | 'degC' | 'u' | 'x';
  /** Where the numbers come from, in words for the card and the sheet. */
  readonly origin: string;
}

const PICKED = 'picked starting value, no source';
const l = (check: string, fits: Band, act: Band, unit: Limit['unit'], origin: string): Limit => ({
  check,
  fits,
  act,
  unit,
  origin,
});

/** Starting values chosen by a careful builder. Drawings, local rules and the inspector come first. */
export const STARTING_LIMITS: readonly Limit[] = [
  l(
    'cap-gap',
    [-0.05, 0.2],
    [-0.1, 0.5],
    'mm',
    `${PICKED}: 0.10 and 0.25 mm each side when centred; thin sheets close by finger pressure`,
  ),
  l('cap-split', [null, 0.1], [null, 0.25], 'mm', `${PICKED}: each side, before riveting`),
  l('bend-ride', [null, 0.05], [null, 0.1], 'mm', `${PICKED}: it fakes a cap gap`),
  l(
    'chord-gap',
    [-0.1, 0.3],
    [-0.2, 0.6],
    'mm',
    `${PICKED}: a 2 m spar follows 0.3 mm; propping apart is worse than pulling in`,
  ),
  l('seating', [null, 0.3], [null, 0.6], 'mm', `${PICKED}: as the chord gap`),
  l('nose-line', [-1, 1], [-2, 2], 'mm', `${PICKED}: straight but skewed does not buckle`),
  l('nose-kink', [-0.5, 0.5], [-1, 1], 'mm', 'common practice for 1 to 2 mm; half of it picked as the careful start'),
  l('skin-step', [-0.1, 0.3], [-0.2, 0.6], 'mm', `${PICKED}: cap proud lets the skin draw down; rib proud tents it`),
  l('lean', [-0.3, 0.3], [-0.6, 0.6], 'mm/100', `${PICKED}: a pencil line over a small rib`),
  l('skew', [-1, 1], [-2, 2], 'mm', `${PICKED}: most of what a 14 mm flange leaves the row at 2D both sides`),
  l('diagonals', [-1, 1], [-2, 2], 'mm', `${PICKED}: about three uncertainties of one tape`),
  l('bow', [-1, 1], [-2, 2], 'mm', `${PICKED}: and no more than length/2000; a string line is good to 0.3 mm`),
  l(
    'twist',
    [-0.2, 0.2],
    [-0.3, 0.3],
    'deg',
    'picked; NAVEDTRA 14018 ch. 9 allows 0 deg 12 min left to right on one type, an example of size only',
  ),
  l('twist-step', [-0.1, 0.1], [-0.2, 0.2], 'deg', `${PICKED}: what a level after reversal can just see`),
  l('relief', [0.5, null], [0, null], 'mm', 'about 1 mm is the trade rule (common practice); 0.5 picked'),
  l(
    'edge-distance',
    [2, null],
    [2, null],
    'D',
    '2D: TM 10-5410-229-13&P 5-6(3)(b), and widely taught; lay out at 2.5D',
  ),
  l('pitch', [4, 8], [3, null], 'D', 'NAVEDTRA 14018 ch. 13: never under 3D, usually 4D to 8D'),
  l('rows', [2.5, null], [2.5, null], 'D', '2.5D: TM 10-5410-229-13&P 5-6(3)(b)'),
  l('overlap', [-0.05, null], [-0.1, null], 'mm', `${PICKED}: as metal in the same place between the caps`),
  l('contact', [null, 0.3], [null, 0.6], 'mm', `${PICKED}: as the chord gap`),
  l('hole-cleanup', [0.1, null], [0, null], 'mm', `${PICKED}: hand drilling wanders about 0.1 mm`),
  l(
    'temperature',
    [null, 5],
    [null, 10],
    'degC',
    `${PICKED}: measure the set in one session; aluminium grows 23 and steel 12 millionths a degree (common practice)`,
  ),
  l(
    'disagreement',
    [-3, 3],
    [-3, 3],
    'u',
    'three combined standard uncertainties: beyond them one of the readings is likely wrong (common practice)',
  ),
  l(
    'forced-fit',
    [-0.5, 0.5],
    [-1, 1],
    'x',
    `${PICKED}: bending stress of a strip pulled onto the noses against its flat buckling stress, an estimate`,
  ),
];

const byCheck = new WeakMap<Model, Map<string, Limit>>();

/** The limit in force for a check: the panel file's own where it has one, with its reason, else the starting value. */
export function limitFor(model: Model, check: string): Limit {
  let map = byCheck.get(model);
  if (!map) {
    map = new Map(STARTING_LIMITS.map((s) => [s.check, s]));
    for (const own of model.limits) {
      const start = map.get(own.check);
      if (start) map.set(own.check, { ...start, fits: own.fits, act: own.act, origin: `${own.origin}: ${own.reason}` });
    }
    byCheck.set(model, map);
  }
  const found = map.get(check);
  if (!found) throw new RangeError(`no limit is known for the check "${check}"`);
  return found;
}
