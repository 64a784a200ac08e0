import * as z from 'zod';
import { parseLength } from '../units.ts';

/*
 * What a panel file says. One definition validates it, types it, and is published as models/schema.json.
 * Lengths are millimetres; text with a unit ("0.032 in", "3/32") is read too and stored as millimetres.
 * Axes: x aft, y right along the span, z up. Origin on the front spar's forward web face. Angles are degrees, nose up positive.
 */

/** How many of each a file may hold: far more than any panel has. */
export const MOST = {
  stations: 20_000,
  ribs: 60_000,
  doublers: 60_000,
  brackets: 1000,
  joints: 60_000,
  stages: 200,
  instruments: 100,
  readings: 400_000,
  ticks: 400_000,
  log: 400_000,
  decisions: 2000,
  limits: 100,
  sheets: 100,
} as const;

// Never makes code from text, which a strict content policy forbids.
z.config({ jitless: true });

const DESCRIBE_LENGTH = { anyOf: [{ type: 'number' }, { type: 'string' }] };

function showFound(v: unknown): string {
  if (v === undefined) return 'nothing';
  if (typeof v === 'string') return `the text "${v.length > 40 ? `${v.slice(0, 40)}…` : v}"`;
  if (Array.isArray(v)) return 'a list';
  if (v !== null && typeof v === 'object') return 'a group of values';
  return String(v);
}

/** A length in mm between two bounds; every refusal is one sentence. */
function length(what: string, low: number, high: number) {
  return z
    .unknown()
    .transform((v, ctx): number => {
      let value = Number.NaN;
      if (typeof v === 'number') value = v;
      else if (typeof v === 'string') {
        const read = parseLength(v);
        if (!read.ok) {
          ctx.addIssue({ code: 'custom', message: read.sentence });
          return z.NEVER;
        }
        value = read.value;
      } else {
        ctx.addIssue({
          code: 'custom',
          message:
            v === undefined
              ? `it is missing; expected ${what} in mm; add it`
              : `found ${showFound(v)}; expected ${what} in mm; write a number or text such as "0.025 in"`,
        });
        return z.NEVER;
      }
      if (!Number.isFinite(value)) {
        ctx.addIssue({
          code: 'custom',
          message: `found ${showFound(v)}; expected ${what} in mm; write an ordinary number`,
        });
        return z.NEVER;
      }
      if (value < low || value > high) {
        const hint =
          value < 0 && low >= 0
            ? 'it cannot be negative; check the sign'
            : 'check the unit: numbers are millimetres, inches need "in"';
        ctx.addIssue({
          code: 'custom',
          message: `found ${value} mm; expected ${what} from ${low} to ${high} mm; ${hint}`,
        });
        return z.NEVER;
      }
      return value;
    })
    .meta({ ...DESCRIBE_LENGTH, description: `${what}, mm` });
}

const thickness = length('a sheet thickness', 0.1, 6.5);
const size = length('a size', 0, 6000);
const place = length('a place along the span', -500000, 500000);
const offset = length('an offset', -500, 500);
const drill = length('a hole diameter', 0, 60);
const number = (what: string, low: number, high: number) => z.number().min(low).max(high).meta({ description: what });

const id = z
  .string()
  .regex(/^[A-Za-z][A-Za-z0-9-]{0,23}$/)
  .meta({ description: 'a short name: a letter, then letters, digits or hyphens, 24 at most' });
const text = z.string().max(500);
const alongPoints = z
  .array(z.tuple([place, size]))
  .min(1)
  .max(200);

/** One number for the whole span, or [place, value] pairs with straight lines between and constant beyond. */
const along = z
  .unknown()
  .transform((v, ctx): number | [number, number][] => {
    const read = (Array.isArray(v) ? alongPoints : size).safeParse(v);
    if (read.success) return read.data as number | [number, number][];
    for (const issue of read.error.issues)
      ctx.addIssue({ code: 'custom', message: issue.message, path: [...issue.path] });
    return z.NEVER;
  })
  .meta({
    anyOf: [...DESCRIBE_LENGTH.anyOf, { type: 'array', items: { type: 'array', minItems: 2, maxItems: 2 } }],
    description: 'one length for the whole span, or [place along the span, length] pairs, straight between them; mm',
  });

