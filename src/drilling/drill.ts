import { show } from '../checks/describe.ts';
import type { CheckId } from '../checks/finding.ts';
import { allAtStation } from '../checks/findingsOf.ts';
import { stageIndex } from '../checks/holes/stages.ts';
import { checkName } from '../checks/questions.ts';
import { kept, keptWhole } from '../model/rested.ts';
import type { Hole, Joint, Model } from '../model/schema.ts';
import { jointOf, type Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { factsOf, type HoleFacts, rowFacts } from './facts.ts';
import type { GateAnswer, GateItem } from './gate.ts';
import type { HoleAnswer, Own } from './hole.ts';
import { ownAnswer } from './ownAnswer.ts';
import { type Decided, rowDecided } from './rowGate.ts';

/*
 * Asks of every hole, before a bit touches metal: now, not yet, never at this size, in doubt or not asked, and why.
 * The one thing that cannot be undone. A hole is now only where its row's gate says yes and its own answer is good;
 * whatever says that a hole may be drilled asks here.
 */

/** Checks that say a part does not go in. */
const GOES_IN: readonly CheckId[] = ['cap-gap', 'chord-gap'];

const NOBODY: ReadonlyMap<string, string> = new Map();

/** Parts of a station that likely do not go in as they are, each with where: M6, "between the webs". */
const faultyParts = kept((model, station): ReadonlyMap<string, string> => {
  const parts = new Map<string, string>();
  for (const f of allAtStation(model, station)) {
    const likely = f.verdict === 'act' || (f.verdict === 'unsettled' && f.chance > 0.5);
    if (!likely || f.at.part === undefined || !GOES_IN.includes(f.check)) continue;
    if (!parts.has(f.at.part)) parts.set(f.at.part, checkName(f.check));
  }
  return parts;
});

const WAITS: Readonly<Record<Exclude<GateAnswer, 'yes'>, Pick<HoleAnswer, 'state' | 'because'>>> = {
  no: { state: 'not yet', because: 'put right' },
  unsettled: { state: 'not yet', because: 'look' },
  'not asked': { state: 'not asked', because: 'look' },
};

/** What must be done first, in few words: `between the caps, M2 front: 0.32 mm, binds`. */
function clause(model: Model, item: GateItem): string {
  const f = item.finding;
  if (!f || item.answer === 'not asked' || item.first !== f.sentence) return item.first.replace(/\.$/, '');
  return `${checkName(f.check)}, ${f.place}: ${show(model, Math.abs(f.value), f.unit)}, ${f.sense}`;
}

/** A hole's own answer as its row's gate lets it stand: now only where the gate says yes. */
function gated(model: Model, own: Own, { answer, item }: Decided): Own {
  if (own.state !== 'now' || answer === 'yes') return own;
  const first = item ? clause(model, item) : 'nothing was asked';
  const lead = answer === 'no' ? 'first put this right' : 'first';
  return {
    ...WAITS[answer],
    how: 'wait',
    reason: `${lead}: ${first}`,
    why: `${lead}: ${first}; then ${own.why}`,
  };
}

/**
 * Looking ahead, nothing is asked of a panel that does not stand so yet: what will be done is said, and that it is
 * asked then.
 */
function lookedAhead(own: Own): Own {
  if (own.state !== 'now') return own;
  return {
    state: 'not yet',
    how: own.how,
    because: 'then',
    reason: 'asked again when that stage is reached',
    why: `then ${own.why}; asked again when that stage is reached`,
  };
}

/** A row at a stage (its place in the order). */
interface RowAt {
  readonly joint: string;
  readonly at: number;
  readonly ahead: boolean;
}

/** The answers of one row, with what its gate says of the next bit in each. */
const rowAnswers = kept(
  (model, { joint: id, at, ahead }: RowAt): readonly HoleAnswer[] => {
    const skeleton = skeletonOf(model);
    const joint = jointOf(model, id);
    if (!joint) return [];
    const faulty = faultyParts(model, joint.station);
    const pilots = rowDecided(model, { joint: id, id: 'pilots', at });
    const final = rowDecided(model, { joint: id, id: 'final', at });
    return rowFacts(skeleton, joint, at).map((facts): HoleAnswer => {
      const own = ownAnswer({ skeleton, facts, at, ahead, faulty });
      const gate = own.how === 'pilot' ? pilots : final;
      const said = ahead ? lookedAhead(own) : gated(model, own, gate);
      return { id: `${id}/${facts.hole.id}`, ...facts, ...said, gate: gate.answer };
    });
  },
  { name: ({ joint, at, ahead }) => `${joint} ${at}${ahead ? ' ahead' : ''}` },
);

/** How a hole is opened once everything at its station is put right: for the cards that are drawn before that. */
export function askOnceTrue(skeleton: Skeleton, joint: Joint, hole: Hole, stage?: string): HoleAnswer {
  const at = stageIndex(skeleton.model, stage);
  const facts: HoleFacts = factsOf(skeleton, joint, hole, at, true);
  const own = ownAnswer({ skeleton, facts, at, ahead: false, faulty: NOBODY });
  return { id: `${joint.id}/${hole.id}`, ...facts, ...own, gate: 'not asked' };
}

export interface Asking {
  /** A stage by its name; the present one unless told. */
  readonly stage?: string | undefined;
  /**
   * Looking ahead: what the plan opens on the way is taken as opened. Nothing is ever now: it is asked when it is
   * reached.
   */
  readonly ahead?: boolean;
}

const panelAnswers = keptWhole(
  (model, { stage, ahead }: Required<Asking> & { readonly stage: string }): readonly HoleAnswer[] => {
    const skeleton = skeletonOf(model);
    const at = stageIndex(model, stage);
    const away = ahead || at !== stageIndex(model);
    return skeleton.bays.flatMap(({ station }) =>
      skeleton.jointsAt(station.id).flatMap((joint) => rowAnswers(model, { joint: joint.id, at, ahead: away })),
    );
  },
  { name: ({ stage, ahead }) => `${stage}${ahead ? ' ahead' : ''}` },
);

/**
 * Every hole of the panel at a stage, joint by joint along the span. A stage other than the
 * present one is looked at ahead: no hole is now there.
 */
export function askHoles(
  skeleton: Skeleton,
  { stage = skeleton.model.now ?? '', ahead = false }: Asking = {},
): readonly HoleAnswer[] {
  return panelAnswers(skeleton.model, { stage, ahead });
}
