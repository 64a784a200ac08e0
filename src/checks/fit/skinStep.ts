import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { alongAt } from '../../model/along.ts';
import { limitFor } from '../../model/limits.ts';
import type { SparName, TipRib } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { sparOf, stepSumChain, tipStepChain } from '../../parts/layout/meeting.ts';
import { type At, atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';
import { endName } from './capGap.ts';
import { feelerHere } from './disagreement.ts';

/*
 * Asks: where the skin runs from the cap onto the rib, is there a step? (C15)
 * Top and bottom steps add up to spar depth - (rib end height + 2 × joggle); how they share it is where the rib is
 * held. Positive: cap proud, the skin draws down to the rib, the preferred sign. Negative: rib proud, the skin is
 * tented. Asked at every end, nesting or butting, and where a tip rib in one piece passes the front spar.
 */

/** Step at the top and at the bottom, by where the rib is held; evenly shared where that was not read. */
export function stepChains(skeleton: Skeleton, place: RibPlace): { top: Chain; bottom: Chain; held: boolean } {
  const half = combine([0.5, stepSumChain(skeleton, place)]);
  const bias = skeleton.book.find(`${place.key}.bias`);
  if (!bias) return { top: half, bottom: half, held: false };
  return {
    top: combine([1, half], [-1, chain([1, bias])]),
    bottom: combine([1, half], [1, chain([1, bias])]),
    held: true,
  };
}

const SETTLES = 'Or lay a straightedge over cap and rib and feel the steps with leaves, top and bottom,';

/** Where a skin crosses from a cap onto a rib. */
interface Crossing {
  readonly bay: Bay;
  readonly spar: SparName;
  /** Part and end: `M2 front`. */
  readonly name: string;
  /** Key of the steps felt there. */
  readonly felt: string;
  readonly at: At;
  /** Both steps together. */
  readonly sum: Chain;
  /** What a hand does about it where no piece or bias does. */
  readonly byHand?: string;
}

const crossingAt = (skeleton: Skeleton, place: RibPlace): Crossing => ({
  bay: place.bay,
  spar: place.spar,
  name: endName(place),
  felt: `step.${place.key}`,
  at: atEnd(place),
  sum: stepSumChain(skeleton, place),
});

const crossingOfTip = (skeleton: Skeleton, bay: Bay, tip: TipRib): Crossing => ({
  bay,
  spar: 'front',
  name: `${tip.id} front`,
  felt: `step.${tip.id}.front`,
  at: { station: bay.station.id, part: tip.id, end: 'front', spar: 'front' },
  sum: tipStepChain(skeleton, bay, tip),
  byHand: `Make ${tip.id} again to the spar's depth there: it runs past the spar in one piece.`,
});

function stepFinding(
  skeleton: Skeleton,
  { bay, spar, name, felt: feltKey, at: whereAt, sum, byHand }: Crossing,
  restsOn: Chain,
  where: 'top' | 'bottom' | 'each side',
): Finding {
  const { model } = skeleton;
  const { note: felt, disputed, ...feeler } = feelerHere(skeleton, bay, [feltKey]);
  const settle = felt === undefined ? `${SETTLES} at ${name} end.` : undefined;
  const run = alongAt(sparOf(skeleton, spar).capWidth, bay.station.y) / 2;
  return judge({
    ...feeler,
    check: 'skin-step',
    at: { ...whereAt, side: where === 'each side' ? undefined : where },
    place: where === 'each side' ? name : `${name} ${where}`,
    restsOn,
    limit: limitFor(model, 'skin-step'),
    sense: (v) => {
      if (Math.abs(v) < UNSEEN) return 'flush';
      return v < 0 ? 'rib proud' : 'cap proud';
    },
    say: (j) => {
      const at = where === 'each side' ? 'each side when centred' : `at the ${where}`;
      const flush = Math.abs(j.value) < UNSEEN;
      const what = j.value < 0 ? 'rib stands proud of the cap' : 'cap stands proud of the rib';
      const slope =
        Math.abs(j.value) > 0.05
          ? `A slope of 1 in ${Math.round(run / Math.abs(j.value))} over half the cap.`
          : undefined;
      const bias = best(sum) / 2;
      const todo = where === 'each side' ? byHand : `Held in the middle both steps would be ${show(model, bias)}.`;
      return sentence(
        model,
        j,
        flush
          ? `${name} end: cap and rib are flush ${at}`
          : `${name} end: the ${what} by ${show(model, Math.abs(j.value))} ${at}`,
        { note: [felt, j.verdict === 'fits' ? undefined : slope].filter(Boolean).join(' '), todo, settle, disputed },
      );
    },
  });
}

export function* skinStep(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const place of skeleton.placesAt(bay.station.id)) {
    const crossing = crossingAt(skeleton, place);
    const { top, bottom, held } = stepChains(skeleton, place);
    if (!held) yield stepFinding(skeleton, crossing, top, 'each side');
    else {
      yield stepFinding(skeleton, crossing, top, 'top');
      yield stepFinding(skeleton, crossing, bottom, 'bottom');
    }
  }
  if (!bay.tip) return;
  const crossing = crossingOfTip(skeleton, bay, bay.tip);
  yield stepFinding(skeleton, crossing, combine([0.5, crossing.sum]), 'each side');
}
