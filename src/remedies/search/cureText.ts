import { type BasisWord, basisMarked, basisOfFinding } from '../../checks/basis.ts';
import { checkAll } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import { CAUTION } from '../../checks/report.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { FindingChange } from '../effect.ts';
import { counts, levelOf, measureFirst, reachOf } from '../reach.ts';
import { inSpanOrder } from './inOrder.ts';
import type { Outcome, Proof } from './outcome.ts';
import type { Placement } from './placement.ts';
import type { Plan } from './plan.ts';

/*
 * The plans as text for the terminal, and as plain data: what is done, what it costs, what it leaves, which findings
 * change their verdict, how sure it is that nothing does better.
 */

const plural = (n: number, one: string, many = `${one}s`): string => `${n} ${n === 1 ? one : many}`;

/** What a plan costs: `3 pieces, 1 part made again, about 4 h; 12 g more`. */
function costText({ tally: t }: Plan): string {
  const parts = [
    t.pieces > 0 ? plural(t.pieces, 'piece') : '',
    t.remade > 0 ? `${plural(t.remade, 'part')} made again` : '',
    t.reformed > 0 ? `${plural(t.reformed, 'part')} bent or trimmed again` : '',
    t.moved > 0 ? `${plural(t.moved, 'thing')} moved or changed` : '',
    t.holesLost > 0 ? `${plural(t.holesLost, 'hole')} lost` : '',
  ].filter((p) => p !== '');
  const stack = t.stack > 0 ? `, ${t.stack} layers in the thickest stack` : '';
  const mass = Math.abs(t.mass) >= 0.05 ? `, ${Math.abs(t.mass).toFixed(1)} g ${t.mass > 0 ? 'more' : 'less'}` : '';
  return parts.length === 0
    ? 'nothing made'
    : `${parts.join(', ')}, about ${(t.work / 4).toFixed(1)} h${stack}${mass}${t.askDesigner ? '; ask the designer' : ''}`;
}

/** The finding of a plan that reaches furthest, in words: `F6 hole h2, hole clean-up`. */
function worstText({ model, tally: { worst } }: Plan): string {
  const f = worst && worst.reach > 1 ? checkAll(model).find((x) => x.id === worst.id) : undefined;
  return f ? `; worst ${f.place}, ${checkName(f.check)}` : '';
}

/** What a plan leaves: verdicts, and how many of the unsettled are more likely than not beyond act. */
function leftText(plan: Plan): string {
  const t = plan.tally;
  const likely = t.beyond - t.act;
  const unsettled = likely > 0 ? ` (${likely} more likely beyond act than not)` : '';
  const verdicts = `act ${t.act}, unsettled ${t.unsettled}${unsettled}, watch ${t.watch}, fits ${t.fits}`;
  return `${verdicts}; by best values ${t.beyond} beyond act, ${t.outside} between fits and act${worstText(plan)}`;
}

/** Places named at most that a plan leaves uncured. */
const NAMED = 4;

/**
 * What a plan leaves beyond act by its best values, worst first, said before what it does: places to be put right by
 * hand, or asked about.
 */
function uncured(model: Model, plan: Plan): string[] {
  if (plan.tally.beyond === 0) return [];
  const drawn = measureFirst(model);
  const left = checkAll(plan.model)
    .map((f) => ({ f, reach: reachOf(f.value, f.limits) }))
    .filter(({ f, reach }) => !f.echoOf && counts(f, reach, drawn) && levelOf(reach) === 2)
    .sort((a, b) => b.reach - a.reach);
  const named = left.slice(0, NAMED).map(({ f }) => `${f.place}, ${checkName(f.check)}${byHand(f)}`);
  const more = left.length > NAMED ? [`and ${left.length - NAMED} more`] : [];
  return [...named, ...more];
}

/** What a finding says is done about it by hand; nothing where it says none. */
const byHand = ({ said }: Finding): string => {
  const todo = said.rest.at(-1);
  return todo === undefined || todo.startsWith('Act:') ? '' : `: ${todo}`;
};

/** What a plan would leave was not read by anybody. */
const WORKED_OUT: BasisWord = 'predicted';

const basisBefore = (model: Model, { before }: FindingChange): BasisWord =>
  before ? basisOfFinding(skeletonOf(model), before) : 'not asked';

const spoken = (model: Model, c: FindingChange): string => {
  const one = (f: FindingChange['before'], basis: BasisWord): string =>
    f ? `${show(model, f.value, f.unit)} ${f.verdict} (${basisMarked(basis)})` : 'none';
  const f = c.before ?? c.after;
  const [before, after] = [one(c.before, basisBefore(model, c)), one(c.after, WORKED_OUT)];
  return `${f ? `${f.place}, ${checkName(f.check)}` : c.id}: ${before} → ${after}`;
};

/** Changed verdicts listed at most for each plan in the terminal. */
const LISTED = 12;

