import { stanceAt } from '../../checks/holes/offsets.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { drilledThrough } from '../../model/edits/rows.ts';
import type { Joint, Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';

/** How the rib stands now, to be kept with its first pilots: squaring it afterwards moves them. */
function stood(model: Model, joint: Joint): Joint['stood'] {
  const { lean, height, skew } = stanceAt(skeletonOf(model), joint.station);
  if (!lean && !skew) return undefined;
  return { lean: lean ? (100 * lean.best) / height : 0, skew: skew?.best ?? 0 };
}

/**
 * Records what was just drilled: the pilot in the layers that lack it, through the guide or apart, or final through
 * all.
 */
export function MarkDrilled({ answer }: { answer: HoleAnswer }) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const { joint, hole, layers } = answer;
  if (answer.how !== 'pilot')
    return (
      <button
        type="button"
        className="take"
        onClick={() => edit(drilledThrough(joint, hole.id, { parts: joint.layers, state: 'final' }))}
      >
        Opened to final in every layer
      </button>
    );
  const lacking = layers.filter((l) => l.state === 'none').map((l) => l.part);
  const mark = (apart: boolean) =>
    edit(drilledThrough(joint, hole.id, { parts: lacking, state: 'pilot', apart, stood: stood(model, joint) }));
  return (
    <p className="drill-did">
      <button type="button" className="take" onClick={() => mark(false)}>
        Pilot drilled in {lacking.join(', ')}
      </button>{' '}
      <button type="button" className="quiet" onClick={() => mark(true)}>
        marked and drilled apart
      </button>
    </p>
  );
}
