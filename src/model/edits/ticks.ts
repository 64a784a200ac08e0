import { once } from '../../once.ts';
import { afterLast } from '../acts.ts';
import { door } from '../rested.ts';
import type { Tick } from '../schema.ts';
import type { Edit } from './edits.ts';

const byStep = once((ticks: readonly Tick[]): ReadonlyMap<string, Tick> => new Map(ticks.map((t) => [t.step, t])));

/** The tick of a step, or nothing while it is not done. */
export const tickOf = door(({ ticks }, step): Tick | undefined => ticks && byStep(ticks).get(step));

/** Ticks a step as done: by whom, and on which day. A second tick takes the place of the first. */
export function ticked(step: string, title: string, { by, date }: Pick<Tick, 'by' | 'date'>): Edit {
  return {
    name: `ticked: ${title}`,
    quiet: true,
    apply: (m) => ({
      ...m,
      ticks: [...(m.ticks ?? []).filter((t) => t.step !== step), { step, by, date, ...afterLast(m) }],
    }),
  };
}

/** Takes a step's tick back. */
export function unticked(step: string, title: string): Edit {
  return {
    name: `took back the tick: ${title}`,
    quiet: true,
    apply: (m) => ({ ...m, ticks: (m.ticks ?? []).filter((t) => t.step !== step) }),
  };
}

/** What may be ticked of a row: looked through (the holes line up), its edges gauged. */
export type RowTick = 'through' | 'edges';
/** What may be ticked of a station: holes deburred, skin steps felt. */
export type StationTick = 'deburred' | 'steps';

/** The tick of a row, by its joint: `through F2`. */
export const rowTick = (what: RowTick, joint: string): string => `${what} ${joint}`;

/** The tick of a station: `deburred S3`. */
export const stationTick = (what: StationTick, station: string): string => `${what} ${station}`;
