import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { type OwnApp, openOwnApp } from '../browser/open-app.ts';
import { checksRows } from './checks.ts';
import { closing, marksOf, type Recorded, ratiosOf } from './compare.ts';
import { cureRows } from './cure.ts';
import { holesRows } from './holes.ts';
import { hourRows } from './hour.ts';
import { type Part, type Row, type Said, tableText } from './rows.ts';
import { samplingRows } from './sampling.ts';
import { firstScreenRows, screenRows } from './screen.ts';
import { sizesRows } from './sizes.ts';
import { solidsRows } from './solids.ts';
import { studyRows } from './study.ts';
import { waitsRows } from './waits.ts';

/*
 * Speed, size and memory in one table: every figure beside a yardstick measured in the same run, so that the ratios travel
 * between machines. A report, never a gate.
 *   npm run bench                        about ten minutes, set against tests/bench/recorded.json
 *   npm run bench -- --record            the same, and records its ratios
 *   npm run bench -- --long              a thousand made-up panels, an hour's 3,000 actions, a patient general solver: about an hour
 *   npm run bench -- --only=checks,sizes some parts alone
 */

const RECORDED = new URL('./recorded.json', import.meta.url);
const asked = process.argv.slice(2);
const [record, long] = [asked.includes('--record'), asked.includes('--long')];
const only = asked
  .find((a) => a.startsWith('--only='))
  ?.slice('--only='.length)
  .split(',');

function open(name: string): Model {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not parse`);
  return read.model;
}

const tell = (words: string): void => void process.stderr.write(`  ${words}\n`);
const panelA = open('narrow-tail');

/** The built app, opened once for all that is done in a browser. */
let app: Promise<OwnApp> | undefined;
const opened = (): Promise<OwnApp> => (app ??= openOwnApp());

type Rows = readonly (Row | Said)[];
/** Each part: its name, how many minutes it may take before the others go on without it (on a quiet machine it takes a tenth of that), and its rows. */
const PARTS: readonly (readonly [name: string, minutes: number, rows: () => Promise<Rows> | Rows])[] = [
  ['checks', 10, () => checksRows(panelA)],
  ['holes', 10, () => holesRows(panelA)],
  ['solids', 15, () => solidsRows(panelA)],
  ['sampling', 15, () => samplingRows(panelA)],
  ['cure', long ? 60 : 10, () => cureRows(panelA, long ? 60 : 10)],
  ['study', 90, () => studyRows(panelA, long ? 1000 : 12)],
  ['waits', 5, () => waitsRows(panelA)],
  ['sizes', 5, () => sizesRows()],
  ['first screen', 5, async () => firstScreenRows(await opened())],
  ['screen', 15, async () => screenRows(await opened(), panelA)],
  ['memory', long ? 120 : 20, async () => hourRows(await opened(), long ? 3000 : 900, 'plan', tell)],
  ['memory in 3D', long ? 120 : 20, async () => hourRows(await opened(), long ? 1200 : 240, '3D', tell)],
];

/** A part's rows; where it fails or hangs in a browser, one row that says so. */
async function measured(minutes: number, rows: () => Promise<Rows> | Rows): Promise<Rows> {
  let late: NodeJS.Timeout | undefined;
  const patience = new Promise<never>((_, fail) => {
    late = setTimeout(() => fail(new Error(`it took more than ${minutes} minutes`)), minutes * 60_000);
  });
  try {
    return await Promise.race([Promise.resolve().then(rows), patience]);
  } catch (e) {
    return [{ what: 'not measured', said: e instanceof Error ? e.message.split('\n')[0]! : String(e) }];
  } finally {
    clearTimeout(late);
  }
}

const parts: Part[] = [];
const from = performance.now();
for (const [name, minutes, rows] of PARTS) {
  if (only && !only.includes(name)) continue;
  const start = performance.now();
  tell(`${name}…`);
  parts.push({ name, rows: await measured(minutes, rows) });
  tell(`${name} took ${((performance.now() - start) / 1000).toFixed(0)} s`);
}
await (await app?.catch(() => undefined))?.close();

const before = existsSync(RECORDED) ? (JSON.parse(readFileSync(RECORDED, 'utf8')) as Recorded) : undefined;
// Rows of parts left out are no loss: they are not looked for.
const beside =
  before && only
    ? {
        ...before,
        ratios: Object.fromEntries(
          Object.entries(before.ratios).filter(([key]) => only.some((name) => key.startsWith(`${name}: `))),
        ),
      }
    : before;
console.log(tableText(parts, beside ? marksOf(parts, beside) : new Map()).join('\n'));
console.log(`\n${closing(parts, beside)}`);
tell(`the whole took ${((performance.now() - from) / 60_000).toFixed(1)} minutes`);
if (record) {
  // A run of some parts takes the place of those rows alone.
  const kept =
    before && only
      ? Object.entries(before.ratios).filter(([key]) => !only.some((name) => key.startsWith(`${name}: `)))
      : [];
  const now: Recorded = {
    date: new Date().toISOString().slice(0, 10),
    node: process.versions.node,
    ratios: { ...Object.fromEntries(kept), ...ratiosOf(parts) },
  };
  writeFileSync(RECORDED, `${JSON.stringify(now, null, 2)}\n`);
  console.log(`Recorded ${Object.keys(ratiosOf(parts)).length} ratios.`);
}
process.exit(0); // whatever a part that was left behind still holds open
