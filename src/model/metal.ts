import type { Model } from './schema.ts';

/*
 * What a joint may go through: spars, ribs, doublers, brackets, strips and web doublers that have a name, the skin.
 */

/** The word of a layer's hole that was marked and drilled by itself, not through another layer. */
export const APART = 'apart';
export const SKIN = 'skin';

/** Strips and web doublers that have a name, with the sheet they are cut from. */
function namedStrips(model: Model): Map<string, string> {
  const named = new Map<string, string>();
  for (const spar of [model.spars.front, model.spars.rear]) {
    for (const piece of [...(spar?.strips ?? []), ...(spar?.webDoublers ?? [])])
      if (piece.id !== undefined) named.set(piece.id, piece.sheet);
  }
  return named;
}

/** Names of everything a joint may go through and a stage may bring. */
export function partNames(model: Model): Set<string> {
  return new Set([
    'front',
    ...(model.spars.rear ? ['rear'] : []),
    ...(model.skin ? [SKIN] : []),
    ...namedStrips(model).keys(),
    ...model.ribs.map((r) => r.id),
    ...model.doublers.map((d) => d.id),
    ...model.brackets.map((b) => b.id),
  ]);
}

/** Sheet of a layer that is no rib, doubler or bracket: a spar, a named strip, the skin; undefined for any other. */
export function sheetOfMetal(model: Model, part: string): string | undefined {
  if (part === 'front' || part === 'rear') return model.spars[part]?.sheet;
  return part === SKIN ? model.skin?.sheet : namedStrips(model).get(part);
}
