import { capSplitChains } from '../../parts/layout/meeting.ts';
import { bayThrough, flangePlane } from '../../scene/cutPlace.ts';
import { useCut } from '../workers/useCut.ts';
import { CutCorner, CutHatches } from './CutCorner.tsx';
import { CutWhole } from './CutWhole.tsx';
import type { View } from './layers.ts';
import { SketchCorner, SketchWhole } from './Sketch.tsx';
import './section.css';

/**
 * The chosen station cut open: the whole section to scale, then each nesting end's corner enlarged with its layers.
 * Both are the solids themselves cut through the middle of the flanges; until those are cut, or where they cannot be,
 * a plain sketch.
 */
export function Section(view: View) {
  const { skeleton, bay } = view;
  const { model } = skeleton;
  const nesting = skeleton.placesAt(bay.station.id).filter((p) => p.spec.ends === 'nests');
  const answer = useCut({ model, magnify: 1, y: flangePlane(skeleton, bay) });
  const cut = answer?.model === model && bayThrough(skeleton, answer.cut.y) === bay ? answer.cut : null;
  return (
    <div className="sections" data-cut={cut?.parts.length}>
      {cut && <CutHatches />}
      {cut ? <CutWhole view={view} cut={cut} /> : <SketchWhole view={view} />}
      {nesting.map((p) => (
        <figure key={`${p.rib.id}${p.end}`}>
          <figcaption>
            {p.rib.id} {p.end} end, top corner enlarged,{' '}
            {capSplitChains(skeleton, p).held ? 'as it is held' : 'held in the middle'}
          </figcaption>
          {cut ? <CutCorner view={view} cut={cut} place={p} /> : <SketchCorner view={view} place={p} />}
        </figure>
      ))}
    </div>
  );
}
