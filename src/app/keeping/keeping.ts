import { type Edit, shownIn } from '../../model/edits/edits.ts';
import { parseModel } from '../../model/file/parse.ts';
import { writeModel } from '../../model/file/write.ts';
import type { Model } from '../../model/schema.ts';
import { FIRST_PANEL } from '../files/demos.ts';
import { awaited } from '../state/atRest.ts';
import { type Step, useApp, withStep } from '../state/store.ts';
import {
  dropPanel,
  type KeptPanel,
  type KeptState,
  keepState,
  lastKept,
  markCurrent,
  panelsKept,
  statesOf,
  type Why,
  whenBlocked,
} from './keep.ts';
import { CLEARED, COPIED, NOT_OPENED, noneShown, olderShown, SENTENCES } from './said.ts';

/*
 * Keeps what is on screen, step by step, and brings it back. One state is on its way at a time; while it is, only the
 * newest waits behind it. Tabs that show one panel follow each other; where two change it in the same moment, the
 * later goes on as a copy of its own and both are kept.
 */

/** How long the first screen waits for what was kept, ms. */
const PATIENCE = 6000;

/** States brought back as undo steps when a panel is opened again. */
const STEPS_BACK = 40;

interface Following {
  readonly panel: string;
  readonly seq: number;
}

const channel = typeof BroadcastChannel === 'undefined' ? undefined : new BroadcastChannel('ribtrue-kept');
/** Count of the state on screen, by panel, as far as it is kept. */
const bases = new Map<string, number>();
/** The model that is kept, or on its way. */
let kept: Model | undefined;
/** Set while something is opened that is kept already. */
let asKept = false;
let busy = false;

/** A panel as it was when it changed, on its way to be kept. */
interface Changed {
  readonly panel: string;
  readonly model: Model;
  readonly step: string;
  readonly demo: string | null;
}

/** What a state is called that shows its panel in another unit and changes nothing of it. */
const SHOWN = 'showed its lengths in another unit';

/** Whether two models say the same, but for the unit they are shown in. */
const sameButShown = (a: Model, b: Model): boolean =>
  a.units !== b.units && (Object.keys({ ...a, ...b }) as (keyof Model)[]).every((k) => k === 'units' || a[k] === b[k]);

/** The name of the change from what is kept to what is on screen. */
function stepTo(model: Model, last: Step | undefined): string {
  if (kept && sameButShown(kept, model)) return SHOWN;
  return last?.after === model ? last.name : 'undid a step';
}

/** What waits to be kept, the newest of each panel: another may be on screen by the time its turn comes. */
const waiting = new Map<string, Changed>();

const say = (why: Exclude<Why, 'moved'>): void =>
  useApp.getState().set({ keeping: { state: 'failed', sentence: SENTENCES[why] } });

async function keepOnScreen(): Promise<void> {
  const { model, panel, past, demo } = useApp.getState();
  const last = past.at(-1);
  waiting.set(panel, { panel, model, step: stepTo(model, last), demo });
  if (busy) return;
  busy = true;
  try {
    let left = false;
    for (let next = waiting.values().next().value; next; next = waiting.values().next().value) {
      waiting.delete(next.panel);
      await keepOnce(next);
      left ||= useApp.getState().panel !== next.panel;
    }
    const { panel: shown } = useApp.getState();
    if (left && bases.has(shown)) await markCurrent(shown);
  } finally {
    busy = false;
  }
}

const onScreen = (panel: string): boolean => useApp.getState().panel === panel;

type NewState = Parameters<typeof keepState>[0];

/** Another tab changed it in the same moment: this one goes on as a copy. */
async function keepCopy(state: NewState, model: Model): Promise<void> {
  const { panel } = state;
  const copy = crypto.randomUUID();
  if (onScreen(panel)) useApp.setState({ panel: copy });
  const later = waiting.get(panel);
  if (later && waiting.delete(panel)) waiting.set(copy, { ...later, panel: copy });
  const note = 'changed in two tabs at once; this is the later one';
  const done = await keepState({ ...state, panel: copy, base: 0, note });
  if (!done.ok) return say(done.why === 'moved' ? 'failed' : done.why);
  bases.set(copy, done.seq);
  if (onScreen(copy)) kept = model;
  useApp.getState().set({ keeping: { state: 'kept', sentence: COPIED } });
}

