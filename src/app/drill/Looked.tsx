import { rowTick, stationTick, ticked, tickOf, unticked } from '../../model/edits/ticks.ts';
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
}

function LookTick({ look }: { look: Look }) {
  const edit = useApp((s) => s.edit);
  const tick = useApp((s) => tickOf(s.model, look.step));
  const { step, name, title } = look;
  return (
    <label className="look-tick">
      <input
        type="checkbox"
        aria-label={title}
        checked={tick !== undefined}
        onChange={() => edit(tick ? unticked(step, title) : ticked(step, title, { by: '', date: today() }))}
      />{' '}
      {name}
      {tick?.date && <small> {tick.date}</small>}
    </label>
  );
}

/** The ticks of a row. */
export function RowLooked({ joint }: { joint: Joint }) {
  const { id } = joint;
  return (
    <p className="looked">
      <LookTick
        look={{ step: rowTick('edges', id), name: 'edges gauged', title: `edges of ${id} gauged in every layer` }}
      />
      <LookTick
        look={{
          step: rowTick('through', id),
          name: 'holes line up',
          title: `holes of ${id} looked through: they line up`,
        }}
      />
    </p>
  );
}

/** The ticks of a station. */
export function StationLooked({ station }: { station: string }) {
  return (
    <p className="looked">
      <LookTick
        look={{ step: stationTick('deburred', station), name: 'deburred', title: `every hole at ${station} deburred` }}
      />
      <LookTick
        look={{ step: stationTick('steps', station), name: 'skin steps felt', title: `skin steps at ${station} felt` }}
      />
    </p>
  );
}
