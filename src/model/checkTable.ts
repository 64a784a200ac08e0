import type { Band, CheckRow, StartingLimit } from './checkRow.ts';

/*
 * The one table of all checks: what each is called, who asks it, its limit, what hangs on it. Read by every room; the
 * model itself reads the limits, so the table stands here and holds no code.
 *
 * To add a check:
 *  1. A file in src/checks/fit or src/checks/holes: a header (asks what, chain, source), a chain, a generator of
 *     findings made by `judge`; a finding says where it is in `at`. `fit/reliefDiameter.ts` and its test are the
 *     shortest to copy. A chain is made of Sizes of `skeleton.book`; which there are stands in `sizeEntries.ts`, and
 *     what is not there cannot be measured: add the size first.
 *  2. A row here; its fields are explained in `checkRow.ts`. `name` and `asks` are needed, `limit` unless the check
 *     reckons its own. Without `gate` no gate asks it.
 *  3. Its generator in src/checks/checkAll.ts, an import and a line: in LOCAL where one station answers it, in WHOLE
 *     where it needs them together.
 *  4. Its test, with a published source, or a law where the limit is picked; it imports the chain, for an export that
 *     nobody uses fails lint. A row with a limit changes a line of a golden: `REGEN=1 npx vitest run tests/model`, and
 *     read the difference. `tests/model/checkTable.test.ts` asks that a panel of ours answer it.
 *
 * No more is needed for rail, headline, limits, labels, sampling and reports, nor for gates where the row names one.
 * Three tables may name it too, and say nothing where they do not: `FORMED` and `LOOKED` of `checks/evidence.ts` (what
 * must have been looked at before a yes), `ROWS` of `remedies/offers/offers.ts` (what may be done about it), `SPOTS` of
 * `scene/faces.ts` (what is coloured). A value that is not its chain's plain sum, and is to be sampled as it is
 * reckoned, adds its step in src/chance/samplePlan.ts.
 */

const PICKED = 'picked starting value, no source';

const within = (fits: Band, act: Band, unit: StartingLimit['unit'], origin: string): StartingLimit => ({
  fits,
  act,
  unit,
  origin,
});

