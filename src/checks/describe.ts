import { chanceBelow } from '../chains/normal.ts';
import { checkRow } from '../model/checkTable.ts';
import type { Limit } from '../model/limits.ts';
import { QUANTITIES } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import { formatAngle, formatLength, formatPercent } from '../units.ts';
import { type Judged, mostDoubt, type Said } from './finding.ts';

/** A value in the panel's own unit, with its unit mark: `0.32 mm`, `0.013 in`, `-0.50°`, `2.14 D`, `15 °C`, `3.4 times`. */
export function show(model: Model, value: number, unit: Limit['unit'] = 'mm'): string {
  if (unit === 'deg') return formatAngle((value * Math.PI) / 180);
  if (unit === 'D') return `${value.toFixed(2)} D`;
  if (unit === 'degC') return `${value.toFixed(0)} °C`;
  if (unit === 'u') return `${value.toFixed(1)} combined uncertainties`;
  if (unit === 'x') return `${value.toFixed(2)} times`;
  const length = formatLength(value, model.units);
  return unit === 'mm/100' ? `${length} per 100 mm` : length;
}

/** The threshold that the value is nearest to passing, as "0.10 mm"; undefined when the band is open on that side. */
function threshold(model: Model, j: Judged, band: 'fits' | 'act'): string | undefined {
  const [a, b] = j.limits[band];
  const upper = b !== null && (a === null || j.value >= (a + b) / 2);
  const bound = upper ? b : a;
  return bound === null ? undefined : show(model, Math.abs(bound), j.unit);
}

/** The chance of lying beyond each act threshold that matters, side by side: "22 % chance it is binding by more than 0.10 mm". */
function chances(model: Model, j: Judged): string {
  const [a, b] = j.limits.act;
  const [low, high] = checkRow(j.check).beyond ?? ['under', 'over'];
  const over = (bound: number | null, p: number, word: string): string[] => {
    if (bound === null || p < 0.005) return [];
    const far = show(model, Math.abs(bound), j.unit);
    const named =
      word === 'under' || word === 'over' ? `${word} ${show(model, bound, j.unit)}` : `${word} by more than ${far}`;
    return [`${formatPercent(Math.min(p, 0.9999))} chance it is ${named}`];
  };
  const v = j.below ?? j.value;
  const parts = [
    ...over(a, a === null ? 0 : chanceBelow(a, v, j.u), low),
    ...over(b, b === null ? 0 : 1 - chanceBelow(b, v, j.u), high),
  ];
  return parts.join(', ') || `${formatPercent(j.chance)} chance of being beyond ${threshold(model, j, 'act')}`;
}

/** What to measure when a verdict is too close to call: the Size that carries most of the doubt, with an instrument. */
export function whatToMeasure(model: Model, j: Judged): string {
  const book = sizeBook(model);
  const term = mostDoubt(j.restsOn.filter((t) => book.entryOf(t.size.key)));
  if (!term) return '';
  const entry = book.entryOf(term.size.key);
  const taken = book.readingsOf(term.size.key);
  const finest = entry ? Object.entries(QUANTITIES[entry.kind].u).sort((p, q) => p[1] - q[1])[0]?.[0] : undefined;
  const again = taken.length > 0 ? ' again' : '';
  const last = taken.at(-1);
  const better = finest && last && last.instrument !== finest ? ` with ${article(finest)}` : '';
  return `Measure the ${term.size.name}${again}${better}.`;
}

const article = (instrument: string): string =>
  `${/^[aeiou]/.test(instrument) ? 'an' : 'a'} ${instrument.replaceAll('-', ' ')}`;

/**
 * The one sentence of a finding in its parts, the same on screen, sheet and terminal: what is so, how surely, what that
 * means.
 * `phrase` says what is so, value included; `note` adds a fact; `todo` the first thing to do when it is not right;
 * `disputed` says which readings must be settled before this can be answered at all.
 */
export function sentence(
  model: Model,
  j: Judged,
  phrase: string,
  extra: { note?: string | undefined; todo?: string | undefined; disputed?: string | undefined } = {},
): Said {
  const sure = j.u > 0 ? ` (± ${show(model, 2 * j.u, j.unit)})` : '';
  const fact = `${phrase}${sure}`;
  const rest: string[] = [];
  if (extra.note) rest.push(extra.note);
  if (j.verdict === 'watch') {
    const at = threshold(model, j, 'fits');
    rest.push(
      j.value < (j.limits.fits[0] ?? Number.NEGATIVE_INFINITY) ||
        j.value > (j.limits.fits[1] ?? Number.POSITIVE_INFINITY)
        ? `Watch: it fits to ${at}.`
        : `Watch: not surely inside ${at}.`,
    );
  }
  if (j.verdict === 'act') rest.push(`Act: beyond ${threshold(model, j, 'act')}.`);
  if (extra.disputed) return { fact, rest: [...rest, extra.disputed] };
  if (j.verdict === 'unsettled') {
    rest.push(`${j.basis === 'drawing' ? 'Not measured yet' : 'Too close to call'}: ${chances(model, j)}.`);
    rest.push(whatToMeasure(model, j));
  }
  if (extra.todo && j.verdict !== 'fits') rest.push(extra.todo);
  return { fact, rest: rest.filter((p) => p !== '') };
}
