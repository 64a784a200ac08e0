import { type Remote, wrap } from 'comlink';
import { create } from 'zustand';
import type { Model } from '../../model/schema.ts';
import { awaited } from '../state/atRest.ts';
import type { Listed } from './listed.ts';
import type { TonightService } from './tonight.worker.ts';

/*
 * Tonight's list as the screen sees it: what it is for a panel and so many hours, or that it could not be put in order.
 */

/** What was asked: a panel, and how long the evening is, hours; undefined is as long as it takes. */
export interface ListAsked {
  readonly model: Model;
  readonly hours: number | undefined;
}

interface Listing {
  readonly asked: ListAsked | null;
  /** What the list at hand was asked for: an older question, until the answer to the new one comes. */
  readonly of: ListAsked | null;
  readonly list: Listed | null;
  /** Why there is none. */
  readonly failed: string | null;
}

export const useListing = create<Listing>(() => ({ asked: null, of: null, list: null, failed: null }));

let remote: Remote<TonightService> | undefined;
let worker: Worker | undefined;
let count = 0;

const BROKEN = 'The list could not be put in order in the background; reload the page.';

/** The worker, started once, and the promise that it breaks down. */
function service(broken: (why: string) => void): Remote<TonightService> {
  if (!remote) {
    worker = new Worker(new URL('./tonight.worker.ts', import.meta.url), { type: 'module' });
    remote = wrap<TonightService>(worker);
  }
  if (worker)
    worker.onerror = () => {
      worker?.terminate();
      remote = undefined;
      broken(BROKEN);
    };
  return remote;
}

/** Asks for the list of a panel, unless it is there; the answer to an older question that comes late is dropped. */
export async function askList(asked: ListAsked): Promise<void> {
  const before = useListing.getState().asked;
  if (before?.model === asked.model && before.hours === asked.hours) return;
  const mine = ++count;
  useListing.setState({ asked, failed: null });
  let reject: (why: Error) => void = () => undefined;
  const broken = new Promise<never>((_, no) => {
    reject = no;
  });
  try {
    const list = await awaited(
      Promise.race([service((why) => reject(new Error(why))).list(asked.model, { hours: asked.hours }), broken]),
    );
    if (mine === count) useListing.setState({ list, of: asked });
  } catch (e) {
    if (mine === count)
      useListing.setState({ list: null, of: null, failed: e instanceof Error ? e.message : String(e) });
  }
}

/** The size that tonight's list wants read after another; undefined where the other is none of them, or the last. */
export function nextWanted(size: string): string | undefined {
  const { list } = useListing.getState();
  const wanted = (list?.acts ?? []).flatMap((a) => a.reads.map((r) => r.size));
  const at = wanted.indexOf(size);
  return at < 0 ? undefined : wanted.slice(at + 1).find((key) => key !== size);
}
