import { readFileSync } from 'node:fs';
import { gzipSync } from 'node:zlib';
import { checkAll } from '../../src/checks/checkAll.ts';
import { nextReadings } from '../../src/checks/nextReading.ts';
import { applyEdit, measure } from '../../src/model/edits.ts';
import { parseModel } from '../../src/model/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { build } from 'vite';
import { holesBench } from './holes.ts';
import { cureBench } from './cure.ts';
import { repeated } from './repeat.ts';
import { samplingBench } from './sampling.ts';
import { study } from './study.ts';
import { screen } from './screen.ts';
import { solids } from './solids.ts';

/*
 * Figures, never a gate: how the checks grow with the panel, what a keystroke costs, what the first screen loads.
 * Ratios within one run mean more than milliseconds.
 */

function open(name: string): Model {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not parse`);
  return read.model;
}

/** Median milliseconds of `runs` runs after two warm-up runs. */
function median(runs: number, job: () => void): number {
  job();
  job();
  const times: number[] = [];
  for (let i = 0; i < runs; i++) {
    const t = performance.now();
    job();
    times.push(performance.now() - t);
  }
  return times.sort((a, b) => a - b)[Math.floor(runs / 2)]!;
}

function growth(): void {
  const base = open('narrow-tail');
  console.log('checkAll, panel A repeated      stations  findings      ms    us/station');
  const points: [number, number][] = [];
  for (const [n, runs] of [[8, 60], [80, 30], [800, 7], [8000, 3]] as const) {
    const model = repeated(base, n);
    let found = 0;
    const ms = median(runs, () => {
      found = checkAll({ ...model, ribs: [...model.ribs] }).length; // a fresh Model: nothing remembered
    });
    points.push([Math.log(model.stations.length), Math.log(ms)]);
    console.log(`${String(model.stations.length).padStart(40)}${String(found).padStart(10)}${ms.toFixed(2).padStart(8)}${((ms * 1000) / model.stations.length).toFixed(1).padStart(14)}`);
  }
  const [x1, y1] = points[1]!;
  const [x2, y2] = points[points.length - 1]!;
  console.log(`growth exponent, 80 to 8000 stations: ${((y2 - y1) / (x2 - x1)).toFixed(3)} (aim: at most 1.1)`);
}

function keystroke(): void {
  let model = repeated(open('narrow-tail'), 80);
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  let v = 83.1;
  const ms = median(40, () => {
    v += 0.01;
    const done = applyEdit(model, measure(model, key, [v], { instrument: 'caliper' }));
    if (!done.ok) throw new Error(done.faults[0]?.sentence);
    model = done.model;
    checkAll(model);
  });
  console.log(`\nkeystroke on 80 stations, edit to all findings: ${ms.toFixed(2)} ms = ${(ms / 16.7).toFixed(2)} of a frame (aim: under 1)`);
}

/** Ranking what to measure next, once the findings are there. */
function ranking(): void {
  const model = repeated(open('narrow-tail'), 80);
  const findings = checkAll(model);
  let found = 0;
  const ms = median(20, () => { found = nextReadings(model, findings).list.length; });
  console.log(`which reading next on 80 stations: ${ms.toFixed(1)} ms for ${found} readings (aim: under 100)`);
}

async function chunks(): Promise<void> {
  const made = await build({ logLevel: 'error', build: { write: false } });
  const output = (Array.isArray(made) ? made : [made]).flatMap((m) => ('output' in m ? m.output : []));
  const byName = new Map(output.map((f) => [f.fileName, f]));
  // What the page loads before it can paint: its entry and everything that imports at once.
  const first = new Set<string>();
  const reach = (name: string): void => {
    const file = byName.get(name);
    if (first.has(name) || file?.type !== 'chunk') return;
    first.add(name);
    file.imports.forEach(reach);
  };
  output.forEach((f) => f.type === 'chunk' && f.isEntry && reach(f.fileName));
  console.log('\nbrowser files                                   kB    gzip kB');
  const sum = { kB: 0, gzip: 0 };
  for (const file of output) {
    const bytes = Buffer.from(file.type === 'chunk' ? file.code : file.source);
    const [kB, gzip] = [bytes.length / 1000, gzipSync(bytes).length / 1000];
    if (first.has(file.fileName)) {
      sum.kB += kB;
      sum.gzip += gzip;
    }
    console.log(`${file.fileName.padEnd(42)}${kB.toFixed(1).padStart(8)}${gzip.toFixed(1).padStart(11)}${first.has(file.fileName) ? '  first screen' : ''}`);
  }
  console.log(`${'first screen, scripts together'.padEnd(42)}${sum.kB.toFixed(1).padStart(8)}${sum.gzip.toFixed(1).padStart(11)}`);
}

growth();
keystroke();
ranking();
holesBench(open('narrow-tail'));
await solids(open('narrow-tail'));
if (!process.env.NOSCREEN) await screen(open('narrow-tail'));
await samplingBench();
await cureBench(open('narrow-tail'));
// A thousand panels take a quarter of an hour: STUDY=1000.
study(Number(process.env.STUDY ?? 100));
if (!process.env.NOCHUNK) await chunks();
