/* What no answer may hold: a number that is none, in the data or in print. */

/** Every number anywhere in an answer, with where it is. */
function numbersIn(value: unknown, path = '', seen = new Set<unknown>()): (readonly [string, number])[] {
  if (typeof value === 'number') return [[path, value]];
  if (value === null || typeof value !== 'object' || seen.has(value)) return [];
  seen.add(value);
  if (ArrayBuffer.isView(value))
    return Array.from(value as Float64Array, (v, i): readonly [string, number] => [`${path}[${i}]`, v]);
  const inner = value instanceof Map ? [...value] : Object.entries(value);
  return inner.flatMap(([k, v]) => numbersIn(v, `${path}.${String(k)}`, seen));
}

/** Numbers that are none, each with its path. */
export const unsound = (value: unknown): string[] =>
  numbersIn(value)
    .filter(([, v]) => !Number.isFinite(v))
    .map(([path, v]) => `${path}: ${v}`);

/** How a number that is none, or a word that is missing, shows in print. */
export const BROKEN = /NaN|Infinity|undefined|\[object/;
