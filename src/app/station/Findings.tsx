import { type ReactNode, useRef, useState } from 'react';
import { type BasisWord, basisMarked, basisOfFinding, basisText } from '../../checks/basis.ts';
import { checkAll, worstFirst } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName, checksOf, type Group, groupsOf } from '../../checks/questions.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { shownBasis } from '../../scene/marks.ts';
import { formatPercent } from '../../units.ts';
import { useApp, useFindings } from '../state/store.ts';
import { Mark, verdictWord } from '../widgets/Mark.tsx';
import { useListing } from '../workers/listing.ts';
import { NoteLine } from './NoteLine.tsx';
import { Spread } from './Spread.tsx';
import { Stacks } from './Stacks.tsx';
import './findings.css';

const MOST_CHIPS = 9;

/** What must not be taken for a reading that holds: said beside the sentence. */
const NOT_AS_READ: ReadonlySet<BasisWord> = new Set<BasisWord>(['stale', 'predicted', 'asked']);

/** A finding as a row: its mark, its word, its sentence. A tap opens it. */
function Row({ finding, pressed }: { finding: Finding; pressed?: boolean }) {
  const choose = useApp((s) => s.choose);
  const { station, id, verdict, sentence } = finding;
  const model = useApp((s) => s.model);
  const basis = shownBasis(skeletonOf(model), finding);
  const behind = useListing(({ of, list }) => (of?.model === model ? list?.muted.get(id) : undefined));
  return (
    <button
      type="button"
      className={behind ? 'row behind' : 'row'}
      aria-pressed={pressed}
      onClick={() => choose(station, id)}
    >
      <Mark verdict={verdict} basis={basis} />
      <span>
        <b className="word">{verdictWord(verdict)}</b> {sentence}
        {NOT_AS_READ.has(basis) && <em className="basis"> {basisMarked(basis)}</em>}
        {behind && <em className="basis"> {behind.words}</em>}
      </span>
    </button>
  );
}

/** Findings of one check that need the same thing: the worst one's sentence, and where else. */
function GroupRow({ group }: { group: Group }) {
  const choose = useApp((s) => s.choose);
  const others = group.all.slice(1);
  const more = others.length - MOST_CHIPS;
  return (
    <li className={group.verdict}>
      <Row finding={group.worst} />
      {others.length > 0 && (
        <p className="chips">
          {checkName(group.check)}, also{' '}
          {others.slice(0, MOST_CHIPS).map((f) => (
            <button
              key={f.id}
              type="button"
              className="chip"
              title={f.sentence}
              onClick={() => choose(f.station, f.id)}
            >
              {f.place}
            </button>
          ))}
          {more > 0 ? ` and ${more} more` : ''}
        </p>
      )}
    </li>
  );
}

/** Findings worst first, those of one check and one need together. */
export function Groups({ findings }: { findings: readonly Finding[] }) {
  return (
    <ul className="groups">
      {groupsOf(findings).map((g) => (
        <GroupRow key={`${g.verdict}${g.check}`} group={g} />
      ))}
    </ul>
  );
}

/** How marks are drawn that rest on no reading that holds, in the order of doing. */
const NOT_READ: readonly BasisWord[] = ['drawing', 'predicted', 'stale'];

/** What a mark means that is not full, and how many there are: the legend of rail, bench and list. */
function NotRead({ findings }: { findings: readonly Finding[] }) {
  const skeleton = skeletonOf(useApp((s) => s.model));
  const bases = findings.map((f) => shownBasis(skeleton, f));
  const there = NOT_READ.filter((b) => bases.includes(b));
  if (there.length === 0) return null;
  return (
    <p className="counts">
      {there.map((b) => (
        <span key={b} className="of-marks">
          <Mark verdict="fits" basis={b} /> {bases.filter((own) => own === b).length} {basisText(b)}
        </span>
      ))}
    </p>
  );
}

