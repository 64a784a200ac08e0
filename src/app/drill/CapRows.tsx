import { capRow } from '../../model/edits/rows.ts';
import type { Joint, SparName } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { useApp } from '../state/store.ts';

const ENDS = ['front', 'rear'] as const;
const SIDES = ['top', 'bottom'] as const;

/** A cap without a row where the web has one, and that row. */
interface Free {
  readonly end: SparName;
  readonly on: (typeof SIDES)[number];
  readonly from: Joint;
}

function freeCaps(skeleton: Skeleton, bay: Bay): readonly Free[] {
  const joints = skeleton.jointsAt(bay.station.id);
  return ENDS.filter((end) => skeleton.model.spars[end]).flatMap((end) => {
    const from = joints.find((j) => j.end === end && (j.on ?? 'web') === 'web');
    if (!from) return [];
    return SIDES.filter((on) => !joints.some((j) => j.end === end && j.on === on)).map((on) => ({ end, on, from }));
  });
}

/** Starts a row in a cap at a station, through skin, cap, strips, channel legs and rib flange, as they lie there. */
export function CapRows({ skeleton, bay }: { skeleton: Skeleton; bay: Bay }) {
  const edit = useApp((s) => s.edit);
  const free = freeCaps(skeleton, bay);
  if (free.length === 0) return null;
  const start = ({ from, on }: Free): void => {
    const add = capRow(skeleton.model, from, on);
    if (add) edit(add);
  };
  return (
    <details className="bags">
      <summary>Rows in the caps</summary>
      <p className="small">
        Through all that lies in the cap here, outside first, with the rivet and drills of the web row.
      </p>
      {free.map((f) => (
        <button key={`${f.end} ${f.on}`} type="button" className="quiet" onClick={() => start(f)}>
          Add a row in the {f.on} cap of the {f.end} spar
        </button>
      ))}
    </details>
  );
}
