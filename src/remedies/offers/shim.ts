import type { Model, Rib } from '../../model/schema.ts';
import { type Maker, ribEndAt } from '../asked.ts';
import { carrying } from '../carried.ts';
import { sheetThick, shimsFor, thicknessText, wholeMils } from '../onHand.ts';
import { type End, lettered, withPiece } from '../pieceIn.ts';
import { FREE, freeName, type Remedy } from '../remedy.ts';
import { mayAdd } from '../stacks.ts';

/** A rib end that a shim goes to, and how thick it is, mm. */
interface ShimPlace {
  readonly rib: Rib;
  readonly end: End;
  readonly thickness: number;
}

/** A name for shim stock in the list of sheets: `shim15` for 0.015 in, `shim0p4` for 0.40 mm. */
function stockName(thickness: number): string {
  const mils = wholeMils(thickness);
  return mils === undefined ? `shim${thickness.toFixed(2).replace('.', 'p')}` : `shim${mils}`;
}

/** The panel with a sheet in its list. */
const listed = (m: Model, sheet: Model['sheets'][number]): Model =>
  m.sheets.some((s) => s.id === sheet.id) ? m : { ...m, sheets: [...m.sheets, sheet] };

/**
 * Flat shims on one cap or both at a rib end: each takes its thickness from the cap gap. Cut from sheet or from shim
 * stock, which comes into the panel's list of sheets with it.
 */
export function shim(model: Model, { rib, end, thickness }: ShimPlace, caps: 'top' | 'bottom' | 'both'): Remedy {
  const alloy = model.sheets.find((s) => s.id === rib.sheet)?.alloy ?? '6061-T6';
  const sheet = sheetThick(model, thickness) ?? { id: stockName(thickness), alloy, thickness };
  const sides = caps === 'both' ? (['top', 'bottom'] as const) : ([caps] as const);
  const where = caps === 'both' ? 'both caps' : `the ${caps} cap`;
  const put = (m: Model, on: 'top' | 'bottom'): Model =>
    withPiece(m, rib, {
      id: freeName(m, `Q${lettered(rib.id)}`),
      form: 'flat',
      on,
      sheet: sheet.id,
      part: rib.id,
      end,
      width: 2 * rib.flange,
      designed: false,
    });
  return {
    id: `shim:${rib.id}.${end}:${caps}:${sheet.id}`,
    kind: 'shim',
    name: `shim of ${thicknessText(model, sheet.thickness)} at ${where}, ${rib.id} ${end}`,
    station: rib.station,
    part: rib.id,
    cost: { ...FREE, pieces: sides.length },
    askDesigner: true,
    layers: true,
    edit: { name: `shimmed ${rib.id} ${end}`, apply: carrying((m) => sides.reduce(put, listed(m, sheet))) },
  };
}

/** Shims on the top cap that a gap takes. */
export const shims: Maker = (asked) => {
  const { model, finding } = asked;
  const at = ribEndAt(asked);
  if (!at || !mayAdd(model, at.rib, at.end, ['top'])) return [];
  return shimsFor(model, finding.value + 0.1).map((thickness) => shim(model, { ...at, thickness }, 'top'));
};
