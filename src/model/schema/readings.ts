import * as z from 'zod';
import { aLength, aNumber, anAlong, anId, aSize, aText } from './measures.ts';
import { anActNumber } from './stations.ts';

/* What a file says of readings and instruments, and of the limits and the survey they serve. */

export const aReading = z.strictObject({
  size: z.string().max(120),
  value: z.number(),
  instrument: anId,
  over: aSize.optional().describe('the length it was read over, where that is not the whole part'),
  date: z.string().max(40).optional(),
  temperature: aNumber('deg C', -40, 60).optional(),
  sure: z
    .literal(true)
    .optional()
    .describe('asked about and confirmed: that is what it reads, however far from the drawing'),
  note: aText.optional(),
  after: anActNumber
    .optional()
    .describe('number of the last act that moved metal before it was taken; none unless told'),
  worked: z
    .literal(true)
    .optional()
    .describe('worked out from a remedy that was made, not read: it must be read again'),
});

export const anInstrument = z.strictObject({
  id: anId,
  name: aText,
  scale: aNumber('shared relative scale error, one standard uncertainty', 0, 0.01).optional(),
  u: z
    .record(z.string(), z.number().min(0).max(50))
    .meta({ description: 'standard uncertainty by kind of size, where it differs from the starting value' }),
});

const bound = z.union([z.number(), z.null()]);
export const aLimit = z.strictObject({
  check: z.string().max(40),
  fits: z.tuple([bound, bound]),
  act: z.tuple([bound, bound]),
  origin: z.enum(['drawing', 'builder', 'inspector']),
  reason: aText,
});

export const aSurvey = z.strictObject({
  touch: z.enum(['spar-bottom', 'chord']).meta({ description: 'what the height stand touches' }),
  rearHigher: anAlong.describe('how much higher the drawing puts the touched rear edge than the front one, untwisted'),
  reference: anId.optional().describe('station whose twist is taken as zero; absent: the bench'),
  supports: z.array(anId).max(200).describe('stations with jig blocks under both spars'),
  scatter: aLength('a bench map uncertainty', 0, 5).optional(),
});
