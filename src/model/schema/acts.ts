import * as z from 'zod';
import { aJoint, aStage } from './joints.ts';
import { anAlong, anId, aText } from './measures.ts';
import { aBracket, aDoubler } from './pieces.ts';
import { aReading } from './readings.ts';
import { aRib } from './ribs.ts';
import { aSheet, aSpar } from './spars.ts';
import { aDay, aStation, byWhom } from './stations.ts';
import { aStock } from './stock.ts';

/* What a file says of work: what a decision does once it is made, and the acts that moved metal. */

const aMove = z.strictObject({
  size: z.string().max(120),
  by: z.number().optional().describe('how far it moved, in its own unit, where that is known'),
  u: z.number().min(0).max(50).optional().describe('doubt of the work itself, one standard uncertainty'),
});

/**
 * What a decision does to the panel once it is made: parts put in and taken out, sizes of the drawing, readings that
 * no longer hold.
 */
export const aWork = z.strictObject({
  put: z.strictObject({
    stations: z.array(aStation).optional(),
    sheets: z.array(aSheet).optional(),
    ribs: z.array(aRib).optional(),
    doublers: z.array(aDoubler).optional(),
    brackets: z.array(aBracket).optional(),
    joints: z.array(aJoint).optional(),
    stages: z.array(aStage).optional(),
    readings: z.array(aReading).optional(),
  }),
  drop: z.strictObject({
    stations: z.array(anId).optional(),
    sheets: z.array(anId).optional(),
    ribs: z.array(anId).optional(),
    doublers: z.array(anId).optional(),
    brackets: z.array(anId).optional(),
    joints: z.array(anId).optional(),
    stages: z.array(anId).optional(),
    readings: z.array(z.string().max(120)).optional().describe('sizes whose readings no longer hold'),
  }),
  set: z.strictObject({
    spars: z.strictObject({ front: aSpar, rear: aSpar.optional() }).optional(),
    webToWeb: anAlong.optional(),
    stand: z.enum(['rear', 'front', 'clamped']).optional(),
    stock: aStock.optional(),
  }),
  moves: z.array(aMove).max(20_000).describe('the sizes it moves, with the doubt of the work'),
});

/** Something done at the bench that moved metal. */
export const anAct = z.strictObject({
  n: z.int().min(1).max(1_000_000).meta({ description: 'its number: readings taken after it carry this one' }),
  kind: z
    .enum(['packed', 'squared', 'made', 'bent', 'fitted', 'moved', 'straightened', 'apart'])
    .meta({ description: 'what was done' }),
  what: aText.describe('what was done, in the past tense'),
  date: aDay,
  by: byWhom,
  decision: anId.optional().describe('the decision it carries out'),
  moves: z.array(aMove).max(20_000).describe('the sizes it moved'),
});
