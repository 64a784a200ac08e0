import { expect, test } from 'vitest';
import { best } from '../../src/chains/chain.ts';
import { stepChains } from '../../src/checks/fit/skinStep.ts';
import { limitFor } from '../../src/model/limits.ts';
import { capSplitChains } from '../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { bias } from '../../src/remedies/offers/bias.ts';
import { reachOf } from '../../src/remedies/reach.ts';
import { holdWords, moveToHold } from '../../src/tonight/held.ts';
import { panel } from '../model/panels.ts';

/* Where a rib end is best held, tried at every twentieth of a millimetre: the slow and obvious way. */

const model = panel('narrow-tail');
const rib = model.ribs.find((r) => r.id === 'M5');
if (rib?.kind !== 'main') throw new Error('M5 is a main rib');
const M5 = rib;

/** The worst of daylight and step, top and bottom, in its own limits, with M5's front held so far above the middle. */
function worst(above: number): number {
  const skeleton = skeletonOf(bias(model, M5, 'front', above).edit.apply(model));
  const place = skeleton.places.find((p) => p.key === 'M5.front');
  if (!place) throw new Error('M5 has a front end');
  const split = capSplitChains(skeleton, place);
  const step = stepChains(skeleton, place);
  const gaps = [split.top, split.bottom].map((f) => reachOf(best(f), limitFor(model, 'cap-split')));
  const steps = [step.top, step.bottom].map((f) => reachOf(best(f), limitFor(model, 'skin-step')));
  return Math.max(...gaps, ...steps);
}

test('nowhere is better than the middle', () => {
  const middle = worst(0);
  for (let i = -10; i <= 10; i++) expect(worst(i / 20), `${i / 20}`).toBeGreaterThanOrEqual(middle - 1e-9);
});

test('read 0.35 above the middle it is to go 0.35 lower; unread there is no number', () => {
  const at = (m: typeof model) => {
    const skeleton = skeletonOf(m);
    const place = skeleton.places.find((p) => p.key === 'M5.front');
    if (!place) throw new Error('M5 has a front end');
    return [moveToHold(skeleton, place), holdWords(skeleton, place)];
  };
  expect(at(bias(model, M5, 'front', 0.35).edit.apply(model))).toEqual([-0.35, '0.35 mm lower than it stands']);
  expect(at(model)).toEqual([undefined, undefined]);
});
