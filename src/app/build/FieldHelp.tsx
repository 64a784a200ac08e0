import { onPaper } from '../../drilling/onPaper.ts';
import { sizeBook } from '../../model/sizes.ts';
import { echo } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { Jaws } from '../widgets/Jaws.tsx';
import { useDesk } from './desk.ts';
import { columnOf, tableOf } from './tablesOf.ts';

/** The field in hand: what it is at the bench, where a drawing has it, a picture of where the jaws go, and what it does on paper. */
export function FieldHelp() {
  const model = useApp((s) => s.model);
  const cell = useDesk((s) => s.cell);
  const table = tableOf(useDesk((s) => s.table));
  const column = table && cell ? columnOf(table, model, cell.column) : undefined;
  if (!table || !cell || !column) return null;
  const row = table.rows(model).find((r) => r.id === cell.row);
  const value = row ? column.read(model, row.id) : undefined;
  const key = row && column.size?.(row.id);
  const entry = key === undefined ? undefined : sizeBook(model).entries.get(key);
  const readings = key === undefined ? [] : sizeBook(model).readingsOf(key);
  const rests =
    key === undefined
      ? []
      : onPaper(model)
          .filter(
            (f) =>
              f.verdict !== 'fits' &&
              f.restsOn.some((t) => t.size.key === key) &&
              (row?.station == null || f.station === row.station),
          )
          .slice(0, 3);
  return (
    <section className="field-help" aria-label="The field in hand">
      <h2>
        {column.name[0]!.toUpperCase()}
        {column.name.slice(1)}
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
      {entry && readings.length > 0 && (
        <p className="small">It was measured, and the checks use the reading: change that under Measure.</p>
      )}
      {rests.map((f) => (
        <p key={f.id} className={`small ${f.verdict}`}>
          <b className="word">On paper:</b> {f.sentence}
        </p>
      ))}
    </section>
  );
}
