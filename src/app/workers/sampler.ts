import { proxy, type Remote, wrap } from 'comlink';
import { type SampleAnswer, sampleAnswer } from '../../chance/sampleAnswer.ts';
import { merged } from '../../chance/tally.ts';
import type { Model } from '../../model/schema.ts';
import type { SampleService } from './sample.worker.ts';

/*
 * The workers that draw all sizes together: two where the machine has them, started when first asked for and kept.
 */

/** Independent sets of points; their scatter is the sampling error. */
const REPLICATES = 8;

let workers: Remote<SampleService>[] | undefined;
/** Settles a run whose workers could not be started. */
let broken: Promise<never> | undefined;

function started(): { readonly all: Remote<SampleService>[]; readonly broken: Promise<never> } {
  if (!workers || !broken) {
    const many = Math.max(1, Math.min(2, navigator.hardwareConcurrency || 1));
    const made = Array.from(
      { length: many },
      () => new Worker(new URL('./sample.worker.ts', import.meta.url), { type: 'module' }),
    );
    broken = new Promise<never>((_, fail) => {
      for (const worker of made) {
        worker.onerror = () => {
          for (const w of made) w.terminate();
          workers = undefined; // the next run starts them anew
          fail(new Error('it could not be started in the background; reload the page'));
        };
      }
    });
    broken.catch(() => undefined); // heard by the run under way
    workers = made.map((worker) => wrap<SampleService>(worker));
  }
  return { all: workers, broken };
}

export interface Drawn {
  readonly answer: SampleAnswer;
  /** Ended before every sample was drawn. */
  readonly stopped: boolean;
  /** Points asked for in each replicate. */
  readonly points: number;
}

/**
 * Draws a panel's sizes together. `onShare` hears how much is done, 0 to 1. Undefined when stopped before anything
 * was counted.
 */
export async function drawTogether(
  model: Model,
  points: number,
  onShare: (share: number) => void,
): Promise<Drawn | undefined> {
  const { all, broken: failed } = started();
  const shares = all.map(() => 0);
  // Shares come on ways of their own and may come after the answer: then they are no news any more.
  let answered = false;
  const parts = await Promise.race([
    failed,
    Promise.all(
      all.map((worker, part) =>
        worker.run(
          { model, options: { seed: 1, points, replicates: REPLICATES, share: { part, parts: all.length } } },
          proxy((done: number, of: number) => {
            shares[part] = done / of;
            if (!answered) onShare(shares.reduce((a, b) => a + b, 0) / shares.length);
          }),
        ),
      ),
    ),
  ]);
  answered = true;
  const tally = merged(parts.map((p) => p.tally));
  const [first] = parts;
  if (!first || !tally.samples.some((n) => n > 0)) return undefined;
  return { answer: sampleAnswer(first.plan, tally), stopped: parts.some((p) => p.stopped), points };
}

/** Ends the run under way; it answers with what it has. */
export function stopDrawing(): void {
  for (const worker of workers ?? []) void worker.stop();
}
