import { type Model, panelSchema } from '../schema.ts';
import { type Door, noter, type Panel } from './notes.ts';

const GROUPS = Object.keys(panelSchema.shape) as (keyof Model)[];

/** The groups of the file, each the same as long as it is the same object. */
const GROUP: Door = { shows: (panel, key, seen) => panel.model[key as keyof Model] === seen };
const note = noter(GROUP);

/** A model's groups, every one a door. A group that the file leaves out is one too, though it does not show. */
class View {
  readonly #panel: Panel;

  constructor(panel: Panel) {
    this.#panel = panel;
    for (const group of GROUPS) Object.defineProperty(this, group, (group in panel.model ? SHOWN : HIDDEN)[group]);
  }

  static groupOf(view: View, group: keyof Model): unknown {
    const panel = view.#panel;
    const seen = panel.model[group];
    note(panel, group, group, seen);
    return seen;
  }
}

type Getters = Readonly<Record<keyof Model, PropertyDescriptor>>;

function gettersOf(enumerable: boolean): Getters {
  const getter = (group: keyof Model): PropertyDescriptor => ({
    enumerable,
    get(this: View) {
      return View.groupOf(this, group);
    },
  });
  return Object.fromEntries(GROUPS.map((group) => [group, getter(group)])) as Getters;
}

const SHOWN = gettersOf(true);
const HIDDEN = gettersOf(false);

/** By the model, and by its view. */
const panels = new WeakMap<Model, Panel>();
/** The panel asked about last: nearly always the one asked about next. */
let last: Panel | undefined;

/** The panel of a model or of its view. */
export function panelOf(model: Model): Panel {
  if (last && (last.view === model || last.model === model)) return last;
  last = panels.get(model) ?? newPanel(model);
  return last;
}

class AskedPanel implements Panel {
  static #last = 0;
  readonly model: Model;
  readonly view: Model;
  readonly number = ++AskedPanel.#last;
  readonly answers = new Map<object, Map<string, unknown>>();

  constructor(model: Model) {
    this.model = model;
    this.view = new View(this) as unknown as Model;
  }
}

function newPanel(model: Model): Panel {
  const panel = new AskedPanel(model);
  panels.set(model, panel);
  panels.set(panel.view, panel);
  return panel;
}

/** What stays with a panel under its maker and a name. */
export function staying<V>(panel: Panel, maker: object, name: string, make: () => V): V {
  let byName = panel.answers.get(maker);
  if (!byName) {
    byName = new Map();
    panel.answers.set(maker, byName);
  }
  const had = byName.get(name) as V | undefined;
  if (had !== undefined || byName.has(name)) return had as V;
  const value = make();
  byName.set(name, value);
  return value;
}
