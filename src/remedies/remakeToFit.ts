import { show } from '../checks/describe.ts';
import { withRibEnd } from '../model/ribEnd.ts';
import type { Model, Rib } from '../model/schema.ts';
import type { EndName } from '../parts/layout/layout.ts';
import { madeAgain } from './offers/remake.ts';
import { FREE, type Remedy } from './remedy.ts';
import { heightWanted, lengthWanted, noseLengthWanted, type WantedSize } from './wantedThere.ts';

/*
 * A rib that is made again is made to fit where it stands, not to the drawing and then shimmed: as high and as long as its
 * place wants it, for the daylight its drawing means.
 */

/** A hand lays out no finer, mm: picked, no source. */
const STEP = 0.1;
/** Nearer than this to its drawing, mm, a size is made as drawn: picked, no source. */
const AS_DRAWN = 0.15;

/** One size that is made other than drawn. */
interface Fitted {
  /** In the builder's words: `82.2 mm high at the front`. */
  readonly words: string;
  readonly apply: (rib: Rib) => Rib;
}

const rounded = (size: number): number => Math.round(Math.round(size / STEP) * STEP * 1e6) / 1e6;

/** What is made instead of a drawn size; undefined where the drawing will do. */
function instead({ wanted }: WantedSize, drawn: number): number | undefined {
  const made = rounded(wanted);
  return made > 0 && Math.abs(made - drawn) >= AS_DRAWN ? made : undefined;
}

function heightAt(model: Model, rib: Rib, end: EndName, drawn: number): Fitted[] {
  const wanted = heightWanted(model, model, rib.id, end);
  const height = wanted && instead(wanted, drawn);
  if (height === undefined) return [];
  return [
    {
      words: `${show(model, height)} high at the ${end}`,
      apply: (r) => withRibEnd(r, end, (e) => ({ ...e, height })),
    },
  ];
}

function heights(model: Model, rib: Rib): Fitted[] {
  if (rib.kind === 'nose') return heightAt(model, rib, 'tail', rib.tail.height);
  const rear = model.spars.rear ? heightAt(model, rib, 'rear', rib.rear.height) : [];
  return rib.kind === 'main' ? [...heightAt(model, rib, 'front', rib.front.height), ...rear] : rear;
}

function lengthOf(model: Model, rib: Rib): Fitted[] {
  const wanted = rib.kind === 'main' ? lengthWanted(model, model, rib.station) : noseLengthWanted(model, rib.station);
  const length = wanted && instead(wanted, rib.length);
  return length === undefined ? [] : [{ words: `${show(model, length)} long`, apply: (r) => ({ ...r, length }) }];
}

/**
 * Makes a rib again to fit where it stands; to its drawing where that fits.
 *
 * @example a rib end that binds by 0.32 mm and whose drawing leaves 0.00: made 0.3 mm lower there than it is
 */
export function remakeToFit(model: Model, rib: Rib): Remedy {
  const fitted = [...heights(model, rib), ...lengthOf(model, rib)];
  const sizes = fitted.map((f) => f.words).join(', ');
  const how = sizes === '' ? 'to its drawing' : `to fit here: ${sizes}`;
  return {
    id: `remake:${rib.id}:here`,
    kind: 'remake',
    name: `make ${rib.id} again, ${how}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, remade: 1 },
    askDesigner: false,
    layers: true,
    edit: {
      name: `made ${rib.id} again, ${how}`,
      apply: (m) => {
        const again = madeAgain(m, rib);
        return {
          ...again,
          ribs: again.ribs.map((r) => (r.id === rib.id ? fitted.reduce((now, f) => f.apply(now), r) : r)),
        };
      },
    },
  };
}
