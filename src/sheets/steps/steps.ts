import { checkAll } from '../../checks/checkAll.ts';
import { keptWhole } from '../../model/rested.ts';
import type { Joint, Model, Rib, Stage } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { spanOf } from '../../parts/layout/span.ts';
import type { Step } from './step.ts';
import type { Draft, Work } from './stepDraft.ts';
import { apart, open, pilot, stateOf } from './stepDrilling.ts';
import { clampRib, feelCaps, feelChord } from './stepFeeling.ts';
import { arrivals, Order, openings, pilotStage, stationOf } from './stepOrder.ts';
import { fitBracket, laySpar, slip, stand } from './stepPlacing.ts';
import { askGate, noseSurvey, truing } from './stepTruing.ts';

/*
 * Who does what: the whole assembly as steps, one action each, in the order in which it can be done.
 *
 * A stage's parts come first, spars before what lies in them, from the middle of the panel outward, tip ribs last;
 * what lies between a rib end and its spar goes in before the rib. Pilots are drilled after the last of the stages
 * that only square and untwist, and only after the panel was squared and surveyed. A joint is opened at the stage
 * that plans it, or at the first at which every layer is in. Layers, sizes, limits and what is held back come from
 * the checks.
 */

function ribSteps(work: Work, bay: Bay, rib: Rib): Draft[] {
  return [
    stand(work, bay, rib),
    ...(rib.kind === 'main' ? feelChord(work, bay) : []),
    ...clampRib(work, bay, rib),
    ...feelCaps(work, rib),
  ];
}

/** What lies between a rib and its spars goes in before it. */
function ribWithPieces(work: Work, bay: Bay, rib: Rib, isNew: (part: string) => boolean): Draft[] {
  const pieces = work.skeleton
    .placesAt(bay.station.id)
    .filter((p) => p.rib === rib)
    .flatMap((place) => place.doublers.filter((d) => isNew(d.id)).map((d) => slip(work, place, d)));
  return isNew(rib.id) ? [...pieces, ...ribSteps(work, bay, rib)] : pieces;
}

/**
 * The steps that bring a stage's parts in: spars, then ribs of one kind after the other from the middle outward,
 * brackets last.
 */
function bringing(work: Work, isNew: (part: string) => boolean): Draft[] {
  const { model, skeleton, middle } = work;
  const spars = (['front', 'rear'] as const).filter((n) => model.spars[n] && isNew(n));
  const outward = [...skeleton.bays].sort(
    (a, b) => Math.abs(a.station.y - middle) - Math.abs(b.station.y - middle) || a.station.y - b.station.y,
  );
  const ribs = (['main', 'nose', 'tip'] as const).flatMap((kind) =>
    outward.flatMap((bay) => {
      const rib = bay[kind];
      return rib ? ribWithPieces(work, bay, rib, isNew) : [];
    }),
  );
  const brackets = model.brackets.filter((b) => isNew(b.id)).map((b) => fitBracket(work, b));
  return [...spars.map((n) => laySpar(work, n)), ...ribs, ...brackets];
}

const CLEAR: Draft = {
  id: 'clear',
  kind: 'clear',
  title: 'Clear the chips',
  station: null,
  chosen: [],
  standing: 'behind',
  lines: [
    'One station at a time: loosen, brush between the layers, clamp again.',
    'A chip between layers is a false gap.',
  ],
};

const NO_STAGE: Stage = { id: '', name: '', brings: [], opens: [] };

/** An id of a step that comes again at other stages. */
const at = (stage: Stage, id: string): string => (stage.id ? `${id}@${stage.id}` : id);

/** The whole assembly, stage after stage. */
class Assembly {
  readonly #work: Work;
  readonly #order: Order;
  /** From the middle of the span outward. */
  readonly #joints: readonly Joint[];
  readonly #arrives: ReadonlyMap<string, number>;
  readonly #opens: ReadonlyMap<Joint, number>;
  /** By joint, the layers that were piloted. */
  readonly #piloted = new Map<string, ReadonlySet<string>>();
  /** The panel was squared and surveyed. */
  #trued = false;
  /** Parts came in whose pilots are not drilled yet. */
  #waiting = false;

