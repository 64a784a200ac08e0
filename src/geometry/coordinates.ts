import { NEAR } from '../units/near.ts';
import { type AirfoilProfile, heightsAt, profileOf } from './airfoil.ts';
import { signedArea } from './outline.ts';
import type { Vec2 } from './vector.ts';

/** What is wrong with coordinate text, and the line, counted from one, that shows it. */
interface CoordinateFault {
  readonly line: number;
  readonly sentence: string;
}

export type Coordinates =
  | { readonly ok: true; readonly title: string; readonly profile: AirfoilProfile }
  | { readonly ok: false; readonly faults: readonly CoordinateFault[] };

const LONGEST_TEXT = 200_000;
const MOST_POINTS = 2000;
const FEWEST_POINTS = 7;
const MOST_FAULTS = 20;
/** How far off its chord line a point of a section may lie, in chords; a circle's is a half. */
const HIGHEST = 0.6;

interface Row {
  readonly x: number;
  readonly y: number;
  readonly line: number;
  readonly afterGap: boolean;
}
interface Table {
  readonly title: string;
  readonly rows: readonly Row[];
  readonly faults: CoordinateFault[];
}

/**
 * Reads a section from two columns of coordinates, x aft and y up, as most lists of sections print them: once round
 * from the trailing edge over the top to the nose and back, or the upper and then the lower surface, each from the
 * nose, with or without a line of two counts first. A title line, blank lines and lines starting with # are allowed;
 * chord one or percent; decimal point or comma. Listed the other way round, it is turned. Never throws.
 * Every fault has a sentence; where a row cannot be read the shape is not judged.
 * Example: `parseCoordinates('1 0\n.5 .1\n...')` gives `{ ok: true, profile }` of chord one.
 */
export function parseCoordinates(text: string): Coordinates {
  if (text.length > LONGEST_TEXT) {
    return failed([
      at(
        1,
        `The text has ${text.length} signs and at most ${LONGEST_TEXT} are read; paste the coordinates of one section alone.`,
      ),
    ]);
  }
  const table = tableOf(text);
  if (table.faults.length > 0) return failed(table.faults);
  const path = pathOf(table.rows);
  if (!Array.isArray(path)) return failed([path]);
  const profile = profileOf(path.map(({ x, y }): Vec2 => [x, y]));
  const faults = shapeFaults(profile, path);
  return faults.length > 0 ? failed(faults) : { ok: true, title: table.title, profile };
}

const at = (line: number, sentence: string): CoordinateFault => ({ line, sentence });
const failed = (faults: readonly CoordinateFault[]): Coordinates => ({
  ok: false,
  faults: faults.slice(0, MOST_FAULTS),
});

function numberIn(cell: string): number | undefined {
  const plain = cell.replace('\u2212', '-');
  return /^[+-]?(?:\d+(?:[.,]\d*)?|[.,]\d+)(?:e[+-]?\d+)?$/i.test(plain) ? Number(plain.replace(',', '.')) : undefined;
}

function cellsOf(line: string): string[] {
  const cells = /[;\s]/.test(line)
    ? line.split(/[;\s]+/).map((cell) => (cell.endsWith(',') ? cell.slice(0, -1) : cell))
    : line.split(',');
  return cells.filter((cell) => cell !== '');
}

/** The rows of two numbers, and every line that is none. */
function tableOf(text: string): Table {
  const rows: Row[] = [];
  const faults: CoordinateFault[] = [];
  let title: string | undefined;
  let afterGap = false;
  text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\n|\r/)
    .forEach((full, index) => {
      const content = full.trim();
      const line = index + 1;
      if (content === '') afterGap = rows.length > 0;
      if (content === '' || content.startsWith('#')) return;
      const cells = cellsOf(content);
      const [x, y] = [numberIn(cells[0] ?? ''), numberIn(cells[1] ?? '')];
      const shown = content.length > 30 ? `${content.slice(0, 30)}…` : content;
      if (cells.length === 2 && x !== undefined && y !== undefined) {
        if (Math.abs(x) > 1e4 || Math.abs(y) > 1e4)
          faults.push(
            at(
              line,
              `Line ${line} has a number beyond 10000 in “${shown}”; give x and y in shares or percent of the chord.`,
            ),
          );
        else rows.push({ x, y, line, afterGap });
        afterGap = false;
      } else if (
        title === undefined &&
        rows.length === 0 &&
        faults.length === 0 &&
        !(cells.length === 2 && /^[+-]?\d*[.,]\d/.test(content))
      ) {
        title = content.slice(0, 120);
      } else {
        faults.push(
          at(line, `Line ${line} reads “${shown}” where two numbers, x and y, were expected; correct or remove it.`),
        );
      }
    });
  if (faults.length === 0 && rows.length < FEWEST_POINTS)
    faults.push(
      at(1, `The text has ${rows.length} points and a section needs at least ${FEWEST_POINTS}; paste the whole list.`),
    );
  if (rows.length > MOST_POINTS)
    faults.push(
      at(
        rows[MOST_POINTS]!.line,
        `Line ${rows[MOST_POINTS]!.line} is past the ${MOST_POINTS} points that are read; thin the list out.`,
      ),
    );
  return { title: title ?? '', rows, faults };
}

