import type { Bay } from './layout.ts';

/* Stations along the span: where they begin and end, and which stand beside each other. */

/**
 * Places of the first and the last station and half-way between them, mm from the datum; nothing where there is no
 * station.
 */
export function spanOf(bays: readonly Bay[]): {
  readonly first: number;
  readonly last: number;
  readonly middle: number;
} {
  const first = bays[0]?.station.y ?? 0;
  const last = bays.at(-1)?.station.y ?? 0;
  return { first, last, middle: (first + last) / 2 };
}

/** Each station with the next: of S1, S2, S3 the pairs S1 S2 and S2 S3. */
export function neighbours(bays: readonly Bay[]): (readonly [Bay, Bay])[] {
  return bays.flatMap((a, i) => {
    const b = bays[i + 1];
    return b ? [[a, b] as const] : [];
  });
}
