import { best } from '../../../chains/chain.ts';
import { limitFor } from '../../../model/limits.ts';
import type { Model } from '../../../model/schema.ts';
import type { Skeleton } from '../../../parts/layout/layout.ts';
import { chordGapChain, departure } from '../../../parts/layout/meeting.ts';
import { show } from '../../describe.ts';
import type { Finding } from '../../finding.ts';
import { SLIGHT_BOW, UNSEEN } from '../../slack.ts';
import { fromNominal, type Nose, nosesOf, quietKink, shareBetween } from '../noseLine.ts';
import { type Explanation, type Link, PROUD, side } from './cause.ts';
import { gather, leading } from './gather.ts';
import { noseLinks } from './noseLinks.ts';
import { toTell } from './separating.ts';

/*
 * Why a nose is off its line or kinks: its own links, and those of the two noses it is set against, each by its share
 * of the way between them.
 */

/** A nose the finding is set against: it enters with the factor, and puts that many mm in. */
interface Beside {
  readonly nose: Nose;
  readonly factor: number;
  readonly amount: number;
}

/** The two noses that a nose is set against, on the straight line through them. */
function besides(nose: Nose, a: Nose, b: Nose): readonly [Beside, Beside] {
  const t = shareBetween(a, b, nose);
  const beside = (other: Nose, factor: number): Beside => ({
    nose: other,
    factor,
    amount: factor * fromNominal(other),
  });
  return [beside(a, -(1 - t)), beside(b, -t)];
}

/** Why a nose kinks: a neighbour is one cause whole, to be put right there or not at all. */
export function kinkCauses(skeleton: Skeleton, f: Finding): Explanation | undefined {
  const noses = nosesOf(skeleton, 'straight');
  const i = noses.findIndex((n) => n.bay.station.id === f.station);
  const [nose, a, b] = [noses[i], noses[i - 1], noses[i + 1]];
  if (!nose || !a || !b) return undefined;
  const others = besides(nose, a, b);
  const links = [...noseLinks(skeleton, nose, 1), ...others.flatMap((o) => asNeighbour(skeleton, o))];
  const source = others.find((o) => o.nose.bay.station.id === f.echoOf);
  if (!source) return whyOff(skeleton, f, nose, links, others);
  return {
    list: gather(skeleton.model, f, links, PROUD),
    notes: notesOn(skeleton, nose),
    check: undefined,
    sentence: echo(skeleton.model, nose, source),
  };
}

/** Why a nose is off the line through the two end noses; an end nose, off its own drawing. */
export function lineCauses(skeleton: Skeleton, f: Finding): Explanation | undefined {
  const { model } = skeleton;
  const noses = nosesOf(skeleton, 'straight');
  const nose = noses.find((n) => n.bay.station.id === f.station);
  const [first, last] = [noses[0], noses.at(-1)];
  if (!nose || !first || !last) return undefined;
  const own = noseLinks(skeleton, nose, 1);
  if (nose === first || nose === last) {
    const list = gather(model, f, own, PROUD);
    return { list, notes: [], check: toTell(skeleton, f, own, list), sentence: leading(model, f, list, PROUD) };
  }
  const ends = besides(nose, first, last);
  const links = [...own, ...ends.flatMap((e) => noseLinks(skeleton, e.nose, e.factor))];
  return whyOff(skeleton, f, nose, links, ends);
}

function whyOff(
  skeleton: Skeleton,
  f: Finding,
  nose: Nose,
  links: readonly Link[],
  others: readonly [Beside, Beside],
): Explanation {
  const { model } = skeleton;
  const list = gather(model, f, links, PROUD);
  const masked = hidden(model, f, nose, others);
  return {
    list,
    notes: notesOn(skeleton, nose),
    check: toTell(skeleton, f, links, list, masked),
    sentence: masked ?? leading(model, f, list, PROUD),
  };
}

