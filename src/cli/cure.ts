import { performance } from 'node:perf_hooks';
import { curePlain, cureText } from '../remedies/search/cureText.ts';
import { leastWork } from '../remedies/search/leastWork.ts';
import { placementsOf } from '../remedies/search/placement.ts';
import { finished } from '../remedies/steps.ts';
import { type Command, json } from './command.ts';
import { numberOf } from './flags.ts';

const PLANS = 6;
const SECONDS = 60;

/** What cures it? The search, stopped by the clock. Exit 1 where every plan leaves something beyond act. */
export const cureCommand: Command = {
  says: 'plans: the least work that makes it true, what each costs and leaves, what is proven; which rib goes where',
  flags: [
    { name: '--json', says: '{ panel, plans, conflicts, placements } with unrounded values' },
    {
      name: '--plans',
      value: 'N',
      wants: 'how many',
      says: `plans besides doing nothing, at most; ${PLANS} unless told`,
    },
    {
      name: '--seconds',
      value: 'S',
      wants: 'how long',
      says: `time for the search, seconds; ${SECONDS} unless told`,
    },
  ],
  run(model, flags) {
    const plans = Math.floor(numberOf(flags, '--plans', PLANS, 1));
    const until = performance.now() + 1000 * numberOf(flags, '--seconds', SECONDS, 0);
    const late = (): boolean => performance.now() > until;
    const outcome = finished(leastWork(model, { plans: plans + 1, stop: late }));
    const placements = late() ? [] : placementsOf(model);
    const text = flags.has('--json')
      ? json(curePlain(model, outcome, placements))
      : cureText(model, outcome, placements);
    return { text, code: outcome.plans.some((p) => p.tally.beyond === 0) ? 0 : 1 };
  },
};
