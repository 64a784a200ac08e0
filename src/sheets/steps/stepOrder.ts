import { earliestStage, opensAt } from '../../checks/holes/stages.ts';
import type { Joint, Model, Stage } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { PLACING, type Step } from './step.ts';
import type { Draft, Work } from './stepDraft.ts';
import { EDGES, layerLines } from './stepWords.ts';

/*
 * When things come: the stage that brings a part, the stage at which a joint is piloted and opened; and steps being
 * put in order, with what is there by then.
 */

/** By part, the place of the stage that brings it first. What no stage brings comes with its rib, or at the start. */
export function arrivals({ model, skeleton }: Work): ReadonlyMap<string, number> {
  const at = new Map<string, number>();
  const bring = (part: string, i: number): void => {
    if (!at.has(part)) at.set(part, i);
  };
  for (const [i, { brings }] of model.stages.entries()) for (const part of brings) bring(part, i);
  for (const name of ['front', 'rear'] as const) if (model.spars[name]) bring(name, 0);
  for (const { id } of [...model.ribs, ...model.brackets]) bring(id, 0);
  for (const { id, part } of model.doublers) bring(id, skeleton.part(part) ? (at.get(part) ?? 0) : 0);
  return at;
}

/**
 * Stages that only square and untwist come before the pilots of what was brought: the last of such a run, or the
 * stage itself.
 */
export function pilotStage(model: Pick<Model, 'stages'>, i: number): number {
  const next = model.stages[i + 1];
  const onlyTrues = next !== undefined && next.brings.length === 0 && next.opens.length === 0;
  return onlyTrues ? pilotStage(model, i + 1) : i;
}

/** Joints by the stage that opens them: the planned one, else the first at which every layer is in. */
export function openings(work: Work, at: ReadonlyMap<string, number>): Map<Joint, number> {
  const { model } = work;
  return new Map(
    model.joints.map((joint): [Joint, number] => {
      const lastIn = Math.max(0, ...joint.layers.map((p) => at.get(p) ?? 0));
      const earliest = earliestStage(model, joint);
      const early = earliest ? model.stages.indexOf(earliest) : 0;
      return [joint, Math.max(opensAt(model, joint) ?? early, lastIn)];
    }),
  );
}

/** Steps being put in order, and what is there by then. */
export class Order {
  readonly steps: Step[] = [];
  readonly there: string[] = [];
  readonly #skeleton: Skeleton;

  constructor(skeleton: Skeleton) {
    this.#skeleton = skeleton;
  }

  add(stage: Pick<Stage, 'id' | 'name'>, drafts: readonly Draft[]): void {
    for (const draft of drafts) {
      this.steps.push(this.#numbered(stage, draft));
      if (PLACING.includes(draft.kind)) this.there.push(...draft.chosen);
    }
  }

  #numbered(stage: Pick<Stage, 'id' | 'name'>, { stack, ...draft }: Draft): Step {
    const skeleton = this.#skeleton;
    const at = skeleton.bays.find((b) => b.station.id === draft.station)?.station.y;
    return {
      lines: [],
      clamps: [],
      holes: [],
      feels: [],
      done: false,
      layers: stack ? layerLines(skeleton, stack, [...this.there, ...draft.chosen]) : [],
      ...draft,
      number: this.steps.length + 1,
      stage: stage.id,
      stageName: stage.name,
      edge: EDGES[draft.standing],
      there: this.there.filter((p) => !draft.chosen.includes(p)),
      ...(at === undefined ? {} : { at }),
    };
  }
}

/** The station a part belongs to; undefined for a spar. */
export function stationOf(skeleton: Skeleton, id: string): string | undefined {
  const part = skeleton.part(id);
  if (!part) return undefined;
  if (!('form' in part)) return part.station;
  const rib = skeleton.part(part.part);
  return rib && 'station' in rib ? rib.station : undefined;
}
