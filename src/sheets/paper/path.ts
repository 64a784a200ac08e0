import type { Fill, Ink, Stroke } from './page.ts';

/*
 * Path data in mm with absolute M, L, C and Z, read and made.
 */

export type Step =
  | readonly ['M' | 'L', number, number]
  | readonly ['C', number, number, number, number, number, number]
  | readonly ['Z'];

const TOKEN = /([A-Za-z])|([-+]?(?:\d+\.?\d*|\.\d+)(?:[eE][-+]?\d+)?)/g;
const TAKES: Readonly<Record<string, number>> = { M: 2, L: 2, C: 6, Z: 0 };

/** A letter of path data with the numbers after it. */
interface Command {
  readonly letter: string;
  readonly numbers: number[];
}

/** The steps of path data; throws RangeError on a letter other than M, L, C, Z or on a number missing. */
export function readPath(d: string): Step[] {
  const commands: Command[] = [];
  for (const [, letter, figure] of d.matchAll(TOKEN)) {
    if (letter !== undefined) commands.push({ letter, numbers: [] });
    else commands.at(-1)?.numbers.push(Number(figure));
  }
  return commands.flatMap(stepsOf);
}

/** A letter may be followed by the numbers of several steps; after M they are lines. */
function stepsOf({ letter, numbers }: Command): Step[] {
  const takes = TAKES[letter];
  if (takes === undefined)
    throw new RangeError(`path data has "${letter}"; only M, L, C and Z are drawn alike everywhere`);
  const many = takes === 0 ? 1 : numbers.length / takes;
  if (takes * many !== numbers.length || !Number.isInteger(many) || many === 0)
    throw new RangeError(`path data has ${numbers.length} numbers after ${letter}`);
  return Array.from({ length: many }, (_, k) => {
    const own = numbers.slice(k * takes, (k + 1) * takes);
    return [letter === 'M' && k > 0 ? 'L' : letter, ...own] as unknown as Step;
  });
}

const n = (v: number): string => String(Math.round(v * 1e4) / 1e4 || 0);
const at = ([x, y]: readonly [number, number]): string => `${n(x)} ${n(y)}`;

/** Path data enlarged and moved. */
export function placed(
  d: string,
  { scale, x, y }: { readonly scale: number; readonly x: number; readonly y: number },
): string {
  return readPath(d)
    .map(([letter, ...numbers]) => `${letter}${numbers.map((v, i) => n((i % 2 === 0 ? x : y) + v * scale)).join(' ')}`)
    .join('');
}

/** A place on the page, mm from its top left corner. */
export type Point = readonly [number, number];

/** A line through points. */
export function line(points: readonly (readonly [number, number])[], stroke: Stroke = 'hairline'): Ink {
  return { kind: 'path', d: `M${points.map(at).join('L')}`, stroke, fill: 'none' };
}

/** A straight line from one point to another. */
export const segment = (
  from: readonly [number, number],
  to: readonly [number, number],
  stroke: Stroke = 'hairline',
): Ink => line([from, to], stroke);

/** A closed shape through points. */
export function shape(
  points: readonly (readonly [number, number])[],
  stroke: Stroke | null = 'outline',
  fill: Fill = 'none',
): Ink {
  return { kind: 'path', d: `M${points.map(at).join('L')}Z`, stroke, fill };
}

/** A rectangle from its top left corner. */
export function rectangle(
  x: number,
  y: number,
  width: number,
  height: number,
  stroke: Stroke | null = 'hairline',
  fill: Fill = 'none',
): Ink {
  return shape(
    [
      [x, y],
      [x + width, y],
      [x + width, y + height],
      [x, y + height],
    ],
    stroke,
    fill,
  );
}

/** A filled arrow head with its point at (x, y), pointing the way (dx, dy). */
export function arrowHead(x: number, y: number, dx: number, dy: number, length = 2.2): Ink {
  const far = Math.hypot(dx, dy) || 1;
  const [ux, uy] = [dx / far, dy / far];
  const [bx, by] = [x - ux * length, y - uy * length];
  const half = length * 0.28;
  return shape(
    [
      [x, y],
      [bx - uy * half, by + ux * half],
      [bx + uy * half, by - ux * half],
    ],
    null,
    'ink',
  );
}