/** The rows in order once round, chord one, the top first; or what keeps them from being ordered. */
function pathOf(all: readonly Row[]): Row[] | CoordinateFault {
  const head = all[0]!;
  const rest = all.slice(1);
  const counted = [head.x, head.y].every((n) => Number.isInteger(n) && n >= 2);
  const isCounts = counted && head.x + head.y === rest.length;
  if (counted && !isCounts && rest.every(({ x }) => Math.abs(x) <= 1.5)) {
    return at(
      head.line,
      `Line ${head.line} counts ${head.x} and ${head.y} points and ${rest.length} follow; correct the counts or remove the line.`,
    );
  }
  const rows = isCounts ? rest : all;
  const aft = rows.reduce((most, row) => (row.x > most.x ? row : most));
  const fore = rows.reduce((least, row) => (row.x < least.x ? row : least));
  const chord = [1, 100].find((whole) => aft.x >= 0.9 * whole && aft.x <= 1.1 * whole);
  if (chord === undefined)
    return at(
      aft.line,
      `Line ${aft.line} has the greatest x, ${aft.x}, where 1 or 100 was expected; give x in shares or percent of the chord.`,
    );
  if (Math.abs(fore.x) > 0.05 * chord)
    return at(
      fore.line,
      `Line ${fore.line} has the least x, ${fore.x}, which is not at the nose; add the points up to x = 0.`,
    );

  const scaled = rows.map((row) => ({ ...row, x: row.x / chord, y: row.y / chord }));
  const path = withoutRepeats(isCounts || scaled[0]!.x < 0.5 ? joined(scaled, isCounts ? head.x : undefined) : scaled);
  const last = path.at(-1)!;
  if (path[0]!.x < 0.5 || last.x < 0.5) {
    const line = scaled.at(-1)!.line;
    return at(
      line,
      `Line ${line} ends the list before both surfaces reach the trailing edge; list once round, or upper then lower from the nose.`,
    );
  }
  return signedArea(path.map(({ x, y }): Vec2 => [x, y])) < 0 ? path.reverse() : path;
}

/**
 * Two lists that each start at the nose, made one path; they part at the count, the one gap, or the great step
 * forward.
 */
function joined(rows: readonly Row[], count: number | undefined): Row[] {
  const gaps = rows.flatMap((row, i) => (row.afterGap && i > 0 ? [i] : []));
  let step = 1;
  rows.forEach((row, i) => {
    if (i > 0 && row.x - rows[i - 1]!.x < rows[step]!.x - rows[step - 1]!.x) step = i;
  });
  const cut = count ?? (gaps.length === 1 ? gaps[0]! : step);
  return [...rows.slice(0, cut).reverse(), ...rows.slice(cut)];
}

const withoutRepeats = (rows: readonly Row[]): Row[] =>
  rows.filter((row, i) => row.x !== rows[i - 1]?.x || row.y !== rows[i - 1]?.y);

/** Surfaces that turn back on themselves or cross. */
function shapeFaults(profile: AirfoilProfile, path: readonly Row[]): CoordinateFault[] {
  const faults: CoordinateFault[] = [];
  path.forEach((row, i) => {
    const before = path[i - 1];
    if (before === undefined) return;
    if (i <= profile.nose ? row.x > before.x : row.x < before.x) {
      faults.push(
        at(
          row.line,
          `Line ${row.line} turns back, from x ${before.x} to ${row.x}, on its way along one surface; check the order of the points there.`,
        ),
      );
    }
  });
  const chord = Math.max(...path.map((r) => r.x)) - Math.min(...path.map((r) => r.x));
  for (const { y, line } of path) {
    if (Math.abs(y) > HIGHEST * chord)
      faults.push(
        at(
          line,
          `Line ${line} is ${Math.abs(y)} ${y > 0 ? 'above' : 'below'} a chord of ${chord}, more than any section is; check the decimal point there.`,
        ),
      );
  }
  if (faults.length > 0) return faults;
  if (Math.abs(signedArea(profile.points)) < 1e-4)
    return [
      at(
        1,
        'The outline has no thickness; check that y is in the same measure as x and that both surfaces are listed.',
      ),
    ];
  for (const { x, y, line } of path.slice(0, profile.nose)) {
    const lower = heightsAt(profile, x)?.lower;
    if (lower !== undefined && y < lower - NEAR)
      faults.push(
        at(line, `Line ${line} puts the top, ${y}, under the bottom, ${lower}, at x ${x}; check the signs of y there.`),
      );
  }
  return faults;
}
