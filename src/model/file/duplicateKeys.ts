/** A key that stands twice in one group of a JSON text: the reader takes the last and says nothing, so it must be said here. */
export interface Twice {
  readonly key: string;
  /** Where the second one starts, counted in characters. */
  readonly at: number;
}

/** Deepest nesting of groups and lists in a panel file; a panel needs about eight. */
export const DEEPEST = 60;

/**
 * Walks a JSON text once, without recursion. Gives the first key written twice in one group, or the place where the text
 * nests deeper than any panel file does; null where there is neither. Assumes text that `JSON.parse` takes: on other text the
 * answer means nothing. Example: `walkJson('{"a": 1, "a": 2}')` is `{ key: 'a', at: 9 }`.
 */
export function walkJson(text: string): Twice | 'deep' | null {
  const groups: (Set<string> | null)[] = [];
  let wantsKey = false;
  for (let i = 0; i < text.length; i++) {
    const c = text.charCodeAt(i);
    if (c === 0x22) {
      const end = stringEnd(text, i);
      const group = groups.at(-1);
      if (wantsKey && group) {
        const raw = text.slice(i + 1, end);
        const key = raw.includes('\\') ? unescaped(raw) : raw;
        if (group.has(key)) return { key, at: i };
        group.add(key);
        wantsKey = false;
      }
      i = end;
    } else if (c === 0x7b || c === 0x5b) {
      groups.push(c === 0x7b ? new Set() : null);
      wantsKey = c === 0x7b;
      if (groups.length > DEEPEST) return 'deep';
    } else if (c === 0x7d || c === 0x5d) {
      groups.pop();
      wantsKey = false;
    } else if (c === 0x2c) wantsKey = groups.at(-1) instanceof Set;
  }
  return null;
}

/** Where the string that starts at `from` ends: its closing quote. */
function stringEnd(text: string, from: number): number {
  let at = from;
  for (;;) {
    at = text.indexOf('"', at + 1);
    if (at < 0) return text.length;
    let slashes = 0;
    while (text.charCodeAt(at - 1 - slashes) === 0x5c) slashes++;
    if (slashes % 2 === 0) return at;
  }
}

function unescaped(raw: string): string {
  try {
    return JSON.parse(`"${raw}"`) as string;
  } catch {
    return raw;
  }
}
