import type { Edit } from '../model/edits/edits.ts';
import type { Model } from '../model/schema.ts';
import { sizeEntries } from '../model/sizes.ts';

/** What a remedy costs besides its time. */
export interface Cost {
  /** New pieces made: shims, doublers, packers. */
  readonly pieces: number;
  /** Parts made again. */
  readonly remade: number;
  /** Parts bent or trimmed again: re-bent ends and tails, deeper joggles, shortened tips. Hard sheet takes it once. */
  readonly reformed: number;
  /** Parts moved or exchanged, nothing made: swaps, ribs held elsewhere, packs under the jig, another rivet bag. */
  readonly moved: number;
  /** Drilled holes that are lost or must be drilled again. */
  readonly holesLost: number;
}

/** What is done, whatever it is done to: one file of `offers/` each. */
export type RemedyKind =
  /** Pieces put in, left out, made new of another sheet or over an easier block. */
  | 'shim'
  | 'channel'
  | 'flat'
  | 'packer'
  | 'without'
  | 'resheet'
  | 'easier'
  /** A part made again: to its drawing, to fit where it stands, or shorter than it is. */
  | 'remake'
  | 'fit'
  | 'shorter'
  /** Metal moved on a part. */
  | 'trim'
  | 'joggle'
  | 'flange'
  /** Parts held, moved, exchanged or packed up. */
  | 'bias'
  | 'swap'
  | 'move'
  | 'straight'
  | 'packs'
  | 'packing'
  /** Rivets: another length, the next size. */
  | 'bag'
  | 'step'
  /** Nothing done before something is measured and somebody asked. */
  | 'strip';

/** An Edit that answers findings, with what it costs and whether the designer must be asked. */
export interface Remedy {
  /** Written only: what it is, is in `kind` and `part`. */
  readonly id: string;
  readonly kind: RemedyKind;
  readonly name: string;
  readonly station: string;
  readonly part: string;
  readonly edit: Edit;
  readonly cost: Cost;
  /** It changes the structure: a shim, doubler, packer, moved station, trimmed part or larger rivet. */
  readonly askDesigner: boolean;
  /** It changes what a joint goes through: a layer more or less, a layer's sheet or holes, the rivet, the place. */
  readonly layers: boolean;
  /** What to mind when it is done. */
  readonly note?: string;
}

export const FREE: Cost = { pieces: 0, remade: 0, reformed: 0, moved: 0, holesLost: 0 };

/** Less than this, mm, no hand bends or cuts on purpose: picked, no source. */
export const LEAST_BEND = 0.3;

/**
 * What to mind where metal is bent again (AC 43.13-1B, chapter 4: straightened cold, then checked for cracks with a
 * magnifier; never heated).
 */
export const BENT_COLD = 'Bend it once at most, cold, then look for cracks with a magnifier.';

/**
 * Moves a size by an amount where it is known from: every reading of it, else its drawing value. Sizes that are neither
 * read nor one number in the file are left alone, which throws RangeError: a remedy must not silently do nothing.
 */
export function shifted(model: Model, key: string, by: number): Model {
  if (model.readings.some((r) => r.size === key))
    return { ...model, readings: model.readings.map((r) => (r.size === key ? { ...r, value: r.value + by } : r)) };
  const path = sizeEntries(model).get(key)?.path;
  if (!path) throw new RangeError(`the size "${key}" can neither be read nor changed on the drawing`);
  return put(model, path, by) as Model;
}

function put(value: unknown, path: readonly (string | number)[], by: number): unknown {
  const [head, ...rest] = path;
  if (head === undefined) return (value as number) + by;
  if (Array.isArray(value)) return value.map((v, i) => (i === head ? put(v, rest, by) : v));
  const group = value as Record<string, unknown>;
  return { ...group, [head]: put(group[head], rest, by) };
}

/** A name no part of the panel has yet: `P4`, else `P4-2`, `P4-3` … */
export function freeName(model: Model, wanted: string): string {
  const taken = new Set(
    [...model.stations, ...model.ribs, ...model.doublers, ...model.brackets, ...model.joints].map((x) => x.id),
  );
  for (let i = 1; ; i++) {
    const name = i === 1 ? wanted : `${wanted}-${i}`;
    if (!taken.has(name)) return name;
  }
}
