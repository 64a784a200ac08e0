import * as z from 'zod';
import { aNumber, anId, aPlace, aSize } from './measures.ts';

/*
 * What a file says of stations; of days, of who did a thing, and of when it was done among the acts that moved metal.
 */

export const aStation = z.strictObject({
  id: anId,
  y: aPlace,
  nose: aSize.describe('drawing protrusion of the nose from the front web'),
  washout: aNumber('drawing twist, degrees, nose up positive', -30, 30),
});

export const aDay = z.string().max(40).meta({ description: 'year-month-day' });

export const byWhom = z.string().max(12).meta({ description: 'initials of who did it' });

export const anActNumber = z.int().min(0).max(1_000_000).meta({ description: 'number of an act that moved metal' });
