import * as z from 'zod';
import { aDrill, aHoleYet, aNumber, anId, anOffset, aSize, aText } from './measures.ts';

/* What a file says of joints, their holes, and the stages that open them. */

export const aRivet = z.strictObject({
  kind: z.enum(['blind', 'solid']),
  diameter: aDrill,
  grip: z.tuple([aSize, aSize]).optional().describe('least and most grip of the length in the bag'),
  length: aSize.optional().describe('length of a solid rivet in the bag'),
  head: aDrill.optional().describe('diameter of its manufactured head; twice the rivet unless told'),
});

const aHoleLayer = z.strictObject({
  part: anId,
  state: z.enum(['none', 'pilot', 'final']),
  size: aHoleYet.describe('present diameter; 0 where there is no hole yet'),
  through: anId
    .optional()
    .describe('the layer it was drilled through; "apart": marked and drilled by itself; the guide unless told'),
});

export const aHole = z.strictObject({
  id: anId,
  along: anOffset.describe('along the span from the row'),
  up: anOffset.describe("above the chord line; in a cap: from the web's flat face toward the cap's free edge"),
  layers: z.array(aHoleLayer).max(12),
});

export const aJoint = z.strictObject({
  id: anId,
  station: anId,
  end: z.enum(['front', 'rear']),
  on: z
    .enum(['web', 'top', 'bottom'])
    .optional()
    .describe("what the row runs in: the spar's web, its top cap or its bottom cap; the web unless told"),
  layers: z
    .array(anId)
    .min(2)
    .max(12)
    .meta({ description: 'part names from the drill side; "front" and "rear" are the spars, "skin" is the skin' }),
  guide: anId.meta({ description: 'the layer the drill follows' }),
  rivet: aRivet,
  pilot: aDrill,
  final: aDrill,
  next: z
    .strictObject({ rivet: aDrill, drill: aDrill })
    .optional()
    .describe('the next larger size; absent when this is the largest in the design'),
  stood: z
    .strictObject({ lean: aNumber('mm in 100 mm of height, top outboard positive', -20, 20), skew: anOffset })
    .optional()
    .describe(
      'how the rib stood when its pilots were drilled: lean, and skew at its rear end, outboard positive; as it stands now unless told',
    ),
  holes: z.array(aHole).max(200),
});

export const aStage = z.strictObject({
  id: anId,
  name: aText,
  takes: z
    .array(anId)
    .max(1000)
    .optional()
    .describe('parts taken off at this stage, before it brings any; their holes stay as drilled'),
  brings: z.array(anId).max(1000),
  opens: z.array(anId).max(1000).describe('joints opened to final at this stage'),
});
