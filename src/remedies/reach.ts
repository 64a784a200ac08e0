import { checkAll } from '../checks/checkAll.ts';
import type { Limit } from '../model/limits.ts';
import type { Model } from '../model/schema.ts';

/*
 * How far does a finding reach into its limits, by its best value? 0 at home, 1 where "fits" ends, 2 where "act" begins.
 * The search for the least work looks at best values: doubt is taken away by measuring, not by metal. Beyond 2 a finding
 * is at act, or more likely than not; between 1 and 2 its place is "watch", however well it is known.
 */

type Bands = Pick<Limit, 'fits' | 'act'>;

const NEAR = 1e-9;

/** One side: `from` home (0) over the end of fits `a` (1) to the act threshold `b` (2) and on at the same rate. */
function sideReach(v: number, a: number | null, b: number | null): number {
  if (a === null && b === null) return 0;
  const fits = a ?? b!;
  const act = Math.max(b ?? Number.POSITIVE_INFINITY, fits);
  if (v <= fits + NEAR) return fits > 0 ? Math.min(1, Math.max(0, v / fits)) : 0;
  if (act === Number.POSITIVE_INFINITY) return 2 - 1 / (1 + v - fits);
  if (act - fits < NEAR) return 2 + (v - fits);
  const r = 1 + (v - fits) / (act - fits);
  return v <= act + NEAR ? Math.min(2, r) : r;
}

/**
 * Reach of a value. Home is zero where fits holds it; for a band that does not (relief at least 0.5 mm, grip 1.6 to
 * 3.2 mm) anywhere inside fits is home.
 *
 * @example cap gap, fits -0.05 to 0.20, act -0.10 and 0.50: +0.38 reaches 1.6, -0.32 reaches 5.4
 */
export function reachOf(value: number, { fits: [low, high], act: [under, over] }: Bands): number {
  const holdsZero = (low === null || low <= 0) && (high === null || high >= 0);
  if (holdsZero) {
    const up = value >= 0 ? sideReach(value, high, over) : 0;
    const down = value <= 0 ? sideReach(-value, low === null ? null : -low, under === null ? null : -under) : 0;
    return Math.max(up, down);
  }
  const above =
    high !== null || over !== null
      ? outsideReach(value - (high ?? over!), (over ?? Number.POSITIVE_INFINITY) - (high ?? over!))
      : 0;
  const below =
    low !== null || under !== null
      ? outsideReach((low ?? under!) - value, (low ?? under!) - (under ?? Number.NEGATIVE_INFINITY))
      : 0;
  return Math.max(above, below);
}

/** Past the end of fits by `past`, act lying `width` further. */
function outsideReach(past: number, width: number): number {
  if (past <= NEAR) return 0;
  if (width < NEAR) return 2 + past;
  if (width === Number.POSITIVE_INFINITY) return 2 - 1 / (1 + past);
  return past <= width + NEAR ? Math.min(2, 1 + past / width) : 1 + past / width;
}

/** 0 inside fits, 1 between fits and act, 2 beyond act. */
export type Level = 0 | 1 | 2;

export function levelOf(reach: number): Level {
  return reach > 2 ? 2 : reach > 1 ? 1 : 0;
}

/** What findings were before anything was done, by id: those that rest on the drawing alone, with their reach. */
export type Before = ReadonlyMap<string, number>;

const remembered = new WeakMap<Model, Before>();

/** Findings of a panel that no reading speaks for. No metal is cut for these; they are to be measured. */
export function drawnOnly(model: Model): Before {
  let before = remembered.get(model);
  if (!before) {
    before = new Map(
      checkAll(model)
        .filter((f) => f.basis === 'drawing' && f.u > 0)
        .map((f) => [f.id, reachOf(f.value, f.limits)]),
    );
    remembered.set(model, before);
  }
  return before;
}

/** Questions about the readings themselves: settled by measuring again, never by metal. */
const OF_READINGS = /^(?:disagreement|temperature):/;

/** Whether a finding counts: not where it asks about readings, nor where it rested on the drawing alone before and is no worse than it was. */
export function counts(id: string, reach: number, before: Before): boolean {
  if (OF_READINGS.test(id)) return false;
  const was = before.get(id);
  return was === undefined || reach > was + 1e-6;
}
