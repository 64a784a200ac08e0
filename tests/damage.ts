import fc from 'fast-check';

/** One harm done to a text: where in it (0 to 1), how much, and what is put there. */
export interface Damage {
  readonly kind: string;
  readonly at: number;
  readonly size: number;
  readonly bytes: string;
}

/** Harms of every kind, up to `size` letters lost or doubled, up to `length` put in, out of `letters`. */
export function damages({
  size,
  length,
  letters,
}: {
  readonly size: number;
  readonly length: number;
  readonly letters: string;
}): fc.Arbitrary<Damage> {
  return fc.record({
    kind: fc.constantFrom('delete', 'insert', 'replace', 'truncate', 'double', 'swap'),
    at: fc.double({ min: 0, max: 1, maxExcluded: true, noNaN: true }),
    size: fc.integer({ min: 1, max: size }),
    bytes: fc.string({ minLength: 1, maxLength: length, unit: fc.constantFrom(...letters) }),
  });
}

/** The text with the harm done. */
export function damaged(text: string, d: Damage): string {
  const at = Math.floor(d.at * text.length);
  switch (d.kind) {
    case 'delete':
      return text.slice(0, at) + text.slice(at + d.size);
    case 'insert':
      return text.slice(0, at) + d.bytes + text.slice(at);
    case 'replace':
      return text.slice(0, at) + d.bytes + text.slice(at + d.bytes.length);
    case 'truncate':
      return text.slice(0, at);
    case 'double':
      return text.slice(0, at + d.size) + text.slice(at);
    default:
      return text.slice(0, at) + [...text.slice(at, at + 2)].reverse().join('') + text.slice(at + 2);
  }
}
