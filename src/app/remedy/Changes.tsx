import { useMemo, useState } from 'react';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import type { Model } from '../../model/schema.ts';
import type { FindingChange } from '../../remedies/effect.ts';
import { changedFacts } from '../../remedies/facts.ts';
import { formatLength } from '../../units.ts';
import { Mark, verdictWord } from '../widgets/Mark.tsx';
import './changes.css';

const MOST_ROWS = 400;

/** Value and sense: `0.32 mm binds`. */
function Value({ finding, model }: { finding: Finding | undefined; model: Model }) {
  if (!finding) return <>not there</>;
  return (
    <>
      <Mark verdict={finding.verdict} /> {show(model, Math.abs(finding.value), finding.unit)} {finding.sense}
      <span className="unseen">, {verdictWord(finding.verdict)}</span>
    </>
  );
}

/** Not worse, only not known yet: a part made again has its drawing and no reading. */
const toMeasure = (f: Finding | undefined): boolean => f?.verdict === 'unsettled' && f.basis !== 'measured';

/** How many verdicts turn which way, in one line. */
export function turnedWords(changes: readonly FindingChange[]): string {
  const better = changes.filter((c) => c.worse < 0).length;
  const worse = changes.filter((c) => c.worse > 0);
  const measure = worse.filter((c) => toMeasure(c.after)).length;
  const act = worse.filter((c) => c.after?.verdict === 'act').length;
  const said = [
    better > 0 ? `${better} better` : '',
    worse.length > measure
      ? `${worse.length - measure} worse${act === 0 ? ', none of them to act' : `, ${act} to act`}`
      : '',
    measure > 0 ? `${measure} to measure afterwards` : '',
  ].filter(Boolean);
  return said.length === 0 ? 'No verdict turns.' : `${said.join('; ')}.`;
}

/** Only what is known of it changes: nothing moved that could be printed. */
const sameSize = ({ before, after }: FindingChange): boolean =>
  before !== undefined &&
  after !== undefined &&
  before.sense === after.sense &&
  Math.abs(before.value - after.value) < 0.005;

/** What a place that got worse is to be taken as. */
function worseWord(change: FindingChange): string {
  if (toMeasure(change.after)) return 'measure it';
  return sameSize(change) ? 'same size, less sure' : 'worse';
}

function Row({ change, model }: { change: FindingChange; model: Model }) {
  const { before, after, worse } = change;
  const place = after ?? before;
  if (!place) return null;
  return (
    <tr className={worse > 0 ? 'worse' : ''}>
      <th scope="row">
        {place.place}
        <small>{checkName(place.check)}</small>
      </th>
      <td className={before?.verdict}>
        <Value finding={before} model={model} />
      </td>
      <td className={after?.verdict}>
        <Value finding={after} model={model} />
        {worse > 0 && <b> {worseWord(change)}</b>}
        {worse < 0 && <span className="small"> {sameSize(change) ? 'same size, surer' : 'better'}</span>}
      </td>
    </tr>
  );
}

interface ChangesProps {
  readonly model: Model;
  readonly changes: readonly FindingChange[];
  /** The finding they are asked about. */
  readonly wanted?: string;
  /** How many turn which way stands above it already. */
  readonly said?: boolean;
}

/**
 * Everything that moves at every station, before and after: what it is for first, then changed verdicts, the worst
 * first.
 */
export function Changes({ model, changes: given, wanted, said = false }: ChangesProps) {
  const [all, setAll] = useState(false);
  // What it is for stands first: the finding asked about, else the places to act on that it puts right.
  const first = (c: FindingChange): boolean =>
    wanted === undefined ? c.before?.verdict === 'act' && c.worse < 0 : c.id === wanted;
  const changes = [...given.filter(first), ...given.filter((c) => !first(c))];
  const turned = changes.filter((c) => c.worse !== 0 || c.id === wanted);
  const mended = wanted === undefined ? changes.filter(first).slice(0, 1) : [];
  const worst = [...mended, ...turned.filter((c) => c.worse > 0 || c.id === wanted)].slice(0, 5);
  const few =
    turned.length > 0
      ? [...worst, ...turned.filter((c) => !worst.includes(c) && c.worse < 0).slice(0, 8 - worst.length)]
      : changes.slice(0, 4);
  const rows = all ? changes.slice(0, MOST_ROWS) : few;
  if (changes.length === 0) return <p className="small">No chain moves.</p>;
  return (
    <>
      {!said && <p className="small">{turnedWords(changes)}</p>}
      <table className="changes">
        <thead>
          <tr>
            <th scope="col">place</th>
            <th scope="col">before</th>
            <th scope="col">after</th>
          </tr>
        </thead>
        <tbody>
          {rows.map((c) => (
            <Row key={c.id} change={c} model={model} />
          ))}
        </tbody>
      </table>
      {changes.length > few.length && (
        <button type="button" className="quiet" aria-expanded={all} onClick={() => setAll(!all)}>
          {all ? 'Only the first' : `All ${changes.length} that move`}
        </button>
      )}
    </>
  );
}

const signed = (g: number): string => `${g < 0 ? '−' : '+'}${Math.abs(g).toFixed(1)} g`;

/** Mass and where it goes, layers and grip: what a remedy changes that is no chain. */
export function FactLines({ before, after }: { before: Model; after: Model }) {
  const facts = useMemo(() => changedFacts(before, after), [before, after]);
  const lines: string[] = [];
  if (Math.abs(facts.grams) >= 0.05)
    lines.push(
      `${signed(facts.grams)} of metal, ${(Math.abs(facts.outboard / facts.grams) * 1000).toFixed(0)} mm outboard on average`,
    );
  for (const s of facts.stacks.slice(0, 6))
    lines.push(
      `${s.joint}: ${s.layers[1]} layers${s.layers[0] === s.layers[1] ? '' : `, were ${s.layers[0]}`}, ${formatLength(s.grip[1], before.units)} thick; ${s.other ? 'other rivets: ' : ''}${s.take}`,
    );
  if (facts.stacks.length > 6) lines.push(`and ${facts.stacks.length - 6} stacks more`);
  if (facts.stacks.some((s) => s.layers[1] - s.layers[0] > 1 || s.layers[1] > 5))
    lines.push('more than two packers in one stack: make the part again instead');
  return lines.length === 0 ? null : (
    <ul className="facts">
      {lines.map((l) => (
        <li key={l}>{l}</li>
      ))}
    </ul>
  );
}