/** In the order of the question that asks them, as their marks stand on the rail. */
export const CHECKS = {
  disagreement: {
    name: 'readings that disagree',
    asks: 'readings',
    limit: within(
      [-3, 3],
      [-3, 3],
      'u',
      'three combined standard uncertainties: beyond them one of the readings is likely wrong (common practice)',
    ),
    gate: 'agree',
    first: true,
    sampled: 'not',
    unasked: true,
  },
  temperature: {
    name: 'temperature',
    asks: 'readings',
    limit: within(
      [null, 5],
      [null, 10],
      'degC',
      `${PICKED}: measure the set in one session; aluminium grows 23 and steel 12 millionths a degree (common practice)`,
    ),
    gate: 'agree',
    sampled: 'not',
    unasked: true,
  },
  'cap-gap': {
    name: 'between the caps',
    asks: 'fit',
    limit: within(
      [-0.05, 0.2],
      [-0.1, 0.5],
      'mm',
      `${PICKED}: 0.10 and 0.25 mm each side when centred; thin sheets close by finger pressure`,
    ),
    beyond: ['binding', 'loose'],
    ends: ['binds', 'loose'],
    daylight: true,
    gate: 'together',
    first: true,
    blocks: true,
    family: 'caps',
    label: { of: 'end', under: 'binds {size}', unders: 'bind {size}', over: 'loose {size}', nothing: 'just fits' },
  },
  'cap-split': {
    name: 'daylight each side',
    asks: 'fit',
    limit: within([null, 0.1], [null, 0.25], 'mm', `${PICKED}: each side, before riveting`),
    beyond: ['', 'open'],
    family: 'caps',
    label: { of: 'end', over: 'daylight {size}' },
  },
  'bend-ride': {
    name: 'riding on the bend',
    asks: 'fit',
    limit: within([null, 0.05], [null, 0.1], 'mm', `${PICKED}: it fakes a cap gap`),
    ends: ['clear', 'rides'],
    gate: 'together',
    first: true,
    blocks: true,
    sampled: 'ride',
    label: { of: 'piece', over: 'rides {size}', overs: 'ride {size}' },
  },
  'chord-gap': {
    name: 'between the webs',
    asks: 'fit',
    limit: within(
      [-0.1, 0.3],
      [-0.2, 0.6],
      'mm',
      `${PICKED}: a 2 m spar follows 0.3 mm; propping apart is worse than pulling in`,
    ),
    beyond: ['long', 'short'],
    ends: ['tight', 'loose'],
    daylight: true,
    gate: 'together',
    first: true,
    blocks: true,
    family: 'webs',
    label: { of: 'piece', under: 'long {size}', over: 'short {size}', nothing: 'just fills' },
  },
  seating: {
    name: 'spar on the ribs',
    asks: 'fit',
    limit: within([null, 0.3], [null, 0.6], 'mm', `${PICKED}: as the chord gap`),
    gate: 'together',
    blocks: true,
    sampled: 'seat',
    family: 'webs',
    label: { of: 'piece', over: 'daylight {size}' },
  },
  'skin-step': {
    name: 'skin step',
    asks: 'fit',
    limit: within([-0.1, 0.3], [-0.2, 0.6], 'mm', `${PICKED}: cap proud lets the skin draw down; rib proud tents it`),
    beyond: ['rib proud', 'cap proud'],
    ends: ['rib proud', 'cap proud'],
    daylight: true,
    gate: 'steps',
    family: 'caps',
  },
  relief: {
    name: 'relief hole',
    asks: 'fit',
    limit: within([0.5, null], [0, null], 'mm', 'about 1 mm is the trade rule (common practice); 0.5 picked'),
    ends: ['on the notch', 'clear'],
    gate: 'corners',
    blocks: true,
    sampled: 'relief',
    label: { of: 'end', under: 'notch under cap {size}', over: 'notch clears {size}' },
  },
  'relief-diameter': {
    name: 'relief hole diameter',
    asks: 'fit',
    limit: within(
      [3.175, null],
      [null, null],
      'mm',
      'FAA-H-8083-31 ch. 4: 1/8 in for sheet up to 0.064 in, 3/16 in for thicker; act under twice the sheet, picked',
    ),
    ends: ['small', 'wide enough'],
    gate: 'corners',
    unasked: true,
    label: { of: 'end', over: 'relief hole {size}' },
  },
  'bend-radius': {
    name: 'bend radius',
    asks: 'fit',
    ends: ['tight', 'easy'],
    gate: 'corners',
    blocks: true,
    unasked: true,
    label: { of: 'piece', over: 'bent at {size}' },
  },
  twist: {
    name: 'twist',
    asks: 'true',
    limit: within(
      [-0.2, 0.2],
      [-0.3, 0.3],
      'deg',
      'picked; NAVEDTRA 14018 ch. 9 allows 0 deg 12 min left to right on one type, an example of size only',
    ),
    beyond: ['nose down', 'nose up'],
    ends: ['nose down', 'nose up'],
    gate: 'twist',
    first: true,
    family: 'twist',
    label: { of: 'station', over: '{sense} {angle}' },
  },
  'twist-step': {
    name: 'twist to the neighbour',
    asks: 'true',
    limit: within(
      [-0.15, 0.15],
      [-0.3, 0.3],
      'deg',
      `${PICKED}: a step read with a reversed level at both stations is known to ±0.20 deg, and no finer limit could be settled with it`,
    ),
    beyond: ['nose down', 'nose up'],
    ends: ['nose down', 'nose up'],
    gate: 'twist',
    family: 'twist',
    label: { of: 'step', over: '{sense} {angle}' },
  },
  'nose-kink': {
    name: 'nose kink',
    asks: 'true',
    limit: within([-0.5, 0.5], [-1, 1], 'mm', 'common practice for 1 to 2 mm; half of it picked as the careful start'),
    beyond: ['short', 'proud'],
    ends: ['short', 'proud'],
    gate: 'noses',
    blocks: true,
    family: 'nose',
    label: { of: 'piece', over: 'kinks {sense} {size}', overs: 'kink {sense} {size}' },
  },
  'nose-line': {
    name: 'nose line',
    asks: 'true',
    limit: within([-1, 1], [-2, 2], 'mm', `${PICKED}: straight but skewed does not buckle`),
    beyond: ['short', 'proud'],
    ends: ['short', 'proud'],
    gate: 'noses',
    blocks: true,
    family: 'nose',
    label: { of: 'piece', over: '{sense} {size}' },
  },
  'forced-fit': {
    name: 'skin pulled onto the noses',
    asks: 'true',
    limit: within(
      [-0.5, 0.5],
      [-1, 1],
      'x',
      `${PICKED}: bending stress of a strip pulled onto the noses against its flat buckling stress, an estimate`,
    ),
    unasked: true,
  },
  bow: {
    name: 'bow and camber',
    asks: 'true',
    limit: within([-1, 1], [-2, 2], 'mm', `${PICKED}: and no more than length/2000; a string line is good to 0.3 mm`),
    gate: 'straight',
    label: { of: 'line', over: '{size} {sense}' },
  },
  lean: {
    name: 'lean',
    asks: 'true',
    limit: within([-0.3, 0.3], [-0.6, 0.6], 'mm/100', `${PICKED}: a pencil line over a small rib`),
    gate: 'square',
    first: true,
    label: { of: 'piece', over: 'leans {size} in 100' },
  },
  skew: {
    name: 'skew',
    asks: 'true',
    limit: within([-1, 1], [-2, 2], 'mm', `${PICKED}: most of what a 14 mm flange leaves the row at 2D both sides`),
    gate: 'square',
    first: true,
  },
  diagonals: {
    name: 'diagonals',
    asks: 'true',
    limit: within([-1, 1], [-2, 2], 'mm', `${PICKED}: about three uncertainties of one tape`),
    gate: 'square',
  },
  'hole-cleanup': {
    name: 'hole clean-up',
    asks: 'drill',
    limit: within([0.1, null], [0, null], 'mm', `${PICKED}: hand drilling wanders about 0.1 mm`),
    ends: ['does not clean up', 'cleans up'],
    gate: 'cleanup',
    sampled: 'hole',
    label: { of: 'hole', under: 'may not clean up', act: 'will not clean up', over: 'spare {size}' },
  },
  'edge-distance': {
    name: 'edge distance',
    asks: 'drill',
    limit: within([2, null], [2, null], 'D', '2D: TM 10-5410-229-13&P 5-6(3)(b), and widely taught; lay out at 2.5D'),
    ends: ['near the edge', 'clear of it'],
    gate: 'edges',
    label: { over: 'edge {ratio} D' },
  },
  'bend-room': {
    name: 'head beside the bend',
    asks: 'drill',
    limit: within(
      [0, null],
      [0, null],
      'mm',
      'the head must lie flat: common practice; head as the file says, else 2 D',
    ),
    ends: ['in the bend', 'clear of it'],
    gate: 'edges',
    label: { under: 'head {size} in the bend', over: 'bend {size} off' },
  },
  pitch: {
    name: 'rivet pitch',
    asks: 'drill',
    limit: within([4, 8], [3, null], 'D', 'NAVEDTRA 14018 ch. 13: never under 3D, usually 4D to 8D'),
    gate: 'edges',
    label: { over: 'pitch {ratio} D' },
  },
  rows: {
    name: 'row to row',
    asks: 'drill',
    limit: within([2.5, null], [2.5, null], 'D', '2.5D: TM 10-5410-229-13&P 5-6(3)(b)'),
    ends: ['close', 'clear'],
    gate: 'edges',
    label: { over: 'rows {ratio} D' },
  },
  grip: { name: 'rivet grip', asks: 'drill', gate: 'grip' },
  overlap: {
    name: 'metal in the same place',
    asks: 'solids',
    limit: within([-0.05, null], [-0.1, null], 'mm', `${PICKED}: as metal in the same place between the caps`),
    daylight: true,
  },
  contact: {
    name: 'parts that should meet',
    asks: 'solids',
    limit: within([null, 0.3], [null, 0.6], 'mm', `${PICKED}: as the chord gap`),
  },
} as const satisfies Readonly<Record<string, CheckRow>>;

type Id = keyof typeof CHECKS;

/** A check's row. */
export const checkRow = (check: Id): CheckRow => CHECKS[check];

/** The checks whose row is so, in the order of the table. */
export function checksWhere(holds: (row: CheckRow) => boolean): readonly Id[] {
  return (Object.keys(CHECKS) as Id[]).filter((id) => holds(CHECKS[id]));
}
