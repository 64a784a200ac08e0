/* What a slip makes of a number: the point slipped, inches for millimetres, two figures exchanged. */

/** The slips a hand makes, each with what it would have been without. */
const SLIPS: readonly (readonly [asks: string, back: readonly ((v: number) => number)[]])[] = [
  ['a slipped decimal?', [(v) => v / 10, (v) => v * 10]],
  ['millimetres and inches exchanged?', [(v) => v / 25.4, (v) => v * 25.4]],
  ['a lost sign?', [(v) => -v]],
];

/** A number with two neighbouring figures exchanged, every way: 61.0 of 60.1, 16.0 and 60.1 of 61.0. */
export function exchanged(value: number, digits = 2): number[] {
  const text = Math.abs(value).toFixed(digits);
  const figures = [...text].flatMap((c, i) => (c === '.' ? [] : [i]));
  return figures.slice(1).flatMap((b, k) => {
    const a = figures[k] ?? 0;
    if (text[a] === text[b]) return [];
    const signs = [...text];
    [signs[a], signs[b]] = [text[b] ?? '', text[a] ?? ''];
    return [Math.sign(value) * Number(signs.join(''))];
  });
}

/**
 * What is asked about a reading that is far off: the slip that would explain it, or whether it is so. `isNear` says
 * whether a number is about what was expected.
 */
export function slipAsked(value: number, isNear: (v: number) => boolean): string {
  const known = SLIPS.find(([, back]) => back.some((f) => isNear(f(value))));
  if (known) return known[0];
  const inInches = exchanged(value / 25.4, 3).map((v) => v * 25.4);
  const isExchanged = [...exchanged(value), ...inInches].some(isNear);
  return isExchanged ? 'two figures exchanged?' : 'is that what it reads?';
}
