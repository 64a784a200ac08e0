import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { exact, type Size } from '../../chains/size.ts';
import { minimumZone } from '../../geometry/zone.ts';
import { limitFor } from '../../model/limits.ts';
import type { Model, NoseRib, TipRib } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import type { Hold } from '../../parts/layout/meeting.ts';
import { departure, websBetween } from '../../parts/layout/meeting.ts';
import type { At } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';

/*
 * Asks: is the nose line straight, and does it kink? (C4, C5, C6)
 * v = protrusion - drawing protrusion, forward positive (proud). Residual r: v from the straight line through the two
 * end noses. Kink q: v from the straight line through the two neighbours. A skin bent round one axis follows any
 * straight line, even a skewed one; it cannot follow a kink, so q judges buckling and r the planform.
 */

/** A nose: where it is and its protrusion as a chain, from the straight line through the front web's ends. */
export interface Nose {
  readonly bay: Bay;
  readonly mark: string;
  readonly protrusion: Chain;
  /** Read from the string line, so the bow is already in it. */
  readonly direct: boolean;
}

/** Where a nose is: its station and what stands there. */
export const atNose = ({ bay }: Nose): At => ({ station: bay.station.id, part: (bay.nose ?? bay.tip)?.id });

function noseRibChain(skeleton: Skeleton, bay: Bay, nose: NoseRib, hold: Hold): Chain {
  const links: [number, Size][] = [[1, skeleton.book.get(`${nose.id}.length`)]];
  for (const t of websBetween(skeleton, skeleton.doublersAt(nose.id, 'tail'))) links.push([1, t]);
  const own = chain(...links);
  return hold === 'straight' ? own : combine([1, own], [1, departure(skeleton, 'front', 'bow', bay)]);
}

function tipRibChain(skeleton: Skeleton, bay: Bay, tip: TipRib): Chain {
  const { book } = skeleton;
  if (tip.registered === 'front' && tip.clip) {
    return chain(
      [1, exact(`${tip.id}.clip-forward`, `clip hole of ${tip.id} forward of the web`, tip.clip.forward)],
      [1, book.get(`${tip.id}.clip`)],
    );
  }
  const links: [number, Size][] = [
    [1, book.get(`${tip.id}.length`)],
    [-1, book.get(`webs@${bay.station.id}`)],
  ];
  for (const t of websBetween(skeleton, skeleton.doublersAt(tip.id, 'rear'))) links.push([1, t]);
  return chain(...links);
}

/**
 * Protrusion of what stands at a station from its parts alone, whatever the string says; undefined where no nose
 * stands.
 */
export function computedNose(skeleton: Skeleton, bay: Bay, hold: Hold): Chain | undefined {
  if (bay.nose) return noseRibChain(skeleton, bay, bay.nose, hold);
  return bay.tip && tipRibChain(skeleton, bay, bay.tip);
}

/** Every nose of the panel, in station order. A protrusion read from the string line is taken before a computed one. */
export function nosesOf(skeleton: Skeleton, hold: Hold): Nose[] {
  const noses: Nose[] = [];
  for (const bay of skeleton.bays) {
    const rib = bay.nose ?? bay.tip;
    const read = skeleton.book.find(`nose@${bay.station.id}`);
    const protrusion = read ? chain([1, read]) : computedNose(skeleton, bay, hold);
    if (protrusion) noses.push({ bay, mark: rib?.id ?? bay.station.id, protrusion, direct: read !== undefined });
  }
  return noses;
}

/** A nose between two others, and its place in the nose line. */
export interface InnerNose {
  readonly before: Nose;
  readonly nose: Nose;
  readonly after: Nose;
  readonly index: number;
}

/** Every nose but the two at the ends. */
export function innerNoses(noses: readonly Nose[]): InnerNose[] {
  return noses.flatMap((nose, index) => {
    const [before, after] = [noses[index - 1], noses[index + 1]];
    return before && after ? [{ before, nose, after, index }] : [];
  });
}

/** Departure of a nose from its drawing, v, mm, proud positive. */
export function fromNominal(nose: Nose): number {
  return best(nose.protrusion) - nose.bay.station.nose;
}

/**
 * The narrowest lane that holds every nose, mm, however the line is laid: what no turning or packing of the panel
 * takes out (minimum zone, ISO 12780-1). Departures from the drawing, so that a tapered nose line is asked too.
 * Undefined under three noses.
 */
export function laneOf(noses: readonly Nose[]): number | undefined {
  return noses.length < 3
    ? undefined
    : minimumZone(
        noses.map((n) => n.bay.station.y),
        noses.map(fromNominal),
        'vertical',
      ).width;
}

/** Share of the way from nose a to nose b, by place along the span. */
export function shareBetween(a: Nose, b: Nose, at: Nose): number {
  return (at.bay.station.y - a.bay.station.y) / (b.bay.station.y - a.bay.station.y);
}

/** The kink of a nose that is as good as none, mm. */
export const quietKink = (model: Model): number => limitFor(model, 'nose-kink').fits[1] ?? 0.5;

/**
 * `nose` against the straight line through a and b: the chain, and its best value with the drawing's own taper taken
 * out.
 */
export function against(nose: Nose, a: Nose, b: Nose): { restsOn: Chain; value: number } {
  const t = shareBetween(a, b, nose);
  return {
    restsOn: combine([1, nose.protrusion], [-(1 - t), a.protrusion], [-t, b.protrusion]),
    value: fromNominal(nose) - (1 - t) * fromNominal(a) - t * fromNominal(b),
  };
}

