import { type ReactNode, useEffect, useRef, useState } from 'react';
import { CHECK_NAMES, checksOf, groupsOf, headline, type Group } from '../../checks/answer.ts';
import { checkAll, worstFirst } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { CAUTION } from '../../checks/report.ts';
import { reachStage, standAt } from '../../model/edits.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import { type Bay, skeletonOf } from '../../parts/skeleton.ts';
import { formatAngle, formatLength, formatPercent } from '../../units.ts';
import { useApp, useFindings } from '../store.ts';
import { CureList, Cures, cureHeadline } from './Cure.tsx';
import { Bags, Gates, holesHeadline, HoleStrip, StationHoles } from './Drill.tsx';
import { Mark, verdictWord } from './Mark.tsx';
import { MeasureCard } from './MeasureCard.tsx';
import { Next } from './Next.tsx';
import { Packing, Truing, usePacking } from './Packing.tsx';
import { longQuestion } from './Questions.tsx';
import { Section } from './Section.tsx';
import { SizeField } from './SizeField.tsx';
import { Spread } from './Spread.tsx';
import { Stacks } from './Stacks.tsx';
import { KinkPicture } from './KinkPicture.tsx';
import { TwistPicture } from './TwistPicture.tsx';

const MOST_CHIPS = 9;

/** Findings of one check that need the same thing: the worst one's sentence, and where else. */
function GroupRow({ group }: { group: Group }) {
  const choose = useApp((s) => s.choose);
  const others = group.all.slice(1);
  const chip = (f: Finding) => (
    <button key={f.id} type="button" className="chip" title={f.sentence} onClick={() => choose(f.station, f.id)}>{f.place}</button>
  );
  return (
    <li className={group.verdict}>
      <button type="button" className="row" onClick={() => choose(group.worst.station, group.worst.id)}>
        <Mark verdict={group.verdict} drawing={group.worst.basis === 'drawing'} />
        <span><b className="word">{verdictWord(group.verdict)}</b> {group.worst.sentence}</span>
      </button>
      {others.length > 0 && <p className="chips">{CHECK_NAMES[group.check]}, also {others.slice(0, MOST_CHIPS).map(chip)}{others.length > MOST_CHIPS ? ` and ${others.length - MOST_CHIPS} more` : ''}</p>}
    </li>
  );
}

function Caution() {
  return (
    <details className="caution">
      <summary>Fit, not strength</summary>
      <p>{CAUTION}</p>
    </details>
  );
}

function Counts({ findings }: { findings: readonly Finding[] }) {
  const n = (v: Finding['verdict']): number => findings.filter((f) => f.verdict === v).length;
  return (
    <p className="counts">
      {(['act', 'unsettled', 'watch', 'fits'] as const).map((v) => <span key={v} className={v}><Mark verdict={v} /> {n(v)} {verdictWord(v)}</span>)}
    </p>
  );
}

/** Settings of the panel that change what the checks see, and the stage the job has reached. */
function Settings() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <div className="settings">
      <label>The ribs stand
        <select value={model.stand} onChange={(e) => edit(standAt(e.target.value as typeof model.stand))}>
          <option value="rear">against the rear web</option>
          <option value="front">against the front web</option>
          <option value="clamped">clamped to both</option>
        </select>
      </label>
      {model.stages.length > 0 && (
        <label>Stage
          <select value={model.now ?? ''} onChange={(e) => edit(reachStage(e.target.value))}>
            {model.stages.map((s) => <option key={s.id} value={s.id}>{s.name}</option>)}
          </select>
        </label>
      )}
    </div>
  );
}

/** The worst finding's fact and what to do first, without the middle of its sentence. */
function firstThing(f: Finding): string {
  const parts = f.sentence.split(/(?<=\.) /);
  return parts.length > 2 ? `${parts[0]} ${parts[parts.length - 1]}` : f.sentence;
}

