import { formatAngle, formatLength } from '../../units.ts';
import { mirrorModel } from '../edits/mirror.ts';
import { QUANTITIES } from '../quantities.ts';
import type { Model } from '../schema.ts';
import { isFeeler, type SizeEntry } from '../sizeEntries.ts';
import { sizeBook, sizeEntries } from '../sizes.ts';
import { type CellValue, cellText, type Table } from './tables.ts';

/*
 * Two panels side by side: this one with its earlier self, with another file, with the other hand's, or one half of a
 * panel in one piece with its other half. The other is mirrored first where the hands differ, so that only what is really
 * unlike is told.
 */

export interface Difference {
  /** What differs: a size of the drawing, a reading, or a part that only one has. */
  readonly kind: 'drawing' | 'reading' | 'part';
  readonly station: string | null;
  /** The part it is about, where it is one part. */
  readonly part?: string | undefined;
  /** Row and column in words. */
  readonly what: string;
  readonly here: string;
  readonly there: string;
  /** here - there in mm or degrees, where both are numbers; and as it is printed, with its unit. */
  readonly by: number | undefined;
  readonly byText?: string;
}

/** The other panel made comparable: mirrored where its hand is the other one. */
export function alike(model: Model, other: Model): { readonly other: Model; readonly mirrored: boolean } {
  const opposite =
    (model.hand === 'left' && other.hand === 'right') || (model.hand === 'right' && other.hand === 'left');
  return opposite ? { other: mirrorModel(other), mirrored: true } : { other, mirrored: false };
}

const NEAR = 5e-5;

/** Two numbers and by how much they differ, all with the same decimals: one more where the difference would not show. */
function told(
  model: Model,
  a: number | undefined,
  b: number | undefined,
  kind: string,
): Pick<Difference, 'here' | 'there' | 'by' | 'byText'> {
  const by = a !== undefined && b !== undefined ? a - b : undefined;
  const scale = kind === 'length' && model.units === 'in' ? 25.4 : 1;
  const least =
    (kind === 'length' && model.units === 'in' ? 3 : 2) +
    (by !== undefined && Math.abs(by / scale) < (scale === 1 ? 0.005 : 0.0005) ? 1 : 0);
  const print = (v: number | undefined, signed = false): string =>
    v === undefined
      ? 'not read'
      : kind === 'length'
        ? formatLength(v, model.units, { unitMark: false, digits: least, signed })
        : kind === 'angle'
          ? formatAngle((v * Math.PI) / 180, { digits: least, signed }).replace('°', '')
          : `${signed && v > 0 ? '+' : ''}${Math.round(v * 1e6) / 1e6}`;
  const unit = kind === 'length' ? ` ${model.units}` : kind === 'angle' ? '°' : '';
  return { here: print(a), there: print(b), by, ...(by === undefined ? {} : { byText: `${print(by, true)}${unit}` }) };
}

const weight = (d: Difference): number =>
  d.by === undefined ? (d.kind === 'reading' ? -1 : Infinity) : Math.abs(d.by);

/** The largest difference first, after words that differ in the drawing; what only one has read comes last. */
export const largestFirst = (all: readonly Difference[]): Difference[] =>
  [...all].sort((a, b) => weight(b) - weight(a) || 0);

/** Every cell that differs, table by table, in the order of the first panel. */
export function differencesOf(tables: readonly Table[], model: Model, against: Model): Difference[] {
  const { other } = alike(model, against);
  const out: Difference[] = [];
  for (const table of tables) {
    const [rows, theirs] = [table.rows(model), table.rows(other)];
    const has = new Set(theirs.map((r) => r.id));
    for (const r of rows)
      if (!has.has(r.id))
        out.push({
          kind: 'part',
          station: r.station,
          part: r.part,
          what: `${r.name}, of ${table.name}`,
          here: 'there',
          there: 'not there',
          by: undefined,
        });
    const own = new Set(rows.map((r) => r.id));
    for (const r of theirs)
      if (!own.has(r.id))
        out.push({
          kind: 'part',
          station: null,
          what: `${r.name}, of ${table.name}`,
          here: 'not there',
          there: 'there',
          by: undefined,
        });
    for (const c of table.columns(model).filter((x) => x.write)) {
      for (const r of rows) {
        if (!has.has(r.id)) continue;
        const [a, b] = [c.read(model, r.id), c.read(other, r.id)];
        if (same(a, b)) continue;
        out.push({
          kind: 'drawing',
          station: r.station,
          part: r.part,
          what: `${c.name} of ${r.name}`,
          ...(typeof a === 'number' && typeof b === 'number'
            ? told(model, a, b, c.kind)
            : { here: cellText(c, model, a) || 'none', there: cellText(c, model, b) || 'none', by: undefined }),
        });
      }
    }
  }
  return [...out, ...readingDifferences(model, other)];
}

