import { expect, test } from 'vitest';
import { ABOUT_SHEETS, ABOUT_TABLES } from '../../src/app/build/aboutTables.ts';
import { SHEET_NAMES } from '../../src/app/build/sheetNames.ts';
import { tableOf } from '../../src/app/build/tablesOf.ts';
import { ABOUT_QUESTIONS } from '../../src/app/frame/aboutQuestions.ts';

const SAID: readonly (readonly [where: string, says: string])[] = [
  ...Object.entries(ABOUT_QUESTIONS),
  ...[...Object.entries(ABOUT_SHEETS), ...Object.entries(ABOUT_TABLES)].map(([id, { says }]) => [id, says] as const),
];

test('every question and every sheet of Build say what they are', () => {
  expect(Object.keys(ABOUT_QUESTIONS)).toEqual([
    'tonight',
    'build',
    'measure',
    'fit',
    'remedy',
    'drill',
    'true',
    'helper',
  ]);
  expect(Object.keys(ABOUT_SHEETS)).toEqual(SHEET_NAMES.map((s) => s.id));
});

test('what is said of a table is said of one there is, and asks its own question', () => {
  for (const [id, { ask }] of Object.entries(ABOUT_TABLES)) {
    expect(tableOf(id)?.id).toBe(id);
    expect(ask).toMatch(/^Wh.*\?$/);
  }
});

test.each(SAID)('%s: two or three short sentences', (_, says) => {
  const sentences = says.match(/[^.]+\./g) ?? [];
  expect(sentences.join('')).toBe(says);
  expect(sentences.length).toBeGreaterThanOrEqual(2);
  expect(sentences.length).toBeLessThanOrEqual(3);
  for (const sentence of sentences) expect(sentence.split(' ').length, sentence).toBeLessThanOrEqual(33);
});