/** The whole panel's answer to the question: one sentence, the first thing to do, then everything worst first. */
function PanelCard() {
  const question = useApp((s) => s.question);
  const model = useApp((s) => s.model);
  const findings = useFindings();
  const asked = findings.filter((f) => checksOf(question).includes(f.check));
  const groups = groupsOf(question === 'measure' ? asked.filter((f) => f.verdict === 'unsettled') : asked);
  const lead = groups[0]?.worst;
  const building = question === 'build';
  return (
    <>
      <p className="question">{longQuestion(question)}</p>
      <h1>{building ? `${model.name}: ${model.stations.length} stations, ${formatLength(model.stations[model.stations.length - 1]!.y - model.stations[0]!.y, model.units)} between the ends.` : question === 'drill' ? holesHeadline(model) : question === 'cure' ? cureHeadline(findings) : headline(question, asked)}</h1>
      {building ? <p className="lead">{model.note ?? 'Choose a station to see and change its drawing sizes.'}</p> : question !== 'cure' && lead && <p className="lead">{firstThing(lead)}</p>}
      <Counts findings={asked} />
      {(building || question === 'fit' || question === 'drill') && <Settings />}
      {question === 'drill' && <><Gates /><HoleStrip /><Bags /><button type="button" className="quiet" onClick={() => window.print()}>Print the hole ledger</button></>}
      {question === 'true' && <TrueExtras findings={asked} />}
      {question === 'measure' && <><Next /><StartMeasuring /></>}
      {question === 'cure' ? <CureList /> : building ? <SheetSizes /> : <ul className="groups">{groups.map((g) => <GroupRow key={`${g.verdict}${g.check}`} group={g} />)}</ul>}
      <Caution />
    </>
  );
}

/** What Is it true? shows besides its findings: twist and nose pictures, the packing plan, what squaring moved. */
function TrueExtras({ findings }: { findings: readonly Finding[] }) {
  const pack = usePacking();
  const after = pack.plan ? new Map(pack.plan.after.twist.map((t) => [t.station, t.value])) : undefined;
  return (
    <>
      <TwistPicture findings={findings} {...(after ? { after } : {})} />
      <Packing {...pack} />
      <KinkPicture findings={findings} />
      <Truing />
    </>
  );
}

/** Where to start: at the first size nobody has read, or on the walk round the bench. */
function StartMeasuring() {
  const model = useApp((s) => s.model);
  const read = useApp((s) => s.read);
  const book = sizeBook(model);
  const walk = walkingOrder(model);
  const unread = walk.find((e) => e.nominal !== undefined && book.readingsOf(e.key).length === 0);
  return (
    <p className="starts">
      {unread && <button type="button" className="take" onClick={() => read(unread.key)}>First unread: {unread.name}</button>}
      {walk[0] && <button type="button" className="quiet" onClick={() => read(walk[0]!.key)}>Walk round the bench from the start</button>}
      <button type="button" className="quiet" onClick={() => window.print()}>Print a measuring card</button>
    </p>
  );
}

/** Drawing sizes of the whole panel: sheets, bend radii. */
function SheetSizes() {
  const model = useApp((s) => s.model);
  const keys = [...sizeBook(model).entries.values()].filter((e) => e.path && (e.key.startsWith('sheet.') || e.key.endsWith('.radius')));
  return <SizeList keys={keys.map((e) => e.key)} as="drawing" />;
}

