import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { applyEdit, measure } from '../../src/model/edits/edits.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { turnedSentence } from '../../src/remedies/turned.ts';

/* What a change did, said in one breath. By brute force: every finding of both panels compared one by one. */

const read = parseModel(readFileSync('models/narrow-tail.json', 'utf8'));
const model = (read as { model: Model }).model;
const with_ = (m: Model, size: string, value: number): Model =>
  (
    applyEdit(m, measure(m, size, [value], { instrument: 'caliper', date: '2025-01-01', sure: true })) as {
      model: Model;
    }
  ).model;

test('panel A: M2 no longer binds, and the way back', () => {
  const after = with_(model, 'M2.front.height', 83.02);
  expect(turnedSentence(model, after)).toMatch(/^M2 front, between the caps: \w+, was act\./);
  expect(turnedSentence(after, model)).toMatch(/^M2 front, between the caps: act, was \w+\./);
});

test('it counts every verdict that turns, and none that does not', () => {
  for (const [size, value] of [
    ['M2.front.height', 83.02],
    ['M5.front.height', 83.9],
    ['front.clear@S3', 84.9],
    ['sheet.s025', 0.7],
  ] as const) {
    const after = with_(model, size, value);
    const is = new Map(checkAll(after).map((f) => [f.id, f.verdict]));
    const was = new Map(checkAll(model).map((f) => [f.id, f.verdict]));
    const turned = [...new Set([...is.keys(), ...was.keys()])].filter((id) => is.get(id) !== was.get(id)).length;
    const said = turnedSentence(model, after);
    const one = (said.match(/: (?:fits|watch|act|unsettled)(?:, was \w+)?\.|no longer asked\./g) ?? []).length;
    const more = [...said.matchAll(/(\d+) more (?:better|worse)/g)].reduce((n, m) => n + Number(m[1]), 0);
    expect(one + more, `${size} ${said}`).toBe(turned);
  }
});

test('nothing changed, nothing said; another panel is not compared', () => {
  expect(turnedSentence(model, model)).toBe('');
  expect(turnedSentence(model, { ...model })).toBe('No verdict turns.');
  expect(turnedSentence(model, { ...model, name: 'another' })).toBe('');
});
