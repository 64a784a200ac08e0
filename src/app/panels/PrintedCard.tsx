import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { ledgerOf } from '../../checks/ledger.ts';
import { CAUTION } from '../../checks/report.ts';
import { useApp } from '../store.ts';
import { today } from '../today.ts';

/** What every printed page says first: panel, hand, revision, date, unit. */
function TitleStrip({ title, rest }: { title: string; rest: string }) {
  const model = useApp((s) => s.model);
  return <header><b>{title}: {model.name}</b> · {model.hand === 'both' ? 'both hands in one piece' : `${model.hand} hand`} · revision {model.revision} · printed {today()} · {model.units === 'mm' ? 'millimetres' : 'inches'} · {rest}</header>;
}

/** The hole ledger on paper, in drilling order; what must not be drilled yet is said in capitals. Only printers see it. */
export function PrintedLedger() {
  const model = useApp((s) => s.model);
  const stage = model.stages.find((s) => s.id === model.now);
  return (
    <section className="printed" aria-hidden="true">
      <TitleStrip title="Hole ledger" rest={stage ? `stage: ${stage.name}` : 'no stages'} />
      <table>
        <thead><tr><th>hole</th><th>layers, drill side first</th><th>now</th><th>final</th><th>margin</th><th>edge, next</th><th>answer</th><th>done</th></tr></thead>
        <tbody>
          {ledgerOf(model).map((r) => (
            <tr key={r.hole}>
              <td>{r.hole}</td><td>{r.layers}</td><td>{r.now}</td><td>{r.final}</td>
              <td>{r.margin === null ? '' : formatLength(r.margin, model.units)}</td>
              <td>{r.edge === null ? '' : `${r.edge.toFixed(2)} D`}{r.edgeNext === null ? '' : `, ${r.edgeNext.toFixed(2)} D`}</td>
              <td><b>{r.state === 'now' ? 'drill now' : r.state.toUpperCase()}</b>: {r.why}</td>
              <td className="tick" />
            </tr>
          ))}
        </tbody>
      </table>
      <footer>{CAUTION}</footer>
    </section>
  );
}

/**
 * The measuring card on paper: every size with a drawing value in walking order, where the jaws go, what the drawing says,
 * what was read, and a blank. The names are those of the table of readings. Only printers see it.
 */
export function PrintedCard() {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  const rows = walkingOrder(model).filter((e) => e.nominal !== undefined || book.readingsOf(e.key).length > 0);
  const printed = (kind: keyof typeof QUANTITIES, v: number): string => (QUANTITIES[kind].unit === 'deg' ? formatAngle((v * Math.PI) / 180) : formatLength(v, model.units));
  return (
    <section className="printed" aria-hidden="true">
      <TitleStrip title="Measuring card" rest="at ____ °C" />
      <table>
        <thead><tr><th>size</th><th>what, and where the jaws go</th><th>drawing</th><th>last read</th><th>read now</th><th>with</th></tr></thead>
        <tbody>
          {rows.map((e) => {
            const last = book.readingsOf(e.key).at(-1);
            return (
              <tr key={e.key}>
                <td>{e.key}</td>
                <td>{e.name}; {QUANTITIES[e.kind].where}</td>
                <td>{e.nominal === undefined ? '' : printed(e.kind, e.nominal)}</td>
                <td>{last ? printed(e.kind, last.value) : ''}</td>
                <td className="blank" />
                <td>{last ? (INSTRUMENTS[last.instrument] ?? last.instrument) : ''}</td>
              </tr>
            );
          })}
        </tbody>
      </table>
      <footer>{CAUTION}</footer>
    </section>
  );
}
