import { chanceBelow } from '../chains/normal.ts';
import { checkRow } from '../model/checkTable.ts';
import type { Limit } from '../model/limits.ts';
import { QUANTITIES } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import { sizeBook } from '../model/sizes.ts';
import { formatAngle, formatLength, formatPercent } from '../units.ts';
import { inDoubt, type Judged, mostDoubt, type Said } from './finding.ts';
import { RARE } from './slack.ts';

/**
 * A value in the panel's own unit, with its unit mark: `0.32 mm`, `0.013 in`, `-0.50°`, `2.14 D`, `15 °C`, `3.4
 * times`.
 */
export function show(model: Model, value: number, unit: Limit['unit'] = 'mm'): string {
  if (unit === 'deg') return formatAngle((value * Math.PI) / 180);
  if (unit === 'D') return `${value.toFixed(2)} D`;
  if (unit === 'degC') return `${value.toFixed(0)} °C`;
  if (unit === 'u') return `${value.toFixed(1)} combined uncertainties`;
  if (unit === 'x') return `${value.toFixed(2)} times`;
  const length = formatLength(value, model.units);
  return unit === 'mm/100' ? `${length} per 100 mm` : length;
}

/** The bound that a value is nearest to passing; null when the band is open on both sides. */
function nearer(value: number, a: number | null, b: number | null): number | null {
  if (a === null || b === null) return a ?? b;
  return value >= (a + b) / 2 ? b : a;
}

/** The threshold that the value is nearest to passing, as "0.10 mm"; undefined when the band is open on that side. */
function threshold(model: Model, j: Judged, band: 'fits' | 'act'): string | undefined {
  const [a, b] = j.limits[band];
  const bound = nearer(j.value, a, b);
  return bound === null ? undefined : show(model, Math.abs(bound), j.unit);
}

/**
 * The chance of lying beyond each act threshold that matters, side by side: "22 % chance it is binding by more than
 * 0.10 mm".
 */
function chances(model: Model, j: Judged): string {
  const [a, b] = j.limits.act;
  const [low, high] = checkRow(j.check).beyond ?? ['under', 'over'];
  const over = (bound: number | null, p: number, word: string): string[] => {
    if (bound === null || p < RARE) return [];
    const far = show(model, Math.abs(bound), j.unit);
    const named =
      word === 'under' || word === 'over' ? `${word} ${show(model, bound, j.unit)}` : `${word} by more than ${far}`;
    return [`${formatPercent(Math.min(p, 0.9999))} chance it is ${named}`];
  };
  if (j.drawn) return `${formatPercent(j.chance)} chance of being beyond ${threshold(model, j, 'act')}`;
  const v = j.below ?? j.value;
  // With one threshold the chance of passing it is the finding's own.
  const parts = [
    ...over(a, a === null || b === null ? j.chance : chanceBelow(a, v, j.u), low),
    ...over(b, a === null || b === null ? j.chance : 1 - chanceBelow(b, v, j.u), high),
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

function watchSaid(model: Model, j: Judged): string {
  const at = threshold(model, j, 'fits');
  const [a, b] = j.limits.fits;
  const isOutside = (a !== null && j.value < a) || (b !== null && j.value > b);
  return isOutside ? `Watch: it fits to ${at}.` : `Watch: not surely inside ${at}.`;
}

/** Chances over this are called very likely, and under its rest probably not: common practice, no source. */
const LIKELY = 0.9;

/** How likely it is beyond, in words that follow the chance. */
function doubtSaid(model: Model, j: Judged): string {
  const unread = j.basis === 'drawing' ? 'Not measured yet: ' : '';
  const words = likelySaid(model, j);
  const first = unread === '' ? words.slice(0, 1).toUpperCase() : words.slice(0, 1);
  return `${unread}${first}${words.slice(1)}`;
}

function likelySaid(model: Model, j: Judged): string {
  const chance = formatPercent(j.chance);
  if (j.chance > LIKELY) return `very likely beyond ${threshold(model, j, 'act')} (${chance}), not proven`;
  if (j.chance < 1 - LIKELY) return `probably inside ${threshold(model, j, 'act')} (${chance} it is not)`;
  return `too close to call, ${chances(model, j)}`;
}

/** What to do where it is too close to call: what to measure, and where its parts are all read what else settles it. */
const settleSaid = (model: Model, j: Judged, settle: string | undefined): string =>
  [whatToMeasure(model, j), j.basis === 'measured' ? settle : undefined].filter(Boolean).join(' ');

/** What a sentence may say besides the fact. */
interface Extra {
  readonly note?: string | undefined;
  /** How surely, where it is not as much more as less. */
  readonly range?: string | undefined;
  readonly todo?: string | undefined;
  /** What else settles it where all that it rests on is read and it is still too close to call. */
  readonly settle?: string | undefined;
  readonly disputed?: string | undefined;
}

/**
 * The one sentence of a finding in its parts, the same on screen, sheet and terminal: what is so, how surely, what that
 * means.
 * `phrase` says what is so, value included; `note` adds a fact; `todo` the first thing to do when it is not right;
 * `disputed` says which readings must be settled before this can be answered at all.
 */
export function sentence(model: Model, j: Judged, phrase: string, extra: Extra = {}): Said {
  const even = j.u > 0 ? `± ${show(model, 2 * j.u, j.unit)}` : undefined;
  const sure = extra.range ?? even;
  const fact = sure === undefined ? phrase : `${phrase} (${sure})`;
  const rest: string[] = [];
  if (extra.note) rest.push(extra.note);
  if (j.verdict === 'watch') rest.push(watchSaid(model, j));
  if (j.verdict === 'act') rest.push(`Act: beyond ${threshold(model, j, 'act')}.`);
  const { disputed = inDoubt(j.restsOn) } = extra;
  if (disputed) return { fact, rest: [...rest, disputed] };
  if (j.verdict === 'unsettled') rest.push(`${doubtSaid(model, j)}.`, settleSaid(model, j, extra.settle));
  if (extra.todo && j.verdict !== 'fits') rest.push(extra.todo);
  return { fact, rest: rest.filter((p) => p !== '') };
}