const ALLOYS = [
  '2024-0',
  '2024-T3',
  '2024-T6',
  '5052-0',
  '5052-H32',
  '5052-H34',
  '5052-H36',
  '5052-H38',
  '6061-0',
  '6061-T4',
  '6061-T6',
  '7075-0',
  '7075-T6',
] as const;

const sheet = z.strictObject({
  id,
  alloy: z.enum(ALLOYS).meta({ description: 'alloy and temper, as in the bend-radius table' }),
  thickness,
  tolerance: length('a thickness tolerance', 0, 0.5).optional(),
});

const strip = z.strictObject({
  id: id.optional().describe('its name, where a joint goes through it'),
  sheet: id,
  from: place,
  to: place,
  caps: z.enum(['both', 'top', 'bottom']).meta({ description: 'which caps carry it, on their inside' }),
});

const webDoubler = z.strictObject({
  id: id.optional().describe('its name, where a joint goes through it'),
  sheet: id,
  from: place,
  to: place,
  height: size,
});

const spar = z.strictObject({
  sheet: id,
  opens: z.enum(['aft', 'forward']).meta({ description: 'which way the channel opens' }),
  depth: along.describe('over the caps'),
  capWidth: along.describe('over the web, web face to free edge'),
  radius: size.describe('inside bend radius'),
  from: place,
  to: place,
  strips: z.array(strip).max(50),
  webDoublers: z.array(webDoubler).max(50),
});

const relief = z.strictObject({ diameter: drill, fromEnd: size });

const ribEnd = z.strictObject({
  ends: z.enum(['nests', 'butts']).meta({ description: 'nests inside the caps, or butts on the flat side of the web' }),
  height: size.describe('over the flanges at the bend line, joggle included'),
  joggle: length('a joggle depth', 0, 20),
  tab: size.describe('end flange width, web face to free edge'),
  row: size.describe('hole row from the rib web face along the end flange'),
  relief: relief.optional(),
});

const lightening = z.strictObject({
  kind: z.enum(['lightening', 'sight']),
  fromFront: size.describe('centre from the front end of the part'),
  above: offset.describe('centre above the chord line'),
  diameter: length('a hole diameter', 0, 400),
});

const naca4 = z.strictObject({ kind: z.literal('naca4'), name: z.string().regex(/^\d{4}$/), chord: size });
const tabled = z.strictObject({
  kind: z.literal('points'),
  points: z
    .array(z.tuple([offset, offset]))
    .min(3)
    .max(2000),
  chord: size,
});
const profile = z.discriminatedUnion('kind', [z.strictObject({ kind: z.literal('ellipse') }), naca4, tabled]);
const contour = z.discriminatedUnion('kind', [naca4, tabled]);

const flutes = z.strictObject({
  each: z.number().int().min(1).max(40).meta({ description: 'how many in each flange, evenly along it' }),
  width: size.describe('along the flange'),
  depth: length('the depth of a flute', 0, 10).describe('into the rib at the flange edge'),
});

const bent = {
  sheet: id,
  station: id,
  flange: size.describe('flange width along the contour, web face to free edge'),
  radius: size.describe('inside bend radius'),
  turns: z.enum(['inboard', 'outboard']).meta({ description: 'which way the flanges point' }),
  holes: z.array(lightening).max(20),
  flutes: flutes.optional().describe('grooves that take up what a curved flange has to spare, none unless told'),
};

const between = contour
  .optional()
  .describe('the section its contour follows behind the front spar, cut where the spars stand; straight unless told');

const mainRib = z.strictObject({
  id,
  kind: z.literal('main'),
  ...bent,
  length: size.describe('over the end flanges along the chord line'),
  front: ribEnd,
  rear: ribEnd,
  contour: between,
});

