import { useMemo, useState } from 'react';
import { checkAll } from '../../checks/checkAll.ts';
import { checkName } from '../../checks/questions.ts';
import type { Model } from '../../model/schema.ts';
import type { Taking } from '../../remedies/decision.ts';
import { changesBetween } from '../../remedies/effect.ts';
import type { PlanTally } from '../../remedies/search/plan.ts';
import { capital } from '../../units/capital.ts';
import { useApp } from '../state/store.ts';
import { callOff, findLeastWork, useSearch } from '../workers/planning.ts';
import type { Found, FoundPlan, Told } from '../workers/plans.worker.ts';
import { Changes, FactLines } from './Changes.tsx';
import { TryOrTake } from './TryIt.tsx';

const count = (n: number, one: string, more: string): string => (n > 0 ? `${n} ${n === 1 ? one : more}` : '');
const and = (parts: readonly string[]): string =>
  parts.length > 1 ? `${parts.slice(0, -1).join(', ')} and ${parts.at(-1)}` : (parts[0] ?? '');

/** What is made and done, in few words: `6 new pieces and 2 parts made again`. */
function workWords(t: PlanTally): string {
  const said = [
    count(t.pieces, 'new piece', 'new pieces'),
    count(t.remade, 'part made again', 'parts made again'),
    count(t.reformed, 'part bent or trimmed', 'parts bent or trimmed'),
    count(t.moved, 'thing moved or exchanged', 'things moved or exchanged'),
  ].filter(Boolean);
  return and(said) || 'nothing';
}

/** What is left afterwards: `leaves nothing beyond act, 10 between fits and act`. */
function leftWords(t: PlanTally): string {
  if (t.beyond === 0 && t.outside === 0) return 'leaves everything inside fits';
  return `leaves ${t.beyond === 0 ? 'nothing' : t.beyond} beyond act, ${t.outside === 0 ? 'nothing' : t.outside} between fits and act`;
}

function hours(quarters: number): string {
  if (quarters === 0) return 'no work';
  return quarters < 4 ? 'under an hour' : `about ${Math.round(quarters / 4)} h`;
}

/** The counts a plan is judged by, each where it is not nothing. */
function tallyWords(t: PlanTally): string {
  const mass = Math.abs(t.mass) < 0.05 ? '' : `${t.mass < 0 ? '−' : '+'}${Math.abs(t.mass).toFixed(1)} g`;
  return [
    hours(t.work),
    count(t.holesLost, 'hole lost', 'holes lost'),
    t.stack > 0 ? `${t.stack} layers in the worst stack` : '',
    mass,
  ]
    .filter(Boolean)
    .join(' · ');
}

/** How far off a place is: within 1 it fits, within 2 it is watched. */
function whereWords(reach: number): string {
  if (reach <= 1) return 'inside fits';
  return reach <= 2 ? 'between fits and act' : 'beyond act';
}

/** The place that is furthest off afterwards. */
function worstWords(plan: FoundPlan): string {
  const { worst } = plan.tally;
  const f = worst && checkAll(plan.model).find((x) => x.id === worst.id);
  if (!worst || !f) return '';
  return `Furthest off then: ${f.place}, ${checkName(f.check)}, ${whereWords(worst.reach)}.`;
}

const takingOfFound = (base: Model, plan: FoundPlan): Taking => ({
  remedies: plan.remedies,
  name: plan.name,
  findings: changesBetween(base, plan.model)
    .filter((c) => c.worse < 0)
    .map((c) => c.id)
    .slice(0, 200),
  // A plan is the panel with it done; it was found for this panel and no other.
  apply: (m) => (m === base ? plan.model : m),
});

/** One plan opened: what is done, everything that moves, the proof; tried and taken. */
function PlanBody({ base, plan }: { base: Model; plan: FoundPlan }) {
  const changes = useMemo(() => changesBetween(base, plan.model), [base, plan]);
  const taking = useMemo(() => takingOfFound(base, plan), [base, plan]);
  return (
    <>
      {plan.remedies.length > 0 && (
        <ul className="facts">
          {plan.remedies.map((r) => (
            <li key={r.id}>{capital(r.name)}</li>
          ))}
        </ul>
      )}
      <p className="small">
        {worstWords(plan)}
        {plan.proof ? ` ${plan.proof.sentence}` : ''}
      </p>
      {plan.remedies.length > 0 && (
        <>
          <Changes model={base} changes={changes} />
          <FactLines before={base} after={plan.model} />
          <TryOrTake name={`${plan.name} (${plan.remedies.length} remedies)`} taking={taking} />
        </>
      )}
    </>
  );
}

