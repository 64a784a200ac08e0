import { tickHolds } from '../../checks/evidence.ts';
import { rowTick, stationTick, ticked as tickedNow, tickOf, unticked } from '../../model/edits/ticks.ts';
import type { Joint } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';

/*
 * What only the builder can say was looked at: a row's edges, its holes in line, a station deburred, its steps felt.
 * A gate says yes on these and on readings, never on what was not asked.
 */

interface Look {
  readonly step: string;
  /** What is ticked: "edges gauged". */
  readonly name: string;
  /** The whole of it, for whoever hears it: "edges of F2 gauged in every layer". */
  readonly title: string;
  /** Whether it stays so whatever is moved afterwards: a burr does not come back. */
  readonly lasting?: true;
}

function LookTick(looked: Look) {
  const edit = useApp((s) => s.edit);
  const { step, name, title, lasting } = looked;
  const ticked = useApp((s) => tickOf(s.model, step));
  const holds = useApp((s) => ticked !== undefined && (lasting === true || tickHolds(s.model, ticked)));
  const look = (): void => {
    edit(holds ? unticked(step, title) : tickedNow(step, title, { by: '', date: today() }));
  };
  return (
    <label className="look-tick">
      <input type="checkbox" aria-label={title} checked={holds} onChange={look} /> {name}
      {ticked?.date && <small> {ticked.date}</small>}
      {ticked && !holds && <small className="refused"> before something was moved: look again</small>}
    </label>
  );
}

/** The ticks of a row. */
export function RowLooked({ joint }: { joint: Joint }) {
  const { id } = joint;
  return (
    <p className="looked">
      <LookTick step={rowTick('edges', id)} name="edges gauged" title={`edges of ${id} gauged in every layer`} />
      <LookTick
        step={rowTick('through', id)}
        name="holes line up"
        title={`holes of ${id} looked through: they line up`}
      />
    </p>
  );
}

/** The ticks of a station. */
export function StationLooked({ station }: { station: string }) {
  return (
    <p className="looked">
      <LookTick
        step={stationTick('deburred', station)}
        name="deburred"
        title={`every hole at ${station} deburred`}
        lasting
      />
      <LookTick step={stationTick('steps', station)} name="skin steps felt" title={`skin steps at ${station} felt`} />
    </p>
  );
}
