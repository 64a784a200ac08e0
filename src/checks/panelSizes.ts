import type { Model, Reading, Rib } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import { TABLES } from '../model/tables/allTables.ts';
import type { Column, Row, Table } from '../model/tables/tables.ts';

/*
 * Every size a panel has, as its builder knows it: each number of Build's tables, each lightening hole and web
 * doubler, and each size that only a reading can tell. Each can be moved: the drawing with its readings, as if the
 * part were so.
 */

/** One size of a panel. */
export interface PanelSize {
  /** What it is called: "contour flange". */
  readonly size: string;
  /** What has it: "M2", "front spar", "S3". */
  readonly part: string;
  /** The table and column, or the kind, it belongs to: `main.flange`, `read.bow`. */
  readonly sort: string;
  /** mm, or degrees. */
  readonly value: number;
  readonly angle: boolean;
  /** Its key in the book of sizes, where it has one. */
  readonly key?: string;
  /** A panel like the one it was got from with this size moved by so much, mm or degrees. */
  readonly moved: (model: Model, by: number) => Model;
}

const shifted = (r: Reading, by: number): Reading => ({ ...r, value: r.value + by, sure: true });

/** The same panel with every reading of a size moved. */
function withReadings(model: Model, key: string | undefined, by: number): Model {
  if (key === undefined || !model.readings.some((r) => r.size === key)) return model;
  return { ...model, readings: model.readings.map((r) => (r.size === key ? shifted(r, by) : r)) };
}

/** The keys of the sizes a station's columns stand for, by column. */
const STATION_KEYS: Readonly<Record<string, (station: string) => string>> = {
  'front.depth': (s) => `front.depth@${s}`,
  'front.cap': (s) => `front.cap@${s}`,
  'rear.depth': (s) => `rear.depth@${s}`,
  'rear.cap': (s) => `rear.cap@${s}`,
  webs: (s) => `webs@${s}`,
};

/** A row's pitch is the places of its holes once more. */
const isSize = ({ kind, id }: Column): boolean => (kind === 'length' || kind === 'angle') && id !== 'pitch';

const keyOf = (table: Table, column: Column, row: Row): string | undefined =>
  column.size?.(row.id) ?? (table.id === 'stations' ? STATION_KEYS[column.id]?.(row.id) : undefined);

function cellSize(model: Model, table: Table, column: Column, row: Row): PanelSize[] {
  const { write } = column;
  const value = column.read(model, row.id);
  if (write === undefined || typeof value !== 'number') return [];
  const key = keyOf(table, column, row);
  const moved: PanelSize['moved'] = (m, by) => withReadings(write(m, new Map([[row.id, value + by]])), key, by);
  const named = { size: column.name, part: row.name, sort: `${table.id}.${column.id}` };
  return [{ ...named, value, angle: column.kind === 'angle', ...(key === undefined ? {} : { key }), moved }];
}

function* tabled(model: Model): Generator<PanelSize> {
  for (const table of TABLES) {
    const columns = table.columns(model).filter(isSize);
    for (const row of table.rows(model)) for (const column of columns) yield* cellSize(model, table, column, row);
  }
}

/** Sizes that only a reading can tell, where there is one. */
function* readOnly(model: Model): Generator<PanelSize> {
  for (const entry of sizeBook(model).entries.values()) {
    if (entry.nominal !== undefined) continue;
    const read = model.readings.find((r) => r.size === entry.key);
    if (!read) continue;
    yield {
      size: entry.name,
      part: entry.of.part ?? entry.of.joint ?? entry.of.station ?? entry.of.from ?? '',
      sort: `read.${entry.kind}`,
      value: read.value,
      angle: entry.kind === 'level',
      key: entry.key,
      moved: (m, by) => withReadings(m, entry.key, by),
    };
  }
}

const LIGHTENING = { fromFront: 'centre from the front end', above: 'centre above the chord line', diameter: 'size' };

/** Lightening and sight holes of the ribs. */
function* lightening(model: Model): Generator<PanelSize> {
  for (const rib of model.ribs) {
    for (const [i, hole] of rib.holes.entries()) {
      for (const what of ['fromFront', 'above', 'diameter'] as const) {
        const holes = ({ holes: all }: Rib, by: number): Rib['holes'] =>
          all.map((h, k) => (k === i ? { ...h, [what]: h[what] + by } : h));
        yield {
          size: `${hole.kind} hole ${i + 1}, ${LIGHTENING[what]}`,
          part: rib.id,
          sort: `lightening.${what}`,
          value: hole[what],
          angle: false,
          moved: (m, by) => ({
            ...m,
            ribs: m.ribs.map((r) => (r.id === rib.id ? { ...r, holes: holes(r, by) } : r)),
          }),
        };
      }
    }
  }
}

const PLATE = { from: 'inboard end', to: 'outboard end', height: 'height' };

/** Doublers on the spars' webs. */
function* plates(model: Model): Generator<PanelSize> {
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    for (const [i, plate] of (spar?.webDoublers ?? []).entries()) {
      for (const what of ['from', 'to', 'height'] as const) {
        yield {
          size: PLATE[what],
          part: plate.id ?? `web doubler ${i + 1} of the ${name} spar`,
          sort: `plate.${what}`,
          value: plate[what],
          angle: false,
          moved: (m, by) => {
            const had = m.spars[name];
            const webDoublers = had?.webDoublers.map((p, k) => (k === i ? { ...p, [what]: p[what] + by } : p));
            return { ...m, spars: { ...m.spars, [name]: { ...had, webDoublers } } };
          },
        };
      }
    }
  }
}

/** Every size of a panel, in the order of Build, then what was only read. */
export const panelSizes = (model: Model): PanelSize[] => [
  ...tabled(model),
  ...lightening(model),
  ...plates(model),
  ...readOnly(model),
];

/** Sizes that are places, or departures from where something should be: half of one means nothing. */
const PLACES = /^read\.|\.(y|up|along|inboard|outboard|from|to|above|fromFront)$/;

/**
 * How far a size is moved to see whether anybody notices: 5 mm or half of it, whichever is less; an angle by 3
 * degrees.
 */
export function stepOf({ value, angle, sort }: PanelSize): number {
  if (angle) return 3;
  return PLACES.test(sort) ? 5 : Math.min(5, Math.abs(value) / 2);
}
