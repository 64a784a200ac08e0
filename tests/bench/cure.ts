import { cheapestBatten } from '../../src/mechanics/batten.ts';
import type { Model } from '../../src/model/schema.ts';
import { leastWork } from '../../src/remedies/search/leastWork.ts';
import { byProgram, madeUp } from '../mechanics/milp.ts';
import type { Row } from './rows.ts';
import { PLAIN, plainLoop } from './yardstick.ts';

/*
 * How long until the least work is found and proven: the exact core beside a general mixed-integer solver (HiGHS) on the
 * same made-up panels, and the whole search on panel A, choices asked of the checks included.
 */

/** `patience`: seconds the general solver is given for one panel. */
export async function cureRows(panelA: Model, patience: number): Promise<Row[]> {
  const loop = plainLoop();
  const rows: Row[] = [];
  for (let i = 0; i < 20; i++) cheapestBatten(madeUp(99 + i, 20, 8));
  await byProgram(madeUp(99, 4, 3), 10);
  for (const n of [8, 20, 40]) {
    const core = madeUp(n, n, 8);
    const times = Array.from({ length: 9 }, () => {
      const start = performance.now();
      cheapestBatten(core);
      return performance.now() - start;
    });
    const ms = times.sort((a, b) => a - b)[4]!;
    const own = cheapestBatten(core);
    rows.push({
      what: `least work proven, ${n} stations`,
      figure: ms,
      unit: 'ms',
      ratio: ms / loop,
      against: PLAIN,
      sense: 'time',
      note: '8 choices a station',
    });
    const other = await byProgram(core, patience);
    const compared =
      other.cost === Math.round(own.cost) ? 'same cost' : `DIFFERENT COST: ${other.cost} and ${own.cost}`;
    const same = other.cost === undefined ? `not proven by the solver in ${patience} s` : compared;
    rows.push({
      what: `the general solver (HiGHS), ${n} stations`,
      figure: other.ms,
      unit: 'ms',
      ...(other.cost === undefined ? {} : { ratio: other.ms / ms, against: 'our core' }),
      sense: 'time',
      note: other.cost === undefined ? `${same}: more than ${Math.round(other.ms / ms)} times our core` : same,
    });
  }
  const start = performance.now();
  let [steps, longest, last] = [0, 0, start];
  const search = leastWork(panelA);
  for (;;) {
    const step = search.next();
    const now = performance.now();
    [steps, longest, last] = [steps + 1, Math.max(longest, now - last), now];
    if (!step.done) continue;
    const proven = [...step.value.proofs.values()].filter((p) => p.proven).length;
    rows.push({
      what: 'the whole search on panel A',
      figure: now - start,
      unit: 'ms',
      ratio: (now - start) / loop,
      against: PLAIN,
      sense: 'time',
      note: `${proven} of ${step.value.proofs.size} plans proven the best for their objective`,
    });
    rows.push({
      what: 'its longest step, unheard',
      figure: longest,
      unit: 'ms',
      ratio: (longest * steps) / (now - start),
      against: 'its mean step',
      sense: 'time',
      note: `${steps} steps`,
    });
    return rows;
  }
}
