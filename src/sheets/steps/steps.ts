import { checkAll } from '../../checks/checkAll.ts';
import { earliestStage, opensAt } from '../../checks/holes/stages.ts';
import { keptWhole } from '../../model/rested.ts';
import type { Joint, Model, Rib, Stage } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { PLACING, type Step } from './step.ts';
import type { Draft, Work } from './stepDraft.ts';
import { apart, open, pilot, stateOf } from './stepDrilling.ts';
import { clampRib, feelCaps, feelChord } from './stepFeeling.ts';
import { fitBracket, laySpar, slip, stand } from './stepPlacing.ts';
import { askGate, noseSurvey, truing } from './stepTruing.ts';
import { EDGES, layerLines } from './stepWords.ts';

/*
 * Who does what: the whole assembly as steps, one action each, in the order in which it can be done.
 *
 * A stage's parts come first, spars before what lies in them, from the middle of the panel outward, tip ribs last; what
 * lies between a rib end and its spar goes in before the rib. Pilots are drilled after the last of the stages that only
 * square and untwist, and only after the panel was squared and surveyed. A joint is opened at the stage that plans it, or
 * at the first at which every layer is in. Layers, sizes, limits and what is held back come from the checks.
 */

/** Stage by stage, the parts that arrive there first. What no stage brings comes with its rib, or at the start. */
function arrivals(work: Work): Map<string, number> {
  const { model, skeleton } = work;
  const at = new Map<string, number>();
  model.stages.forEach((s, i) =>
    s.brings.forEach((part) => {
      if (!at.has(part)) at.set(part, i);
    }),
  );
  const parts = [
    'front',
    ...(model.spars.rear ? ['rear'] : []),
    ...model.ribs.map((r) => r.id),
    ...model.brackets.map((b) => b.id),
  ];
  for (const part of parts) if (!at.has(part)) at.set(part, 0);
  for (const d of model.doublers) if (!at.has(d.id)) at.set(d.id, skeleton.part(d.part) ? (at.get(d.part) ?? 0) : 0);
  return at;
}

function ribSteps(work: Work, bay: Bay, rib: Rib): Draft[] {
  return [
    stand(work, bay, rib),
    ...(rib.kind === 'main' ? feelChord(work, bay) : []),
    ...clampRib(work, bay, rib),
    ...feelCaps(work, rib),
  ];
}

/** The steps that bring a stage's parts in: spars, then ribs of one kind after the other from the middle outward, brackets last. */
function bringing(work: Work, isNew: (part: string) => boolean): Draft[] {
  const { skeleton, middle } = work;
  const drafts: Draft[] = (['front', 'rear'] as const)
    .filter((n) => work.model.spars[n] && isNew(n))
    .map((n) => laySpar(work, n));
  const outward = [...skeleton.bays].sort(
    (a, b) => Math.abs(a.station.y - middle) - Math.abs(b.station.y - middle) || a.station.y - b.station.y,
  );
  const done = new Set<string>();
  for (const kind of ['main', 'nose', 'tip'] as const) {
    for (const bay of outward) {
      const rib = bay[kind];
      if (!rib) continue;
      for (const place of skeleton.placesAt(bay.station.id).filter((p) => p.rib === rib)) {
        for (const d of place.doublers) {
          if (!isNew(d.id)) continue;
          drafts.push(slip(work, place, d));
          done.add(d.id);
        }
      }
      if (isNew(rib.id)) drafts.push(...ribSteps(work, bay, rib));
    }
  }
  for (const b of work.model.brackets)
    if (isNew(b.id)) drafts.push(...[fitBracket(work, b.id)].filter((d) => d !== undefined));
  return drafts;
}

/** Stages that only square and untwist come before the pilots of what was brought: the last of such a run, or the stage itself. */
function pilotStage(model: Model, i: number): number {
  let at = i;
  while (
    at + 1 < model.stages.length &&
    model.stages[at + 1]!.brings.length === 0 &&
    model.stages[at + 1]!.opens.length === 0
  )
    at++;
  return at;
}

/** Joints by the stage that opens them: the planned one, else the first at which every layer is in. */
function openings(work: Work, at: ReadonlyMap<string, number>): Map<Joint, number> {
  const { model } = work;
  return new Map(
    model.joints.map((joint): [Joint, number] => {
      const lastIn = Math.max(0, ...joint.layers.map((p) => at.get(p) ?? 0));
      const early = model.stages.findIndex((s) => s === earliestStage(model, joint));
      return [joint, Math.max(opensAt(model, joint) ?? Math.max(early, 0), lastIn, 0)];
    }),
  );
}

/** Every step of a panel, in order. The same panel, whatever is ticked, gives the same steps. */
export const stepsOf: (model: Model) => readonly Step[] = keptWhole((model) => assemble(model));

/** Steps being put in order, and what is there by then. */
class Order {
  readonly steps: Step[] = [];
  readonly there: string[] = [];
  readonly work: Work;

  constructor(work: Work) {
    this.work = work;
  }

