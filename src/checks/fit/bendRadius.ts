import { best, type Chain, chain, combine, uncertainty } from '../../chains/chain.ts';
import { chanceBelow } from '../../chains/normal.ts';
import type { Size } from '../../chains/size.ts';
import type { Limit } from '../../model/limits.ts';
import type { Alloy, Sheet } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { type At, atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge, type Spread } from '../finding.ts';

/*
 * Asks: is any bend tighter than its metal takes? (C16) The least radius is so many thicknesses by the row of a table
 * that turns on the thickness too: so the thickness' doubt stands in the verdict, and where it leaves two rows
 * possible, both do.
 */

/**
 * AC 43.13-1B table 4-6: recommended inside radius of a 90 degree bend, in sheet thicknesses, least and most, by
 * alloy and by sheet column.
 */
const COLUMNS_IN = [0.016, 0.032, 0.064, 0.128, 0.182, 0.258];
const RADII: Record<Alloy, readonly (readonly [number, number])[]> = {
  '2024-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '2024-T3': [
    [1.5, 3],
    [2, 4],
    [3, 5],
    [4, 6],
    [4, 6],
    [5, 7],
  ],
  '2024-T6': [
    [2, 4],
    [3, 5],
    [3, 5],
    [4, 6],
    [5, 7],
    [6, 10],
  ],
  '5052-0': [
    [0, 0],
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '5052-H32': [
    [0, 0],
    [0, 0],
    [0.5, 1],
    [0.5, 1.5],
    [0.5, 1.5],
    [0.5, 1.5],
  ],
  '5052-H34': [
    [0, 0],
    [0, 0],
    [0.5, 1.5],
    [1.5, 2.5],
    [1.5, 2.5],
    [2, 3],
  ],
  '5052-H36': [
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [2, 4],
  ],
  '5052-H38': [
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [3, 5],
    [4, 6],
  ],
  '6061-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '6061-T4': [
    [0, 1],
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2.5, 4],
  ],
  '6061-T6': [
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [3, 4],
  ],
  '7075-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
  ],
  '7075-T6': [
    [2, 4],
    [3, 5],
    [4, 6],
    [5, 7],
    [5, 7],
    [6, 10],
  ],
};

/** Inside radii for a 90 degree bend, mm: tighter than `least` cracks, `most` and over is easy. */
export interface BendBand {
  readonly least: number;
  readonly most: number;
  /** Table column used, inches. The table gives no interpolation, so the next thicker one is taken and said. */
  readonly column: number;
  readonly exact: boolean;
}

/**
 * How much thicker than a column's gauge a sheet sold as that gauge may be, inches: the usual mill tolerance of thin
 * sheet, picked, no source.
 */
const SOLD_AS = 0.002;

/**
 * AC 43.13-1B table 4-6 for an alloy and sheet, mm; undefined when thicker than the table. 2024-T3 at 0.032 in: 0.064
 * to 0.128 in.
 */
export function bendBand(alloy: Alloy, sheet: number): BendBand | undefined {
  const inches = sheet / 25.4;
  const at = COLUMNS_IN.findIndex((c) => c >= inches - SOLD_AS);
  const column = COLUMNS_IN[at];
  const band = RADII[alloy][at];
  if (column === undefined || !band) return undefined;
  return { least: band[0] * sheet, most: band[1] * sheet, column, exact: Math.abs(column - inches) < 1e-3 };
}

/**
 * The rows of the table that a sheet may belong to, by how thick it may be: the best known, the thinnest, the
 * thickest.
 */
interface Rows {
  readonly here: BendBand;
  readonly thin: BendBand;
  readonly thick: BendBand;
}

/** How far a thickness may be off: twice what is known of it, never more than its tolerance where it was not read. */
function reachOf(size: Size): number {
  const twice = 2 * size.u;
  return size.origin === 'measured' ? twice : Math.min(twice, size.tolerance);
}

function rowsOf(alloy: Alloy, size: Size): Rows | undefined {
  const here = bendBand(alloy, size.best);
  const thick = bendBand(alloy, size.best + reachOf(size));
  const thin = bendBand(alloy, Math.max(0, size.best - reachOf(size)));
  return here && thick && thin ? { here, thin, thick } : undefined;
}

