import { useState } from 'react';
import type { Difference } from '../../../model/tables/compare.ts';
import { useApp } from '../../state/store.ts';

/** Differences shown at once; the rest on asking. */
const MOST = 120;

/** Differences of one kind, each to be tapped: the bench goes to its station. */
export function DifferenceList({ title, all }: { title: string; all: readonly Difference[] }) {
  const choose = useApp((s) => s.choose);
  const [more, showMore] = useState(false);
  if (all.length === 0) return null;
  const shown = more ? all : all.slice(0, MOST);
  return (
    <section>
      <h2>
        {title} <small>{all.length}</small>
      </h2>
      <table className="grid" aria-label={title}>
        <thead>
          <tr>
            <th className="grid-name" />
            <th>here</th>
            <th>there</th>
            <th>here by</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((d) => (
            <tr key={d.what}>
              <th scope="row" className="grid-name">
                <button type="button" disabled={d.station === null} onClick={() => choose(d.station)}>
                  {d.what}
                </button>
              </th>
              <td className="cell number">
                <span>{d.here}</span>
              </td>
              <td className="cell number">
                <span>{d.there}</span>
              </td>
              <td className="cell number">
                <span>{d.byText ?? ''}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {all.length > shown.length && (
        <button type="button" className="quiet" onClick={() => showMore(true)}>
          Show the other {all.length - shown.length}
        </button>
      )}
    </section>
  );
}
