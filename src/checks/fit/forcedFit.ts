import { type Chain, combine, uncertainty } from '../../chains/chain.ts';
import { type BentPoint, bentLine, fibreStress, influences, stripInertia } from '../../mechanics/beam.ts';
import { modulusOf, plateStress, restingPlate, roundStress } from '../../mechanics/buckling.ts';
import { alongAt } from '../../model/along.ts';
import { limitFor } from '../../model/limits.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { sentence } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { atNose, fromNominal, type InnerNose, innerNoses, type Nose, nosesOf } from './noseLine.ts';

/*
 * Asks: if the nose skin is pulled onto noses that stand out of line, will it go out of flat? The skin along the span
 * is a strip over supports of given heights, a continuous beam one millimetre wide; its bending stress over each nose
 * stands against the stress at which the flat side between nose and spar buckles. An estimate of where to look, no
 * more. Spars held straight. Positive: the nose is proud and the strip hogs over it.
 */

/** Supports each way that still count: a raised support is felt at the seventh one on by less than a thousandth. */
const REACH = 7;

/**
 * The skin strip over one nose: bending stress there as a chain, MPa, and the stresses at which flat and round sheet
 * buckle.
 */
export interface SkinStrip {
  readonly nose: Nose;
  readonly restsOn: Chain;
  /** Stress there for each mm of the noses near it, MPa, from the nose at place `from` in the nose line on. */
  readonly perMm: readonly number[];
  readonly from: number;
  /** Bending stress over the nose, MPa, signed: positive over a proud nose. */
  readonly stress: number;
  readonly flat: number;
  readonly round: number;
}

/** Every inner nose with the strip over it; none without a skin or with fewer than three noses. */
export function skinStrips(skeleton: Skeleton): SkinStrip[] {
  const { model } = skeleton;
  const sheet = model.sheets.find((s) => s.id === model.skin?.sheet);
  if (!sheet) return [];
  const skin = { thickness: thickness(skeleton, sheet.id).best, modulus: modulusOf(sheet.alloy) };
  const noses = nosesOf(skeleton, 'straight');
  return innerNoses(noses).map((inner) => stripOver(skeleton, noses, inner, skin));
}

function stripOver(
  { model }: Skeleton,
  noses: readonly Nose[],
  { nose, before, after, index }: InnerNose,
  skin: { readonly thickness: number; readonly modulus: number },
): SkinStrip {
  const { thickness: t, modulus } = skin;
  const from = Math.max(0, index - REACH);
  const near = noses.slice(from, index + REACH + 1);
  const moments = influences(near.map(placeOf), index - from, modulus * stripInertia(1, t));
  const perMm = moments.map((m) => Math.sign(m) * fibreStress(m, 1, t));
  const weighed = near.map((n, j) => ({ nose: n, perMm: perMm[j] ?? 0 }));
  const deep = alongAt(model.spars.front.depth, placeOf(nose));
  const depth = Math.max(1, nose.bay.station.nose);
  const bay = Math.max(placeOf(nose) - placeOf(before), placeOf(after) - placeOf(nose));
  return {
    nose,
    perMm,
    from,
    restsOn: combine(...weighed.map((w): [number, Chain] => [w.perMm, w.nose.protrusion])),
    stress: weighed.reduce((sum, w) => sum + w.perMm * fromNominal(w.nose), 0),
    flat: plateStress(restingPlate(bay / depth), modulus, t, depth),
    round: roundStress(modulus, t, deep ** 2 / 4 / depth).likely,
  };
}

const placeOf = (nose: Nose): number => nose.bay.station.y;

/** The skin along the nose as it would lie when pulled onto every nose. */
export interface ForcedShape {
  /** Place along the span and departure from the drawing, forward positive, mm. */
  readonly points: readonly BentPoint[];
  /** Inner noses: bending stress there over what buckles the flat side, and whether the strip hogs over it. */
  readonly strips: readonly SkinStrip[];
}

/** Points drawn in each bay. */
const STEPS = 16;

/**
 * The line the skin takes between the noses: the cubic that a strip with the three-moment equation's moments takes in
 * each bay. Undefined without a skin or with fewer than three noses. An estimate.
 */
export function forcedShape(skeleton: Skeleton): ForcedShape | undefined {
  const strips = skinStrips(skeleton);
  if (strips.length === 0) return undefined;
  const noses = nosesOf(skeleton, 'straight');
  const points = bentLine(
    noses.map((n) => n.bay.station.y),
    noses.map(fromNominal),
    STEPS,
  );
  return { points, strips };
}

/** What a share of the stress that buckles the flat side means. */
function likelyOf(ratio: number): string {
  if (ratio > 1) return 'buckle likely';
  return ratio > 0.5 ? 'a buckle is possible' : 'bending alone would not buckle it';
}

export function* forcedFit(skeleton: Skeleton): Generator<Finding> {
  const { model } = skeleton;
  for (const { nose, restsOn, stress, flat, round } of skinStrips(skeleton)) {
    yield judge({
      check: 'forced-fit',
      at: { ...atNose(nose), what: 'skin' },
      place: `skin at ${nose.mark}`,
      restsOn: restsOn.map((t) => ({ c: t.c / flat, size: t.size })),
      value: stress / flat,
      u: uncertainty(restsOn) / flat,
      limit: limitFor(model, 'forced-fit'),
      sense: (v) => (v < 0 ? 'drawn in' : 'pushed out'),
      say: (j) => {
        const ratio = Math.abs(j.value);
        const bend = round < 200 ? `${round.toFixed(0)} MPa` : 'far more';
        const phrase = `Pulled onto ${nose.mark} the skin bends to about ${Math.abs(stress).toFixed(1)} MPa, ${ratio.toFixed(2)} of what buckles its flat side (${flat.toFixed(1)} MPa; round the nose ${bend}), an estimate: ${likelyOf(ratio)}`;
        return sentence(model, j, phrase, {
          todo: 'Put the nose line right before the skin goes on; the skin will not.',
        });
      },
    });
  }
}
