import { millimetres, radians } from './convert.ts';
import { DRILLS } from './drills.ts';

/* Lengths and angles as a shop writes them, read to millimetres and radians. */

type LengthUnit = 'mm' | 'cm' | 'm' | 'in' | 'mil' | 'ft' | 'drill';
export type AngleUnit = 'deg' | 'min' | 'sec' | 'rad';

/** What became of typed text: a value in mm or radians, or one sentence saying what to type instead. */
export type Parsed<Unit = LengthUnit> =
  | {
      readonly ok: true;
      readonly value: number;
      readonly unit: Unit /** no unit was written */;
      readonly bareUnit: boolean;
    }
  | { readonly ok: false; readonly sentence: string };

const LONGEST_TEXT = 80;
const LENGTHS_LIKE = '92 mm, 3.622 in or 3 5/8 in';
const ANGLES_LIKE = "1.5°, -0.27 deg or 1° 12'";

const FRACTION_MARKS: Readonly<Record<string, string>> = {
  '½': '1/2',
  '⅓': '1/3',
  '⅔': '2/3',
  '¼': '1/4',
  '¾': '3/4',
  '⅕': '1/5',
  '⅖': '2/5',
  '⅗': '3/5',
  '⅘': '4/5',
  '⅙': '1/6',
  '⅚': '5/6',
  '⅛': '1/8',
  '⅜': '3/8',
  '⅝': '5/8',
  '⅞': '7/8',
};

/** The typed text as it may be quoted in a sentence: one line, at most 24 signs. */
function quoted(text: string): string {
  const signs = Array.from(
    text
      .trim()
      .slice(0, 60)
      .replace(/[\p{Cc}\p{Cf}\p{Cs}\s]+/gu, ' '),
  );
  return `“${signs.slice(0, 24).join('')}${signs.length > 24 ? '…' : ''}”`;
}

