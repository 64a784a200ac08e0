import * as z from 'zod';
import { aRivet } from './joints.ts';
import { aDrill, aLength, anId, aThickness } from './measures.ts';

/* What a file says is on hand. */

const aBlank = z.strictObject({
  sheet: anId,
  width: aLength('a blank length', 20, 6000).describe('along the grain'),
  height: aLength('a blank width', 20, 6000).describe('across the grain'),
  count: z.int().min(1).max(1000).meta({ description: 'how many of this size are on hand' }),
});

export const aStock = z.strictObject({
  sheets: z.array(anId).max(100),
  blanks: z.array(aBlank).max(200).optional().describe('flat sheet on hand'),
  shims: z.array(aThickness).max(100),
  packs: z.array(aThickness).max(100),
  drills: z.array(aDrill).max(200),
  rivets: z.array(aRivet).max(100),
});
