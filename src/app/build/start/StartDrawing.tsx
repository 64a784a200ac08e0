import { PlanView } from './PlanView.tsx';
import { SectionView } from './SectionView.tsx';
import type { Shown } from './shown.ts';

/*
 * The panel as its answers have it: from above, and one rib's section, both to scale, with the size in question
 * pointed at. Metal is drawn as lines; only what is asked for carries a number.
 */

/** The two views that change as the questions are answered. */
export function StartDrawing(shown: Shown) {
  return (
    <div className="start-drawing">
      <PlanView {...shown} />
      <SectionView {...shown} />
    </div>
  );
}
