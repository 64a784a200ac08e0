import * as z from 'zod';
import { anId, aSize } from './measures.ts';

/* What a file says of doublers and brackets. */

export const aDoubler = z.strictObject({
  id: anId,
  form: z
    .enum(['channel', 'flat'])
    .meta({ description: 'channel: top, bottom and web in one bent piece; flat: one plate' }),
  on: z.enum(['web', 'top', 'bottom']).meta({ description: 'where a flat piece lies; a channel says web' }),
  sheet: anId,
  part: anId,
  end: z.enum(['front', 'rear', 'tail']),
  radius: aSize.optional().describe('inside bend radius of a channel'),
  height: aSize.optional().describe('height of a flat piece on a web; a channel follows the part'),
  leg: aSize.optional().describe('outside leg of a channel'),
  width: aSize.describe('along the span'),
  designed: z.boolean().meta({ description: 'true: on the drawing; false: added as a cure' }),
});

export const aBracket = z.strictObject({
  id: anId,
  spar: z.enum(['front', 'rear']),
  station: anId,
  sheet: anId,
  width: aSize.describe('along the span'),
  height: aSize,
  edge: aSize.describe('free edge to the far side: flange width'),
});
