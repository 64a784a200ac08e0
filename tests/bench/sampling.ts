import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { BLOCK, directions, SOBOL_DIMENSIONS } from '../../src/chains/sampling.ts';
import { merged, sampleAnswer, sampled, type SampleOptions, type Tally } from '../../src/checks/jointSample.ts';
import { samplePlan, type SamplePlan, rearranged } from '../../src/checks/samplePlan.ts';
import { parseModel } from '../../src/model/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { repeated } from './repeat.ts';

/*
 * Joint sampling of an 80-station panel: here, in C doing block for block the same, and shared by two workers; and how
 * much sooner Sobol points tell a chance to 0.1 % than pseudo-random ones. Ratios count, milliseconds do not.
 */

function open(name: string): Model {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not parse`);
  return read.model;
}

function run(plan: SamplePlan, options: SampleOptions): Tally {
  const g = sampled(plan, options);
  let step = g.next();
  while (!step.done) step = g.next();
  return step.value;
}

/** The plain sums of a plan alone: what the C does too. */
function sumsOnly(plan: SamplePlan): SamplePlan {
  const keep = plan.steps.flatMap((s, i) => (s.kind === 'sum' ? [i] : []));
  const pick = (a: Float64Array, each: number): Float64Array => Float64Array.from(keep.flatMap((i) => [...a.subarray(i * each, (i + 1) * each)]));
  return rearranged(plan, { ids: keep.map((i) => plan.ids[i]!), acts: Uint8Array.from(keep, (i) => plan.acts[i]!), steps: keep.map((i) => plan.steps[i]!), bounds: pick(plan.bounds, 4), bins: pick(plan.bins, 2), kinks: [] });
}

const sum = (a: Uint32Array | Float64Array): number => {
  let total = 0;
  for (const v of a) total += v;
  return total;
};
/** Least milliseconds of processor time of several runs: what else the machine does should not count. */
const least = (runs: number, job: () => void): number => {
  let best = Number.POSITIVE_INFINITY;
  for (let i = 0; i < runs; i++) {
    const t = process.cpuUsage();
    job();
    const { user, system } = process.cpuUsage(t);
    best = Math.min(best, (user + system) / 1000);
  }
  return best;
};

/** Milliseconds and counts of the C twin, or undefined where there is no compiler. */
function inC(plan: SamplePlan, options: Required<Pick<SampleOptions, 'seed' | 'points' | 'replicates'>>): { ms: number; counts: number[] } | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'sampling-'));
  try {
    const program = join(folder, 'sampling');
    if (spawnSync('cc', ['-O3', '-o', program, fileURLToPath(new URL('./sampling.c', import.meta.url)), '-lm']).status !== 0) return undefined;
    const { causes, sums } = plan;
    const sobol = Math.min(causes.count, SOBOL_DIMENSIONS);
    const rows = Int32Array.from(plan.steps, (s) => (s.kind === 'sum' ? s.row : 0));
    const ints = [Int32Array.of(causes.count, sums.outputs, sums.cause.length, plan.ids.length, sobol, Math.ceil(options.points / BLOCK), options.replicates, options.seed), directions(sobol), Int32Array.from(causes.rectangular), sums.start, sums.cause, rows];
    const words = ints.reduce((n, a) => n + a.length, 0);
    if (words % 2) ints.push(Int32Array.of(0));
    const bytes = [...ints, sums.weight, sums.base, plan.bounds].map((a) => Buffer.from(a.buffer, a.byteOffset, a.byteLength));
    writeFileSync(join(folder, 'plan'), Buffer.concat(bytes));
    const done = spawnSync(program, [join(folder, 'plan')], { encoding: 'utf8' });
    if (done.status !== 0) return undefined;
    const [ms, ...counts] = done.stdout.trim().split(' ').map(Number) as [number, ...number[]];
    return { ms, counts };
  } finally {
    rmSync(folder, { recursive: true, force: true });
  }
}

async function shared(plan: SamplePlan, options: SampleOptions, parts: number): Promise<{ ms: number; tally: Tally }> {
  // A worker reads TypeScript only after the loader is registered in it.
  const start = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(new URL('./samplingWorker.ts', import.meta.url).href)}); });`;
  const workers = Array.from({ length: parts }, () => new Worker(start, { eval: true }));
  const ask = <T>(w: Worker, message: unknown): Promise<T> => new Promise((done, fail) => { w.once('message', done); w.once('error', fail); w.postMessage(message); });
  try {
    await Promise.all(workers.map((w) => ask(w, { plan, options: undefined })));
    let ms = Number.POSITIVE_INFINITY;
    let tally: Tally | undefined;
    for (let go = 0; go < 5; go++) {
      const t = performance.now();
      const tallies = await Promise.all(workers.map((w, part) => ask<Tally>(w, { options: { ...options, share: { part, parts } } })));
      tally = merged(tallies);
      ms = Math.min(ms, performance.now() - t);
    }
    return { ms, tally: tally! };
  } finally {
    await Promise.all(workers.map((w) => w.terminate()));
  }
}

