import { chain } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import { QUANTITIES } from '../../model/quantities.ts';
import type { Reading } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';

/*
 * Asks: were the lengths taken in one warmth? The value is the spread of the temperatures written beside them, in °C.
 * Aluminium grows about 23 and steel about 12 millionths a degree (common practice), so a steel rule read warm hides
 * part of what the metal grew: it misreads by the difference of the two.
 */

/** Growth for each °C and mm. */
export const ALUMINIUM = 23e-6;
export const STEEL = 12e-6;

/**
 * Lengths shorter than this grow less than a hair over any day in a garage, mm: picked, 100 mm and 10 °C are 0.02 mm.
 */
const LONG = 100;

/** A thermometer lying on the part, °C: picked. */
const THERMOMETER = 1;

/**
 * How much a length of metal grows over a change of temperature, mm. 2620 mm and 15 °C: 0.90 in aluminium, 0.47 in
 * steel.
 */
export function growth(length: number, degrees: number, perDegree: number): number {
  return length * degrees * perDegree;
}

const temperatureOf = (r: Reading): number => r.temperature ?? Number.NaN;
const known = (key: string, name: string, best: number): Size => ({
  key,
  name,
  best,
  u: THERMOMETER,
  tolerance: 2 * THERMOMETER,
  origin: 'measured',
});

/** The names, shortened where one starts as the other: `web to web at W6, W7, W8`. */
function named(names: readonly string[]): string {
  const heads = new Map<string, string[]>();
  for (const n of names) {
    const cut = n.lastIndexOf(' ');
    const head = n.slice(0, cut);
    heads.set(head, [...(heads.get(head) ?? []), n.slice(cut + 1)]);
  }
  const parts = [...heads].map(
    ([head, tails]) =>
      `${head} ${tails.slice(0, 6).join(', ')}${tails.length > 6 ? ` and ${tails.length - 6} more` : ''}`,
  );
  return parts.slice(0, 3).join('; ') + (parts.length > 3 ? ` and ${parts.length - 3} more kinds` : '');
}

/** Readings of lengths with a temperature, and the temperature most of them were taken at. */
function lengthsOf(skeleton: Skeleton): { lengths: Reading[]; usual: number } {
  const { model } = skeleton;
  const { entries } = skeleton.book;
  const lengths = model.readings.filter((r) => {
    const entry = entries.get(r.size);
    return (
      r.temperature !== undefined &&
      entry !== undefined &&
      QUANTITIES[entry.kind].unit === 'mm' &&
      Math.abs(r.value) >= LONG
    );
  });
  const sorted = lengths.map(temperatureOf).sort((a, b) => a - b);
  return { lengths, usual: sorted[Math.floor((sorted.length - 1) / 2)] ?? Number.NaN };
}

export function* temperature(skeleton: Skeleton): Generator<Finding> {
  const { model, book } = skeleton;
  const { lengths, usual } = lengthsOf(skeleton);
  if (lengths.length < 2) return;
  const coldest = lengths.reduce((a, b) => (temperatureOf(b) < temperatureOf(a) ? b : a));
  const warmest = lengths.reduce((a, b) => (temperatureOf(b) > temperatureOf(a) ? b : a));
  const [low, high] = [temperatureOf(coldest), temperatureOf(warmest)];
  const limit = limitFor(model, 'temperature');
  const allowed = limit.fits[1] ?? 5;
  const off = lengths.filter((r) => Math.abs(temperatureOf(r) - usual) > allowed);
  yield judge({
    check: 'temperature',
    at: {},
    place: 'lengths',
    restsOn: chain(
      [1, known('temperature.high', 'warmest reading', high)],
      [-1, known('temperature.low', 'coldest reading', low)],
    ),
    limit,
    floor: 0,
    sense: (v) => (v > allowed ? 'taken on different days' : 'one session'),
    say: (j) => {
      const phrase = `The lengths were taken within ${show(model, j.value, 'degC')}, from ${show(model, low, 'degC')} to ${show(model, high, 'degC')}`;
      if (off.length === 0) return sentence(model, j, phrase, { todo: 'Measure the set in one session.' });
      const longest = off.reduce((a, b) => (b.value > a.value ? b : a));
      const d = Math.abs(temperatureOf(longest) - usual);
      const names = named(off.map((r) => book.entryOf(r.size)?.name ?? r.size));
      const [metal, rule] = [growth(longest.value, d, ALUMINIUM), growth(longest.value, d, STEEL)];
      const note = `Off the others by ${show(model, d, 'degC')}: ${names}. Over ${show(model, longest.value)} aluminium grows ${show(model, metal)} and a steel rule ${show(model, rule)}, so with steel it misreads by about ${show(model, metal - rule)}.`;
      return sentence(model, j, phrase, { note, todo: 'Take these again in one session with the rest.' });
    },
  });
}
