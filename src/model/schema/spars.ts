import * as z from 'zod';
import { aLength, anAlong, anId, aPlace, aSize, aThickness } from './measures.ts';

/* What a file says of sheets, spars and the skin. */

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

export const aSheet = z.strictObject({
  id: anId,
  alloy: z.enum(ALLOYS).meta({ description: 'alloy and temper, as in the bend-radius table' }),
  thickness: aThickness,
  tolerance: aLength('a thickness tolerance', 0, 0.5).optional(),
});

export const aStrip = z.strictObject({
  id: anId.optional().describe('its name, where a joint goes through it'),
  sheet: anId,
  from: aPlace,
  to: aPlace,
  caps: z.enum(['both', 'top', 'bottom']).meta({ description: 'which caps carry it, on their inside' }),
});

const aWebDoubler = z.strictObject({
  id: anId.optional().describe('its name, where a joint goes through it'),
  sheet: anId,
  from: aPlace,
  to: aPlace,
  height: aSize,
});

export const aSpar = z.strictObject({
  sheet: anId,
  opens: z.enum(['aft', 'forward']).meta({ description: 'which way the channel opens' }),
  depth: anAlong.describe('over the caps'),
  capWidth: anAlong.describe('over the web, web face to free edge'),
  radius: aSize.describe('inside bend radius'),
  from: aPlace,
  to: aPlace,
  strips: z.array(aStrip).max(50),
  webDoublers: z.array(aWebDoubler).max(50),
});

export const aSkin = z.strictObject({ sheet: anId });
