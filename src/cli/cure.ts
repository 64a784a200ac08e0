import { performance } from 'node:perf_hooks';
import type { Model } from '../model/schema.ts';
import { curePlain, cureText } from '../remedies/search/cureText.ts';
import { leastWork } from '../remedies/search/leastWork.ts';
import { placementsOf } from '../remedies/search/placement.ts';
import { finished } from '../remedies/steps.ts';
import { BadCall } from './badCall.ts';

/* What puts it right? The search in the terminal, stopped by the clock; 0 when some plan leaves nothing at act, else 1. */

const SECONDS = 60;

function number(flags: ReadonlyMap<string, string>, flag: string, start: number, least: number): number {
  const text = flags.get(flag);
  if (text === undefined) return start;
  const n = Number(text);
  if (!Number.isFinite(n) || n < least)
    throw new BadCall(
      `"${flag} ${text}" is not a number of ${least} or more; expected one, such as "${flag} ${start}"; correct it`,
    );
  return n;
}

export function runCure(model: Model, flags: ReadonlyMap<string, string>): number {
  const plans = Math.floor(number(flags, '--plans', 6, 1));
  const until = performance.now() + 1000 * number(flags, '--seconds', SECONDS, 0);
  const outcome = finished(leastWork(model, { plans: plans + 1, stop: () => performance.now() > until }));
  const placements = performance.now() > until ? [] : placementsOf(model);
  const text = flags.has('--json')
    ? JSON.stringify(curePlain(model, outcome, placements), null, 1)
    : cureText(model, outcome, placements);
  process.stdout.write(`${text}\n`);
  return outcome.plans.some((p) => p.tally.beyond === 0) ? 0 : 1;
}
