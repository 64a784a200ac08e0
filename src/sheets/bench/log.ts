import { type BasisWord, basisOfReading, basisText, weakest } from '../../checks/basis.ts';
import { show } from '../../checks/describe.ts';
import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import type { LogEntry, Model, Reading } from '../../model/schema.ts';
import { type SizeBook, sizeBook } from '../../model/sizes.ts';
import { tableText } from '../../model/tables/readingTable.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Step } from '../steps/step.ts';
import { stepsOf } from '../steps/steps.ts';
import { type DecisionText, decisionText } from './decisionText.ts';

/*
 * The builder's log: everything that was read, changed and done, with its day, readable in years without the program.
 * Readings, decisions and ticks keep their own day in the panel file; everything else is in its journal.
 */

type LogKind = 'reading' | 'change' | 'decision' | 'step done';

export interface LogLine {
  /** '' where the day was not written down. */
  readonly date: string;
  /** Station it belongs to; null where the whole panel is meant. */
  readonly station: string | null;
  readonly kind: LogKind;
  readonly what: string;
  readonly by: string;
  /** Of a reading: whether it still holds. */
  readonly basis?: BasisWord;
}

const valueText = (model: Model, book: SizeBook, size: string, value: number): string =>
  show(model, value, QUANTITIES[book.entries.get(size)?.kind ?? 'length']?.unit === 'deg' ? 'deg' : 'mm');

/** Readings of one size on one day, as one line: "front height of M5: 82.55 mm, caliper, at 21 °C". */
function readingLines(model: Model, book: SizeBook): LogLine[] {
  const groups = new Map<string, Reading[]>();
  for (const r of model.readings) {
    const key = `${r.date ?? ''} ${r.size}`;
    const list = groups.get(key);
    if (list) list.push(r);
    else groups.set(key, [r]);
  }
  return [...groups.values()].map((list): LogLine => {
    const [first] = list as [Reading, ...Reading[]];
    const entry = book.entries.get(first.size);
    const values = list.map((r) => valueText(model, book, r.size, r.value)).join(', ');
    const basis = weakest(list.map((r) => basisOfReading(model, r)));
    const notes = [...new Set(list.flatMap((r) => (r.note ? [r.note] : [])))];
    return {
      date: first.date ?? '',
      station: entry?.station ?? null,
      kind: 'reading',
      by: '',
      basis,
      what: [
        `${entry?.name ?? first.size}: ${values}`,
        INSTRUMENTS[first.instrument] ??
          model.instruments.find((i) => i.id === first.instrument)?.name ??
          first.instrument,
        ...(first.temperature === undefined ? [] : [`at ${first.temperature} °C`]),
        ...notes,
        ...(basis === 'measured' ? [] : [basisText(basis)]),
      ].join(', '),
    };
  });
}

/** Which station an entry of the journal is about: that of its size, else of the first part or station it names. */
function stationNamed(model: Model, book: SizeBook, entry: LogEntry): string | null {
  if (entry.size !== undefined) return book.entries.get(entry.size)?.station ?? null;
  const { part, bays } = skeletonOf(model);
  const stations = new Set(bays.map((b) => b.station.id));
  for (const word of entry.what.split(/[^A-Za-z0-9-]+/)) {
    if (stations.has(word)) return word;
    const joint = model.joints.find((j) => j.id === word);
    if (joint) return joint.station;
    const found = part(word);
    if (!found) continue;
    if (!('form' in found)) return found.station;
    const rib = part(found.part);
    if (rib && 'station' in rib) return rib.station;
  }
  return null;
}

function changeLines(model: Model, book: SizeBook): LogLine[] {
  // A reading that still stands says itself.
  const stands = new Set(model.readings.map((r) => `${r.date ?? ''} ${r.size}`));
  return (model.log ?? [])
    .filter((e) => !(e.size !== undefined && e.what.startsWith('measured ') && stands.has(`${e.date} ${e.size}`)))
    .map((e): LogLine => {
      const value = (v: number): string => valueText(model, book, e.size ?? '', v);
      const was = e.was === undefined ? '' : `was ${value(e.was)}`;
      const is = e.is === undefined ? '' : `${was ? 'then' : 'now'} ${value(e.is)}`;
      const moved = [was, is].filter((t) => t !== '').join(', ');
      return {
        date: e.date,
        station: stationNamed(model, book, e),
        kind: 'change',
        what: moved ? `${e.what}: ${moved}` : e.what,
        by: '',
      };
    });
}

function tickLines(model: Model, steps: readonly Step[]): LogLine[] {
  const byId = new Map(steps.map((s) => [s.id, s]));
  return (model.ticks ?? []).map((t): LogLine => {
    const step = byId.get(t.step);
    return {
      date: t.date,
      station: step?.station ?? null,
      kind: 'step done',
      what: step ? step.title : `a step that is no longer on the list (${t.step})`,
      by: t.by,
    };
  });
}

/**
 * What was decided, why, who was asked, and what of it moved: "took the packer. Why: a kink. Asked: the designer.
 * nose kink, N4: 0.80 mm, short: watch, then …".
 */
function decisionLines(model: Model): LogLine[] {
  const stations = new Set(model.stations.map((s) => s.id));
  return (model.decisions ?? []).map((decision): LogLine => {
    const decided = decisionText(decision);
    const { what, why, date, lines } = decided;
    // The change note has every line; the log the few that moved most in words.
    const moved = lines
      .filter((l) => l.before !== l.after)
      .slice(0, 4)
      .map((l) => `${l.what}: ${l.before}, then ${l.after} (${basisText('predicted')})`);
    const [own, ...others] = decision.places.filter((p) => stations.has(p));
    return {
      date,
      station: own !== undefined && others.length === 0 ? own : null,
      kind: 'decision',
      by: '',
      what: [what, why && `why: ${why}`, askedText(decided), ...moved].filter((t) => t !== '').join('; '),
    };
  });
}

/** Who was asked about a decision; that nobody was yet, where somebody must be. */
function askedText({ asked, ask }: DecisionText): string {
  if (asked !== '') return `asked: ${asked}`;
  return ask.length > 0 ? 'nobody was asked yet' : '';
}

const compare = (a: string, b: string): number => Number(a > b) - Number(a < b);

/** Every line of the log, oldest day first; what has no day comes first of all. */
export function logOf(model: Model): LogLine[] {
  const book = sizeBook(model);
  const ticks = model.ticks && model.ticks.length > 0 ? tickLines(model, stepsOf(model)) : [];
  const lines = [...readingLines(model, book), ...changeLines(model, book), ...decisionLines(model), ...ticks];
  // Lines of one day keep their order.
  return lines.sort((a, b) => compare(a.date, b.date));
}

/** The log as a table for a spreadsheet. */
export function logTable(model: Model): string {
  return tableText(
    ['date', 'station', 'kind', 'what', 'by'],
    logOf(model).map((l) => [l.date, l.station ?? '', l.kind, l.what, l.by]),
  );
}
