import { expose, transfer } from 'comlink';
import { type SampleOptions, sampled } from '../../chance/jointSample.ts';
import { type SamplePlan, samplePlan } from '../../chance/samplePlan.ts';
import { buffersOf, type Tally } from '../../chance/tally.ts';
import type { Model } from '../../model/schema.ts';

/*
 * Draws all sizes of a panel together, away from the screen: one share of a run. A newer run, or a stop, ends an
 * older one at its next block; what was counted until then is the answer.
 */

export interface SampleRequest {
  readonly model: Model;
  readonly options: SampleOptions;
}

export interface Share {
  readonly plan: SamplePlan;
  readonly tally: Tally;
  /** Ended before every sample was drawn. */
  readonly stopped: boolean;
}

/** Work done in one go before the worker listens again, ms. */
const TURN = 40;

let latest = 0;
let had: { readonly text: string; readonly plan: SamplePlan } | undefined;

const rest = (): Promise<void> => new Promise((done) => setTimeout(done, 0));

/** The plan of a panel, kept for the next run of the same one. */
function planOf(model: Model): SamplePlan {
  const text = JSON.stringify(model);
  if (had?.text !== text) had = { text, plan: samplePlan(model) };
  return had.plan;
}

async function run({ model, options }: SampleRequest, progress: (done: number, of: number) => void): Promise<Share> {
  const mine = ++latest;
  const plan = planOf(model);
  const blocks = sampled(plan, options);
  let since = performance.now();
  for (let step = blocks.next(), tally: Tally | undefined; ; step = blocks.next()) {
    if (step.done) return transfer({ plan, tally: step.value, stopped: false }, buffersOf(step.value) as ArrayBuffer[]);
    tally = step.value.tally;
    if (performance.now() - since < TURN) continue;
    progress(step.value.done, step.value.of);
    await rest();
    if (mine !== latest) return transfer({ plan, tally, stopped: true }, buffersOf(tally) as ArrayBuffer[]);
    since = performance.now();
  }
}

/** Ends the run under way. */
function stop(): void {
  latest++;
}

const service = { run, stop };
export type SampleService = typeof service;

expose(service);