const noseRib = z.strictObject({
  id,
  kind: z.literal('nose'),
  ...bent,
  length: size.describe('tail flange face to nose point'),
  tail: ribEnd,
  profile,
});

const tipRib = z.strictObject({
  id,
  kind: z.literal('tip'),
  ...bent,
  length: size.describe('rear end to nose point'),
  registered: z
    .enum(['rear', 'front'])
    .meta({ description: 'held by its rear end on the rear web, or by a clip on the front spar' }),
  clip: z.strictObject({ forward: offset, noseToHole: size }).optional(),
  rear: ribEnd,
  height: size.describe('contour height at the front spar'),
  profile,
  contour: between,
});

const rib = z.discriminatedUnion('kind', [mainRib, noseRib, tipRib]);

const doubler = z.strictObject({
  id,
  form: z
    .enum(['channel', 'flat'])
    .meta({ description: 'channel: top, bottom and web in one bent piece; flat: one plate' }),
  on: z.enum(['web', 'top', 'bottom']).meta({ description: 'where a flat piece lies; a channel says web' }),
  sheet: id,
  part: id,
  end: z.enum(['front', 'rear', 'tail']),
  radius: size.optional().describe('inside bend radius of a channel'),
  height: size.optional().describe('height of a flat piece on a web; a channel follows the part'),
  leg: size.optional().describe('outside leg of a channel'),
  width: size.describe('along the span'),
  designed: z.boolean().meta({ description: 'true: on the drawing; false: added as a cure' }),
});

const bracket = z.strictObject({
  id,
  spar: z.enum(['front', 'rear']),
  station: id,
  sheet: id,
  width: size.describe('along the span'),
  height: size,
  edge: size.describe('free edge to the far side: flange width'),
});

const skin = z.strictObject({ sheet: id });

const rivet = z.strictObject({
  kind: z.enum(['blind', 'solid']),
  diameter: drill,
  grip: z.tuple([size, size]).optional().describe('least and most grip of the length in the bag'),
  length: size.optional().describe('length of a solid rivet in the bag'),
  head: drill.optional().describe('diameter of its manufactured head; twice the rivet unless told'),
});

const holeLayer = z.strictObject({
  part: id,
  state: z.enum(['none', 'pilot', 'final']),
  size: drill.describe('present diameter; 0 where there is no hole yet'),
  through: id
    .optional()
    .describe('the layer it was drilled through; "apart": marked and drilled by itself; the guide unless told'),
});

const hole = z.strictObject({
  id,
  along: offset.describe('along the span from the row'),
  up: offset.describe("above the chord line; in a cap: from the web's flat face toward the cap's free edge"),
  layers: z.array(holeLayer).max(12),
});

const joint = z.strictObject({
  id,
  station: id,
  end: z.enum(['front', 'rear']),
  on: z
    .enum(['web', 'top', 'bottom'])
    .optional()
    .describe("what the row runs in: the spar's web, its top cap or its bottom cap; the web unless told"),
  layers: z
    .array(id)
    .min(2)
    .max(12)
    .meta({ description: 'part names from the drill side; "front" and "rear" are the spars, "skin" is the skin' }),
  guide: id.meta({ description: 'the layer the drill follows' }),
  rivet,
  pilot: drill,
  final: drill,
  next: z
    .strictObject({ rivet: drill, drill })
    .optional()
    .describe('the next larger size; absent when this is the largest in the design'),
  stood: z
    .strictObject({ lean: number('mm in 100 mm of height, top outboard positive', -20, 20), skew: offset })
    .optional()
    .describe(
      'how the rib stood when its pilots were drilled: lean, and skew at its rear end, outboard positive; as it stands now unless told',
    ),
  holes: z.array(hole).max(200),
});

const stage = z.strictObject({
  id,
  name: text,
  takes: z
    .array(id)
    .max(1000)
    .optional()
    .describe('parts taken off at this stage, before it brings any; their holes stay as drilled'),
  brings: z.array(id).max(1000),
  opens: z.array(id).max(1000).describe('joints opened to final at this stage'),
});

