import { useState } from 'react';
import { show } from '../../checks/describe.ts';
import { alongAt } from '../../model/along.ts';
import { capRow, layRow, type RowRule, rowOfCount, rowOfPitch } from '../../model/edits/rows.ts';
import type { Joint } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { parseLength } from '../../units/read.ts';
import { exactLength } from '../../units.ts';
import { useApp } from '../state/store.ts';

/** The length a joint's row may take, mm: the tab or web between its bends, or the stretch of cap from bay to bay. */
function lengthFor(skeleton: Skeleton, joint: Joint, bay: Bay): number {
  const { model, bays } = skeleton;
  const place = skeleton.placesAt(joint.station).find((p) => p.spar === joint.end && joint.layers.includes(p.rib.id));
  if (joint.on === 'top' || joint.on === 'bottom') {
    if (place) return place.rib.flange;
    const next = bays[bay.index + 1] ?? bays[bay.index - 1];
    return next ? Math.abs(next.station.y - bay.station.y) : 0;
  }
  const spar = model.spars[joint.end] ?? model.spars.front;
  const bend = spar.radius + (model.sheets.find((s) => s.id === spar.sheet)?.thickness ?? 0);
  return Math.min(place?.spec.height ?? Number.POSITIVE_INFINITY, alongAt(spar.depth, bay.station.y)) - 2 * bend;
}

type Way = 'pitch' | 'count';

/** Lays the row of a joint out from the edge distance kept at its ends, by pitch or by count, while nothing is drilled in it. */
export function RowForm({ skeleton, joint, bay }: { skeleton: Skeleton; joint: Joint; bay: Bay }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [way, setWay] = useState<Way>('pitch');
  const [edge, setEdge] = useState(exactLength(2.5 * joint.rivet.diameter, model.units));
  const [pitch, setPitch] = useState(exactLength(5 * joint.rivet.diameter, model.units));
  const [count, setCount] = useState('3');
  if (joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'))) return null;
  const length = lengthFor(skeleton, joint, bay);
  const [e, p, n] = [parseLength(edge, model.units), parseLength(pitch, model.units), Number(count)];
  const rule: RowRule | null = !e.ok
    ? null
    : way === 'pitch'
      ? p.ok && p.value > 0
        ? rowOfPitch({ length, edge: e.value }, p.value)
        : null
      : Number.isInteger(n) && n > 0 && n <= 60
        ? rowOfCount({ length, edge: e.value }, n)
        : null;
  const laid = rule && layRow(joint, rule);
  const says = rule
    ? `${rule.count} ${rule.count === 1 ? 'hole' : 'holes'}${rule.count > 1 ? `, ${show(model, rule.pitch)} apart, ${(rule.pitch / joint.rivet.diameter).toFixed(1)} D` : ''}`
    : !e.ok
      ? e.sentence
      : way === 'pitch' && !p.ok
        ? p.sentence
        : `no room in ${show(model, length)}`;
  return (
    <form
      className="row-form"
      onSubmit={(ev) => {
        ev.preventDefault();
        if (laid) edit(laid);
      }}
    >
      <label>
        edge at both ends <input value={edge} size={8} onChange={(ev) => setEdge(ev.target.value)} />
      </label>
      <label>
        by{' '}
        <select value={way} onChange={(ev) => setWay(ev.target.value as Way)}>
          <option value="pitch">pitch</option>
          <option value="count">count</option>
        </select>
      </label>
      {way === 'pitch' ? (
        <label>
          pitch <input value={pitch} size={8} onChange={(ev) => setPitch(ev.target.value)} />
        </label>
      ) : (
        <label>
          holes <input value={count} inputMode="numeric" size={3} onChange={(ev) => setCount(ev.target.value)} />
        </label>
      )}
      <button type="submit" className="take" disabled={!laid}>
        Lay the row out
      </button>
      <output className="echo">{says}</output>
    </form>
  );
}

/** Starts a row in a cap at a station, through skin, cap, strips, channel legs and rib flange, as they lie there. */
export function CapRows({ skeleton, bay }: { skeleton: Skeleton; bay: Bay }) {
  const edit = useApp((s) => s.edit);
  const like = skeleton.jointsAt(bay.station.id);
  const ends = (['front', 'rear'] as const).filter((end) => skeleton.model.spars[end]);
  const free = ends
    .flatMap((end) =>
      (['top', 'bottom'] as const).map((on) => ({
        end,
        on,
        from: like.find((j) => j.end === end && (j.on ?? 'web') === 'web'),
        there: like.some((j) => j.end === end && j.on === on),
      })),
    )
    .filter((f) => f.from && !f.there);
  if (free.length === 0) return null;
  return (
    <details className="bags">
      <summary>Rows in the caps</summary>
      <p className="small">
        Through all that lies in the cap here, outside first, with the rivet and drills of the web row.
      </p>
      {free.map(({ end, on, from }) => (
        <button
          key={`${end} ${on}`}
          type="button"
          className="quiet"
          onClick={() => {
            const add = capRow(skeleton.model, from!, on);
            if (add) edit(add);
          }}
        >
          Add a row in the {on} cap of the {end} spar
        </button>
      ))}
    </details>
  );
}