/**
 * Where the doubt of the thickness leaves two rows, the range and chance with both in it; undefined where it leaves
 * one.
 */
function spreadOf(radius: Chain, size: Size, { thin, thick, here }: Rows, u: number): Spread | undefined {
  if (thin.column === thick.column) return undefined;
  const value = best(radius);
  const edge = (thin.column + SOLD_AS) * 25.4;
  const isThin = chanceBelow(edge, size.best, size.u);
  const chance = isThin * chanceBelow(thin.least, value, u) + (1 - isThin) * chanceBelow(thick.least, value, u);
  return {
    low: Math.min(value - 2 * u, value - (thick.least - here.least)),
    high: Math.max(value + 2 * u, value + (here.least - thin.least)),
    chance,
  };
}

function limitOf({ alloy }: Sheet, { column, exact, least }: BendBand): Limit {
  const taken = exact ? '' : `; the ${column} in column is taken, the next thicker`;
  return {
    check: 'bend-radius',
    unit: 'mm',
    fits: [least, null],
    act: [least, null],
    origin: `AC 43.13-1B table 4-6, ${alloy}${taken}`,
  };
}

function bendFinding(skeleton: Skeleton, mark: string, at: At, radius: Chain, sheetId: string): Finding | undefined {
  const { model } = skeleton;
  const sheet = model.sheets.find((s) => s.id === sheetId);
  const size = thickness(skeleton, sheetId);
  const rows = sheet && rowsOf(sheet.alloy, size);
  if (!sheet || !rows) return undefined;
  const { here, thin, thick } = rows;
  const times = size.best > 0 ? here.least / size.best : 0;
  const restsOn = combine([1, radius], [-times, chain([1, size])]);
  const name = at.station === undefined ? `The ${mark}` : mark;
  return judge({
    check: 'bend-radius',
    at,
    place: mark,
    restsOn,
    value: best(radius),
    spread: spreadOf(radius, size, rows, uncertainty(restsOn)),
    limit: limitOf(sheet, here),
    sense: (v) => (v < here.least ? 'tight' : 'easy'),
    say: (j) => {
      const takes = `${sheet.alloy} of this sheet takes ${show(model, here.least)} to ${show(model, here.most)} and over`;
      const either = `The sheet may be thin enough for the ${thin.column} in column, or thick enough for the ${thick.column} in one: measure it with a micrometer.`;
      return sentence(model, j, `${name} is bent at ${show(model, j.value)} inside; ${takes}`, {
        note: thin.column === thick.column ? undefined : either,
        todo: 'Bend it easier, and look for cracks with a magnifier.',
      });
    },
  });
}

/** Bends of the spars. */
export function* sparBends(skeleton: Skeleton): Generator<Finding> {
  const { model, book } = skeleton;
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    const f =
      spar && bendFinding(skeleton, `${name} spar`, { spar: name }, chain([1, book.get(`${name}.radius`)]), spar.sheet);
    if (f) yield f;
  }
}

/** Bends of the channel doublers at a station's rib ends. */
export function* doublerBends(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const place of skeleton.placesAt(bay.station.id)) {
    for (const d of place.doublers) {
      if (d.form !== 'channel' || d.radius === undefined) continue;
      const radius = chain([1, skeleton.book.get(`${d.id}.radius`)]);
      const f = bendFinding(skeleton, d.id, { ...atEnd(place), doubler: d.id }, radius, d.sheet);
      if (f) yield f;
    }
  }
}

/** Bends of the ribs at a station. */
export function* ribBends(skeleton: Skeleton, { main, nose, tip, station }: Bay): Generator<Finding> {
  for (const rib of [main, nose, tip]) {
    if (!rib) continue;
    const radius = chain([1, skeleton.book.get(`${rib.id}.radius`)]);
    const f = bendFinding(skeleton, rib.id, { station: station.id, part: rib.id }, radius, rib.sheet);
    if (f) yield f;
  }
}