  add(stage: Pick<Stage, 'id' | 'name'>, drafts: readonly Draft[]): void {
    const { skeleton } = this.work;
    for (const d of drafts) {
      const { check, held, goes, joint, stack, opens, ...rest } = d;
      this.steps.push({
        lines: [],
        clamps: [],
        holes: [],
        feels: [],
        done: false,
        layers: stack ? layerLines(skeleton, stack, [...this.there, ...d.chosen]) : [],
        ...rest,
        number: this.steps.length + 1,
        stage: stage.id,
        stageName: stage.name,
        edge: EDGES[d.standing],
        there: this.there.filter((p) => !d.chosen.includes(p)),
        ...(check ? { check } : {}),
        ...(held ? { held } : {}),
        ...(goes ? { goes } : {}),
        ...(joint ? { joint } : {}),
        ...(opens ? { opens } : {}),
        ...placeOf(skeleton, d.station),
      });
      if (PLACING.includes(d.kind)) this.there.push(...d.chosen);
    }
  }
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

/** Pilots in every joint that has layers new by now, two of them at least. */
function pilots(
  order: Order,
  joints: readonly Joint[],
  piloted: Map<string, ReadonlySet<string>>,
  stage: string,
): Draft[] {
  return joints.flatMap((joint) => {
    const isIn = joint.layers.filter((p) => order.there.includes(p));
    const news = isIn.filter((p) => !piloted.get(joint.id)?.has(p));
    if (isIn.length < 2 || news.length === 0) return [];
    piloted.set(joint.id, new Set(isIn));
    // Of layers that come together, those whose holes the file already knows guide the rest.
    const holed = news.filter((p) => joint.holes.every((_, k) => stateOf(joint, k, p) !== 'none'));
    const draft = pilot(order.work, joint, {
      fresh: holed.length === news.length ? news : news.filter((p) => !holed.includes(p)),
      layers: isIn,
      stage,
    });
    return draft ? [draft] : [];
  });
}

function assemble(model: Model): Step[] {
  const skeleton = skeletonOf(model);
  const ys = skeleton.bays.map((b) => b.station.y);
  const work: Work = {
    model,
    skeleton,
    bad: checkAll(model).filter((f) => f.verdict === 'act'),
    middle: (ys[0]! + ys[ys.length - 1]!) / 2,
  };
  const at = arrivals(work);
  const opensIn = openings(work, at);
  const joints = [...model.joints].sort(
    (a, b) =>
      Math.abs(yOf(skeleton, a) - work.middle) - Math.abs(yOf(skeleton, b) - work.middle) ||
      model.joints.indexOf(a) - model.joints.indexOf(b),
  );
  const order = new Order(work);
  const piloted = new Map<string, ReadonlySet<string>>();
  const stages = model.stages.length > 0 ? model.stages : [NO_STAGE];
  const here = (id: string, stage: string): string => (stage ? `${id}@${stage}` : id);
  let [trued, waiting] = [false, false];
  stages.forEach((stage, i) => {
    const fresh = bringing(work, (part) => at.get(part) === i);
    order.add(stage, fresh);
    if (fresh.length > 0) waiting = true;
    if (waiting && pilotStage(model, i) === i) {
      waiting = false;
      const drafts = pilots(order, joints, piloted, stage.id);
      if (drafts.length > 0) {
        if (!trued) order.add(stage, truing(work, order.there));
        else if (fresh.some((d) => d.chosen.some((p) => model.ribs.some((r) => r.id === p && r.kind === 'nose'))))
          order.add(stage, [noseSurvey()]);
        trued = true;
        order.add(stage, [...drafts, { ...CLEAR, id: here(CLEAR.id, stage.id) }]);
      }
    }
    const opened = joints.filter((j) => opensIn.get(j) === i).flatMap((j) => open(work, j, stage.id));
    if (opened.length > 0) order.add(stage, [askGate(model, 'final', here('', stage.id)), ...opened]);
    const stations = [...new Set(joints.map((j) => j.station))].filter((s) => {
      const own = joints.filter((j) => j.station === s && j.holes.length > 0);
      return own.length > 0 && Math.max(...own.map((j) => opensIn.get(j) ?? 0)) === i;
    });
    for (const station of stations)
      order.add(
        stage,
        apart(
          work,
          station,
          order.there.filter((p) => stationOf(skeleton, p) === station),
        ),
      );
  });
  order.add(stages[stages.length - 1]!, [askGate(model, 'skin')]);
  return order.steps;
}

const NO_STAGE: Stage = { id: '', name: '', brings: [], opens: [] };

const placeOf = (skeleton: Skeleton, station: string | null): { at?: number } => {
  const y = skeleton.bays.find((b) => b.station.id === station)?.station.y;
  return y === undefined ? {} : { at: y };
};

const yOf = (skeleton: Skeleton, joint: Joint): number =>
  skeleton.bays.find((b) => b.station.id === joint.station)?.station.y ?? 0;

function stationOf(skeleton: Skeleton, id: string): string | undefined {
  const part = skeleton.part(id);
  if (!part) return undefined;
  if (!('form' in part)) return part.station;
  const rib = skeleton.part(part.part);
  return rib && 'station' in rib ? rib.station : undefined;
}
