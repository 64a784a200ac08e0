import * as z from 'zod';
import { aDrill, aLength, anId, anOffset, aSize } from './measures.ts';

/* What a file says of main, nose and tip ribs. */

const relief = z.strictObject({ diameter: aDrill, fromEnd: aSize });

export const aRibEnd = z.strictObject({
  ends: z.enum(['nests', 'butts']).meta({ description: 'nests inside the caps, or butts on the flat side of the web' }),
  height: aSize.describe('over the flanges at the bend line, joggle included'),
  joggle: aLength('a joggle depth', 0, 20),
  tab: aSize.describe('end flange width, web face to free edge'),
  row: aSize.describe('hole row from the rib web face along the end flange'),
  relief: relief.optional(),
});

const lightening = z.strictObject({
  kind: z.enum(['lightening', 'sight']),
  fromFront: aSize.describe('centre from the front end of the part'),
  above: anOffset.describe('centre above the chord line'),
  diameter: aLength('a hole diameter', 0, 400),
});

const naca4 = z.strictObject({ kind: z.literal('naca4'), name: z.string().regex(/^\d{4}$/), chord: aSize });
const tabled = z.strictObject({
  kind: z.literal('points'),
  points: z
    .array(z.tuple([anOffset, anOffset]))
    .min(3)
    .max(2000),
  chord: aSize,
});
export const aProfile = z.discriminatedUnion('kind', [z.strictObject({ kind: z.literal('ellipse') }), naca4, tabled]);
export const aContour = z.discriminatedUnion('kind', [naca4, tabled]);

const flutes = z.strictObject({
  each: z.number().int().min(1).max(40).meta({ description: 'how many in each flange, evenly along it' }),
  width: aSize.describe('along the flange'),
  depth: aLength('the depth of a flute', 0, 10).describe('into the rib at the flange edge'),
});

const bent = {
  sheet: anId,
  station: anId,
  flange: aSize.describe('flange width along the contour, web face to free edge'),
  radius: aSize.describe('inside bend radius'),
  turns: z.enum(['inboard', 'outboard']).meta({ description: 'which way the flanges point' }),
  holes: z.array(lightening).max(20),
  flutes: flutes.optional().describe('grooves that take up what a curved flange has to spare, none unless told'),
};

const between = aContour
  .optional()
  .describe('the section its contour follows behind the front spar, cut where the spars stand; straight unless told');

export const aMainRib = z.strictObject({
  id: anId,
  kind: z.literal('main'),
  ...bent,
  length: aSize.describe('over the end flanges along the chord line'),
  front: aRibEnd,
  rear: aRibEnd,
  contour: between,
});

export const aNoseRib = z.strictObject({
  id: anId,
  kind: z.literal('nose'),
  ...bent,
  length: aSize.describe('tail flange face to nose point'),
  tail: aRibEnd,
  profile: aProfile,
});

export const aTipRib = z.strictObject({
  id: anId,
  kind: z.literal('tip'),
  ...bent,
  length: aSize.describe('rear end to nose point'),
  registered: z
    .enum(['rear', 'front'])
    .meta({ description: 'held by its rear end on the rear web, or by a clip on the front spar' }),
  clip: z.strictObject({ forward: anOffset, noseToHole: aSize }).optional(),
  rear: aRibEnd,
  height: aSize.describe('contour height at the front spar'),
  profile: aProfile,
  contour: between,
});

export const aRib = z.discriminatedUnion('kind', [aMainRib, aNoseRib, aTipRib]);
