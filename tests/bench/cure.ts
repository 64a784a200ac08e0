import type { Model } from '../../src/model/schema.ts';
import { solveCore } from '../../src/remedies/core.ts';
import { leastWork } from '../../src/remedies/leastWork.ts';
import { byProgram, madeUp } from '../remedies/milp.ts';

/*
 * How long until the least work is found and proven: the exact core beside a general mixed-integer solver (HiGHS) on the
 * same made-up panels, and the whole search on panel A, choices asked of the checks included.
 */

/** Seconds the general solver is given for one panel. */
const PATIENCE = Number(process.env.PATIENCE ?? 60);

export async function cureBench(panelA: Model): Promise<void> {
  console.log('\nleast work proven: 8 choices a station     core ms   solver ms   solver / core');
  for (let i = 0; i < 20; i++) solveCore(madeUp(99 + i, 20, 8));
  await byProgram(madeUp(99, 4, 3), 10);
  for (const n of [8, 20, 40]) {
    const core = madeUp(n, n, 8);
    const times = Array.from({ length: 9 }, () => {
      const start = performance.now();
      solveCore(core);
      return performance.now() - start;
    });
    const ms = times.sort((a, b) => a - b)[4]!;
    const own = solveCore(core);
    const other = await byProgram(core, PATIENCE);
    const same = other.cost === undefined ? `not proven by the solver in ${PATIENCE} s` : other.cost === Math.round(own.cost) ? 'same cost' : `DIFFERENT: ${other.cost} and ${own.cost}`;
    console.log(`${`${n} stations`.padStart(40)}${ms.toFixed(1).padStart(12)}${other.ms.toFixed(0).padStart(12)}${`${other.cost === undefined ? '> ' : ''}${(other.ms / ms).toFixed(0)}`.padStart(16)}   ${same}`);
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
    console.log(`the whole search on panel A: ${((now - start) / 1000).toFixed(2)} s, ${steps} steps, the longest ${longest.toFixed(0)} ms, ${proven} of ${step.value.proofs.size} plans proven the best for their wish`);
    return;
  }
}
