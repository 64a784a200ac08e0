import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseModel } from '../../src/model/file/parse.ts';
import { fullSurvey, Reader } from '../shop/reader.ts';

/*
 * A gate that nothing could satisfy would be no gate. One builder, one plain panel made as drawn, nothing read: what the
 * gates ask is done until they ask no more. This says that it can be done, not how often it is.
 */

const parsed = parseModel(readFileSync('models/plain.json', 'utf8'));
if (!parsed.ok) throw new Error('plain');
const unread = { ...parsed.model, readings: [], ticks: [] };

test('a builder who does what is asked comes to yes at every gate, with no more than one and a half full surveys', () => {
  const builder = new Reader(unread, 1);
  expect(builder.build()).toEqual({ pilots: 'yes', final: 'yes', skin: 'yes' });
  expect(builder.readings).toBeLessThanOrEqual(1.5 * fullSurvey(unread));
});
