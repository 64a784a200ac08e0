import { addStation, removeStation } from '../../../model/edits/stationEdits.ts';
import { STATIONS } from '../../../model/tables/stationTable.ts';
import { exactLength } from '../../../units.ts';
import { useApp } from '../../state/store.ts';
import { Grid } from '../grid/Grid.tsx';
import { AddByLength } from './AddByLength.tsx';

/** Stations, a row each. */
export function StationsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <Grid
      table={STATIONS}
      keeps
      onRemove={model.stations.length > 2 ? (id) => edit(removeStation(model, id)) : undefined}
      tools={
        <AddByLength
          ask="Another rib at"
          usual={exactLength(0, model.units)}
          verb="Add a station"
          onAdd={(y) => edit(addStation(model, y))}
        />
      }
    />
  );
}
