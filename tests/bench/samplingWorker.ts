import { parentPort } from 'node:worker_threads';
import { type SampleOptions, sampled } from '../../src/chance/jointSample.ts';
import type { SamplePlan } from '../../src/chance/samplePlan.ts';
import { buffersOf } from '../../src/chance/tally.ts';

/* One of the workers that share out a run: takes a plan once, then counts its share whenever asked. */

let plan: SamplePlan | undefined;

parentPort?.on('message', (message: { plan?: SamplePlan; options?: SampleOptions }) => {
  if (message.plan) plan = message.plan;
  if (!plan || !message.options) {
    parentPort!.postMessage('ready');
    return;
  }
  const run = sampled(plan, message.options);
  let step = run.next();
  while (!step.done) step = run.next();
  parentPort!.postMessage(step.value, buffersOf(step.value) as ArrayBuffer[]);
});