export function PlanRow({ base, plan, first }: { base: Model; plan: FoundPlan; first: boolean }) {
  const [open, setOpen] = useState(first);
  return (
    <li>
      <details open={open} onToggle={(e) => setOpen(e.currentTarget.open)}>
        <summary>
          <b>{capital(plan.name)}</b>
          <span className="small">
            {' '}
            {capital(leftWords(plan.tally))}.{' '}
            {plan.remedies.length > 0 && `${capital(workWords(plan.tally))}: ${tallyWords(plan.tally)}.`}
          </span>
        </summary>
        {open && <PlanBody base={base} plan={plan} />}
      </details>
    </li>
  );
}

/** The plan with the least left beyond act, and of those the least work. */
function leastOf(plans: readonly FoundPlan[]): FoundPlan | undefined {
  return [...plans].sort((a, b) => a.tally.beyond - b.tally.beyond || a.tally.work - b.tally.work)[0];
}

/** The answer in one sentence: what is the least work, and what it leaves. */
function answerSentence(plan: FoundPlan): string {
  const { tally } = plan;
  if (plan.remedies.length === 0)
    return tally.beyond === 0 ? 'Nothing has to be done.' : `Nothing on hand helps: ${tally.beyond} stay beyond act.`;
  return tally.beyond === 0
    ? `The least work: ${workWords(tally)} ${leftWords(tally).replace('leaves', 'leave')}.`
    : `${tally.beyond} stay beyond act whatever is done; the least work that gets there: ${workWords(tally)}.`;
}

function FoundPlans({ base, found }: { base: Model; found: Found }) {
  const choose = useApp((s) => s.choose);
  const least = leastOf(found.plans);
  const plans = least ? [least, ...found.plans.filter((p) => p !== least)] : found.plans;
  return (
    <>
      {least && (
        <p className="lead" role="status">
          {answerSentence(least)}
        </p>
      )}
      {found.conflicts.length > 0 && (
        <>
          <h3>What stays, and why</h3>
          <ul className="groups">
            {found.conflicts.map((c) => (
              <li key={c.finding}>
                <button type="button" className="row-plain" onClick={() => choose(c.station, c.finding)}>
                  {c.short}
                </button>
              </li>
            ))}
          </ul>
        </>
      )}
      <p className="small">
        The plans no other beats on every count, out of {found.combinations.toLocaleString('en')} combinations; by best
        values, for doubt is for measuring. Hours are a rough guess.
      </p>
      <ol className="remedies">
        {plans.map((p) => (
          <PlanRow key={p.id} base={base} plan={p} first={p === least} />
        ))}
      </ol>
    </>
  );
}

const PHASE: Record<Told['phase'], string> = {
  choices: 'Asking what may be done at each station',
  search: 'Weighing it all together over the span',
  check: 'Asking every check again',
};

function Going({ told }: { told: Told | null }) {
  return (
    <>
      <p role="status">
        {told ? `${PHASE[told.phase]}, ${Math.min(told.done + 1, told.of)} of ${told.of}…` : 'Starting…'}
      </p>
      <progress max={told?.of ?? 1} value={told?.done ?? 0} aria-label="How far the search is" />
      {told?.best && (
        <p>
          Best so far: {workWords(told.best)}; {leftWords(told.best)}.
        </p>
      )}
      {told?.bound && (
        <p className="small">
          No plan of what is on hand can leave fewer than {told.bound.beyond} beyond act
          {told.bound.outside > 0 ? ` and ${told.bound.outside} between fits and act` : ''}.
        </p>
      )}
      <button type="button" className="toggle" onClick={callOff}>
        Call it off
      </button>
    </>
  );
}

/**
 * What is the least work? Searched for in the background over the whole span; plans side by side with doing nothing.
 */
export function LeastWork() {
  const model = useApp((s) => s.model);
  const search = useSearch((s) => s.search);
  const mine = search.state !== 'idle' && search.base === model ? search : { state: 'idle' as const };
  const ask = (
    <button type="button" className="take" onClick={() => void findLeastWork()}>
      Find the least work
    </button>
  );
  return (
    <section className="remedy-part" aria-label="The least work">
      <h2>What is the least work?</h2>
      {mine.state === 'idle' && (
        <>
          <p>Every remedy that stock, shims and ribs on hand allow, weighed together over the whole span.</p>
          {ask}
        </>
      )}
      {mine.state === 'going' && <Going told={mine.told} />}
      {mine.state === 'called off' && (
        <>
          <p>Called off.</p>
          {ask}
        </>
      )}
      {mine.state === 'failed' && (
        <>
          <p className="refused" role="alert">
            {mine.sentence}
          </p>
          {ask}
        </>
      )}
      {mine.state === 'found' && <FoundPlans base={model} found={mine.found} />}
    </section>
  );
}
