import * as z from 'zod';
import { aWork } from './acts.ts';
import { anId, aText } from './measures.ts';
import { aDay, anActNumber, byWhom } from './stations.ts';

/* What a file says was decided, done and changed. */

const aJudgedLine = z.strictObject({
  value: z.number(),
  verdict: z.enum(['fits', 'watch', 'act', 'unsettled']),
  text: aText.describe('as it was said: "0.32 mm, binds"'),
});

export const aDecision = z.strictObject({
  id: anId,
  kind: z.enum(['taken', 'accepted', 'left-open']).meta({
    description:
      'taken: something was done; accepted: left as it is, and nothing spoke against that; left-open: noted, and still to be settled',
  }),
  what: aText.min(1),
  why: aText,
  ask: z.array(aText).max(20).describe('who must be asked or shown it'),
  asked: aText.describe('who was asked, and what they said; empty while nobody was'),
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
        before: aJudgedLine.optional(),
        after: aJudgedLine.optional(),
      }),
    )
    .max(2000)
    .describe('what it changed, before and after; values in the unit of the check'),
  does: aWork.optional().describe('what it will do to the panel; kept until it is made'),
  made: z
    .strictObject({ date: aDay, by: byWhom, act: anActNumber.optional() })
    .optional()
    .describe('when and by whom it was made; a remedy taken and not made yet is only decided'),
});

export const aTick = z.strictObject({
  step: z.string().max(120).meta({ description: 'the step that was done, by its name in the list of steps' }),
  by: byWhom,
  date: aDay,
  after: anActNumber.optional().describe('number of the last act that moved metal before it; none unless told'),
});

export const anEntry = z.strictObject({
  date: aDay,
  what: aText.describe('what was changed, in the past tense'),
  size: z.string().max(120).optional().describe('the size that was changed'),
  was: z.number().optional().describe('its value before the first change of that day'),
  is: z.number().optional().describe('its value after the last change of that day'),
});