/** How many of each verdict, and of each mark that is not full. */
export function Counts({ findings }: { findings: readonly Finding[] }) {
  const count = (v: Finding['verdict']): number => findings.filter((f) => f.verdict === v).length;
  return (
    <>
      <p className="counts">
        {(['act', 'unsettled', 'watch', 'fits'] as const).map((v) => (
          <span key={v} className={v}>
            <Mark verdict={v} /> {count(v)} {verdictWord(v)}
          </span>
        ))}
      </p>
      <NotRead findings={findings} />
    </>
  );
}

/** The worst finding's fact and what to do first, without the middle of its sentence. */
export function firstThing(f: Finding): string {
  const { fact, rest } = f.said;
  return rest.length > 1 ? `${fact}. ${rest.at(-1)}` : f.sentence;
}

/** What the last change did to this finding, while that change can still be undone. */
function BeforeAfter({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const last = useApp((s) => s.past.at(-1));
  if (!last || last.after !== model || last.before.name !== model.name) return null;
  const before = checkAll(last.before).find((f) => f.id === finding.id);
  if (!before || Math.abs(before.value - finding.value) < 1e-9) return null;
  const said = (f: Finding): string =>
    `${show(model, Math.abs(f.value), f.unit)} ${f.sense} (${verdictWord(f.verdict)})`;
  return (
    <p className="small">
      Before the last change: {said(before)}; now {said(finding)}.
    </p>
  );
}

interface Detail {
  readonly finding: Finding;
  /** Whether its stacks of sizes are shown. */
  readonly stacks?: boolean;
  readonly children?: ReactNode;
}

/** One finding: its sentence, its spread against the limits, what the question draws of it, its stacks of sizes. */
export function FindingDetail({ finding, stacks = true, children }: Detail) {
  const model = useApp((s) => s.model);
  const basis = basisMarked(basisOfFinding(skeletonOf(model), finding));
  return (
    <div className={`detail ${finding.verdict}`}>
      <p className="sentence">{finding.sentence}</p>
      <NoteLine finding={finding} />
      <BeforeAfter finding={finding} />
      <Spread finding={finding} />
      {children}
      {stacks && <Stacks finding={finding} as="reading" />}
      <p className="small">
        {checkName(finding.check)}: {basis}; {formatPercent(finding.chance)} chance of being beyond the act threshold.
        Limit: {finding.limits.origin}.
      </p>
    </div>
  );
}

/**
 * The finding in view at a station, which stays in view while its numbers are changed: the one chosen, else the
 * worst.
 */
function useOpen(station: string, here: readonly Finding[], asked: readonly Finding[]): Finding | undefined {
  const question = useApp((s) => s.question);
  const chosen = useApp((s) => s.finding);
  const pinned = useRef<{ where: string; id: string | undefined }>({ where: '', id: undefined });
  const where = `${station} ${question}`;
  if (pinned.current.where !== where) pinned.current = { where, id: asked[0]?.id };
  if (chosen !== null) pinned.current.id = chosen;
  return here.find((f) => f.id === pinned.current.id) ?? asked[0];
}

interface AtStation {
  readonly bay: Bay;
  readonly stacks?: boolean;
  readonly children?: (open: Finding, here: readonly Finding[]) => ReactNode;
}

/** A station's findings for the question: the open one in full, with what the question draws of it, then the others. */
export function StationFindings({ bay, stacks = true, children }: AtStation) {
  const question = useApp((s) => s.question);
  const findings = useFindings();
  const [more, showMore] = useState(false);
  const { id } = bay.station;
  const here = findings.filter((f) => f.station === id);
  const asked = worstFirst(here.filter((f) => checksOf(question).includes(f.check)));
  const open = useOpen(id, here, asked);
  const listed = more ? asked : asked.filter((f, i) => f.verdict !== 'fits' || i < 2);
  return (
    <>
      {open && (
        <FindingDetail key={open.id} finding={open} stacks={stacks}>
          {children?.(open, here)}
        </FindingDetail>
      )}
      <ul className="groups">
        {listed.map((f) => (
          <li key={f.id} className={f.verdict}>
            <Row finding={f} pressed={f === open} />
          </li>
        ))}
      </ul>
      {listed.length < asked.length && (
        <button type="button" className="quiet" onClick={() => showMore(true)}>
          Show the {asked.length - listed.length} that fit
        </button>
      )}
    </>
  );
}
