import { show } from '../../checks/describe.ts';
import { bagList } from '../../checks/holes/rivets.ts';
import { asDecided } from '../../model/edits/work.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';

/** Which rivet in which hole, joint by joint; what the packers changed comes first. */
export function Bags() {
  const model = useApp((s) => s.model);
  const bags = bagList(skeletonOf(asDecided(model)));
  if (bags.length === 0) return null;
  const differs = bags.filter((b) => b.changed || b.was !== undefined);
  const rest = bags.filter((b) => !differs.includes(b));
  return (
    <details className="bags" open={differs.length > 0}>
      <summary>Rivet bags{differs.length > 0 ? `, ${differs.length} changed` : ''}</summary>
      <ul className="hole-key">
        {differs.map((b) => (
          <li key={b.joint.id}>
            <b>
              {b.joint.id}: {b.count} of {b.take}
            </b>
            , grip {show(model, b.grip)}
            {b.was && <>; {b.was}</>}
            {b.changed && '. Not the one in the bag'}
          </li>
        ))}
        {rest.map((b) => (
          <li key={b.joint.id}>
            {b.joint.id}: {b.count} of {b.take}, grip {show(model, b.grip)}
          </li>
        ))}
      </ul>
      <p className="small">
        Commercial blind rivets are not approved on certificated structure (AC 43.13-1B, 4-57f(9)).
      </p>
    </details>
  );
}
