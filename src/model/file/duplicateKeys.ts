/**
 * A key that stands twice in one group of a JSON text: the reader takes the last and says nothing, so it must be said
 * here.
 */
export interface DuplicateKey {
  readonly key: string;
  /** Where the second one starts, counted in characters. */
  readonly at: number;
}

/** Deepest nesting of groups and lists in a panel file; a panel needs about eight. */
export const DEEPEST = 60;

/** Keys of the groups that are open, outermost first; null for a list, which has none. */
type Open = (Set<string> | null)[];

/**
 * Walks a JSON text once, without recursion. Gives the first key written twice in one group, or the place where the
 * text nests deeper than any panel file does; null where there is neither. Assumes text that `JSON.parse` takes: on
 * other text the answer means nothing. Example: `duplicateKeys('{"a": 1, "a": 2}')` is `{ key: 'a', at: 9 }`.
 */
export function duplicateKeys(text: string): DuplicateKey | 'deep' | null {
  const open: Open = [];
  let wantsKey = false;
  for (let i = 0; i < text.length; i++) {
    switch (text[i]) {
      case '"': {
        const end = stringEnd(text, i);
        const key = wantsKey ? keyTwice(open, text.slice(i + 1, end)) : undefined;
        if (key !== undefined) return { key, at: i };
        wantsKey = false;
        i = end;
        break;
      }
      case '{':
      case '[':
        wantsKey = text[i] === '{';
        open.push(wantsKey ? new Set() : null);
        if (open.length > DEEPEST) return 'deep';
        break;
      case '}':
      case ']':
        open.pop();
        wantsKey = false;
        break;
      case ',':
        wantsKey = open.at(-1) instanceof Set;
        break;
    }
  }
  return null;
}

/** A key as it was written, put into the innermost group; the key itself where the group had it. */
function keyTwice(open: Open, raw: string): string | undefined {
  const key = raw.includes('\\') ? unescaped(raw) : raw;
  const keys = open.at(-1);
  if (keys?.has(key)) return key;
  keys?.add(key);
  return undefined;
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
