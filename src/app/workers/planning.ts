import { proxy, type Remote, wrap } from 'comlink';
import { create } from 'zustand';
import type { Model } from '../../model/schema.ts';
import { restlessWhile } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { joined } from './joined.ts';
import type { Found, FoundPlaces, FoundPlan, PlansService, Told } from './plans.worker.ts';

/*
 * The search for the least work as the screen sees it: asked for, going on, found, called off or failed. What was found
 * holds for the panel it was found for, and no other.
 */

export type Search =
  | { readonly state: 'idle' }
  | { readonly state: 'going'; readonly base: Model; readonly told: Told | null }
  | { readonly state: 'found'; readonly base: Model; readonly found: Found }
  | { readonly state: 'called off'; readonly base: Model }
  | { readonly state: 'failed'; readonly base: Model; readonly sentence: string };

export const useSearch = create<{ search: Search }>(() => ({ search: { state: 'idle' } }));

let worker: Worker | undefined;
let remote: Remote<PlansService> | undefined;
let count = 0;

function service(): Remote<PlansService> {
  if (!remote) {
    worker = new Worker(new URL('./plans.worker.ts', import.meta.url), { type: 'module' });
    worker.onerror = () => {
      const { search } = useSearch.getState();
      if (search.state === 'going') failed(search.base, 'it could not be started in the background; reload the page');
      worker?.terminate();
      remote = undefined;
    };
    remote = wrap<PlansService>(worker);
  }
  return remote;
}

const failed = (base: Model, why: string): void =>
  useSearch.setState({ search: { state: 'failed', base, sentence: `The search stopped: ${why}.` } });

/** Searches for the least work for the panel on screen. */
export async function findLeastWork(): Promise<void> {
  const base = useApp.getState().model;
  const mine = ++count;
  useSearch.setState({ search: { state: 'going', base, told: null } });
  // What is told comes on a way of its own and may come after the answer: then it is no news any more.
  let answered = false;
  const tell = proxy((told: Told) => {
    if (mine === count && !answered) useSearch.setState({ search: { state: 'going', base, told } });
  });
  try {
    const answer = await service().find(base, tell);
    answered = true;
    if (mine !== count) return;
    if (answer.state === 'called off') useSearch.setState({ search: { state: 'called off', base } });
    else
      useSearch.setState({
        search: {
          state: 'found',
          base,
          found: {
            ...answer.found,
            plans: answer.found.plans.map((p): FoundPlan => ({ ...p, model: joined(base, p.model) })),
          },
        },
      });
  } catch (e) {
    if (mine === count) failed(base, e instanceof Error ? e.message : String(e));
  }
}

/** Calls the search off. */
export function callOff(): void {
  const { search } = useSearch.getState();
  count++;
  void remote?.cancel();
  if (search.state === 'going') useSearch.setState({ search: { state: 'called off', base: search.base } });
}

export type Placing =
  | { readonly state: 'idle' }
  | { readonly state: 'going'; readonly base: Model }
  | { readonly state: 'found'; readonly base: Model; readonly places: readonly FoundPlaces[] }
  | { readonly state: 'failed'; readonly base: Model; readonly sentence: string };

export const usePlacing = create<{ placing: Placing }>(() => ({ placing: { state: 'idle' } }));

let placer: Worker | undefined;

/** Ends the search for places, whatever it is at. */
export function stopPlacing(): void {
  placer?.terminate();
  placer = undefined;
  if (usePlacing.getState().placing.state === 'going') usePlacing.setState({ placing: { state: 'idle' } });
}

/** Finds where like ribs stand best on the panel on screen, in a worker of its own that can be ended at any time. */
export async function findPlaces(): Promise<void> {
  stopPlacing();
  const base = useApp.getState().model;
  const mine = new Worker(new URL('./plans.worker.ts', import.meta.url), { type: 'module' });
  placer = mine;
  usePlacing.setState({ placing: { state: 'going', base } });
  const say = (sentence: string): void => {
    if (placer === mine)
      usePlacing.setState({
        placing: { state: 'failed', base, sentence: `The search for places stopped: ${sentence}.` },
      });
  };
  mine.onerror = () => say('it could not be started in the background; reload the page');
  try {
    const places = await wrap<PlansService>(mine).places(base);
    if (placer !== mine) return;
    const own = (p: FoundPlan | undefined): FoundPlan | undefined => p && { ...p, model: joined(base, p.model) };
    usePlacing.setState({
      placing: { state: 'found', base, places: places.map((p) => ({ ...p, best: own(p.best), swap: own(p.swap) })) },
    });
  } catch (e) {
    say(e instanceof Error ? e.message : String(e));
  }
  if (placer === mine) stopPlacing();
}

restlessWhile(useSearch, ({ search }) => search.state === 'going');
restlessWhile(usePlacing, ({ placing }) => placing.state === 'going');

// A panel that has changed needs another search: one that goes on for the old panel is called off.
useApp.subscribe(({ model }) => {
  const { search } = useSearch.getState();
  if (search.state === 'going' && search.base !== model) callOff();
  const { placing } = usePlacing.getState();
  if (placing.state === 'going' && placing.base !== model) stopPlacing();
});
