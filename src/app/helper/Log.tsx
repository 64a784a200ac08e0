import { type LogLine, logOf, logTable } from '../../sheets/bench/log.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { savePdf } from '../paper/savePdf.ts';
import { useApp } from '../state/store.ts';

/** Lines shown at most; all of them are on paper and in the table. */
const MOST_LINES = 400;
/** As many lines of one station stand open. */
const FEW = 12;

/** Whether a line already names its station. */
const names = (what: string, station: string): boolean =>
  new RegExp(`(^|[^A-Za-z0-9-])${station}($|[^A-Za-z0-9])`).test(what);

function LogRow({ line, at }: { line: LogLine; at: string | undefined }) {
  const { date, kind, what, by, station } = line;
  return (
    <tr>
      <td>{date || 'no day'}</td>
      <td>
        {kind === 'step done' ? '✓ ' : ''}
        {what}
        {by && ` (${by})`}
        {at === undefined && station && !names(what, station) && <small> {station}</small>}
      </td>
    </tr>
  );
}

/** How to take the log out of the program. */
function LogOut() {
  const model = useApp((s) => s.model);
  const print = (): void => void savePdf(['log'], 'log', model.units === 'in' ? 'letter' : 'a4');
  const save = (): void => saveAs(logTable(model), `${fileStem(model.name)}-log.csv`, 'text/csv');
  return (
    <p className="log-out">
      <button type="button" className="take" onClick={print}>
        Print the log
      </button>
      <button type="button" className="quiet" onClick={save}>
        Save it as a table
      </button>
    </p>
  );
}

/**
 * The log: how many lines, the last of them, and how to take it out of the program; of one station where one is
 * named.
 */
export function Log({ station }: { station?: string }) {
  const model = useApp((s) => s.model);
  const lines = logOf(model).filter((l) => station === undefined || l.station === station);
  // Numbered from the first, so that a line keeps its number when another comes.
  const shown = lines.map((line, i) => ({ line, number: i + 1 })).reverse();
  return (
    <section className="log" aria-label="Builder's log">
      <h2>Builder's log</h2>
      <p className="small">
        {lines.length} {lines.length === 1 ? 'line' : 'lines'}: every reading, change and step, with its day.
      </p>
      {lines.length > 0 && (
        <details open={station !== undefined && lines.length <= FEW}>
          <summary>Read it here</summary>
          <table>
            <thead>
              <tr>
                <th>day</th>
                <th>what</th>
              </tr>
            </thead>
            <tbody>
              {shown.slice(0, MOST_LINES).map(({ line, number }) => (
                <LogRow key={number} line={line} at={station} />
              ))}
            </tbody>
          </table>
        </details>
      )}
      {station === undefined && <LogOut />}
    </section>
  );
}
