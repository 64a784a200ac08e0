import { alongAt } from '../../../model/along.ts';
import { chordAt, depthByShape, type Shape } from '../../../model/edits/profileEdits.ts';
import type { Model, SparName, Station } from '../../../model/schema.ts';
import { formatLength } from '../../../units.ts';

/** Stations listed at most. */
const MOST = 60;

interface Props {
  readonly model: Model;
  readonly shape: Shape;
  /** At the first station. */
  readonly chord: number;
}

const SPARS: readonly SparName[] = ['front', 'rear'];

function Row({ model, shape, chord, station }: Props & { station: Station }) {
  const show = (v: number | undefined): string =>
    v === undefined ? '–' : formatLength(v, model.units, { unitMark: false });
  const numbers = SPARS.flatMap((name): [string, number | undefined][] => {
    const spar = model.spars[name];
    if (!spar) return [];
    return [
      [`${name} by section`, depthByShape(model, shape, chord, name, station.id)],
      [`${name} as drawn`, alongAt(spar.depth, station.y)],
    ];
  });
  return (
    <tr>
      <th scope="row" className="grid-name">
        {station.id}
      </th>
      <td className="cell number">
        <span>{show(chordAt(model, chord, station.id))}</span>
      </td>
      {numbers.map(([what, v]) => (
        <td key={what} className="cell number">
          <span>{show(v)}</span>
        </td>
      ))}
    </tr>
  );
}

/** The spars' depth beside what the section leaves them. */
export function ShapeDepths({ model, shape, chord }: Props) {
  return (
    <table className="grid" aria-label="Spar depths by the section">
      <thead>
        <tr>
          <th className="grid-name" />
          <th>chord</th>
          <th>front by section</th>
          <th>as drawn</th>
          {model.spars.rear && (
            <>
              <th>rear by section</th>
              <th>as drawn</th>
            </>
          )}
        </tr>
      </thead>
      <tbody>
        {model.stations.slice(0, MOST).map((s) => (
          <Row key={s.id} model={model} shape={shape} chord={chord} station={s} />
        ))}
      </tbody>
    </table>
  );
}
