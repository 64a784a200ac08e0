import { checkAll } from '../../checks/checkAll.ts';
import { against, fromNominal, type Nose, nosesOf } from '../../checks/fit/noseLine.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { NEAR } from '../../units/near.ts';
import { type Before, type Counted, type Level, levelIn } from '../reach.ts';

/*
 * Where may each nose be wanted? On its drawing, or on the line through the end noses.
 */

/** How far a nose stands off what may be wanted of it, mm, proud positive; and the worst of its findings. */
export interface NoseAim {
  readonly off: readonly number[];
  readonly level: Level;
}

const NONE: NoseAim = { off: [], level: 0 };

export type NoseAims = ReadonlyMap<string, NoseAim>;

/** What may be wanted of the nose at a station; nothing where none stands. */
export const aimOf = (aims: NoseAims, station: string): NoseAim => aims.get(station) ?? NONE;

/** Whether the same is wanted of a nose. */
export const sameAim = (a: NoseAim, b: NoseAim): boolean =>
  a.level === b.level &&
  a.off.length === b.off.length &&
  a.off.every((v, i) => Math.abs(v - (b.off[i] ?? Number.POSITIVE_INFINITY)) < NEAR);

/** The worst nose finding of each station, echoes aside. */
function levels(model: Model, before: Before): Map<string, Level> {
  const worst = new Map<string, Level>();
  for (const f of checkAll(model)) {
    if ((f.check !== 'nose-kink' && f.check !== 'nose-line') || f.echoOf || !f.station) continue;
    const level = levelIn(f, before);
    if (level >= (worst.get(f.station) ?? 0)) worst.set(f.station, level);
  }
  return worst;
}

/** The noses of a panel with its spars held straight, and the two ends. */
function nosesAndEnds(model: Model): { noses: Nose[]; first: Nose | undefined; last: Nose | undefined } {
  const noses = nosesOf(skeletonOf(model), 'straight');
  return { noses, first: noses[0], last: noses[noses.length - 1] };
}

/** What may be wanted of each nose, by station. */
export function noseAims(model: Model, before: Before): NoseAims {
  const { noses, first, last } = nosesAndEnds(model);
  const worst = levels(model, before);
  return new Map(
    noses.map((n): [string, NoseAim] => {
      const { id } = n.bay.station;
      const inner = n !== first && n !== last && first && last;
      const off = inner ? [fromNominal(n), against(n, first, last).value] : [fromNominal(n)];
      return [id, { off, level: worst.get(id) ?? 0 }];
    }),
  );
}

/** Kink and line of every inner nose, echoes among them. */
export function noseFindings(model: Model): Counted[] {
  const { noses, first, last } = nosesAndEnds(model);
  if (!first || !last) return [];
  const [kink, line] = [limitFor(model, 'nose-kink'), limitFor(model, 'nose-line')];
  return noses.flatMap((n, i): Counted[] => {
    const [before, after] = [noses[i - 1], noses[i + 1]];
    if (!before || !after) return [];
    return [
      { id: `nose-kink:${n.mark}`, check: 'nose-kink', value: against(n, before, after).value, limits: kink },
      { id: `nose-line:${n.mark}`, check: 'nose-line', value: against(n, first, last).value, limits: line },
    ];
  });
}
