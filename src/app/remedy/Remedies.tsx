import { useEffect, useMemo, useState } from 'react';
import type { Finding } from '../../checks/finding.ts';
import type { Model } from '../../model/schema.ts';
import { takingOf } from '../../remedies/decision.ts';
import { type Offer, offering } from '../../remedies/offering.ts';
import type { Cost } from '../../remedies/remedy.ts';
import { capital } from '../../units/capital.ts';
import { useMoreToCome } from '../state/atRest.ts';
import { useApp, useFindings } from '../state/store.ts';
import { useTrying } from '../state/trying.ts';
import { Groups } from '../station/Findings.tsx';
import { verdictWord } from '../widgets/Mark.tsx';
import { Causes } from './Causes.tsx';
import { Changes, FactLines, turnedWords } from './Changes.tsx';
import { Leave } from './Leave.tsx';
import { TryOrTake } from './TryIt.tsx';

const many = (n: number, one: string, more: string): string => (n > 0 ? `${n} ${n === 1 ? one : more}` : '');

/** What a remedy or plan costs, in words: pieces, parts made again, holes lost. */
export function costText(cost: Cost, askDesigner: boolean): string {
  const said = [
    many(cost.pieces, 'new piece', 'new pieces'),
    many(cost.remade, 'part made again', 'parts made again'),
    many(cost.reformed, 'part bent or trimmed', 'parts bent or trimmed'),
    many(cost.holesLost, 'hole lost', 'holes lost'),
    askDesigner ? 'ask the designer' : '',
  ].filter(Boolean);
  return said.join(', ') || 'no new metal';
}

/** Puts a remedy into one's own plan, or takes it out. */
function PickButton({ finding, offer }: { finding: Finding; offer: Offer }) {
  const picks = useTrying((s) => s.picks);
  const put = useTrying((s) => s.put);
  const on = picks.some((p) => p.remedy === offer.remedy.id);
  const flip = () =>
    put({
      picks: on
        ? picks.filter((p) => p.remedy !== offer.remedy.id)
        : [...picks, { finding: finding.id, remedy: offer.remedy.id, name: offer.remedy.name }],
    });
  return (
    <button type="button" className="toggle" aria-pressed={on} onClick={flip}>
      {on ? 'In my plan' : 'To my plan'}
    </button>
  );
}

function OfferRow({ finding, offer, first }: { finding: Finding; offer: Offer; first: boolean }) {
  const model = useApp((s) => s.model);
  const { remedy, after, effect } = offer;
  const taking = useMemo(() => takingOf([remedy], [finding.id]), [remedy, finding.id]);
  return (
    <li>
      <details open={first}>
        <summary>
          <b>{capital(remedy.name)}</b>
          <span className="small">
            {' '}
            {after ? `Then ${verdictWord(after.verdict)}. ` : ''}
            {turnedWords(effect.changes)} {capital(costText(remedy.cost, remedy.askDesigner))}.
          </span>
        </summary>
        <Changes model={model} changes={effect.changes} wanted={finding.id} said />
        <FactLines before={model} after={effect.model} />
        {remedy.note && <p className="small">{remedy.note}</p>}
        <TryOrTake name={remedy.name} taking={taking}>
          <PickButton finding={finding} offer={offer} />
        </TryOrTake>
      </details>
    </li>
  );
}

interface Trying {
  readonly model: Model;
  readonly finding: string;
  readonly done: number;
  readonly of: number;
  readonly offers?: readonly Offer[];
}

/** Remedies for a finding, tried one after the other; the screen goes on between them. */
function useOffers(model: Model, finding: Finding): Trying | null {
  const [trying, setTrying] = useState<Trying | null>(null);
  useEffect(() => {
    const all = offering(model, finding);
    const start = { model, finding: finding.id };
    let wanted = true;
    const go = (): void => {
      if (!wanted) return;
      const step = all.next();
      setTrying(
        step.done
          ? { ...start, done: step.value.length, of: step.value.length, offers: step.value }
          : { ...start, ...step.value },
      );
      if (!step.done) setTimeout(go, 0);
    };
    const first = setTimeout(go, 0);
    return () => {
      wanted = false;
      clearTimeout(first);
    };
  }, [model, finding]);
  const shown = trying?.model === model && trying.finding === finding.id ? trying : null;
  useMoreToCome(!shown?.offers);
  return shown;
}

/** What is said where nothing on hand puts a finding right. */
const NO_OFFER: Readonly<Record<Finding['verdict'], string>> = {
  unsettled: 'Measure it first: no remedy helps against not knowing.',
  fits: 'It fits: nothing to put right.',
  watch: 'Nothing on hand answers this; ask the designer.',
  act: 'Nothing on hand answers this; ask the designer.',
};

/** Remedies for one finding, each tried on the whole skeleton: what it puts right, what else moves, what it costs. */
function Offers({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const trying = useOffers(model, finding);
  if (finding.echoOf) return null;
  if (!trying?.offers)
    return (
      <p role="status">
        Trying every remedy on the whole skeleton{trying && trying.of > 0 ? `, ${trying.done + 1} of ${trying.of}` : ''}
        …
      </p>
    );
  if (trying.offers.length === 0) return <p>{NO_OFFER[finding.verdict]}</p>;
  return (
    <ol className="remedies">
      {trying.offers.map((o, i) => (
        <OfferRow key={o.remedy.id} finding={finding} offer={o} first={i === 0} />
      ))}
    </ol>
  );
}

/** What puts one finding right: why it is off, the remedies, and leaving it with a note. */
export function Remedies({ finding }: { finding: Finding }) {
  return (
    <>
      <Causes finding={finding} />
      <Offers finding={finding} />
      <Leave finding={finding} />
    </>
  );
}

const wanting = (f: Finding): boolean =>
  !f.echoOf && (f.verdict === 'act' || (f.verdict === 'unsettled' && f.chance > 0.5));

/** What puts it right? for the whole panel: the findings that want something, worst first, each a way in. */
export function ToPutRight() {
  const findings = useFindings();
  const open = findings.filter(wanting);
  if (open.length === 0) return null;
  return (
    <section className="remedy-part" aria-label="One at a time">
      <h2>One at a time</h2>
      <Groups findings={open} />
    </section>
  );
}

/** How many findings have to be put right, in one sentence. */
export function remedyHeadline(findings: readonly Finding[]): string {
  const act = findings.filter((f) => f.verdict === 'act' && !f.echoOf).length;
  const likely = findings.filter((f) => wanting(f) && f.verdict === 'unsettled').length;
  if (act + likely === 0) return 'Nothing has to be put right.';
  return `${act} to put right${likely > 0 ? `, and ${likely} that most likely will be` : ''}.`;
}
