import { alongAt } from './along.ts';
import type { Along, Model } from './schema.ts';

/*
 * What a drawing says by rule: the finest step of its tables, what it calls a sheet, how high it puts the rear spar.
 */

/** The finest step of a drawing's table: a hundredth of a millimetre, or a thousandth of an inch. */
export const grainOf = (units: Model['units']): number => (units === 'in' ? 0.0254 : 0.01);

/** To the nearest step, without the dust of binary fractions. `onGrain(160.2939, 0.01)` is 160.29. */
export const onGrain = (value: number, grain: number): number =>
  Math.round(Math.round(value / grain) * grain * 1e6) / 1e6;

/** Name of a sheet by its thousandths of an inch: 0.635 mm is s025. */
export const sheetName = (thickness: number): string => `s${String(Math.round(thickness / 0.0254)).padStart(3, '0')}`;

const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;

/**
 * How much higher the drawing puts the rear spar's lower edge: half of what it is shallower, both spars on one chord
 * line.
 */
export function rearHigherOf(model: Pick<Model, 'spars' | 'stations'>): Along {
  const { front, rear } = model.spars;
  if (!rear) return 0;
  const at = (y: number): number => Math.max(0, tidy((alongAt(front.depth, y) - alongAt(rear.depth, y)) / 2));
  const values = model.stations.map((s): [number, number] => [s.y, at(s.y)]);
  const first = values[0]?.[1] ?? 0;
  return values.every(([, v]) => v === first) ? first : values;
}