const reading = z.strictObject({
  size: z.string().max(120),
  value: z.number(),
  instrument: id,
  over: size.optional().describe('the length it was read over, where that is not the whole part'),
  date: z.string().max(40).optional(),
  temperature: number('deg C', -40, 60).optional(),
  sure: z
    .literal(true)
    .optional()
    .describe('asked about and confirmed: that is what it reads, however far from the drawing'),
  note: text.optional(),
});

const instrument = z.strictObject({
  id,
  name: text,
  scale: number('shared relative scale error, one standard uncertainty', 0, 0.01).optional(),
  u: z
    .record(z.string(), z.number().min(0).max(50))
    .meta({ description: 'standard uncertainty by kind of size, where it differs from the starting value' }),
});

const bound = z.union([z.number(), z.null()]);
const limit = z.strictObject({
  check: z.string().max(40),
  fits: z.tuple([bound, bound]),
  act: z.tuple([bound, bound]),
  origin: z.enum(['drawing', 'builder', 'inspector']),
  reason: text,
});

const blank = z.strictObject({
  sheet: id,
  width: length('a blank length', 20, 6000).describe('along the grain'),
  height: length('a blank width', 20, 6000).describe('across the grain'),
  count: z.int().min(1).max(1000).meta({ description: 'how many of this size are on hand' }),
});

const stock = z.strictObject({
  sheets: z.array(id).max(100),
  blanks: z.array(blank).max(200).optional().describe('flat sheet on hand'),
  shims: z.array(thickness).max(100),
  packs: z.array(thickness).max(100),
  drills: z.array(drill).max(200),
  rivets: z.array(rivet).max(100),
});

const survey = z.strictObject({
  touch: z.enum(['spar-bottom', 'chord']).meta({ description: 'what the height stand touches' }),
  rearHigher: along.describe('how much higher the drawing puts the touched rear edge than the front one, untwisted'),
  reference: id.optional().describe('station whose twist is taken as zero; absent: the bench'),
  supports: z.array(id).max(200).describe('stations with jig blocks under both spars'),
  scatter: length('a bench map uncertainty', 0, 5).optional(),
});

const judgedLine = z.strictObject({
  value: z.number(),
  verdict: z.enum(['fits', 'watch', 'act', 'unsettled']),
  text: text.describe('as it was said: "0.32 mm, binds"'),
});

const decision = z.strictObject({
  id,
  kind: z.enum(['taken', 'accepted', 'left-open']).meta({
    description:
      'taken: something was done; accepted: left as it is, and nothing spoke against that; left-open: noted, and still to be settled',
  }),
  what: text.min(1),
  why: text,
  ask: z.array(text).max(20).describe('who must be asked or shown it'),
  asked: text.describe('who was asked, and what they said; empty while nobody was'),
  date: z.string().max(40),
  remedies: z.array(z.string().max(200)).max(1000).describe('the remedies taken, by the names the program gives them'),
  findings: z.array(z.string().max(200)).max(1000).describe('the findings it answers'),
  places: z.array(z.string().max(120)).max(1000).describe('stations and parts it touches'),
  lines: z
    .array(
      z.strictObject({
        finding: z.string().max(200),
        place: z.string().max(120),
        check: z.string().max(40),
        before: judgedLine.optional(),
        after: judgedLine.optional(),
      }),
    )
    .max(2000)
    .describe('what it changed, before and after; values in the unit of the check'),
});

const day = z.string().max(40).meta({ description: 'year-month-day' });

const tick = z.strictObject({
  step: z.string().max(120).meta({ description: 'the step that was done, by its name in the list of steps' }),
  by: z.string().max(12).meta({ description: 'initials of who did it' }),
  date: day,
});

const entry = z.strictObject({
  date: day,
  what: text.describe('what was changed, in the past tense'),
  size: z.string().max(120).optional().describe('the size that was changed'),
  was: z.number().optional().describe('its value before the first change of that day'),
  is: z.number().optional().describe('its value after the last change of that day'),
});