/** What follows where a state is kept: this tab knows it, the screen says so, and the other tabs follow. */
function nowKept({ panel, model }: Changed, seq: number, anew: boolean): void {
  const { keeping, set } = useApp.getState();
  bases.set(panel, seq);
  if (onScreen(panel)) kept = model;
  if (anew) set({ keeping: { state: 'kept', sentence: CLEARED } });
  else if (keeping.state !== 'kept') set({ keeping: { state: 'kept' } });
  channel?.postMessage({ panel, seq } satisfies Following);
}

async function keepOnce(changed: Changed): Promise<void> {
  const { panel, model, step, demo } = changed;
  const state = { panel, name: model.name, step, text: writeModel(model), base: bases.get(panel) ?? 0 };
  const fresh = state.base === 0;
  const done = await keepState(demo !== null && fresh ? { ...state, demo } : state);
  if (done.ok) nowKept(changed, done.seq, done.anew);
  else if (done.why === 'moved') await keepCopy(state, model);
  else say(done.why);
}

/** Another tab has kept a state of the panel on screen: show it, as a step that undo takes back. */
async function follow({ panel, seq }: Following): Promise<void> {
  const now = useApp.getState();
  if (panel !== now.panel || busy || now.model !== kept || (bases.get(panel) ?? 0) >= seq) return;
  const [state] = await statesOf(panel, 1);
  const again = useApp.getState();
  if (!state || again.panel !== panel || again.model !== kept || state.seq <= (bases.get(panel) ?? 0)) return;
  const read = parseModel(state.text);
  if (!read.ok) return;
  bases.set(panel, state.seq);
  kept = read.model;
  if (state.step === SHOWN) {
    asKept = true;
    again.show(read.model.units);
    asKept = false;
    return;
  }
  useApp.setState({
    model: read.model,
    past: withStep(again.past, { name: `${state.step} (in another tab)`, before: again.model, after: read.model }),
    future: [],
  });
}

/** Steps that undo takes back, from the states kept: each is read only when it is asked for. */
function stepsFrom(states: readonly KeptState[], top: Model): Step[] {
  const oldFirst = [...states].reverse();
  const read = new Map<number, Model>();
  const modelOf = (i: number): Model => {
    if (i === oldFirst.length - 1) return top;
    const state = oldFirst[i];
    const had = read.get(i);
    if (had || !state) return had ?? top;
    const parsed = parseModel(state.text);
    const model = parsed.ok ? parsed.model : top;
    read.set(i, model);
    return model;
  };
  return oldFirst.slice(1).flatMap((state, i) =>
    state.step === SHOWN
      ? []
      : [
          {
            name: state.step,
            get before() {
              return modelOf(i);
            },
            get after() {
              return modelOf(i + 1);
            },
          },
        ],
  );
}

/** Brings a kept panel's states before the one opened back as undo steps, behind what has been done since. */
async function rememberSteps(panel: string, opened: number): Promise<void> {
  const states = await statesOf(panel, STEPS_BACK);
  const { model, past } = useApp.getState();
  const at = states.findIndex((s) => s.seq === opened);
  if (at < 0 || past.length > 0 || useApp.getState().panel !== panel || model !== kept) return;
  useApp.setState({ past: stepsFrom(states.slice(at), model) });
}

/** Opens what is kept already, so that it is not kept again. */
function openAsKept(text: string, file: string, as: { panel: string; demo: string | null }): boolean {
  asKept = true;
  try {
    return useApp.getState().open(text, file, as);
  } finally {
    asKept = false;
  }
}

/**
 * Opens the newest state of a kept panel that can be read; where that is not its newest, says so. None of them is
 * touched. False, with the newest one's faults on screen, where none can be read.
 */
async function openNewest({ id, name, demo }: KeptPanel, newest: KeptState): Promise<KeptState | null> {
  const as = { panel: id, demo: demo ?? null };
  if (openAsKept(newest.text, `${name}, as kept in this browser`, as)) return newest;
  const { refusal } = useApp.getState();
  const older = (await statesOf(id)).find((s) => s.seq !== newest.seq && parseModel(s.text).ok);
  if (!older || !openAsKept(older.text, `${name}, as kept in this browser`, as)) {
    useApp.getState().set({ refusal });
    return null;
  }
  useApp.getState().set({ keeping: { state: 'idle', sentence: olderShown(name, older.step) } });
  return older;
}

