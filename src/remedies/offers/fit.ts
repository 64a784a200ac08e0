import { show } from '../../checks/describe.ts';
import type { Model, Rib, RibEnd } from '../../model/schema.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { NEAR } from '../../units/near.ts';
import type { Maker } from '../asked.ts';
import { isAtFault } from '../atFault.ts';
import { FREE, type Remedy } from '../remedy.ts';
import { drawn, heightWanted } from '../wantedThere.ts';
import { madeAgain } from './remake.ts';

/*
 * A rib that must be made again is made to fit where it stands: the end as high as the caps there want it, as
 * measured, not as the drawing has it. Where that is another height than the drawing's, the designer is asked.
 */

/** Heights are bent to this, mm: no hand makes finer differences on purpose. */
const STEP = 0.05;

const endOf = (rib: Rib, end: EndName): RibEnd | undefined => (rib as Partial<Record<EndName, RibEnd>>)[end];

/** A rib with one end of another height over its flanges, mm; its contour stays where the drawing has it. */
function withHeight(rib: Rib, end: EndName, height: number): Rib {
  return { ...rib, [end]: { ...endOf(rib, end), height } };
}

/** An end as it is to be made, mm over the flanges, and as the drawing has it. */
interface EndMade {
  readonly end: EndName;
  readonly height: number;
  readonly drawn: number;
}

function endMade(model: Model, rib: Rib, end: EndName): EndMade[] {
  const wanted = heightWanted(model, model, rib.id, end)?.wanted;
  const asDrawn = endOf(rib, end)?.height;
  if (wanted === undefined || asDrawn === undefined) return [];
  const height = Math.round(wanted / STEP) * STEP;
  return Math.abs(height - asDrawn) < STEP - NEAR ? [] : [{ end, height, drawn: asDrawn }];
}

/** Whether an end made so leaves what its drawing allows. */
function leavesDrawing(model: Model, rib: Rib, { end, height, drawn: asDrawn }: EndMade): boolean {
  const allowed = drawn(model).book.get(`${rib.id}.${end}.height`).tolerance;
  return Math.abs(height - asDrawn) > allowed + NEAR;
}

/** Makes a rib again with these ends as high as they want to be here; undefined where that is its drawing. */
export function madeToFit(model: Model, rib: Rib, ends: readonly EndName[]): Remedy | undefined {
  const made = ends.flatMap((end) => endMade(model, rib, end));
  if (made.length === 0) return undefined;
  const said = made.map(({ end, height }) => `${end} end ${show(model, height)}`).join(' and ');
  const says = made.map((e) => show(model, e.drawn)).join(' and ');
  return {
    id: `fit:${rib.id}:${made.map(({ end, height }) => `${end}=${height.toFixed(2)}`).join(',')}`,
    kind: 'fit',
    name: `make ${rib.id} again to fit here, ${said} over the flanges; the drawing says ${says}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, remade: 1 },
    askDesigner: made.some((e) => leavesDrawing(model, rib, e)),
    layers: true,
    edit: {
      name: `made ${rib.id} again to fit, ${said}`,
      apply: (m) => {
        const again = madeAgain(m, rib);
        const fitted = made.reduce((r, { end, height }) => withHeight(r, end, height), rib);
        return { ...again, ribs: again.ribs.map((r) => (r.id === rib.id ? fitted : r)) };
      },
    },
  };
}

/** The rib of a finding made again to fit, where the rib is what is off. */
export const ribFitted: Maker = ({ model, skeleton, rib, place, finding }) => {
  if (!rib || !place || !isAtFault(skeleton, rib, finding)) return [];
  const fitted = madeToFit(model, rib, [place.end]);
  return fitted ? [fitted] : [];
};