function asNeighbour(skeleton: Skeleton, { nose, factor }: Beside): Link[] {
  const v = fromNominal(nose);
  const stands = Math.abs(v) < UNSEEN ? '' : `, ${standing(skeleton.model, v)},`;
  const what = `the neighbour ${nose.mark}${stands}`;
  return noseLinks(skeleton, nose, factor).map((l): Link => ({ ...l, kind: 'neighbour', what }));
}

/** How a nose stands by itself: `as drawn`, `0.60 mm proud of its drawing`. */
const standing = (model: Model, v: number): string =>
  Math.abs(v) < UNSEEN ? 'as drawn' : `${show(model, Math.abs(v))} ${side(v, PROUD)} of its drawing`;

function echo(model: Model, nose: Nose, { nose: source, amount }: Beside): string {
  const own = standing(model, fromNominal(nose));
  const theirs = standing(model, fromNominal(source));
  const made = `${show(model, Math.abs(amount))} ${side(amount, PROUD)}`;
  return `${nose.mark} only echoes ${source.mark}: ${nose.mark} itself stands ${own}; ${source.mark}, ${theirs}, makes it ${made}. Never cure an echo: put ${source.mark} right.`;
}

/**
 * A nose that seems right, or better than it is, because another one is wrong the same way; undefined where that is
 * not so.
 */
function hidden(model: Model, f: Finding, nose: Nose, [a, b]: readonly [Beside, Beside]): string | undefined {
  const own = fromNominal(nose);
  const quiet = quietKink(model);
  const worst = Math.abs(b.amount) > Math.abs(a.amount) ? b : a;
  if (Math.abs(own) <= quiet || Math.abs(f.value) >= 0.5 * Math.abs(own) || worst.amount * own >= 0) return undefined;
  const { mark } = nose;
  const theirs = worst.nose.mark;
  const without = f.value - worst.amount;
  const [low, high] = f.limits.fits;
  const good = (low === null || f.value >= low) && (high === null || f.value <= high) ? 'good' : 'better than it is';
  const stand = `${mark} stands ${standing(model, own)} and ${theirs} ${standing(model, fromNominal(worst.nose))}`;
  const then = `${mark} is ${show(model, Math.abs(without))} ${side(without, PROUD)}`;
  return `${mark} looks ${good} because ${theirs} is wrong: ${stand}. Put ${theirs} right and ${then}.`;
}

const notesOn = (skeleton: Skeleton, nose: Nose): string[] => [
  ...bowNote(skeleton, nose),
  ...chordNote(skeleton, nose),
];

/** The bow's part, which a straight spar hides: said where it changes what the eye sees. */
function bowNote(skeleton: Skeleton, nose: Nose): string[] {
  const { model } = skeleton;
  const bow = best(departure(skeleton, 'front', 'bow', nose.bay));
  if (nose.direct || Math.abs(bow) < SLIGHT_BOW) return [];
  const bowed = fromNominal(nose) + bow;
  const looks = Math.abs(bowed) < UNSEEN ? 'right' : `${show(model, Math.abs(bowed))} ${side(bowed, PROUD)}`;
  const way = bow > 0 ? 'forward' : 'aft';
  return [
    `With the spar bowed ${show(model, Math.abs(bow))} ${way} there, ${nose.mark} looks ${looks}: hold the spar straight before judging.`,
  ];
}

/** What clamping will do to a nose: a rib short between the webs pulls the spar aft, one too long props it forward. */
function chordNote(skeleton: Skeleton, { bay, mark }: Nose): string[] {
  const { model } = skeleton;
  if (!bay.main || !bay.nose || !model.spars.rear) return [];
  const gap = best(chordGapChain(skeleton, bay, bay.main, 'straight'));
  const { fits } = limitFor(model, 'chord-gap');
  if (gap >= (fits[0] ?? gap) && gap <= (fits[1] ?? gap)) return [];
  const [is, way] = gap < 0 ? ['long', 'forward'] : ['short', 'aft'];
  return [
    `${bay.main.id} is ${show(model, Math.abs(gap))} ${is} between the webs: clamped, it takes the front spar, and ${mark} with it, up to that much ${way}.`,
  ];
}