/** How much faster two threads are than one at a loop that shares nothing: what this machine has to give just now. */
async function bareThreads(): Promise<number> {
  const loop = "require('node:worker_threads').parentPort.on('message', (n) => { let x = 0; for (let i = 0; i < n; i++) x += Math.sqrt(i); require('node:worker_threads').parentPort.postMessage(x); })";
  const workers = [0, 1].map(() => new Worker(loop, { eval: true }));
  const ask = (w: Worker, n: number): Promise<unknown> => new Promise((done) => { w.once('message', done); w.postMessage(n); });
  const timed = async (parts: number): Promise<number> => {
    let ms = Number.POSITIVE_INFINITY;
    for (let go = 0; go < 4; go++) {
      const t = performance.now();
      await Promise.all(workers.slice(0, parts).map((w) => ask(w, 2e8 / parts)));
      ms = Math.min(ms, performance.now() - t);
    }
    return ms;
  };
  const ratio = (await timed(1)) / (await timed(2));
  await Promise.all(workers.map((w) => w.terminate()));
  return ratio;
}

/** One replicate as the app draws it, or plainly: pseudo-random points, every sample counted whole. */
const as = (kind: 'sobol' | 'random', seed: number, points: number): SampleOptions => ({ seed, points, replicates: 1, kind, histograms: false, whole: kind === 'sobol' ? 'product' : 'counted' });

/** Root mean square error of a chance over seeds, one replicate each. */
function scatter(plan: SamplePlan, points: number, kind: 'sobol' | 'random', truth: number, of: (t: Tally) => number): number {
  const seeds = 32;
  let squares = 0;
  for (let seed = 1; seed <= seeds; seed++) squares += (of(run(plan, as(kind, seed, points))) / points - truth) ** 2;
  return Math.sqrt(squares / seeds);
}

/** Samples to an error of 0.1 %, from how the error falls over a few sizes, and how long they take. */
function reach(plan: SamplePlan, of: (t: Tally) => number, truth: number, kind: 'sobol' | 'random'): { samples: number; ms: number } {
  const logs = [11, 12, 13, 14].map((p) => [p * Math.LN2, Math.log(Math.max(1e-9, scatter(plan, 2 ** p, kind, truth, of)))] as const);
  const mx = logs.reduce((s, [x]) => s + x, 0) / logs.length;
  const my = logs.reduce((s, [, y]) => s + y, 0) / logs.length;
  const slope = kind === 'random' ? -0.5 : Math.min(-0.4, logs.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0) / logs.reduce((s, [x]) => s + (x - mx) ** 2, 0));
  const samples = Math.exp(mx + (Math.log(1e-3) - my) / slope);
  const n = 1 << 13;
  const ms = (least(3, () => void run(plan, as(kind, 1, n))) * samples) / n;
  return { samples, ms };
}

