import { expect, test } from 'vitest';
import { nextReadings } from '../src/chance/nextReading.ts';
import { checkAll } from '../src/checks/checkAll.ts';
import { reportOf, reportText } from '../src/checks/report.ts';
import { gatesOf } from '../src/drilling/gates.ts';
import { ledgerOf, ledgerText } from '../src/drilling/ledger.ts';
import { parseModel } from '../src/model/file/parse.ts';
import { writeModel } from '../src/model/file/write.ts';
import type { Model } from '../src/model/schema.ts';
import { STARTS, startPanel } from '../src/model/starts/starts.ts';
import { readingsTable } from '../src/model/tables/readingTable.ts';
import { SHEETS } from '../src/sheets/all.ts';
import { stepsOf } from '../src/sheets/steps/steps.ts';
import { COUNTS } from './counts.ts';
import { PANELS, textOf } from './model/panels.ts';
import { Draw, randomPanel } from './random-panel.ts';
import { BROKEN, unsound } from './unsound.ts';

/*
 * A panel with numbers damaged at random is refused in sentences, or everything is answered and printed: no number that is
 * none, no word that is missing, nothing thrown. A law, no expected values.
 */

type Path = readonly (string | number)[];
// biome-ignore lint/suspicious/noExplicitAny: a file that is to be wrong has no type
type Plain = any;

const STARTED = STARTS.flatMap((start) => {
  const panel = startPanel(start, {});
  return panel.ok ? [writeModel(panel.model)] : [];
});
const KEPT = [...PANELS.map(textOf), ...STARTED];

/** Every number of a file, by what it is: `ribs.#.length` has one path a rib. */
function numbersOf(file: Plain): Map<string, Path[]> {
  const found = new Map<string, Path[]>();
  const walk = (value: Plain, path: Path): void => {
    if (typeof value === 'number') {
      const what = path.map((p) => (typeof p === 'number' ? '#' : p)).join('.');
      found.set(what, [...(found.get(what) ?? []), path]);
    } else if (value !== null && typeof value === 'object') {
      const inner: [string | number, Plain][] = Array.isArray(value) ? [...value.entries()] : Object.entries(value);
      for (const [k, v] of inner) walk(v, [...path, k]);
    }
  };
  walk(file, []);
  found.delete('version');
  return found;
}

/** What a number is damaged to: nothing, next to nothing, the other sign, slips of point and unit, the ends of what is taken. */
const damagedTo = (was: number): number[] => [
  ...[0, 1e-9, 1e-320, 0.3, 60, 500, 6000],
  ...[-1, 0.001, 0.1, 1 / 25.4, 0.5, 2, 10, 25.4, 1000].map((k) => k * was),
];

/** A panel file with one to three of its numbers damaged; most readings were asked about and confirmed. */
function damagedFile(d: Draw, seed: number): { readonly text: string; readonly did: string } {
  const file: Plain = JSON.parse(d.chance(0.5) ? d.one(KEPT) : writeModel(randomPanel(seed)));
  const numbers = numbersOf(file);
  const did: string[] = [];
  for (let i = d.one([1, 1, 2, 3]); i > 0; i--) {
    const path = d.one(numbers.get(d.one([...numbers.keys()]))!);
    const group = path.slice(0, -1).reduce((at: Plain, p) => at[p], file);
    const leaf = path.at(-1)!;
    const to = d.one(damagedTo(group[leaf]));
    did.push(`${path.join('.')}: ${group[leaf]} to ${to}`);
    group[leaf] = to;
  }
  for (const r of file.readings) if (d.chance(0.7)) r.sure = true;
  return { text: JSON.stringify(file), did: `${file.name}, ${did.join(', ')}` };
}

/** All that is printed of a panel, in text and in data. */
function* printedOf(model: Model): Generator<readonly [what: string, answer: unknown]> {
  const findings = checkAll(model);
  yield ['findings', reportText(model, findings, true)];
  yield ['findings as data', reportOf(model, findings)];
  yield ['holes', ledgerText(model)];
  yield ['holes as data', ledgerOf(model)];
  yield ['gates', gatesOf(model).flatMap(({ items }) => items.map((i) => [i.says, i.first, i.note ?? '']))];
  yield ['what to read next', nextReadings(model)];
  yield ['readings', readingsTable(model, 'in')];
  yield ['steps', stepsOf(model)];
  for (const sheet of SHEETS) yield [sheet.title, sheet.build({ model, date: '2026-06-20', paper: 'a4' })];
}

test(`${COUNTS.panels} panels with damaged numbers: refused in sentences, or all of them printed`, () => {
  let taken = 0;
  for (let seed = 1; seed <= COUNTS.panels; seed++) {
    const { text, did } = damagedFile(new Draw(seed), seed);
    const read = parseModel(text);
    if (!read.ok) {
      for (const f of read.faults) expect(f.sentence, did).not.toMatch(BROKEN);
      continue;
    }
    taken++;
    for (const [what, answer] of printedOf(read.model)) {
      expect(JSON.stringify(answer), `${seed} ${what} of ${did}`).not.toMatch(BROKEN);
      if (typeof answer !== 'string') expect(unsound(answer), `${seed} ${what} of ${did}`).toEqual([]);
    }
  }
  expect(taken).toBeGreaterThan(COUNTS.panels / 5);
});