const same = (a: CellValue | undefined, b: CellValue | undefined): boolean =>
  a === b || (typeof a === 'number' && typeof b === 'number' && Math.abs(a - b) < NEAR);

/** Sizes that were read in either and are not the same in both; what only one has read is told as such. */
function readingDifferences(model: Model, other: Model): Difference[] {
  const [a, b] = [sizeBook(model), sizeBook(other)];
  const keys = [...a.entries.keys()].filter((k) => a.readingsOf(k).length > 0 || b.readingsOf(k).length > 0);
  return keys.flatMap((key): Difference[] => {
    const read = [a, b].map((book) => (book.readingsOf(key).length > 0 ? book.find(key)?.best : undefined));
    const [x, y] = read;
    if (same(x, y)) return [];
    const entry = a.entries.get(key);
    return [
      {
        kind: 'reading',
        station: entry?.station ?? null,
        part: isFeeler(entry) ? undefined : other.ribs.find((r) => r.id === entry?.of.part)?.id,
        what: entry?.name ?? key,
        ...told(model, x, y, entry && QUANTITIES[entry.kind].unit === 'deg' ? 'angle' : 'length'),
      },
    ];
  });
}

/** The key of the same size where all marks are others: `to` says what each has become. */
function keysOver(model: Model, renamed: Model, to: (mark: string) => string): (key: string) => string {
  const marks = ['station', 'from', 'to', 'part', 'joint', 'layer'] as const;
  const rest = ['end', 'side', 'spar', 'sheet', 'hole', 'axis'] as const;
  const form = ({ kind, of }: SizeEntry, mark: (m: string) => string): string =>
    [kind, ...marks.map((k) => mark(of[k] ?? '')), ...rest.map((k) => of[k] ?? '')].join(' ');
  const has = new Map([...sizeEntries(renamed).values()].map((e) => [form(e, (m) => m), e.key]));
  const entries = sizeEntries(model);
  return (key) => {
    const entry = entries.get(key);
    return (entry && has.get(form(entry, to))) ?? key;
  };
}

/**
 * The other half of a panel in one piece, laid over this one: mirrored about its middle and its marks exchanged end for end,
 * so that S2's sizes stand against S7's. Undefined where the stations do not pair or parts do not.
 */
export function otherHalf(model: Model): Model | undefined {
  if (model.hand !== 'both') return undefined;
  const n = model.stations.length;
  const pair = new Map<string, string>();
  model.stations.forEach((s, i) => pair.set(s.id, model.stations[n - 1 - i]!.id));
  for (const rib of model.ribs) {
    const twin = model.ribs.find((r) => r.kind === rib.kind && r.station === pair.get(rib.station));
    if (!twin) return undefined;
    pair.set(rib.id, twin.id);
  }
  for (const d of model.doublers) {
    const twin = model.doublers.find(
      (x) => x.part === pair.get(d.part) && x.end === d.end && x.form === d.form && x.on === d.on,
    );
    if (twin) pair.set(d.id, twin.id);
  }
  for (const j of model.joints) {
    const twin = model.joints.find((x) => x.station === pair.get(j.station) && x.end === j.end && x.id[0] === j.id[0]);
    if (twin) pair.set(j.id, twin.id);
  }
  const to = (id: string): string => pair.get(id) ?? id;
  const m = mirrorModel(model);
  const laid: Model = {
    ...m,
    stations: m.stations.map((s) => ({ ...s, id: to(s.id) })),
    ribs: m.ribs.map((r) => ({ ...r, id: to(r.id), station: to(r.station) })),
    doublers: m.doublers.map((d) => ({ ...d, id: to(d.id), part: to(d.part) })),
    brackets: m.brackets.map((b) => ({ ...b, station: to(b.station) })),
    joints: m.joints.map((j) => ({
      ...j,
      id: to(j.id),
      station: to(j.station),
      layers: j.layers.map(to),
      guide: to(j.guide),
      holes: j.holes.map((h) => ({ ...h, layers: h.layers.map((l) => ({ ...l, part: to(l.part) })) })),
    })),
    stages: m.stages.map((s) => ({ ...s, brings: s.brings.map(to), opens: s.opens.map(to) })),
    survey: {
      ...m.survey,
      supports: m.survey.supports.map(to),
      ...(m.survey.reference === undefined ? {} : { reference: to(m.survey.reference) }),
    },
    readings: [],
  };
  const key = keysOver(model, laid, to);
  return { ...laid, readings: m.readings.map((r) => ({ ...r, size: key(r.size) })) };
}
