import { readdirSync, readFileSync } from 'node:fs';
import { join, relative } from 'node:path';
import { expect, test } from 'vitest';

/*
 * Places, ids, sentences and keys of sizes are written, never taken apart: where something is, stands in a finding's `at`,
 * in a remedy's `kind` and `part`, in what a size is `of`. A line that takes one apart fails here, unless its file is
 * below with the reason.
 */

const NAMES = 'id|place|sentence|size|key|why|findingId';
const TAKEN_APART = [
  new RegExp(`(?:\\.|\\b)(?:${NAMES})\\b[!?]?\\.(?:split|startsWith|endsWith|slice|replace|match)\\(`),
  new RegExp(`\\.(?:${NAMES})[!?]?\\.includes\\(['\`]`),
  new RegExp(`/\\.(?:test|exec)\\((?:\\w+\\.)*(?:${NAMES})\\)`),
];

/** Names a person typed, or that are no place at all. */
const ALLOWED: Readonly<Record<string, string>> = {
  'model/tables/readingRows.ts': 'an unknown instrument is printed, cut short',
  'model/tables/stationTable.ts': 'columns of a table, named by its own file',
  'model/edits/stationEdits.ts': 'a new part is named as its neighbours are: the number in a mark is the person’s',
  'model/starts/ribsLaid.ts': 'a doubler is named for its rib',
  'app/build/start/Questions.tsx': 'a question of a start, named by its own file',
  'app/drill/Drill.tsx': 'its first letter is made a capital',
  'checks/accepting.ts': 'a person’s own reason, given its full stop',
  'drilling/rowKey.ts': 'letters of a mark, for a key as short as a person would choose',
};

/** Still read off a name: this list may only grow shorter. */
const LEFT: readonly string[] = [
  'app/view3d/Bench.tsx',
  'app/view3d/Labels.tsx',
  'checks/fit/disagreement.ts',
  'drilling/drill.ts',
  'remedies/carried.ts',
  'remedies/offers/moveAsked.ts',
  'remedies/offers/remake.ts',
  'remedies/offers/straight.ts',
  'remedies/offers/swap.ts',
  'remedies/search/alone.ts',
  'remedies/search/cureText.ts',
  'remedies/search/wholes.ts',
  'remedies/touched.ts',
  'sheets/bench/holeLedger.ts',
  'sheets/steps/standHere.ts',
  'sheets/steps/stepPicture.ts',
  'solidChecks/overlap.ts',
  'solidChecks/readOff.ts',
  'solidChecks/surface.ts',
];

const SRC = join(import.meta.dirname, '../src');
const found = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter((f) => f.isFile() && /\.tsx?$/.test(f.name))
  .map((f) => join(f.parentPath, f.name))
  .flatMap((path) =>
    readFileSync(path, 'utf8')
      .split('\n')
      .filter((line) => TAKEN_APART.some((pattern) => pattern.test(line)))
      .map((line) => ({ file: relative(SRC, path).replaceAll('\\', '/'), line: line.trim() })),
  );

test('no place, id, sentence or key is taken apart', () =>
  expect(found.filter(({ file }) => !(file in ALLOWED) && !LEFT.includes(file))).toEqual([]));

test.each([
  "const part = f.place.split(' ')[0];",
  "if (r.id.startsWith('easier:')) return;",
  "const first = f.sentence.split('. ')[0];",
  "if (r.size.endsWith('.along')) turn();",
  'if (/^gap/.test(r.size)) feel();',
])('found: %s', (line) => expect(TAKEN_APART.some((pattern) => pattern.test(line))).toBe(true));
