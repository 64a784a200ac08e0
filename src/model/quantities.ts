/**
 * The kinds of size a builder measures: where, with what, and how surely.
 *
 * Standard uncertainties are realistic ones for one person with hand tools and springy thin parts; all are starting
 * values picked by judgement (no source), except the tape (±1/32 in to 6 ft, flat: NIST Handbook 44, 5.52).
 * Drawing tolerances here are picked starting values too: the drawing's own belong in the panel file.
 */
export interface Quantity {
  /** What the builder calls it. */
  readonly name: string;
  /** Where to put the jaws. */
  readonly where: string;
  readonly unit: 'mm' | 'deg';
  /** Standard uncertainty by instrument; the first is the usual one. */
  readonly u: Readonly<Record<string, number>>;
  /** ± drawing tolerance where the panel file gives none. */
  readonly tolerance: number;
  /** Minutes for one reading, to rank what to measure next. */
  readonly minutes: number;
}

const q = (
  name: string,
  where: string,
  u: Record<string, number>,
  tolerance: number,
  minutes = 1,
  unit: 'mm' | 'deg' = 'mm',
): Quantity => ({ name, where, unit, u, tolerance, minutes });

export const QUANTITIES = {
  thickness: q('sheet thickness', 'clear of bends, burr off', { micrometer: 0.005, caliper: 0.02 }, 0.05),
  depth: q('spar depth', 'over the caps, at the web', { caliper: 0.05 }, 0.3),
  clear: q(
    'clear height',
    'between the caps, inside jaws beside the web radius',
    { caliper: 0.05, 'telescoping-gauge': 0.03 },
    0.3,
  ),
  cap: q('cap width', 'web face to free edge', { caliper: 0.1 }, 0.3),
  droop: q('cap closing', 'clear height at the cap edge minus at the web', { caliper: 0.07 }, 0.2),
  height: q('rib end height', 'over the flanges at the bend line, flange held square', { caliper: 0.08 }, 0.3),
  open: q('flange opening', 'at the flange edge, off square', { feeler: 0.05 }, 0.2),
  joggle: q('joggle depth', 'straightedge across the step', { feeler: 0.05 }, 0.1),
  width: q('flange width', 'web face to free edge, three places', { caliper: 0.1 }, 0.2),
  row: q('row distance', 'web face to row', { caliper: 0.1 }, 0.2),
  relief: q('relief hole centre', 'part end to hole rim, plus the radius', { caliper: 0.1 }, 0.3),
  length: q('rib length', 'over the end flanges along the chord line', { caliper: 0.1, rule: 0.25 }, 0.5),
  noseLength: q('nose rib length', 'tail flange to nose, against a square block', { caliper: 0.1, rule: 0.25 }, 0.5),
  tipLength: q('tip rib length', 'rear end to nose, against two blocks', { trammel: 0.15, rule: 0.3 }, 0.5, 2),
  webToWeb: q(
    'web to web',
    'at the station, same height',
    { stick: 0.1, trammel: 0.1, rule: 0.25, tape: 0.46 },
    0.5,
    2,
  ),
  radius: q('inside bend radius', 'radius leaf or drill shank in the bend', { 'radius-leaf': 0.2 }, 0.2),
  bias: q('rib above the middle', 'top daylight against bottom daylight', { feeler: 0.04 }, 0, 2),
  bow: q('spar bow', 'string on equal blocks, forward positive', { string: 0.3, 'string-caliper': 0.15 }, 0.5, 2),
  camber: q('spar camber', 'straightedge or heights, up positive', { stand: 0.18, straightedge: 0.1 }, 0.5, 2),
  protrusion: q(
    'nose protrusion',
    'front web to nose, from the string line',
    { 'string-caliper': 0.15, string: 0.3, rule: 0.25 },
    0.5,
    2,
  ),
  lean: q('rib lean', 'square on the bench, top against bottom, outboard positive', { square: 0.15 }, 0, 1),
  skew: q('rib skew', 'rear end against front end, outboard positive', { square: 0.4, tape: 0.4 }, 0, 2),
  diagonal: q('bay diagonal', 'front web to rear web, same feature', { trammel: 0.15, tape: 0.25 }, 0.5, 2),
  heightOver: q(
    'height over the bench',
    'the touched spar edge',
    { stand: 0.15, rule: 0.25, 'height-gauge': 0.05 },
    0,
    1,
  ),
  bench: q(
    'bench height',
    'straightedge, wire or water level; high is positive',
    { straightedge: 0.1, wire: 0.25, 'water-level': 0.3 },
    0,
    2,
  ),
  level: q(
    'rib chord angle',
    'level on a chord board; nose up positive',
    { 'level-reversed': 0.07, level: 0.15 },
    0,
    1,
    'deg',
  ),
  plumb: q(
    'plumb-line offset',
    'a square stood on the chord board: its upright against a plumb line, at the length given with the reading; aft of the line at the top is positive, nose up',
    { square: 0.3 },
    0,
    2,
  ),
  gap: q(
    'felt gap',
    'leaves or a drill shank in the gap, spars held straight; a rib that will not go in: what it wants, negative',
    { feeler: 0.03 },
    0,
    1,
  ),
  step: q(
    'felt skin steps',
    'a straightedge over the cap and the rib, leaves under it: the steps at top and bottom added; a rib proud of the cap is negative',
    { feeler: 0.05 },
    0,
    2,
  ),
  offset: q('hole offset', 'pin in one hole, look through; or two pins and caliper', { pin: 0.1, caliper: 0.07 }, 0.3),
  hole: q('hole size', 'drill shank as plug', { 'drill-shank': 0.03 }, 0.03),
  edge: q('edge distance', 'hole rim to edge, plus the radius', { caliper: 0.08 }, 0.3),
} as const satisfies Record<string, Quantity>;

export type Kind = keyof typeof QUANTITIES;

/** The instruments of a garage, in words. */
export const INSTRUMENTS: Readonly<Record<string, string>> = {
  micrometer: 'micrometer',
  caliper: 'caliper',
  'telescoping-gauge': 'telescoping gauge',
  feeler: 'feeler',
  rule: 'steel rule',
  tape: 'tape',
  trammel: 'trammel',
  stick: 'inside stick',
  square: 'rafter square',
  string: 'string and rule',
  'string-caliper': 'string and caliper',
  stand: 'height stand',
  'height-gauge': 'height gauge',
  straightedge: 'straightedge and feelers',
  wire: 'taut wire',
  'water-level': 'water level',
  level: 'digital level',
  'level-reversed': 'digital level, reversed',
  pin: 'pin and magnifier',
  'drill-shank': 'drill shank',
  'radius-leaf': 'radius leaf',
};

/**
 * Length of a square's upright stood on the chord board for a plumb line where the reading does not say, mm: picked.
 */
export const UPRIGHT = 300;