function changesText(model: Model, plan: Plan): string[] {
  const turned = plan.changes.filter((c) => c.worse !== 0);
  const worse = turned.filter((c) => c.worse > 0);
  const better = turned.filter((c) => c.worse < 0);
  const lines = (list: readonly FindingChange[], word: string): string[] =>
    list.length === 0
      ? []
      : [
          `  ${word}:`,
          ...list.slice(0, LISTED).map((c) => `    ${spoken(model, c)}`),
          ...(list.length > LISTED ? [`    and ${list.length - LISTED} more`] : []),
        ];
  return [
    ...lines(worse, 'worse'),
    ...lines(better, 'better'),
    `  ${plan.changes.length} findings move, ${turned.length} change their verdict`,
  ];
}

function uncuredText(model: Model, plan: Plan): string[] {
  const left = uncured(model, plan);
  return left.length === 0 ? [] : ['  leaves uncured:', ...left.map((place) => `    ${place}`)];
}

function planText(model: Model, outcome: Outcome, plan: Plan, k: number): string[] {
  const proof = outcome.proofs.get(plan.id);
  return [
    `${k + 1}. ${plan.name}`,
    ...uncuredText(model, plan),
    ...inSpanOrder(model, plan.remedies).map((r) => `  - ${r.name}${r.askDesigner ? ' *' : ''}`),
    `  costs: ${costText(plan)}`,
    `  leaves: ${leftText(plan)}`,
    ...(proof ? [`  ${proof.sentence}`] : []),
    ...(plan.remedies.length > 0 ? changesText(model, plan) : []),
    '',
  ];
}

function placementText(placements: readonly Placement[]): string[] {
  if (placements.length === 0) return [];
  const one = (p: Plan | undefined): string[] =>
    p
      ? [
          `  ${p.name}: ${p.remedies.map((r) => r.name).join(', ')} (${costText(p)}); leaves ${p.tally.beyond} beyond act, ${p.tally.outside} between fits and act`,
        ]
      : [];
  return [
    'Which rib goes where:',
    ...placements.flatMap((p) => [`  ${p.ribs.join(', ')}: ${p.sentence}`, ...one(p.swap), ...one(p.best)]),
    '',
  ];
}

/** All plans as text, best first, then why what is left stays, then the placements. */
export function cureText(model: Model, outcome: Outcome, placements: readonly Placement[]): string {
  const head = `${model.name}, revision ${model.revision}: ${plural(outcome.plans.length, 'plan')}`;
  const stopped = outcome.complete ? [] : ['The search was stopped before its end: there may be better plans.', ''];
  const why =
    outcome.conflicts.length === 0
      ? []
      : ['What no plan here cures:', ...outcome.conflicts.map((c) => `  ${c.sentence}`), ''];
  return [
    head,
    '',
    ...stopped,
    ...outcome.plans.flatMap((p, k) => planText(model, outcome, p, k)),
    ...why,
    ...placementText(placements),
    '* ask the designer',
    '',
    CAUTION,
  ].join('\n');
}

/** A proof as plain data; readers of it know the objective as `wish`. */
const plainProof = ({ objective, ...rest }: Proof): object => ({ wish: objective, ...rest });

const plainSide = ({ value, verdict }: NonNullable<FindingChange['before']>, basis: BasisWord): object => ({
  value,
  verdict,
  basis,
});

/** A plan as plain data, values in mm, degrees, g and quarter hours, unrounded. */
function plainPlan(model: Model, outcome: Outcome | undefined, plan: Plan): object {
  const proof = outcome?.proofs.get(plan.id);
  return {
    name: plan.name,
    remedies: plan.remedies.map(({ id, name, station, part, cost, askDesigner }) => ({
      id,
      name,
      station,
      part,
      cost,
      askDesigner,
    })),
    tally: plan.tally,
    ...(proof ? { proof: plainProof(proof) } : {}),
    changes: plan.changes.map((change) => ({
      id: change.id,
      worse: change.worse,
      before: change.before && plainSide(change.before, basisBefore(model, change)),
      after: change.after && plainSide(change.after, WORKED_OUT),
    })),
  };
}

/** The same as plain data. */
export function curePlain(model: Model, outcome: Outcome, placements: readonly Placement[]): object {
  return {
    panel: { name: model.name, revision: model.revision },
    complete: outcome.complete,
    combinations: outcome.combinations,
    plans: outcome.plans.map((p) => plainPlan(model, outcome, p)),
    conflicts: outcome.conflicts.map(({ finding, why, against, sentence }) => ({
      finding: finding.id,
      why,
      against,
      sentence,
    })),
    placements: placements.map((p) => ({
      kind: p.kind,
      ribs: p.ribs,
      proven: p.proven,
      sentence: p.sentence,
      ...(p.swap ? { swap: plainPlan(model, undefined, p.swap) } : {}),
      ...(p.best ? { best: plainPlan(model, undefined, p.best) } : {}),
    })),
    caution: CAUTION,
  };
}