function SizeList({ keys, as }: { keys: readonly string[]; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  return (
    <ul className="terms wide">
      {keys.map((key) => {
        const readings = book.readingsOf(key);
        const nominal = book.nominal(key);
        const drawn = as === 'reading' && nominal !== undefined && readings.length > 0 ? `drawing ${formatLength(nominal, model.units)}` : '';
        return (
          <li key={key}>
            <span className="term-name">{book.entries.get(key)?.name}</span>
            <SizeField size={key} as={as} />
            <span className="plusminus">{drawn}</span>
          </li>
        );
      })}
    </ul>
  );
}

/** Keys of the sizes that belong to a station, in the order a builder walks them. */
function sizesAt(bay: Bay, keys: Iterable<string>, doublers: readonly string[]): string[] {
  const owners = [bay.main?.id, bay.nose?.id, bay.tip?.id, ...doublers].filter((o): o is string => o !== undefined);
  const here = [`@${bay.station.id}`];
  return [...keys].filter((k) => owners.some((o) => k.startsWith(`${o}.`)) || here.some((h) => k.endsWith(h)) || k.includes(`@${bay.station.id}-`));
}

function StationSizes({ bay, as }: { bay: Bay; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  const doublers = skeletonOf(model).placesAt(bay.station.id).flatMap((p) => p.doublers.map((d) => d.id));
  const keys = sizesAt(bay, book.entries.keys(), doublers);
  const known = keys.filter((k) => (as === 'drawing' ? book.entries.get(k)?.path : book.readingsOf(k).length > 0));
  const others = as === 'reading' ? keys.filter((k) => book.readingsOf(k).length === 0) : [];
  return (
    <>
      <SizeList keys={known} as={as} />
      {others.length > 0 && <details open={known.length === 0}><summary>Not read yet ({others.length})</summary><SizeList keys={others} as={as} /></details>}
    </>
  );
}

/** The measuring card of a station's first size, or of the one chosen, then all of the station's sizes. */
function StationReadings({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const size = useApp((s) => s.size);
  const read = useApp((s) => s.read);
  const first = walkingOrder(model).find((e) => e.station === bay.station.id)?.key;
  const on = size ?? first;
  return (
    <>
      {on && <MeasureCard size={on} onSize={read} />}
      <StationSizes bay={bay} as="reading" />
    </>
  );
}

/** What the last change did to this finding, while that change can still be undone. */
function BeforeAfter({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const last = useApp((s) => s.past.at(-1));
  if (!last || last.after !== model || last.before.name !== model.name) return null;
  const before = checkAll(last.before).find((f) => f.id === finding.id);
  if (!before || Math.abs(before.value - finding.value) < 1e-9) return null;
  return <p className="small">Before the last change: {show(model, Math.abs(before.value), before.unit)} {before.sense} ({verdictWord(before.verdict)}); now {show(model, Math.abs(finding.value), finding.unit)} {finding.sense} ({verdictWord(finding.verdict)}).</p>;
}

function FindingDetail({ finding, children }: { finding: Finding; children?: ReactNode }) {
  const question = useApp((s) => s.question);
  return (
    <div className={`detail ${finding.verdict}`}>
      <p className="sentence">{finding.sentence}</p>
      <BeforeAfter finding={finding} />
      <Spread finding={finding} />
      {children}
      {question !== 'cure' && <Stacks finding={finding} as={question === 'build' ? 'drawing' : 'reading'} />}
      <p className="small">{CHECK_NAMES[finding.check]}: {finding.basis === 'measured' ? 'all measured' : finding.basis === 'drawing' ? 'from the drawing only' : 'part measured, part from the drawing'}; {formatPercent(finding.chance)} chance of being beyond the act threshold. Limit: {finding.limits.origin}.</p>
    </div>
  );
}

function StationCard({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const question = useApp((s) => s.question);
  const chosen = useApp((s) => s.finding);
  const choose = useApp((s) => s.choose);
  const findings = useFindings();
  const [more, showMore] = useState(false);
  const skeleton = skeletonOf(model);
  const id = bay.station.id;
  const here = findings.filter((f) => f.station === id);
  const asked = worstFirst(here.filter((f) => checksOf(question).includes(f.check)));
  // The finding in view stays in view while its numbers are changed.
  const pinned = useRef<{ where: string; id: string | undefined }>({ where: '', id: undefined });
  const where = `${id} ${question}`;
  if (pinned.current.where !== where) pinned.current = { where, id: asked[0]?.id };
  if (chosen !== null) pinned.current.id = chosen;
  const open = here.find((f) => f.id === pinned.current.id) ?? asked[0];
  const listed = more ? asked : asked.filter((f, i) => f.verdict !== 'fits' || i < 2);
  const step = (by: number) => {
    const next = skeleton.bays[bay.index + by];
    if (next) choose(next.station.id);
  };
  const marks = [bay.tip?.id, bay.main?.id, bay.nose?.id].filter(Boolean).join(', ');
  return (
    <>
      <div className="card-head">
        <button type="button" className="icon" aria-label="Station before" disabled={bay.index === 0} onClick={() => step(-1)}>◂</button>
        <h1>Station {id} <small>at {formatLength(bay.station.y, model.units, { signed: true })}{bay.station.washout !== 0 && `, washout ${formatAngle((bay.station.washout * Math.PI) / 180)}`} · {marks}</small></h1>
        <button type="button" className="icon" aria-label="Station after" disabled={bay.index === skeleton.bays.length - 1} onClick={() => step(1)}>▸</button>
        <button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => choose(null)}>✕</button>
      </div>
      {question === 'measure' ? <StationReadings bay={bay} /> : question === 'build' ? <StationSizes bay={bay} as="drawing" /> : (
        <>
          {question === 'drill' && <StationHoles bay={bay} />}
          {open && (
            <FindingDetail key={open.id} finding={open}>
              {question === 'cure' && <Cures finding={open} />}
              {question !== 'drill' && question !== 'cure' && <Section skeleton={skeleton} bay={bay} findings={here} choose={(f) => choose(id, f)} />}
            </FindingDetail>
          )}
          <ul className="groups">
            {listed.map((f) => (
              <li key={f.id} className={f.verdict}>
                <button type="button" className="row" aria-pressed={f === open} onClick={() => choose(id, f.id)}>
                  <Mark verdict={f.verdict} drawing={f.basis === 'drawing'} />
                  <span><b className="word">{verdictWord(f.verdict)}</b> {f.sentence}</span>
                </button>
              </li>
            ))}
          </ul>
          {listed.length < asked.length && <button type="button" className="quiet" onClick={() => showMore(true)}>Show the {asked.length - listed.length} that fit</button>}
        </>
      )}
    </>
  );
}

/** The measuring card of a size that belongs to no one station: a sheet, a bend, a bow. */
function LooseSize({ size }: { size: string }) {
  const read = useApp((s) => s.read);
  return (
    <>
      <div className="card-head"><h1>What did I measure?</h1><button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => read(null)}>✕</button></div>
      <MeasureCard size={size} onSize={read} />
    </>
  );
}

/** The card beside the bench: the chosen station cut open, or the whole panel's answer. */
export function Card() {
  const model = useApp((s) => s.model);
  const station = useApp((s) => s.station);
  const finding = useApp((s) => s.finding);
  const findings = useFindings();
  const choose = useApp((s) => s.choose);
  const bay = skeletonOf(model).bays.find((b) => b.station.id === station);
  const size = useApp((s) => s.size);
  const loose = bay ? null : size;
  const question = useApp((s) => s.question);
  const box = useRef<HTMLElement>(null);
  useEffect(() => {
    box.current?.scrollTo({ top: 0 });
  }, [station, finding, question]);
  const whole = !bay && finding !== null ? findings.find((f) => f.id === finding) : undefined;
  return (
    <section ref={box} className="card" aria-label={bay ? `Station ${bay.station.id}` : 'The whole panel'} aria-live="polite">
      {bay ? <StationCard bay={bay} /> : loose ? <LooseSize size={loose} /> : <>{whole && <><div className="card-head"><h1>The whole panel</h1><button type="button" className="icon" aria-label="Back to the whole panel" onClick={() => choose(null)}>✕</button></div><FindingDetail finding={whole}>{question === 'cure' && <Cures finding={whole} />}</FindingDetail></>}<PanelCard /></>}
    </section>
  );
}
