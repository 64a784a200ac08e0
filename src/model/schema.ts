import * as z from 'zod';
import { anAct, type aWork } from './schema/acts.ts';
import { aDecision, anEntry, aTick } from './schema/decisions.ts';
import { type aHole, aJoint, type aRivet, aStage } from './schema/joints.ts';
import { aLength, anAlong, anId, aText } from './schema/measures.ts';
import { aBracket, aDoubler } from './schema/pieces.ts';
import { aLimit, anInstrument, aReading, aSurvey } from './schema/readings.ts';
import {
  type aContour,
  type aMainRib,
  type aNoseRib,
  type aProfile,
  aRib,
  type aRibEnd,
  type aTipRib,
} from './schema/ribs.ts';
import { aSheet, aSkin, aSpar, type aStrip } from './schema/spars.ts';
import { aStation } from './schema/stations.ts';
import { aStock } from './schema/stock.ts';

/*
 * What a panel file says. One definition validates it, types it, and is published as models/schema.json; its groups are
 * defined in schema/.
 * Lengths are millimetres; text with a unit ("0.032 in", "3/32") is read too and stored as millimetres. Axes: x aft,
 * y right along the span, z up. Origin on the front spar's forward web face. Angles are degrees, nose up positive.
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
  acts: 20_000,
  limits: 100,
  sheets: 100,
} as const;

export const panelSchema = z.strictObject({
  format: z.literal('ribtrue-panel'),
  version: z.literal(2),
  name: z.string().min(1).max(80),
  revision: z.string().max(40),
  hand: z.enum(['right', 'left', 'both']).meta({ description: 'right or left panel, or both hands in one piece' }),
  units: z.enum(['mm', 'in']).meta({ description: 'the unit shown first' }),
  note: aText.optional(),
  sheets: z.array(aSheet).min(1).max(MOST.sheets),
  stations: z.array(aStation).min(1).max(MOST.stations),
  spars: z.strictObject({ front: aSpar, rear: aSpar.optional() }),
  webToWeb: anAlong.describe('forward face of the front web to forward face of the rear web'),
  ribs: z.array(aRib).max(MOST.ribs),
  doublers: z.array(aDoubler).max(MOST.doublers),
  brackets: z.array(aBracket).max(MOST.brackets),
  skin: aSkin.optional(),
  joints: z.array(aJoint).max(MOST.joints),
  stages: z.array(aStage).max(MOST.stages),
  now: anId.optional().describe('the present stage'),
  stand: z
    .enum(['rear', 'front', 'clamped'])
    .meta({ description: 'which web the ribs stand against while the fit is tried' }),
  reliefCounts: z.enum(['centre', 'rim']).meta({ description: 'what the drawing counts relief clearance to' }),
  tolerances: z.record(z.string(), aLength('a drawing tolerance', 0, 50)).meta({
    description:
      'drawing tolerance (plus or minus, mm or degrees) by kind of size, where it differs from the starting value',
  }),
  survey: aSurvey,
  instruments: z.array(anInstrument).max(MOST.instruments),
  readings: z.array(aReading).max(MOST.readings),
  ticks: z.array(aTick).max(MOST.ticks).optional().describe('steps that were done'),
  log: z
    .array(anEntry)
    .max(MOST.log)
    .optional()
    .describe('the journal: what was changed, one entry for each thing and day'),
  acts: z
    .array(anAct)
    .max(MOST.acts)
    .optional()
    .describe('what was done that moved metal, numbered: a reading taken before one of them may no longer hold'),
  limits: z.array(aLimit).max(MOST.limits),
  stock: aStock,
  decisions: z
    .array(aDecision)
    .max(MOST.decisions)
    .optional()
    .describe('what was decided, oldest first: for the builder’s log and the change note'),
});

/** All a panel file says, in millimetres and degrees. Never mutated: every change is an Edit. */
export type Model = z.output<typeof panelSchema>;
export type Along = z.output<typeof anAlong>;
export type Sheet = z.output<typeof aSheet>;
export type Spar = z.output<typeof aSpar>;
export type Strip = z.output<typeof aStrip>;
export type Station = Model['stations'][number];
export type RibEnd = z.output<typeof aRibEnd>;
export type Rib = z.output<typeof aRib>;
export type MainRib = z.output<typeof aMainRib>;
export type NoseRib = z.output<typeof aNoseRib>;
export type TipRib = z.output<typeof aTipRib>;
export type Profile = z.output<typeof aProfile>;
/** A section that reaches behind the front spar: any profile but an ellipse. */
export type Contour = z.output<typeof aContour>;
export type Doubler = z.output<typeof aDoubler>;
export type Bracket = z.output<typeof aBracket>;
export type Joint = z.output<typeof aJoint>;
export type Hole = z.output<typeof aHole>;
export type Rivet = z.output<typeof aRivet>;
export type Stage = z.output<typeof aStage>;
export type Reading = z.output<typeof aReading>;
export type Tick = z.output<typeof aTick>;
export type Act = z.output<typeof anAct>;
export type Work = z.output<typeof aWork>;
export type LogEntry = z.output<typeof anEntry>;
export type LimitEntry = z.output<typeof aLimit>;
export type Decision = z.output<typeof aDecision>;
export type DecisionLine = Decision['lines'][number];
export type Alloy = Sheet['alloy'];
export type SparName = 'front' | 'rear';

/** The published form of a panel file (JSON Schema 2020-12), made from the definition that validates. */
export function publishedSchema(): object {
  return z.toJSONSchema(panelSchema, { io: 'input', unrepresentable: 'any' });
}