/** Opens a panel kept here; what was on screen stays kept. */
export async function openKept(panel: KeptPanel): Promise<boolean> {
  const [state] = await statesOf(panel.id, 1);
  if (!state) return false;
  const had = bases.get(panel.id);
  bases.set(panel.id, state.seq);
  const ok = (await openNewest(panel, state)) !== null;
  if (ok) await markCurrent(panel.id);
  else if (had === undefined) bases.delete(panel.id);
  return ok;
}

/** Opens an invented panel; one that is kept here and was not changed is not kept twice. */
export async function openDemo(file: string, text: string): Promise<void> {
  const had = (await panelsKept()).find((p) => p.demo === file);
  if (had) {
    bases.set(had.id, had.head);
    openAsKept(text, file, { panel: had.id, demo: file });
    await markCurrent(had.id);
  } else useApp.getState().open(text, file, { demo: file });
}

/** An Edit that goes back to an earlier state kept here; null where its text can no longer be read. */
export function backTo(state: KeptState): Edit | null {
  const read = parseModel(state.text);
  return read.ok ? { name: `went back to "${state.step}"`, apply: ({ units }) => shownIn(read.model, units) } : null;
}

/** Takes a panel out of this browser; the one on screen is kept anew at its next change. */
export async function forgetKept(panel: string): Promise<boolean> {
  bases.delete(panel);
  return dropPanel(panel);
}

/** Opens what was on screen last; false, with its sentences, where it cannot be read. */
async function openLast({ panel, state }: { readonly panel: KeptPanel; readonly state: KeptState }): Promise<boolean> {
  bases.set(panel.id, state.seq);
  const opened = await openNewest(panel, state);
  if (!opened) return false;
  kept = useApp.getState().model;
  const later = new Promise((done) => setTimeout(done, 500)); // after the first screen
  void awaited(later.then(() => rememberSteps(panel.id, opened.seq)));
  return true;
}

/** What was kept came after the first screen: it is shown, unless something was done there meanwhile. */
async function openLate(last: Awaited<ReturnType<typeof lastKept>>): Promise<void> {
  const { past, model } = useApp.getState();
  if ((last && 'why' in last) || past.length > 0 || model !== kept) return;
  useApp.getState().set({ keeping: { state: 'idle' } });
  if (last && (await openLast(last))) useApp.setState({ past: [] });
}

/** Opens what was on screen last, or the first panel; from then on keeps every change as it is made. */
export async function startKeeping(): Promise<void> {
  const { open, set } = useApp.getState();
  // The first screen comes whatever the browser does with what it kept.
  const late = new Promise<{ why: 'older-open' | 'failed'; late: true }>((done) => {
    whenBlocked(() => {
      say('older-open');
      done({ why: 'older-open', late: true });
    });
    setTimeout(() => done({ why: 'failed', late: true }), PATIENCE);
  });
  const asked = lastKept();
  const last = await Promise.race([asked, late]);
  const refused = last && 'panel' in last && !(await openLast(last)) ? useApp.getState().refusal : null;
  if (!useApp.getState().model) {
    open(FIRST_PANEL, 'narrow-tail.json', { demo: 'narrow-tail.json' });
    // A demo that nobody has changed is kept only once somebody does.
    kept = useApp.getState().model;
    if (refused && last && 'panel' in last)
      set({ refusal: refused, keeping: { state: 'idle', sentence: noneShown(last.panel.name) } });
  }
  if (last && 'why' in last && last.why !== 'moved') {
    if (last.why === 'failed') set({ keeping: { state: 'failed', sentence: NOT_OPENED } });
    else say(last.why);
  }
  let shown = useApp.getState().model;
  useApp.subscribe(({ model }) => {
    if (model === shown) return;
    shown = model;
    if (asKept) kept = model;
    if (model !== kept) void awaited(keepOnScreen());
  });
  if (last && 'late' in last) void asked.then(openLate);
  channel?.addEventListener('message', (e: MessageEvent<Following>) => void follow(e.data));
}
