import { show } from '../checks/describe.ts';
import type { Model } from '../model/schema.ts';
import { fractionName } from '../units/drills.ts';
import { formatLength } from '../units.ts';

/*
 * What is on hand to make pieces from, and how a shop says it.
 */

/** Thickness of a sheet by its name, mm; nothing where there is none of that name. */
export const sheetOnHand = (model: Model, id: string): number => model.sheets.find((s) => s.id === id)?.thickness ?? 0;

/** Sheets on hand, thinnest first. */
export function sheets(model: Model): string[] {
  return [...new Set(model.stock.sheets)].sort((a, b) => sheetOnHand(model, a) - sheetOnHand(model, b));
}

/** Closer than this, mm, two thicknesses are one. */
const SAME = 0.002;

/** The sheet of a thickness, mm, if the panel lists one. */
export const sheetThick = (model: Model, thickness: number): Model['sheets'][number] | undefined =>
  model.sheets.find((s) => Math.abs(s.thickness - thickness) < SAME);

/** Thicknesses a shim can be cut from, sheet and shim stock, up to `most` mm, thinnest first, each once. */
export function shimsFor(model: Model, most: number): number[] {
  const all = [...model.stock.shims, ...model.stock.sheets.map((s) => sheetOnHand(model, s))]
    .filter((t) => t > 0 && t <= most)
    .sort((a, b) => a - b);
  return all.filter((t, i) => t - (all[i - 1] ?? 0) > SAME);
}

/** Whole thousandths of an inch, where a thickness in mm is that; undefined otherwise. */
export function wholeMils(thickness: number): number | undefined {
  const mils = Math.round(thickness / 0.0254);
  return Math.abs(thickness / 0.0254 - mils) < 0.02 ? mils : undefined;
}

/** A thickness as sheet is bought: 0.508 mm is `0.020 in` in any panel, 0.8 mm is `0.80 mm`. */
export const thicknessText = (model: Model, thickness: number): string =>
  wholeMils(thickness) === undefined ? show(model, thickness) : formatLength(thickness, 'in');

/** A sheet by its thickness: `s020` is `0.020 in`. */
export const sheetText = (model: Model, id: string): string => thicknessText(model, sheetOnHand(model, id));

/** An inside bend radius, mm, as the block it is bent over: `5/64 in (1.98 mm)`. */
export function radiusText(model: Model, radius: number): string {
  const block = fractionName(radius);
  return block ? `${block} (${formatLength(radius, 'mm')})` : show(model, radius);
}
