import { type Remote, wrap } from 'comlink';
import type { Model } from '../../model/schema.ts';
import type { Cut } from '../../scene/cut.ts';
import type { Step } from '../../sheets/steps/step.ts';
import type { StepPicture } from '../../sheets/steps/stepPicture.ts';
import { awaited } from '../state/atRest.ts';
import type { SolidsService } from './solids.worker.ts';

/*
 * The one worker that builds solids and cuts them open, started when first asked for and shared by bench and card.
 */

interface Shared {
  readonly worker: Worker;
  readonly remote: Remote<SolidsService>;
}

let shared: Shared | undefined;
const broken = new Set<() => void>();

/** The worker; started once. */
export function cutter(): Remote<SolidsService> {
  if (!shared) {
    const worker = new Worker(new URL('./solids.worker.ts', import.meta.url), { type: 'module' });
    worker.onerror = () => {
      for (const tell of broken) tell();
    };
    shared = { worker, remote: wrap<SolidsService>(worker) };
  }
  return shared.remote;
}

/** Calls back when the worker breaks down; returns what ends that. */
export function whenBroken(tell: () => void): () => void {
  broken.add(tell);
  return () => broken.delete(tell);
}

const numbers = new WeakMap<Model, number>();
let last = 0;

export interface SectionWish {
  readonly model: Model;
  readonly magnify: number;
  readonly y: number;
  readonly skin?: boolean;
}

/** A model's number, and the model itself where the worker does not know it yet. */
async function named(remote: Remote<SolidsService>, model: Model): Promise<{ number: number; model?: Model }> {
  let number = numbers.get(model);
  if (number === undefined) {
    number = ++last;
    numbers.set(model, number);
  }
  return (await remote.known()).includes(number) ? { number } : { number, model };
}

/** The skeleton cut open at y. A model is sent to the worker once, and known by its number from then on. */
export function sectionAt({ model, magnify, y, skin = false }: SectionWish): Promise<Cut> {
  const remote = cutter();
  return awaited(named(remote, model).then((known) => remote.section({ ...known, magnify, y, skin })));
}

/** The picture of a step of a model. */
export function pictureOf(model: Model, step: Step): Promise<StepPicture> {
  const remote = cutter();
  return awaited(named(remote, model).then((known) => remote.picture({ ...known, step })));
}
