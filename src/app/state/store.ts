import { create } from 'zustand';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Question } from '../../checks/questions.ts';
import { applyEdit, type Edit, shownIn } from '../../model/edits/edits.ts';
import { journaled } from '../../model/edits/journal.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { parseModel } from '../../model/file/parse.ts';
import { writeModel } from '../../model/file/write.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { today } from './today.ts';

export type ViewName = 'bench' | 'plan' | 'front' | 'along';

/** One step that undo can take back. */
export interface Step {
  readonly name: string;
  readonly before: Model;
  readonly after: Model;
  /** Where the step opened another panel: the name that what it left is kept under. */
  readonly panel?: string;
}

/** A step turned round: what undo leaves for redo, and redo for undo. */
const turned = ({ name, before, after, panel }: Step, now: string): Step => ({
  name,
  before,
  after,
  ...(panel === undefined ? {} : { panel: now }),
});

/** Whether the last change is kept in this browser, and what to say where something is amiss. */
interface Keeping {
  readonly state: 'idle' | 'kept' | 'failed';
  readonly sentence?: string;
}

/** A file that could not be taken: its name and every sentence. The panel on screen stays as it is. */
export interface Refusal {
  readonly file: string;
  readonly faults: readonly Fault[];
}

export interface AppState {
  readonly model: Model;
  /** The name the browser keeps this panel under. */
  readonly panel: string;
  /** The invented panel on screen, while nothing in it was changed. */
  readonly demo: string | null;
  readonly past: readonly Step[];
  readonly future: readonly Step[];
  readonly question: Question;
  readonly station: string | null;
  readonly finding: string | null;
  /** Holes are shown as at this stage, looking ahead; null for the present one. */
  readonly ahead: string | null;
  /** The size on the measuring card, and the instrument asked for. */
  readonly size: string | null;
  readonly instrument: string | null;
  readonly magnify: number;
  readonly view: ViewName;
  readonly viewTick: number;
  readonly skin: boolean;
  /** Where along the span the skeleton is cut open; null while it is whole. */
  readonly cut: number | null;
  /** How far the parts are pulled apart, 0 to 1; null while they are together. */
  readonly apart: number | null;
  readonly theme: 'light' | 'dark';
  readonly refusal: Refusal | null;
  readonly keeping: Keeping;
  /** Puts a size on the measuring card, and chooses its station. */
  read(size: string | null, instrument?: string): void;
  /** Runs an Edit; what is wrong comes back as faults and nothing changes. */
  edit(edit: Edit): readonly Fault[];
  /** Shows lengths in a unit first; no step of the work, and nothing that undo takes back. */
  show(units: Model['units']): void;
  undo(): void;
  redo(): void;
  /** Opens the text of a file as a panel of its own, or as one kept here; a bad file is refused with its sentences. */
  open(text: string, file: string, as?: { readonly panel?: string; readonly demo?: string | null }): boolean;
  ask(question: Question): void;
  choose(station: string | null, finding?: string | null): void;
  set(
    part: Partial<Pick<AppState, 'magnify' | 'skin' | 'ahead' | 'cut' | 'apart' | 'theme' | 'refusal' | 'keeping'>>,
  ): void;
  look(view: ViewName): void;
}

const UNDO_STEPS = 500;
/**
 * Steps to either side whose panels keep all that was worked out of them: for a panel of 80 stations 2 MB a step
 * where something was measured, 10 MB where its drawing was changed. Further off only the panel itself stays, a bare
 * copy of a few kilobytes, and is worked out anew when come back to.
 */
const WARM = 8;

/** Whether a step holds its panels itself, or reads them from what is kept when asked. */
const holds = (step: Step | undefined): step is Step =>
  step !== undefined && Object.getOwnPropertyDescriptor(step, 'before')?.get === undefined;

/** The steps with one panel let go of: that which lies between two of them, exchanged in both for a bare copy. */
function cooled(steps: readonly Step[], older: number): readonly Step[] {
  const [a, b] = [steps[older], steps[older + 1]];
  const model = (holds(b) && b.before) || (holds(a) && a.after);
  if (!model) return steps;
  const bare = { ...model }; // what was worked out of a panel stays with it
  const cool = [...steps];
  if (holds(a) && a.after === model) cool[older] = { ...a, after: bare };
  if (holds(b)) cool[older + 1] = { ...b, before: bare };
  return cool;
}

/** What undo takes back, with one more step. */
export function withStep(past: readonly Step[], step: Step): readonly Step[] {
  const all = [...past.slice(1 - UNDO_STEPS), step];
  return cooled(all, all.length - 2 - WARM);
}

/** What redo does again, nearest first, with one more step before it. */
const beforeThem = (step: Step, future: readonly Step[]): readonly Step[] => cooled([step, ...future], WARM);

/** The panel on screen and the steps to it and from it. */
export type History = Pick<AppState, 'model' | 'demo' | 'past' | 'future'>;

