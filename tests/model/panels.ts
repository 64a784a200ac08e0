import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { CheckId, Finding } from '../../src/checks/finding.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Doubler, MainRib, Model, NoseRib, Reading, TipRib } from '../../src/model/schema.ts';

/** Every panel in models/, by file name without its ending. */
export const PANELS = ['plain', 'narrow-tail', 'washed-out-wing'] as const;
export type PanelName = (typeof PANELS)[number];

export const MODELS = join(import.meta.dirname, '../../models');

export function textOf(name: PanelName): string {
  return readFileSync(join(MODELS, `${name}.json`), 'utf8');
}

/** Freezes a value all the way down, so that any change to it throws. */
export function frozen<T>(value: T): T {
  if (value !== null && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const inner of Object.values(value)) frozen(inner);
  }
  return value;
}

const read = new Map<PanelName, Model>();

/** A panel of models/, frozen. */
export function panel(name: PanelName): Model {
  const known = read.get(name);
  if (known) return known;
  const result = parseModel(textOf(name));
  if (!result.ok) throw new Error(result.faults.map((f) => `${f.path}: ${f.sentence}`).join('\n'));
  read.set(name, frozen(result.model));
  return result.model;
}

/** A changed copy of a model, frozen; the model itself is left alone. */
export function changed(model: Model, change: (copy: Model) => void): Model {
  const copy = structuredClone(model);
  change(copy);
  return frozen(copy);
}

export function rib(model: Model, id: string): Model['ribs'][number] {
  const found = model.ribs.find((r) => r.id === id);
  if (!found) throw new Error(`no rib ${id}`);
  return found;
}
export const mainRib = (model: Model, id: string): MainRib => rib(model, id) as MainRib;
export const noseRib = (model: Model, id: string): NoseRib => rib(model, id) as NoseRib;
export const tipRib = (model: Model, id: string): TipRib => rib(model, id) as TipRib;

/** The reading of a size, to be changed. */
export function reading(model: Model, size: string): Reading {
  const found = model.readings.find((r) => r.size === size);
  if (!found) throw new Error(`no reading of ${size}`);
  return found;
}

/** Sets a size to a value whether it was read or only drawn: every reading of it, or a new one. */
export function readAs(model: Model, size: string, value: number, instrument: string): void {
  const all = model.readings.filter((r) => r.size === size);
  for (const r of all) r.value = value;
  if (all.length === 0) model.readings.push({ size, value, instrument });
}

export const channel = (id: string, part: string, end: Doubler['end'], sheet: string, radius: number): Doubler => ({
  id,
  form: 'channel',
  on: 'web',
  sheet,
  part,
  end,
  radius,
  leg: 14,
  width: 28,
  designed: false,
});
export const flat = (
  id: string,
  part: string,
  end: Doubler['end'],
  sheet: string,
  on: Doubler['on'],
  height?: number,
): Doubler => ({
  id,
  form: 'flat',
  on,
  sheet,
  part,
  end,
  ...(height === undefined ? {} : { height }),
  width: 28,
  designed: false,
});

/** The one finding of a check at a place. */
export function finding(model: Model, check: CheckId, place: string): Finding {
  const found = checkAll(model).filter((f) => f.check === check && f.place === place);
  if (found.length !== 1)
    throw new Error(
      `${found.length} findings of ${check} at "${place}"; there are ${checkAll(model)
        .filter((f) => f.check === check)
        .map((f) => f.place)
        .join(', ')}`,
    );
  return found[0]!;
}

/** Values of a check at several places. */
export const valuesAt = (model: Model, check: CheckId, places: readonly string[]): number[] =>
  places.map((p) => finding(model, check, p).value);

/** A value as printed to some digits, with no minus before nothing. */
export function printed(value: number, digits: number): string {
  const text = value.toFixed(digits);
  return Number(text) === 0 ? (0).toFixed(digits) : text;
}
export const allPrinted = (values: readonly number[], digits: number): string[] =>
  values.map((v) => printed(v, digits));