/** One way of writing each mark: plain minus, plain primes, plain fractions, single spaces, small letters. */
function tidied(text: string): string {
  return text
    .toLowerCase()
    .replace(/[\u2010-\u2015\u2212\ufe63\uff0d]/g, '-')
    .replace(/[\u2032\u2018\u2019\u02b9\u00b4`]/g, "'")
    .replace(/[\u2033\u201c\u201d\u02ba]|''/g, '"')
    .replace(/(\d)-?([½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞])/g, '$1 $2')
    .replace(/[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]/g, (mark) => FRACTION_MARKS[mark] ?? mark)
    .replace(/[\u2044\u2215]/g, '/')
    .replace(/\s+/g, ' ')
    .trim();
}

const refused = (sentence: string): { readonly ok: false; readonly sentence: string } => ({ ok: false, sentence });

/** The faults any text can have, whatever it should say; undefined when it may be read on. */
function unreadable(text: string, what: 'a length' | 'an angle', like: string): string | undefined {
  if (text === '') return `Nothing was typed where ${what} belongs; type one such as ${like}.`;
  if (text.length > LONGEST_TEXT) {
    return `${quoted(text)} is ${text.length} signs long, too long for ${what}; type one such as ${like}.`;
  }
  if (/\d[.,]\d+[.,]\d/.test(text)) {
    return `${quoted(text)} has two separators in one number; write it with one decimal point and no thousands mark, such as 1234.5.`;
  }
  return undefined;
}

interface Amount {
  readonly value: number;
  readonly kind: 'whole' | 'decimal' | 'fraction';
  readonly rest: string;
}

const AMOUNT = /^ ?(?:(?:(\d+)[ -])?(\d+) ?\/ ?(\d+)|((?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?))/;

/**
 * The number text begins with, and what follows it; a sentence when the number is faulty; undefined when there is
 * none.
 */
function amountOf(text: string): Amount | string | undefined {
  const found = AMOUNT.exec(text);
  if (found === null) return undefined;
  const rest = text.slice(found[0].length);
  const [, whole, top, bottom, plain] = found;
  if (plain !== undefined) {
    const mantissa = plain.replace(/e.*/, '');
    if (/^[1-9]\d{0,2},\d{3}$/.test(mantissa)) {
      const asDecimal = plain.replace(',', '.');
      return `“${plain}” can be read as ${asDecimal} or as ${plain.replace(',', '')}; write the one you mean, without a comma.`;
    }
    const value = Number(plain.replace(',', '.'));
    if (!Number.isFinite(value)) return `“${plain}” is too large to be a size; check the power of ten.`;
    return { value, kind: /^\d+$/.test(plain) ? 'whole' : 'decimal', rest };
  }
  const part = Number(top) / Number(bottom);
  if (Number(bottom) === 0)
    return `“${top}/${bottom}” has nothing under the fraction bar; write a fraction such as 5/8.`;
  if (whole !== undefined && part >= 1) {
    return `“${found[0].trim()}” has a fraction of one or more after a whole number; write it as in 3 5/8.`;
  }
  return { value: Number(whole ?? 0) + part, kind: 'fraction', rest };
}

const LENGTH_UNITS: ReadonlyArray<readonly [RegExp, Exclude<LengthUnit, 'drill'>]> = [
  [/^ ?(?:millimet(?:re|er)s?|mm)\.?(?![a-z])/, 'mm'],
  [/^ ?(?:centimet(?:re|er)s?|cm)\.?(?![a-z])/, 'cm'],
  [/^ ?(?:met(?:re|er)s?|m)\.?(?![a-z])/, 'm'],
  [/^ ?(?:inch(?:es)?\b|in\b\.?|")/, 'in'],
  [/^ ?(?:mils?|thou)\b\.?/, 'mil'],
  [/^ ?(?:(?:feet|foot|ft)(?![a-z])\.?|')/, 'ft'],
];

const ANGLE_UNITS: ReadonlyArray<readonly [RegExp, AngleUnit]> = [
  [/^ ?(?:deg(?:rees?)?(?![a-z])\.?|[°º])/, 'deg'],
  [/^ ?(?:(?:arc)?min(?:utes?)?(?![a-z])\.?|')/, 'min'],
  [/^ ?(?:(?:arc)?sec(?:onds?)?(?![a-z])\.?|")/, 'sec'],
  [/^ ?rad(?:ians?)?(?![a-z])\.?/, 'rad'],
];

function unitOf<Unit>(
  text: string,
  units: ReadonlyArray<readonly [RegExp, Unit]>,
): { unit: Unit; rest: string } | undefined {
  for (const [mark, unit] of units) {
    const found = mark.exec(text);
    if (found !== null) return { unit, rest: text.slice(found[0].length) };
  }
  return undefined;
}

function inMillimetres(value: number, unit: Exclude<LengthUnit, 'drill'>): number {
  switch (unit) {
    case 'mm':
      return value;
    case 'cm':
      return value * 10;
    case 'm':
      return value * 1000;
    case 'in':
      return millimetres(value);
    case 'mil':
      return millimetres(value) / 1000;
    case 'ft':
      return millimetres(value * 12);
  }
}

const GAUGE = /^(?:#? ?[\d.,/ ]+(?:g|ga|gage|gauge|swg|awg|bwg|b&s)(?![a-z])|(?:gage|gauge|ga|swg|awg|bwg) ?#? ?\d)/;
const DRILL = /^(drill|no\.?|number|letter)? ?(#)? ?([a-z]|\d{1,4})( drill)?$/;

function drillIn(text: string): Parsed | undefined {
  const found = DRILL.exec(text);
  if (found === null || (found[1] ?? found[2] ?? found[4]) === undefined) return undefined;
  const name = `#${(found[3] ?? '').toUpperCase()}`;
  const drill = DRILLS.find((each) => each.name === name);
  if (drill !== undefined) return { ok: true, value: drill.mm, unit: 'drill', bareUnit: false };
  return refused(
    `Drill ${name} is not in the list, which holds #10 to #52 and #A to #Z; type its size instead, such as 2.49 mm or 0.098 in.`,
  );
}

/**
 * Feet and what follows them, in mm; a sentence where they are not written so, undefined where nothing belongs there.
 */
function feetAndInches(feet: Amount, text: string, typed: string): number | string | undefined {
  const extra = amountOf(text.replace(/^ ?- ?/, ''));
  if (extra === undefined || typeof extra === 'string') return extra;
  if (feet.kind !== 'whole' || extra.value >= 12)
    return `${quoted(typed)} should have whole feet and then less than 12 inches; write it as in 1 ft 3 1/4 in, or all in inches.`;
  const inch = unitOf(extra.rest, LENGTH_UNITS);
  const rest = inch?.unit === 'in' ? inch.rest : extra.rest;
  return rest === '' ? millimetres(feet.value * 12 + extra.value) : undefined;
}

/** A number and its unit, whatever its sign; `bare` where no unit is written, and inches where a fraction has none. */
function plainLength(tidy: string, bare: 'mm' | 'in', typed: string): Parsed | undefined {
  const first = amountOf(tidy);
  if (first === undefined) return undefined;
  if (typeof first === 'string') return refused(first);
  const marked = unitOf(first.rest, LENGTH_UNITS);
  const unit = marked?.unit ?? (first.kind === 'fraction' ? 'in' : bare);
  const rest = marked?.rest ?? first.rest;
  if (rest === '') return measured(inMillimetres(first.value, unit), unit, marked === undefined, typed);
  if (unit !== 'ft') return undefined;
  const whole = feetAndInches(first, rest, typed);
  if (typeof whole === 'string') return refused(whole);
  return whole === undefined ? undefined : measured(whole, 'ft', false, typed);
}

/**
 * Reads a length as a shop writes it and gives millimetres: `92`, `92,5 mm`, `3.622 in`, `.032"`, `3 5/8 in`, `3/32`,
 * `1' 3-1/4"`, `32 mil`, `#40`. A number without a unit takes `bare`; a fraction without one is inches.
 * Sheet gauges are refused, since a gauge number means another thickness in another metal. Never throws.
 * Example: `parseLength('3 5/8 in')` has value 92.075.
 */
export function parseLength(text: string, bare: 'mm' | 'in' = 'mm'): Parsed {
  const typed = text.trim();
  const fault = unreadable(typed, 'a length', LENGTHS_LIKE);
  if (fault !== undefined) return refused(fault);
  const tidy = tidied(typed);
  if (GAUGE.test(tidy))
    return refused(
      `${quoted(typed)} is a gauge number, and gauges differ from metal to metal; give the thickness itself, such as 0.81 mm or 0.032 in.`,
    );
  const unsigned = tidy.replace(/^drill (?=\d+\/)|^[+-] ?/, '');
  const read = drillIn(tidy) ?? plainLength(unsigned, bare, typed);
  if (read === undefined)
    return refused(`${quoted(typed)} is not a length; type a number and its unit, such as ${LENGTHS_LIKE}.`);
  return read.ok && tidy.startsWith('-') ? negated(read) : read;
}

/** The same below nothing; nothing has no sign. */
const negated = <Unit>(read: Parsed<Unit> & { readonly ok: true }): Parsed<Unit> => ({
  ...read,
  value: 0 - read.value,
});

function measured<Unit>(value: number, unit: Unit, bareUnit: boolean, typed: string): Parsed<Unit> {
  if (!Number.isFinite(value))
    return refused(`${quoted(typed)} is too large to be a size; check the power of ten and the unit.`);
  return { ok: true, value: value === 0 ? 0 : value, unit, bareUnit };
}

/** An angle written in parts, such as 1 degree and 12 minutes. */
interface AngleTerm extends Amount {
  /** None where the number stands alone. */
  readonly unit: AngleUnit | undefined;
}

/**
 * The parts of an angle in the order they stand, all but the last whole; a sentence where a number is faulty,
 * undefined where one is missing.
 */
function angleTerms(tidy: string): readonly AngleTerm[] | string | undefined {
  const terms: AngleTerm[] = [];
  let rest = tidy;
  do {
    const amount = amountOf(rest);
    if (amount === undefined || typeof amount === 'string') return amount;
    if (terms.some((t) => t.kind !== 'whole')) return undefined;
    const marked = unitOf(amount.rest, ANGLE_UNITS);
    rest = marked?.rest ?? amount.rest;
    terms.push({ ...amount, unit: marked?.unit });
    if (marked === undefined && rest !== '') return undefined;
  } while (rest !== '');
  return terms;
}

const SEXAGESIMAL: readonly (AngleUnit | undefined)[] = ['deg', 'min', 'sec'];

/** Degrees, minutes and seconds added up, in degrees; undefined where they do not stand in that order. */
function inDegrees(terms: readonly AngleTerm[]): number | undefined {
  let total = 0;
  let rank = -1;
  for (const { value, unit } of terms) {
    const place = SEXAGESIMAL.indexOf(unit);
    if (place <= rank) return undefined;
    total += value / 60 ** place;
    rank = place;
  }
  return total;
}

/**
 * Reads an angle and gives radians: `1.5`, `-0.27 deg`, `1° 12' 30"`, `12 min`, `0.01 rad`. A bare number is degrees;
 * `'` and `"` are minutes and seconds of arc here, never feet and inches. Never throws.
 * Example: `parseAngle("1°12'")` has value 0.020943951.
 */
export function parseAngle(text: string): Parsed<AngleUnit> {
  const typed = text.trim();
  const fault = unreadable(typed, 'an angle', ANGLES_LIKE);
  if (fault !== undefined) return refused(fault);
  const tidy = tidied(typed);
  const sign = tidy.startsWith('-') ? -1 : 1;
  const unlike = refused(`${quoted(typed)} is not an angle; type a number and its unit, such as ${ANGLES_LIKE}.`);
  const terms = angleTerms(tidy.replace(/^[+-] ?/, ''));
  if (typeof terms === 'string') return refused(terms);
  const [head, ...others] = terms ?? [];
  if (head === undefined || others.some((t) => t.unit === undefined)) return unlike;
  if (others.length === 0 && head.unit === undefined) return measured(sign * radians(head.value), 'deg', true, typed);
  if (others.length === 0 && head.unit === 'rad') return measured(sign * head.value, 'rad', false, typed);
  const total = inDegrees([head, ...others]);
  if (total === undefined || head.unit === undefined) return unlike;
  if (others.some((t) => t.value >= 60))
    return refused(`${quoted(typed)} has 60 or more in its minutes or seconds; write them below 60, as in 1° 12' 30".`);
  return measured(sign * radians(total), head.unit, false, typed);
}