/**
 * Kink of each inner nose, mm, in the order of `noses`; 0 at the two ends. `values`: departures to take instead of
 * the noses' own.
 */
export function kinksOf(noses: readonly Nose[], values: readonly number[] = noses.map(fromNominal)): number[] {
  const kinks = noses.map(() => 0);
  for (const inner of innerNoses(noses)) kinks[inner.index] = kinkAt(inner, (i) => values[i] ?? 0);
  return kinks;
}

/** Kink of an inner nose where the nose at place i departs by `valueAt(i)`. */
function kinkAt({ before, nose, after, index }: InnerNose, valueAt: (i: number) => number): number {
  const t = shareBetween(before, after, nose);
  return valueAt(index) - (1 - t) * valueAt(index - 1) - t * valueAt(index + 1);
}

/**
 * For each nose, the neighbour whose fault its kink only repeats, if any: a neighbour with a larger kink the other
 * way, not itself an echo, which once put on its own line leaves this nose well inside `quiet`, or which takes away
 * most of the kink of a nose that stands as drawn. Never cure an echo.
 */
export function echoesOf(noses: readonly Nose[], quiet: number): (number | undefined)[] {
  const values = noses.map(fromNominal);
  const valueAt = (i: number): number => values[i] ?? 0;
  const kinks = kinksOf(noses, values);
  const kinked = innerNoses(noses).map((inner) => ({ inner, kink: kinkAt(inner, valueAt) }));
  const echoes: (number | undefined)[] = noses.map(() => undefined);
  kinked.sort((a, b) => Math.abs(b.kink) - Math.abs(a.kink));
  for (const { inner, kink } of kinked) {
    if (Math.abs(kink) < 0.5 * quiet) break;
    const asDrawn = Math.abs(valueAt(inner.index)) <= 0.5 * quiet;
    echoes[inner.index] = [inner.index - 1, inner.index + 1].find((j) => {
      const theirs = kinks[j];
      if (theirs === undefined || echoes[j] !== undefined || theirs * kink >= 0 || Math.abs(theirs) <= Math.abs(kink))
        return false;
      const onLine = valueAt(j) - theirs;
      const left = Math.abs(kinkAt(inner, (i) => (i === j ? onLine : valueAt(i))));
      return left <= 0.5 * quiet || (asDrawn && left <= 0.5 * Math.abs(kink));
    });
  }
  return echoes;
}

const side = (v: number): string => (v < 0 ? 'short' : 'proud');

/** `0.80 mm short of X`, or `on X` when there is nothing to print. */
const off = (model: Model, v: number, of: string): string =>
  Math.abs(v) < UNSEEN ? `on ${of}` : `${show(model, Math.abs(v))} ${side(v)} of ${of}`;

/** An end nose against its drawing. */
function endFinding({ model }: Skeleton, nose: Nose): Finding {
  const own = off(model, fromNominal(nose), 'its drawing');
  return judge({
    check: 'nose-line',
    at: atNose(nose),
    place: nose.mark,
    restsOn: nose.protrusion,
    value: fromNominal(nose),
    limit: limitFor(model, 'nose-line'),
    sense: side,
    say: (j) => sentence(model, j, `${nose.mark}, an end of the nose line, stands ${own}`),
  });
}

/** An inner nose against the line through the two end noses. */
function lineFinding({ model }: Skeleton, nose: Nose, first: Nose, last: Nose): Finding {
  const v = fromNominal(nose);
  return judge({
    check: 'nose-line',
    at: atNose(nose),
    place: nose.mark,
    ...against(nose, first, last),
    limit: limitFor(model, 'nose-line'),
    sense: side,
    say: (j) => {
      const own = off(model, v, 'its drawing');
      const masked = Math.abs(v) > Math.abs(j.value) + MASKED;
      return sentence(
        model,
        j,
        `${nose.mark} stands ${off(model, j.value, `the line through ${first.mark} and ${last.mark}`)}`,
        { note: masked ? `It is ${own}: an end nose is off too.` : `It is ${own}.` },
      );
    },
  });
}

/** A nose this much farther off its drawing than off the line, mm, tells of an end nose that is off too. */
const MASKED = 0.25;

function kinkFindings(skeleton: Skeleton, noses: readonly Nose[]): Finding[] {
  const { model } = skeleton;
  const limit = limitFor(model, 'nose-kink');
  const echoes = echoesOf(noses, quietKink(model));
  return innerNoses(noses).map(({ before, nose, after, index }) => {
    const source = noses[echoes[index] ?? -1];
    return judge({
      check: 'nose-kink',
      at: atNose(nose),
      place: nose.mark,
      ...against(nose, before, after),
      limit,
      sense: side,
      ...(source ? { echoOf: source.bay.station.id } : {}),
      say: (j) => {
        const much = `${show(model, Math.abs(j.value))} ${side(j.value)}`;
        const note = source && `Only the echo of ${source.mark}: put that right and this goes.`;
        const todo = j.value < 0 ? 'A packer behind its tail brings it out.' : 'Re-bend its tail to draw it in.';
        return sentence(model, j, `${nose.mark} kinks ${much} of its two neighbours`, {
          note,
          todo: source ? undefined : todo,
        });
      },
    });
  });
}

export function* noseLine(skeleton: Skeleton): Generator<Finding> {
  const noses = nosesOf(skeleton, 'straight');
  const [first, last] = [noses[0], noses.at(-1)];
  if (!first || !last || first === last) return;
  for (const nose of noses)
    yield nose === first || nose === last ? endFinding(skeleton, nose) : lineFinding(skeleton, nose, first, last);
  yield* kinkFindings(skeleton, noses);
}
