import { lazy, Suspense, useEffect, useRef } from 'react';
import type { Finding } from '../../checks/finding.ts';
import { checksOf, groupsOf } from '../../checks/questions.ts';
import { CAUTION } from '../../checks/report.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { awaited } from '../state/atRest.ts';
import { useApp, useFindings } from '../state/store.ts';
import { FindingDetail, firstThing } from '../station/Findings.tsx';
import { WhatIsThis } from '../widgets/WhatIsThis.tsx';
import { ABOUT_QUESTIONS } from './aboutQuestions.ts';
import { longQuestion } from './Questions.tsx';
import { useAnswer } from './useAnswer.ts';
import './card.css';

const MeasureCard = lazy(() => awaited(import('../measure/MeasureCard.tsx').then((m) => ({ default: m.MeasureCard }))));

function Caution() {
  return (
    <details className="caution">
      <summary>Fit, not strength</summary>
      <p>{CAUTION}</p>
    </details>
  );
}

/** The first thing to do about what was found, the worst first. */
function firstOf(asked: readonly Finding[]): string | null {
  const worst = groupsOf(asked)[0]?.worst;
  return worst ? firstThing(worst) : null;
}

/** The whole panel's answer to the question: one sentence, the first thing to do, then what the question shows. */
function PanelCard() {
  const question = useApp((s) => s.question);
  const model = useApp((s) => s.model);
  const ahead = useApp((s) => s.ahead);
  const findings = useFindings();
  const answer = useAnswer(question);
  const asked = findings.filter((f) => checksOf(question).includes(f.check));
  if (!answer)
    return (
      <p className="question" role="status">
        {longQuestion(question)}
      </p>
    );
  const { headline, lead, Head, Whole } = answer;
  const first = lead ? lead(model) : firstOf(asked);
  return (
    <>
      <div className="question-line">
        <p className="question">{longQuestion(question)}</p>
        <WhatIsThis key={question} says={ABOUT_QUESTIONS[question]} />
      </div>
      {Head ? (
        <Head headline={headline(model, asked, findings, ahead)} />
      ) : (
        <>
          <h1>{headline(model, asked, findings, ahead)}</h1>
          {first && <p className="lead">{first}</p>}
        </>
      )}
      <Whole asked={asked} />
      <Caution />
    </>
  );
}

/** A station's answer, under its name, its place and its parts. */
function StationCard({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const question = useApp((s) => s.question);
  const choose = useApp((s) => s.choose);
  const { bays } = skeletonOf(model);
  const Station = useAnswer(question)?.Station;
  const { id, y, washout } = bay.station;
  const step = (by: number) => {
    const next = bays[bay.index + by];
    if (next) choose(next.station.id);
  };
  const marks = [bay.tip?.id, bay.main?.id, bay.nose?.id].filter(Boolean).join(', ');
  return (
    <>
      <div className="card-head">
        <button
          type="button"
          className="icon"
          aria-label="Station before"
          disabled={bay.index === 0}
          onClick={() => step(-1)}
        >
          ◂
        </button>
        <h1>
          Station {id}{' '}
          <small>
            at {formatLength(y, model.units, { signed: true })}
            {washout !== 0 && `, washout ${formatAngle((washout * Math.PI) / 180)}`} · {marks}
          </small>
        </h1>
        <button
          type="button"
          className="icon"
          aria-label="Station after"
          disabled={bay.index === bays.length - 1}
          onClick={() => step(1)}
        >
          ▸
        </button>
        <button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => choose(null)}>
          ✕
        </button>
      </div>
      {Station && <Station bay={bay} />}
    </>
  );
}

/** The measuring card of a size that belongs to no one station: a sheet, a bend, a bow. */
function LooseSize({ size }: { size: string }) {
  const read = useApp((s) => s.read);
  return (
    <>
      <div className="card-head">
        <h1>What did I measure?</h1>
        <button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => read(null)}>
          ✕
        </button>
      </div>
      <Suspense fallback={null}>
        <MeasureCard size={size} onSize={read} />
      </Suspense>
    </>
  );
}

/** A finding of the whole panel, opened above its answer. */
function WholeFinding() {
  const question = useApp((s) => s.question);
  const finding = useApp((s) => s.finding);
  const choose = useApp((s) => s.choose);
  const open = useFindings().find((f) => f.id === finding);
  const Extra = useAnswer(question)?.Finding;
  if (!open) return null;
  return (
    <>
      <div className="card-head">
        <h1>The whole panel</h1>
        <button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => choose(null)}>
          ✕
        </button>
      </div>
      <FindingDetail finding={open} stacks={!Extra}>
        {Extra && <Extra finding={open} />}
      </FindingDetail>
    </>
  );
}

/** What the card is about: a station, a size of no one station, or the whole panel. */
function CardBody({ bay }: { bay: Bay | undefined }) {
  const size = useApp((s) => s.size);
  if (bay) return <StationCard bay={bay} />;
  if (size !== null) return <LooseSize size={size} />;
  return (
    <>
      <WholeFinding />
      <PanelCard />
    </>
  );
}

/** The card beside the bench: the chosen station cut open, or the whole panel's answer. */
export function Card() {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const finding = useApp((s) => s.finding);
  const question = useApp((s) => s.question);
  const bay = skeletonOf(model).bays.find((b) => b.station.id === station);
  const box = useRef<HTMLElement>(null);
  // biome-ignore lint/correctness/useExhaustiveDependencies: another station, finding or question is read from its top
  useEffect(() => {
    box.current?.scrollTo({ top: 0 });
  }, [station, finding, question]);
  return (
    <section ref={box} className="card" aria-label={bay ? `Station ${bay.station.id}` : 'The whole panel'}>
      <CardBody bay={bay} />
    </section>
  );
}
