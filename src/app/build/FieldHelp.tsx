import type { Finding } from '../../checks/finding.ts';
import { onPaper } from '../../drilling/onPaper.ts';
import type { Model } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { capital } from '../../units/capital.ts';
import { echo } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { Jaws } from '../widgets/Jaws.tsx';
import { useDesk } from './desk.ts';
import { columnOf, tableOf } from './tablesOf.ts';

/** Findings said of a field at once. */
const MOST = 3;

/** The worst that is said on paper of a size, at one station or anywhere. */
function saidOnPaper(model: Model, key: string | undefined, station: string | null): readonly Finding[] {
  if (key === undefined) return [];
  const of = (f: Finding): boolean => f.verdict !== 'fits' && f.restsOn.some((t) => t.size.key === key);
  return onPaper(model)
    .filter((f) => of(f) && (station === null || f.station === station))
    .slice(0, MOST);
}

/**
 * The field in hand: what it is at the bench, where a drawing has it, a picture of where the jaws go, and what it
 * does on paper.
 */
export function FieldHelp() {
  const model = useApp((s) => s.model);
  const cell = useDesk((s) => s.cell);
  const table = tableOf(useDesk((s) => s.table));
  const column = table && cell ? columnOf(table, model, cell.column) : undefined;
  if (!table || !cell || !column) return null;
  const row = table.rows(model).find((r) => r.id === cell.row);
  const value = row && column.read(model, row.id);
  const key = row && column.size?.(row.id);
  const measured = key !== undefined && sizeBook(model).readingsOf(key).length > 0;
  return (
    <section className="field-help" aria-label="The field in hand">
      <h2>
        {capital(column.name)}
        {row ? <small> of {row.name}</small> : null}
      </h2>
      {typeof value === 'number' && column.kind === 'length' && <p className="field-echo">{echo(value)}</p>}
      {column.jaws && <Jaws kind={column.jaws} where={column.what} />}
      <dl>
        <dt>At the bench</dt>
        <dd>{column.what}</dd>
        {column.where && (
          <>
            <dt>On the drawing</dt>
            <dd>{column.where}</dd>
          </>
        )}
      </dl>
      {measured && <p className="small">It was measured, and the checks use the reading: change that under Measure.</p>}
      {saidOnPaper(model, key, row?.station ?? null).map((f) => (
        <p key={f.id} className={`small ${f.verdict}`}>
          <b className="word">On paper:</b> {f.sentence}
        </p>
      ))}
    </section>
  );
}
