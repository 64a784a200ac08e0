import { useEffect, useState, useTransition } from 'react';
import { worstFirst } from '../../checks/checkAll.ts';
import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Change } from '../../remedies/effect.ts';
import { type Offer, offersFor } from '../../remedies/offers.ts';
import { useApp, useFindings } from '../store.ts';
import { Mark, verdictWord } from './Mark.tsx';

const MOST_ROWS = 40;

/** What a remedy costs, in words: pieces, parts made again, holes lost. */
function costText({ remedy }: Offer): string {
  const { pieces, remade, holesLost } = remedy.cost;
  const said = [
    pieces > 0 ? `${pieces} new ${pieces === 1 ? 'piece' : 'pieces'}` : '',
    remade > 0 ? `${remade} ${remade === 1 ? 'part' : 'parts'} made again` : '',
    holesLost > 0 ? `${holesLost} ${holesLost === 1 ? 'hole' : 'holes'} lost` : '',
    remedy.askDesigner ? 'ask the designer' : '',
  ].filter(Boolean);
  return said.join(', ') || 'no metal';
}

const value = (f: Finding | undefined, units: Parameters<typeof show>[0]): string => (f ? `${show(units, Math.abs(f.value), f.unit)} ${f.sense}` : 'not there');

/** Everything that moves, before and after, changed verdicts first. */
function Changes({ changes }: { changes: readonly Change[] }) {
  const model = useApp((s) => s.model);
  const [all, setAll] = useState(false);
  const turned = changes.filter((c) => c.worse !== 0);
  const rows = all ? changes.slice(0, MOST_ROWS) : turned.length > 0 ? turned.slice(0, 8) : changes.slice(0, 5);
  return (
    <>
      <table className="changes">
        <thead><tr><th>place</th><th>before</th><th /><th>after</th></tr></thead>
        <tbody>
          {rows.map((c) => {
            const place = (c.after ?? c.before)!;
            return (
              <tr key={c.id} className={c.worse > 0 ? 'worse' : ''}>
                <td>{place.place}<br /><small>{place.check.replaceAll('-', ' ')}</small></td>
                <td className={c.before?.verdict}>{c.before && <Mark verdict={c.before.verdict} />} {value(c.before, model)}</td>
                <td aria-hidden="true">→</td>
                <td className={c.after?.verdict}>{c.after && <Mark verdict={c.after.verdict} />} {value(c.after, model)}{c.worse > 0 ? <b> worse</b> : ''}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      {changes.length > rows.length && <button type="button" className="quiet" onClick={() => setAll(!all)}>{all ? 'Only changed verdicts' : `All ${changes.length} that move`}</button>}
    </>
  );
}

function OfferRow({ offer, first }: { offer: Offer; first: boolean }) {
  const edit = useApp((s) => s.edit);
  const { remedy, better, worse, after } = offer;
  return (
    <li>
      <details open={first}>
        <summary>
          <b>{remedy.name[0]?.toUpperCase()}{remedy.name.slice(1)}</b>
          <span className="small"> {after ? `Then ${verdictWord(after.verdict)}.` : ''} {better.length} better, {worse.length} worse; {costText(offer)}.</span>
        </summary>
        <Changes changes={offer.effect.changes} />
        {remedy.askDesigner && <p className="small">It changes the structure: put it to the designer, and show it before it is covered.</p>}
        <button type="button" className="take" onClick={() => edit(remedy.edit)}>Take it</button>
      </details>
    </li>
  );
}

/** Remedies for one finding, each tried on the whole skeleton: what it cures, what else moves, what it costs. */
export function Cures({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const [tried, setTried] = useState<{ id: string; offers: readonly Offer[] }>();
  const [busy, start] = useTransition();
  useEffect(() => {
    start(() => setTried({ id: finding.id, offers: offersFor(model, finding) }));
  }, [model, finding]);
  if (finding.echoOf) return <p className="lead">Nothing here: it only echoes {finding.echoOf}. Put that right and this goes.</p>;
  if (!tried || tried.id !== finding.id) return <p role="status">{busy ? 'Trying every remedy on the whole skeleton…' : ' '}</p>;
  if (tried.offers.length === 0) return <p className="lead">{finding.verdict === 'unsettled' ? 'Measure it first: no remedy helps against not knowing.' : 'Nothing on hand answers this; ask the designer.'}</p>;
  return <ol className="cures">{tried.offers.map((o, i) => <OfferRow key={o.remedy.id} offer={o} first={i === 0} />)}</ol>;
}

/** What cures it? for the whole panel: the findings that want something, worst first, each a way in. */
export function CureList() {
  const findings = useFindings();
  const choose = useApp((s) => s.choose);
  const open = worstFirst(findings).filter((f) => (f.verdict === 'act' || (f.verdict === 'unsettled' && f.chance > 0.5)) && !f.echoOf);
  if (open.length === 0) return <p className="lead">Nothing wants a cure now.</p>;
  return (
    <ul className="groups">
      {open.map((f) => (
        <li key={f.id} className={f.verdict}>
          <button type="button" className="row" onClick={() => choose(f.station, f.id)}><Mark verdict={f.verdict} /><span>{f.sentence.split('. ')[0]}.</span></button>
        </li>
      ))}
    </ul>
  );
}

/** How many findings want a cure, in one sentence. */
export function cureHeadline(findings: readonly Finding[]): string {
  const act = findings.filter((f) => f.verdict === 'act' && !f.echoOf).length;
  const likely = findings.filter((f) => f.verdict === 'unsettled' && f.chance > 0.5 && !f.echoOf).length;
  if (act + likely === 0) return 'Nothing wants a cure.';
  return `${act} to put right${likely > 0 ? `, ${likely} that most likely will be` : ''}. Choose one to see what cures it, and what else moves.`;
}
