import { type Chain, combine, uncertainty } from '../../chains/chain.ts';
import { continuousBeam, fibreStress, stripInertia } from '../../mechanics/beam.ts';
import { modulusOf, plateStress, restingPlate, roundStress } from '../../mechanics/buckling.ts';
import { alongAt } from '../../model/along.ts';
import { limitFor } from '../../model/limits.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { sentence } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { atNose, fromNominal, type Nose, nosesOf } from './noseLine.ts';

/*
 * Asks: if the nose skin is pulled onto noses that stand out of line, will it go out of flat? The skin along the span is a
 * strip over supports of given heights, a continuous beam one millimetre wide; its bending stress over each nose stands
 * against the stress at which the flat side between nose and spar buckles. An estimate of where to look, no more. Spars
 * held straight. Positive: the nose is proud and the strip hogs over it.
 */

/** Supports each way that still count: a raised support is felt at the seventh one on by less than a thousandth. */
const REACH = 7;

/**
 * Bending moment over one of some supports for each mm of each, N·mm a mm wide; hogging positive. The three-moment equation
 * read backwards: its matrix is symmetric, so one solution serves all supports. Ends free to turn.
 */
export function influences(ys: readonly number[], at: number, stiffness: number): number[] {
  const spans = ys.slice(1).map((y, i) => y - ys[i]!);
  const n = ys.length;
  // Inner supports 1 … n - 2, with the right-hand side at `at` alone.
  const diagonal = ys.map((_, i) => (i > 0 && i < n - 1 ? (2 * (spans[i - 1]! + spans[i]!)) / stiffness : 1));
  const w = ys.map((_, i): number => (i === at ? 1 : 0));
  for (let i = 2; i < n - 1; i++) {
    const f = spans[i - 1]! / stiffness / diagonal[i - 1]!;
    diagonal[i]! -= f * (spans[i - 1]! / stiffness);
    w[i]! -= f * w[i - 1]!;
  }
  for (let i = n - 2; i > 0; i--) w[i] = (w[i]! - (i < n - 2 ? (spans[i]! / stiffness) * w[i + 1]! : 0)) / diagonal[i]!;
  w[0] = 0;
  w[n - 1] = 0;
  return ys.map((_, j) => {
    const left = j > 0 ? (w[j - 1]! - w[j]!) / spans[j - 1]! : 0;
    const right = j < n - 1 ? (w[j + 1]! - w[j]!) / spans[j]! : 0;
    return -6 * (left + right);
  });
}

/** The skin strip over one nose: bending stress there as a chain, MPa, and the stresses at which flat and round sheet buckle. */
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
  const sheet = model.skin && model.sheets.find((s) => s.id === model.skin!.sheet);
  const noses = nosesOf(skeleton, 'straight');
  if (!sheet || noses.length < 3) return [];
  const t = thickness(skeleton, sheet.id).best;
  const modulus = modulusOf(sheet.alloy);
  const stiffness = modulus * stripInertia(1, t);
  const out: SkinStrip[] = [];
  for (let i = 1; i < noses.length - 1; i++) {
    const nose = noses[i]!;
    const from = Math.max(0, i - REACH);
    const near = noses.slice(from, i + REACH + 1);
    const ys = near.map((n) => n.bay.station.y);
    const perMm = influences(ys, i - from, stiffness).map((m) => Math.sign(m) * fibreStress(m, 1, t));
    const deep = alongAt(model.spars.front.depth, nose.bay.station.y);
    const depth = Math.max(1, nose.bay.station.nose);
    const bay = Math.max(ys[i - from]! - ys[i - from - 1]!, ys[i - from + 1]! - ys[i - from]!);
    out.push({
      nose,
      perMm,
      from,
      restsOn: combine(...near.map((n, j): [number, Chain] => [perMm[j]!, n.protrusion])),
      stress: near.reduce((sum, n, j) => sum + perMm[j]! * fromNominal(n), 0),
      flat: plateStress(restingPlate(bay / depth), modulus, t, depth),
      round: roundStress(modulus, t, deep ** 2 / 4 / depth).likely,
    });
  }
  return out;
}

/** The skin along the nose as it would lie when pulled onto every nose. */
export interface ForcedShape {
  /** Place along the span and departure from the drawing, forward positive, mm. */
  readonly points: readonly { readonly y: number; readonly v: number }[];
  /** Inner noses: bending stress there over what buckles the flat side, and whether the strip hogs over it. */
  readonly strips: readonly SkinStrip[];
}

/** Points drawn in each bay. */
const STEPS = 16;

/**
 * The line the skin takes between the noses: the cubic that a strip with the three-moment equation's moments takes in each
 * bay. Undefined without a skin or with fewer than three noses. An estimate.
 */
export function forcedShape(skeleton: Skeleton): ForcedShape | undefined {
  const strips = skinStrips(skeleton);
  const noses = nosesOf(skeleton, 'straight');
  if (strips.length === 0) return undefined;
  const ys = noses.map((n) => n.bay.station.y);
  const heights = noses.map(fromNominal);
  const spans = ys.slice(1).map((y, i) => ({ length: y - ys[i]!, stiffness: 1 }));
  const { moments } = continuousBeam({ spans, heights });
  const points = spans.flatMap(({ length: l }, i) =>
    Array.from({ length: i === spans.length - 1 ? STEPS + 1 : STEPS }, (_, k) => {
      const s = (k / STEPS) * l;
      const bent = (moments[i]! * ((l - s) ** 3 - l * l * (l - s)) + moments[i + 1]! * (s ** 3 - l * l * s)) / (6 * l);
      return { y: ys[i]! + s, v: heights[i]! + ((heights[i + 1]! - heights[i]!) * s) / l + bent };
    }),
  );
  return { points, strips };
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
        const likely =
          ratio > 1 ? 'buckle likely' : ratio > 0.5 ? 'a buckle is possible' : 'bending alone would not buckle it';
        const bend = round < 200 ? `${round.toFixed(0)} MPa` : 'far more';
        const phrase = `Pulled onto ${nose.mark} the skin bends to about ${Math.abs(stress).toFixed(1)} MPa, ${ratio.toFixed(2)} of what buckles its flat side (${flat.toFixed(1)} MPa; round the nose ${bend}), an estimate: ${likely}`;
        return sentence(model, j, phrase, {
          todo: 'Put the nose line right before the skin goes on; the skin will not.',
        });
      },
    });
  }
}
