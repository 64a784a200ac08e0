import { spawnSync } from 'node:child_process';
import { mkdtempSync, readdirSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import { Worker } from 'node:worker_threads';
import { build } from 'vite';
import { BLOCK, directions, INVERSE } from '../../src/chains/sampling.ts';
import { type SampleOptions, sampled } from '../../src/chance/jointSample.ts';
import { sampleAnswer } from '../../src/chance/sampleAnswer.ts';
import { rearranged, type SamplePlan, samplePlan } from '../../src/chance/samplePlan.ts';
import { merged, type Tally } from '../../src/chance/tally.ts';
import type { Model } from '../../src/model/schema.ts';
import { repeated } from './repeat.ts';
import type { Row, Said } from './rows.ts';
import { least, PLAIN, plainLoop } from './yardstick.ts';

/*
 * Joint sampling of an 80-station panel: here, in C doing block for block the same, and shared by two workers; and how
 * much sooner Sobol points tell a chance to 0.1 % than pseudo-random ones. Ratios count, milliseconds do not.
 */

function run(plan: SamplePlan, options: SampleOptions): Tally {
  const g = sampled(plan, options);
  let step = g.next();
  while (!step.done) step = g.next();
  return step.value;
}

/** The plain sums of a plan alone: what the C does too. */
function sumsOnly(plan: SamplePlan): SamplePlan {
  const keep = plan.steps.flatMap((s, i) => (s.kind === 'sum' ? [i] : []));
  const pick = (a: Float64Array, each: number): Float64Array =>
    Float64Array.from(keep.flatMap((i) => [...a.subarray(i * each, (i + 1) * each)]));
  return rearranged(plan, {
    ids: keep.map((i) => plan.ids[i]!),
    acts: Uint8Array.from(keep, (i) => plan.acts[i]!),
    steps: keep.map((i) => plan.steps[i]!),
    bounds: pick(plan.bounds, 4),
    bins: pick(plan.bins, 2),
    kinks: [],
  });
}

const sum = (a: Uint32Array | Float64Array): number => {
  let total = 0;
  for (const v of a) total += v;
  return total;
};

/** The C twin, compiled and given a plan; each call runs it three times and gives the least milliseconds and the counts. Undefined where there is no compiler. */
function inC(
  plan: SamplePlan,
  options: Required<Pick<SampleOptions, 'seed' | 'points' | 'replicates'>>,
): { run: () => { ms: number; counts: number[] }; close: () => void } | undefined {
  const folder = mkdtempSync(join(tmpdir(), 'sampling-'));
  const close = (): void => rmSync(folder, { recursive: true, force: true });
  const program = join(folder, 'sampling');
  if (
    spawnSync('cc', ['-O3', '-o', program, fileURLToPath(new URL('./sampling.c', import.meta.url)), '-lm']).status !== 0
  ) {
    close();
    return undefined;
  }
  const { causes, sums, clusters } = plan;
  const dimension = causes.dimension ?? new Int32Array(causes.count);
  const dimensions = Math.max(...dimension) + 1;
  const rows = Int32Array.from(plan.steps, (s) => (s.kind === 'sum' ? s.row : 0));
  const ints = [
    Int32Array.of(
      causes.count,
      sums.outputs,
      sums.cause.length,
      plan.ids.length,
      dimensions,
      Math.ceil(options.points / BLOCK),
      options.replicates,
      options.seed,
      clusters.start.length - 1,
      INVERSE.length,
    ),
    directions(dimensions),
    Int32Array.from(causes.rectangular),
    dimension,
    sums.start,
    clusters.split,
    sums.cause,
    rows,
    clusters.order,
    clusters.start,
  ];
  if (ints.reduce((n, a) => n + a.length, 0) % 2) ints.push(Int32Array.of(0));
  const bytes = [...ints, sums.weight, sums.base, plan.bounds, INVERSE].map((a) =>
    Buffer.from(a.buffer, a.byteOffset, a.byteLength),
  );
  writeFileSync(join(folder, 'plan'), Buffer.concat(bytes));
  const run = (): { ms: number; counts: number[] } => {
    const done = spawnSync(program, [join(folder, 'plan')], { encoding: 'utf8' });
    if (done.status !== 0) throw new Error('the C twin failed');
    const [ms, ...counts] = done.stdout.trim().split(' ').map(Number) as [number, ...number[]];
    return { ms, counts };
  };
  return { run, close };
}

/** The same run in Chromium, by a worker of a page of its own; a sentence where there is no browser. */
async function inChromium(
  plan: SamplePlan,
  options: SampleOptions,
): Promise<{ run: () => Promise<number>; close: () => Promise<void> } | string> {
  const folder = mkdtempSync(join(tmpdir(), 'sampling-page-'));
  try {
    const { chromium } = await import('playwright-core');
    const { findBrowser, FLAGS } = await import('../browser/find-browser.ts');
    const file = fileURLToPath(new URL('../../src/chance/jointSample.ts', import.meta.url));
    await build({
      configFile: false,
      logLevel: 'error',
      build: {
        outDir: folder,
        minify: true,
        target: 'es2022',
        lib: { entry: file, formats: ['iife'], name: 'engine', fileName: 'sampling' },
      },
    });
    const code = readFileSync(join(folder, readdirSync(folder).find((f) => /^sampling/.test(f))!), 'utf8');
    const browser = await chromium.launch({ executablePath: await findBrowser(), args: FLAGS });
    const page = await browser.newPage();
    const text = JSON.stringify(plan, (_, v: unknown) =>
      v instanceof Float64Array || v instanceof Int32Array || v instanceof Uint8Array
        ? { typed: v.constructor.name, values: Array.from(v, String) }
        : v,
    );
    // Everything goes in as text: a page that got functions would get this file's own build of them.
    const body = `${code}
      const made = { Float64Array, Int32Array, Uint8Array };
      const plan = JSON.parse(${JSON.stringify(text)}, (k, v) => (v && v.typed ? made[v.typed].from(v.values, Number) : v));
      onmessage = () => {
        const t = performance.now();
        const g = engine.sampled(plan, ${JSON.stringify(options)});
        let s = g.next();
        while (!s.done) s = g.next();
        postMessage(performance.now() - t);
      };`;
    await page.evaluate(
      `window.worker = new Worker(URL.createObjectURL(new Blob([${JSON.stringify(body)}], { type: 'text/javascript' }))); 0`,
    );
    const once =
      'new Promise((done, fail) => { worker.onmessage = (e) => done(e.data); worker.onerror = (e) => fail(new Error(e.message)); worker.postMessage(0); })';
    return {
      run: () => page.evaluate<number>(once),
      close: async () => {
        await browser.close();
        rmSync(folder, { recursive: true, force: true });
      },
    };
  } catch (e) {
    rmSync(folder, { recursive: true, force: true });
    return `not measured: ${e instanceof Error ? e.message.split('\n')[0]! : String(e)}`;
  }
}

const median = (values: readonly number[]): number => [...values].sort((a, b) => a - b)[values.length >> 1]!;

/** A run shared by workers: least milliseconds by the clock, and of processor time of all threads together, which says what they would do with a core each. */
async function shared(
  plan: SamplePlan,
  options: SampleOptions,
  parts: number,
): Promise<{ ms: number; busy: number; tally: Tally }> {
  // A worker reads TypeScript only after the loader is registered in it.
  const start = `import('tsx/esm/api').then(({ register }) => { register(); return import(${JSON.stringify(new URL('./samplingWorker.ts', import.meta.url).href)}); });`;
  const workers = Array.from({ length: parts }, () => new Worker(start, { eval: true }));
  const ask = <T>(w: Worker, message: unknown): Promise<T> =>
    new Promise((done, fail) => {
      w.once('message', done);
      w.once('error', fail);
      w.postMessage(message);
    });
  try {
    await Promise.all(workers.map((w) => ask(w, { plan, options: undefined })));
    let [ms, busy] = [Number.POSITIVE_INFINITY, Number.POSITIVE_INFINITY];
    let tally: Tally | undefined;
    for (let go = 0; go < 5; go++) {
      const t = performance.now();
      const used = process.cpuUsage();
      const tallies = await Promise.all(
        workers.map((w, part) => ask<Tally>(w, { options: { ...options, share: { part, parts } } })),
      );
      tally = merged(tallies);
      ms = Math.min(ms, performance.now() - t);
      const { user, system } = process.cpuUsage(used);
      busy = Math.min(busy, (user + system) / 1000);
    }
    return { ms, busy, tally: tally! };
  } finally {
    await Promise.all(workers.map((w) => w.terminate()));
  }
}

/** How much faster two threads are than one at a loop that shares nothing: what this machine has to give just now. */
async function bareThreads(): Promise<number> {
  const loop =
    "require('node:worker_threads').parentPort.on('message', (n) => { let x = 0; for (let i = 0; i < n; i++) x += Math.sqrt(i); require('node:worker_threads').parentPort.postMessage(x); })";
  const workers = [0, 1].map(() => new Worker(loop, { eval: true }));
  const ask = (w: Worker, n: number): Promise<unknown> =>
    new Promise((done) => {
      w.once('message', done);
      w.postMessage(n);
    });
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
const as = (kind: 'sobol' | 'random', seed: number, points: number): SampleOptions => ({
  seed,
  points,
  replicates: 1,
  kind,
  histograms: false,
  whole: kind === 'sobol' ? 'product' : 'counted',
});

/** Root mean square error of a chance over seeds, one replicate each. */
function scatter(
  plan: SamplePlan,
  points: number,
  kind: 'sobol' | 'random',
  truth: number,
  of: (t: Tally) => number,
): number {
  const seeds = 32;
  let squares = 0;
  for (let seed = 1; seed <= seeds; seed++) squares += (of(run(plan, as(kind, seed, points))) / points - truth) ** 2;
  return Math.sqrt(squares / seeds);
}

/** Samples to an error of 0.1 %, from how the error falls over a few sizes, and how long they take. */
function reach(
  plan: SamplePlan,
  of: (t: Tally) => number,
  truth: number,
  kind: 'sobol' | 'random',
): { samples: number; ms: number } {
  const logs = [11, 12, 13, 14].map(
    (p) => [p * Math.LN2, Math.log(Math.max(1e-9, scatter(plan, 2 ** p, kind, truth, of)))] as const,
  );
  const mx = logs.reduce((s, [x]) => s + x, 0) / logs.length;
  const my = logs.reduce((s, [, y]) => s + y, 0) / logs.length;
  const slope =
    kind === 'random'
      ? -0.5
      : Math.min(
          -0.4,
          logs.reduce((s, [x, y]) => s + (x - mx) * (y - my), 0) / logs.reduce((s, [x]) => s + (x - mx) ** 2, 0),
        );
  const samples = Math.exp(mx + (Math.log(1e-3) - my) / slope);
  const n = 1 << 13;
  const ms = (least(3, () => void run(plan, as(kind, 1, n))) * samples) / n;
  return { samples, ms };
}

function thousandthRows(plan: SamplePlan): Row[] {
  const row = (name: string, p: SamplePlan, of: (t: Tally) => number, truth: number): Row[] => {
    const [s, r] = [reach(p, of, truth, 'sobol'), reach(p, of, truth, 'random')];
    const note = `${Math.round(s.samples)} samples where random ones need ${Math.round(r.samples)}`;
    return [
      {
        what: `samples to 0.1 % of a chance, ${name}`,
        figure: s.samples,
        unit: 'samples',
        ratio: s.samples / r.samples,
        against: 'pseudo-random points',
        sense: 'amount',
        note,
      },
      {
        what: `time to 0.1 % of a chance, ${name}`,
        figure: s.ms,
        unit: 'ms',
        ratio: s.ms / r.ms,
        against: 'pseudo-random points',
        sense: 'time',
      },
    ];
  };
  const f = plan.ids.indexOf('chord-gap:M5');
  const exact = samplePlanChance(plan, (t) => sum(t.beyond.filter((_, i) => i % plan.ids.length === f)));
  // The whole panel with every act threshold moved out until about half of all samples pass.
  const bounds = plan.bounds.slice();
  plan.ids.forEach((_, i) => {
    const middle = plan.bins[2 * i]! + 256 * plan.bins[2 * i + 1]!;
    const u = (256 * plan.bins[2 * i + 1]!) / 6;
    const band = [middle - 3 * u - 1e-3, middle + 3 * u + 1e-3];
    bounds.set([...band, ...band], 4 * i);
  });
  const wide = rearranged(plan, { bounds });
  return [
    ...row('one gap (M5 between the webs)', plan, (t) => t.beyond[f]!, exact),
    ...row(
      'the whole panel',
      wide,
      (t) => t.noneBeyond[0]!,
      samplePlanChance(wide, (t) => sum(t.noneBeyond)),
    ),
  ];
}

/** A chance from a long run with another seed. */
function samplePlanChance(plan: SamplePlan, of: (t: Tally) => number): number {
  const t = run(plan, { seed: 999, points: 1 << 16, replicates: 8, histograms: false });
  return of(t) / t.samples.reduce((a, b) => a + b, 0);
}

export async function samplingRows(base: Model): Promise<(Row | Said)[]> {
  const model = repeated(base, 80);
  const loop = plainLoop();
  const whole = samplePlan(model);
  const plan = sumsOnly(whole);
  const options = { seed: 4, points: 4096, replicates: 4, histograms: false };
  const about = `${plan.causes.count} causes, ${plan.ids.length} sums, ${options.points * options.replicates} samples`;
  // Rounds by turns, so that what else the machine does weighs on all alike.
  let tally = run(plan, options);
  const c = inC(plan, options);
  const page = await inChromium(plan, options);
  if (typeof page !== 'string') for (let warm = 0; warm < 3; warm++) await page.run();
  const [nodeMs, cMs, pageMs]: [number[], number[], number[]] = [[], [], []];
  let counts: number[] = [];
  for (let round = 0; round < 4; round++) {
    nodeMs.push(
      least(
        3,
        () => {
          tally = run(plan, options);
        },
        0,
      ),
    );
    if (c) {
      const twin = c.run();
      cMs.push(twin.ms);
      counts = twin.counts;
    }
    // The page's own clock runs on while others work: its least of three stands for it.
    if (typeof page !== 'string') pageMs.push(Math.min(await page.run(), await page.run(), await page.run()));
  }
  c?.close();
  if (typeof page !== 'string') await page.close();
  const rows: (Row | Said)[] = [];
  const over = (what: string, ms: readonly number[], note: string): Row => ({
    what,
    figure: median(ms),
    unit: 'ms',
    sense: 'time',
    ...(c
      ? { ratio: median(ms.map((v, i) => v / cMs[i]!)), against: 'C twin, -O3', note }
      : { ratio: median(ms) / loop, against: PLAIN }),
  });
  if (c) {
    const same = [sum(tally.beyond), sum(tally.outside), sum(tally.noneBeyond), sum(tally.allFit)];
    const off = Math.max(...same.map((v, i) => Math.abs(v - counts[i]!)));
    rows.push({
      what: 'the C twin itself, -O3',
      figure: median(cMs),
      unit: 'ms',
      ratio: median(cMs) / loop,
      against: PLAIN,
      sense: 'time',
      note: `${about}; counts ${off < 1e-3 ? 'the same' : `DIFFER by ${off} of ${same[0]}`}`,
    });
  } else
    rows.push({
      what: 'the C twin',
      said: 'no C compiler (cc) here; the rows below are set against the plain loop instead',
    });
  rows.push(over('80 stations, one thread of Node', nodeMs, 'aim at most 1.5'));
  rows.push(
    typeof page === 'string'
      ? { what: '80 stations, one worker in Chromium', said: page }
      : over('80 stations, one worker in Chromium, by the clock', pageMs, 'aim at most 1.5'),
  );
  const [one, two, bare] = [await shared(plan, options, 1), await shared(plan, options, 2), await bareThreads()];
  rows.push({
    what: 'two workers, times as fast as one',
    figure: one.ms / two.ms,
    unit: 'x',
    ratio: one.ms / two.ms / bare,
    against: 'a bare loop split in two',
    sense: 'speed',
    note: `the bare loop: ${bare.toFixed(2)}; ${(one.busy / (two.busy / 2)).toFixed(2)} by processor time; counts ${sum(two.tally.beyond) === sum(tally.beyond) ? 'the same' : 'DIFFER'}`,
  });
  const full = least(2, () => void run(whole, { ...options, histograms: true }), 0);
  rows.push({
    what: 'with holes, seats and histograms',
    figure: full,
    unit: 'ms',
    ratio: full / median(nodeMs),
    against: 'plain sums in Node',
    sense: 'time',
    note: sampleAnswer(whole, run(whole, options)).sentence,
  });
  rows.push(...thousandthRows(sumsOnly(samplePlan(base))));
  return rows;
}
