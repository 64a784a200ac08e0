import { readFileSync } from 'node:fs';
import { expect, test } from 'vitest';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { tonightOf } from '../../src/tonight/tonight.ts';

/* The list on the demo panel, as a builder would do it: worked out at the bench from what the panel's file says is wrong. */

function panel(name: string): Model {
  const read = parseModel(readFileSync(`models/${name}.json`, 'utf8'));
  if (!read.ok) throw new Error('the panel does not parse');
  return read.model;
}

const list = tonightOf(panel('narrow-tail'));
const at = (holds: (kind: string, what: string) => boolean): number =>
  list.acts.findIndex((a) => holds(a.kind, a.what));

test('the six doublers come first, then the readings that decide M2 and M6, then metal', () => {
  const [first, ...others] = list.acts;
  expect(first).toMatchObject({ kind: 'make', parts: ['D2', 'D3', 'D4', 'D5', 'D6', 'D7'] });
  expect(others.slice(0, 2).map((a) => a.kind)).toEqual(['read', 'read']);
  const metal = list.acts.filter((a) => a.phase === 'metal');
  expect(metal.map((a) => a.parts[0])).toEqual(['M2', 'M6']);
  for (const act of metal) {
    const decided = list.acts.filter((a) => act.after.includes(a.n) && a.kind === 'read');
    expect(decided.length).toBeGreaterThan(0);
    expect(act.after).toContain(1);
  }
});

test('then it is stood up, read anew, squared, packed, and read again what that made stale', () => {
  const order = [
    at((_, what) => what.startsWith('Make M6')),
    at((_, what) => what.startsWith('Stand it up')),
    at((_, what) => what.includes('height over the bench')),
    at((kind) => kind === 'square'),
    at((kind) => kind === 'pack'),
    list.acts.findIndex((a) => a.phase === 'again'),
  ];
  expect(order).toEqual([...order].sort((a, b) => a - b));
  expect(Math.min(...order)).toBeGreaterThan(0);
});

test('nothing is drilled yet, and why is said', () => {
  expect(list.drill.yes).toBe(false);
  expect(list.drill.why).toContain('F6 h2 is in doubt');
  expect(list.acts.every((a) => a.kind !== 'drill' && a.kind !== 'open')).toBe(true);
});

test('packs and squaring say that pins come out first, for the webs are piloted', () => {
  for (const act of list.acts.filter((a) => a.kind === 'pack' || a.kind === 'square'))
    expect(act.what).toMatch(/^Pins out; then /);
});

test('the headline names the doublers, counts the readings, and says that nothing is drilled', () => {
  expect(list.sentence).toMatch(
    /^Tonight: make six doublers anew at an easier bend, read (two|three|four|five|six) sizes.* Drill nothing yet\.$/,
  );
});

test('an evening of an hour keeps the first act and says how the panel is left', () => {
  const short = tonightOf(panel('narrow-tail'), { hours: 1 });
  expect(short.acts.map((a) => a.n)).toEqual([1]);
  expect([...short.acts, ...short.later].map((a) => a.n)).toEqual(list.acts.map((a) => a.n));
  expect(short.sentence).toContain('Leave the parts loose and marked.');
});
