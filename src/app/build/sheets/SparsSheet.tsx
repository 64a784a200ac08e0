import { addSheet, addStrip, SHEET_TABLE, SPAR_TABLE, STRIPS } from '../../../model/tables/sparTables.ts';
import { useApp } from '../../state/store.ts';
import { Grid } from '../grid/Grid.tsx';
import { AddByLength } from './AddByLength.tsx';

/** The thinnest sheet there is, mm. */
const THINNEST = 0.3;

/** Spars, strips and sheets. */
export function SparsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const thickest = model.sheets.at(-1);
  return (
    <div className="side-by-side">
      <section>
        <h2>Spars</h2>
        <Grid table={SPAR_TABLE} />
      </section>
      <section>
        <h2>Strips in the caps</h2>
        <Grid
          table={STRIPS}
          tools={
            <button type="button" className="quiet" onClick={() => thickest && edit(addStrip('front', thickest.id))}>
              Put a strip in the front caps
            </button>
          }
        />
      </section>
      <section>
        <h2>Sheets</h2>
        <Grid
          table={SHEET_TABLE}
          tools={
            <AddByLength
              ask="Another sheet, thick"
              usual="0.040 in"
              verb="Add a sheet"
              least={THINNEST}
              onAdd={(t) => edit(addSheet(model, t))}
            />
          }
        />
      </section>
    </div>
  );
}