export function toThousandth(): void {
  const model = open('narrow-tail');
  const plan = sumsOnly(samplePlan(model));
  console.log('\nsamples to 0.1 % of a chance        Sobol    random   ratio   time ratio');
  const print = (name: string, p: SamplePlan, of: (t: Tally) => number, truth: number): void => {
    const [s, r] = [reach(p, of, truth, 'sobol'), reach(p, of, truth, 'random')];
    console.log(`${name.padEnd(32)}${Math.round(s.samples).toString().padStart(9)}${Math.round(r.samples).toString().padStart(10)}${(r.samples / s.samples).toFixed(1).padStart(8)}${(r.ms / s.ms).toFixed(1).padStart(13)}`);
  };
  const f = plan.ids.indexOf('chord-gap:M5');
  const exact = samplePlanChance(plan, (t) => sum(t.beyond.filter((_, i) => i % plan.ids.length === f)));
  print('one gap (M5 between the webs)', plan, (t) => t.beyond[f]!, exact);
  // The whole panel with every act threshold moved out until about half of all samples pass.
  const bounds = plan.bounds.slice();
  plan.ids.forEach((_, i) => {
    const middle = plan.bins[2 * i]! + 256 * plan.bins[2 * i + 1]!;
    const u = (256 * plan.bins[2 * i + 1]!) / 6;
    const band = [middle - 3 * u - 1e-3, middle + 3 * u + 1e-3];
    bounds.set([...band, ...band], 4 * i);
  });
  const wide = rearranged(plan, { bounds });
  print('the whole panel', wide, (t) => t.noneBeyond[0]!, samplePlanChance(wide, (t) => sum(t.noneBeyond)));
}

/** A chance from a long run with another seed. */
function samplePlanChance(plan: SamplePlan, of: (t: Tally) => number): number {
  const t = run(plan, { seed: 999, points: 1 << 16, replicates: 8, histograms: false });
  return of(t) / t.samples.reduce((a, b) => a + b, 0);
}

export async function samplingBench(): Promise<void> {
  const model = repeated(open('narrow-tail'), 80);
  const whole = samplePlan(model);
  const plan = sumsOnly(whole);
  const options = { seed: 4, points: 4096, replicates: 4, histograms: false };
  const samples = options.points * options.replicates;
  let tally = run(plan, options);
  const here = least(7, () => { tally = run(plan, options); });
  console.log(`\njoint sampling, 80 stations: ${plan.causes.count} causes (${plan.beyondTable} past the Sobol table), ${plan.ids.length} plain sums, ${samples} samples`);
  console.log(`Node, one thread: ${here.toFixed(0)} ms`);
  const c = inC(plan, options);
  if (c) {
    const same = [sum(tally.beyond), sum(tally.noneBeyond), sum(tally.allFit)];
    const off = Math.max(...same.map((v, i) => Math.abs(v - c.counts[i]!)));
    console.log(`C, -O3: ${c.ms.toFixed(0)} ms; Node is ${(here / c.ms).toFixed(2)} times C (aim: at most 1.5); counts ${off === 0 ? 'the same' : `differ by ${off} of ${same[0]}`}`);
  } else console.log('no C compiler here');
  const [one, two] = [await shared(plan, options, 1), await shared(plan, options, 2)];
  console.log(`workers: one ${one.ms.toFixed(0)} ms, two ${two.ms.toFixed(0)} ms, ${(one.ms / two.ms).toFixed(2)} times as fast (aim: at least 1.8; a bare loop split in two: ${(await bareThreads()).toFixed(2)}); same counts: ${sum(two.tally.beyond) === sum(tally.beyond)}`);
  const full = least(2, () => void run(whole, { ...options, histograms: true }));
  console.log(`with holes, seats and histograms: ${full.toFixed(0)} ms; ${sampleAnswer(whole, run(whole, options)).sentence}`);
  toThousandth();
}