  constructor(model: Model) {
    const skeleton = skeletonOf(model);
    const { middle } = spanOf(skeleton.bays);
    const work = { model, skeleton, bad: checkAll(model).filter((f) => f.verdict === 'act'), middle };
    const yOf = new Map(skeleton.bays.map((b) => [b.station.id, b.station.y]));
    const off = (joint: Joint): number => Math.abs((yOf.get(joint.station) ?? 0) - middle);
    this.#work = work;
    this.#order = new Order(skeleton);
    this.#joints = [...model.joints].sort((a, b) => off(a) - off(b));
    this.#arrives = arrivals(work);
    this.#opens = openings(work, this.#arrives);
  }

  steps(): readonly Step[] {
    const given = this.#work.model.stages;
    const stages = given.length > 0 ? given : [NO_STAGE];
    for (const [i, stage] of stages.entries()) this.#add(stage, i);
    this.#order.add(stages.at(-1) ?? NO_STAGE, [askGate(this.#work.model, 'skin')]);
    return this.#order.steps;
  }

  #add(stage: Stage, i: number): void {
    const fresh = bringing(this.#work, (part) => this.#arrives.get(part) === i);
    this.#order.add(stage, fresh);
    if (fresh.length > 0) this.#waiting = true;
    if (this.#waiting && pilotStage(this.#work.model, i) === i) {
      this.#waiting = false;
      this.#pilot(stage, fresh);
    }
    this.#open(stage, i);
    this.#deburr(stage, i);
  }

  /** Pilots in every joint that has new layers; before the first of them the panel is made true. */
  #pilot(stage: Stage, fresh: readonly Draft[]): void {
    const drafts = this.#joints.flatMap((joint) => this.#pilotsOf(joint, stage));
    if (drafts.length === 0) return;
    const noses = new Set(this.#work.model.ribs.filter((r) => r.kind === 'nose').map((r) => r.id));
    if (!this.#trued) this.#order.add(stage, truing(this.#work, this.#order.there));
    else if (fresh.some((d) => d.chosen.some((p) => noses.has(p)))) this.#order.add(stage, [noseSurvey()]);
    this.#trued = true;
    this.#order.add(stage, [...drafts, { ...CLEAR, id: at(stage, CLEAR.id) }]);
  }

  /** Pilots in a joint that has layers new by now, two of them at least. */
  #pilotsOf(joint: Joint, stage: Stage): Draft[] {
    const isIn = joint.layers.filter((p) => this.#order.there.includes(p));
    const news = isIn.filter((p) => !this.#piloted.get(joint.id)?.has(p));
    if (isIn.length < 2 || news.length === 0) return [];
    this.#piloted.set(joint.id, new Set(isIn));
    // Of layers that come together, those whose holes the file already knows guide the rest.
    const bare = news.filter((p) => joint.holes.some((hole) => stateOf(hole, p) === 'none'));
    const fresh = bare.length === 0 ? news : bare;
    return pilot(this.#work, joint, { fresh, layers: isIn, stage: stage.id });
  }

  #open(stage: Stage, i: number): void {
    const { model } = this.#work;
    const drafts = this.#joints.filter((j) => this.#opens.get(j) === i).flatMap((j) => open(this.#work, j, stage.id));
    if (drafts.length > 0) this.#order.add(stage, [askGate(model, 'final', at(stage, '')), ...drafts]);
  }

  /** Every station whose last row was opened at this stage is taken apart, deburred and put together again. */
  #deburr(stage: Stage, i: number): void {
    const holed = this.#joints.filter((j) => j.holes.length > 0);
    for (const station of new Set(holed.map((j) => j.station))) {
      const last = Math.max(...holed.filter((j) => j.station === station).map((j) => this.#opens.get(j) ?? 0));
      if (last !== i) continue;
      const parts = this.#order.there.filter((p) => stationOf(this.#work.skeleton, p) === station);
      this.#order.add(stage, apart(this.#work, station, parts));
    }
  }
}
/** Every step of a panel, in order. The same panel, whatever is ticked, gives the same steps. */
export const stepsOf: (model: Model) => readonly Step[] = keptWhole((model) => new Assembly(model).steps());