export const panelSchema = z.strictObject({
  format: z.literal('ribtrue-panel'),
  version: z.literal(1),
  name: z.string().min(1).max(80),
  revision: z.string().max(40),
  hand: z.enum(['right', 'left', 'both']).meta({ description: 'right or left panel, or both hands in one piece' }),
  units: z.enum(['mm', 'in']).meta({ description: 'the unit shown first' }),
  note: text.optional(),
  sheets: z.array(sheet).min(1).max(MOST.sheets),
  stations: z
    .array(
      z.strictObject({
        id,
        y: place,
        nose: size.describe('drawing protrusion of the nose from the front web'),
        washout: number('drawing twist, degrees, nose up positive', -30, 30),
      }),
    )
    .min(1)
    .max(MOST.stations),
  spars: z.strictObject({ front: spar, rear: spar.optional() }),
  webToWeb: along.describe('forward face of the front web to forward face of the rear web'),
  ribs: z.array(rib).max(MOST.ribs),
  doublers: z.array(doubler).max(MOST.doublers),
  brackets: z.array(bracket).max(MOST.brackets),
  skin: skin.optional(),
  joints: z.array(joint).max(MOST.joints),
  stages: z.array(stage).max(MOST.stages),
  now: id.optional().describe('the present stage'),
  stand: z
    .enum(['rear', 'front', 'clamped'])
    .meta({ description: 'which web the ribs stand against while the fit is tried' }),
  reliefCounts: z.enum(['centre', 'rim']).meta({ description: 'what the drawing counts relief clearance to' }),
  tolerances: z.record(z.string(), length('a drawing tolerance', 0, 50)).meta({
    description:
      'drawing tolerance (plus or minus, mm or degrees) by kind of size, where it differs from the starting value',
  }),
  survey,
  instruments: z.array(instrument).max(MOST.instruments),
  readings: z.array(reading).max(MOST.readings),
  ticks: z.array(tick).max(MOST.ticks).optional().describe('steps that were done'),
  log: z
    .array(entry)
    .max(MOST.log)
    .optional()
    .describe('the journal: what was changed, one entry for each thing and day'),
  limits: z.array(limit).max(MOST.limits),
  stock,
  decisions: z
    .array(decision)
    .max(MOST.decisions)
    .optional()
    .describe('what was decided, oldest first: for the builder’s log and the change note'),
});

/** All a panel file says, in millimetres and degrees. Never mutated: every change is an Edit. */
export type Model = z.output<typeof panelSchema>;
export type Along = z.output<typeof along>;
export type Sheet = z.output<typeof sheet>;
export type Spar = z.output<typeof spar>;
export type Strip = z.output<typeof strip>;
export type Station = Model['stations'][number];
export type RibEnd = z.output<typeof ribEnd>;
export type Rib = z.output<typeof rib>;
export type MainRib = z.output<typeof mainRib>;
export type NoseRib = z.output<typeof noseRib>;
export type TipRib = z.output<typeof tipRib>;
export type Profile = z.output<typeof profile>;
/** A section that reaches behind the front spar: any profile but an ellipse. */
export type Contour = z.output<typeof contour>;
export type Doubler = z.output<typeof doubler>;
export type Bracket = z.output<typeof bracket>;
export type Joint = z.output<typeof joint>;
export type Hole = z.output<typeof hole>;
export type Blank = z.output<typeof blank>;
export type Rivet = z.output<typeof rivet>;
export type Stage = z.output<typeof stage>;
export type Reading = z.output<typeof reading>;
export type Instrument = z.output<typeof instrument>;
export type Tick = z.output<typeof tick>;
export type LogEntry = z.output<typeof entry>;
export type LimitEntry = z.output<typeof limit>;
export type Decision = z.output<typeof decision>;
export type DecisionLine = Decision['lines'][number];
export type Alloy = Sheet['alloy'];
export type SparName = 'front' | 'rear';

/** The published form of a panel file (JSON Schema 2020-12), made from the definition that validates. */
export function publishedSchema(): object {
  return z.toJSONSchema(panelSchema, { io: 'input', unrepresentable: 'any' });
}