/** A step that ends, or begins, with another copy of the panel it ended or began with. */
function endingAt(step: Step, after: Model): Step {
  const isWhole: boolean = holds(step);
  if (isWhole) return step.after === after ? step : { ...step, after };
  return {
    name: step.name,
    get before() {
      return step.before;
    },
    after,
  };
}
const beginningAt = (step: Step, before: Model): Step => (step.before === before ? step : { ...step, before });

/**
 * A panel with the steps on either side of it, which end and begin with it: it may be another copy than they knew,
 * shown in another unit. The unit is how a panel is looked at and no step of the work, so that no undo changes it.
 */
function joined(
  model: Model,
  past: readonly Step[],
  future: readonly Step[],
): Pick<History, 'model' | 'past' | 'future'> {
  const [last, next] = [past.at(-1), future[0]];
  return {
    model,
    past: last ? [...past.slice(0, -1), endingAt(last, model)] : past,
    future: next ? [beginningAt(next, model), ...future.slice(1)] : future,
  };
}

/**
 * The panel with one edit more on it, as a step that undo takes back; or what is wrong with the edit. Nothing is
 * changed.
 */
export function stepped(
  from: History,
  edit: Edit,
): { readonly ok: true; readonly history: History } | { readonly ok: false; readonly faults: readonly Fault[] } {
  const { model, demo, past, future } = from;
  const done = applyEdit(model, journaled(edit, today()));
  if (!done.ok) return done;
  if (done.model === model) return { ok: true, history: { model, demo, past, future } };
  const step = { name: edit.name, before: model, after: done.model };
  return { ok: true, history: { model: done.model, demo: null, past: withStep(past, step), future: [] } };
}

/** One step back; nothing where there is none. */
function undone({ model: now, past, future, panel }: AppState): Partial<AppState> {
  const last = past.at(-1);
  if (!last) return {};
  const model = last.panel === undefined ? shownIn(last.before, now.units) : last.before;
  const left = beforeThem(turned(last, panel), future);
  return { panel: last.panel ?? panel, ...joined(model, past.slice(0, -1), left) };
}

/** One step on again; nothing where there is none. */
function redone({ model: now, past, future, panel }: AppState): Partial<AppState> {
  const [next, ...rest] = future;
  if (!next) return {};
  const model = next.panel === undefined ? shownIn(next.after, now.units) : next.after;
  return { panel: next.panel ?? panel, ...joined(model, withStep(past, turned(next, panel)), rest) };
}

/** Nothing chosen of a panel. */
const NONE_CHOSEN = { station: null, finding: null, ahead: null, size: null, cut: null, apart: null } as const;

/** Another panel on screen, as a step that undo takes back. */
function opened(
  { model: old, panel: left, past, viewTick }: AppState,
  { model, panel, demo, file }: Pick<AppState, 'model' | 'panel' | 'demo'> & { readonly file: string },
): Partial<AppState> {
  const step = { name: `opened ${file}`, before: old, after: model, panel: left };
  return {
    ...NONE_CHOSEN,
    model,
    panel,
    demo,
    past: old ? withStep(past, step) : past,
    future: [],
    refusal: null,
    viewTick: viewTick + 1,
  };
}

/** The app's one store. It holds the Model and what is chosen; nothing that can be worked out from them. */
export const useApp = create<AppState>((set, get) => ({
  model: undefined as unknown as Model, // main.tsx opens a panel before anything is drawn
  panel: '',
  demo: null,
  past: [],
  future: [],
  question: 'tonight',
  ...NONE_CHOSEN,
  instrument: null,
  magnify: 10,
  view: 'bench',
  viewTick: 0,
  skin: false,
  theme: 'light',
  refusal: null,
  keeping: { state: 'idle' },
  edit: (edit) => {
    const done = stepped(get(), edit);
    if (!done.ok) return done.faults;
    set(done.history);
    return [];
  },
  show: (units) => {
    const { model, past, future } = get();
    const shown = shownIn(model, units);
    if (shown !== model) set(joined(shown, past, future));
  },
  undo: () => set(undone),
  redo: () => set(redone),
  open: (text, file, { panel = crypto.randomUUID(), demo = null } = {}) => {
    const read = parseModel(text);
    if (!read.ok) {
      set({ refusal: { file, faults: read.faults } });
      return false;
    }
    set((now) => opened(now, { model: read.model, panel, demo, file }));
    return true;
  },
  ask: (question) => set({ question, finding: null, size: null }),
  choose: (station, finding = null) => set({ station, finding, size: null }),
  read: (size, instrument) =>
    set({
      question: 'measure',
      size,
      instrument: instrument ?? null,
      station: size === null ? null : (sizeBook(get().model).entries.get(size)?.station ?? null),
      finding: null,
    }),
  set: (part) => set(part),
  look: (view) => set({ view, viewTick: get().viewTick + 1 }),
}));

/** Findings of the model on screen. */
export function useFindings(): readonly Finding[] {
  return checkAll(useApp((s) => s.model));
}

/** The text that saving writes. */
export function currentText(): string {
  return writeModel(useApp.getState().model);
}
