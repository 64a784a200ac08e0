import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { alongAt } from '../../model/along.ts';
import { limitFor } from '../../model/limits.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { sparOf, stepSumChain } from '../../parts/layout/meeting.ts';
import { atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';
import { endName } from './capGap.ts';
import { feelerHere } from './disagreement.ts';

/*
 * Asks: where the skin runs from the cap onto the rib, is there a step? (C15)
 * Top and bottom steps add up to spar depth - (rib end height + 2 × joggle); how they share it is where the rib is held.
 * Positive: cap proud, the skin draws down to the rib, the preferred sign. Negative: rib proud, the skin is tented.
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

function stepFinding(
  skeleton: Skeleton,
  place: RibPlace,
  restsOn: Chain,
  where: 'top' | 'bottom' | 'each side',
): Finding {
  const { model } = skeleton;
  const name = endName(place);
  const { note: felt, disputed, ...feeler } = feelerHere(skeleton, place.bay, [`step.${place.key}`]);
  const settle = felt === undefined ? `${SETTLES} at ${name} end.` : undefined;
  const run = alongAt(sparOf(skeleton, place.spar).capWidth, place.bay.station.y) / 2;
  return judge({
    ...feeler,
    check: 'skin-step',
    at: { ...atEnd(place), side: where === 'each side' ? undefined : where },
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
      const bias = best(stepSumChain(skeleton, place)) / 2;
      const todo = where === 'each side' ? undefined : `Held in the middle both steps would be ${show(model, bias)}.`;
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
    if (place.spec.ends !== 'nests') continue;
    const { top, bottom, held } = stepChains(skeleton, place);
    if (!held) yield stepFinding(skeleton, place, top, 'each side');
    else {
      yield stepFinding(skeleton, place, top, 'top');
      yield stepFinding(skeleton, place, bottom, 'bottom');
    }
  }
}
