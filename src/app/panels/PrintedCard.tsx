import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { CAUTION } from '../../checks/report.ts';
import { useApp } from '../store.ts';
import { today } from './SizeField.tsx';

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
      <header>
        <b>Measuring card: {model.name}</b> · {model.hand === 'both' ? 'both hands in one piece' : `${model.hand} hand`} · revision {model.revision} · printed {today()} · {model.units === 'mm' ? 'millimetres' : 'inches'} · at ____ °C
      </header>
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
