import { boxPairs, sharedIn } from '../../src/checks/overlap.ts';
import { type Kernel, openKernel } from '../../src/geometry/kernel.ts';
import { applyEdit, measure } from '../../src/model/edits.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/skeleton.ts';
import { type PlacedSolid, solidsOf } from '../../src/parts/solids.ts';
import { repeated } from './repeat.ts';

/*
 * Figures for the solids: a full build, a rebuild after one reading, every pair asked for what it shares once all are built,
 * and what 200 readings leave in memory. The kernel remembers equal recipes, so a fresh panel is made by moving it a little.
 */

const partsOf = (model: Model): readonly PlacedSolid[] => solidsOf(skeletonOf(model), { magnify: 1 });

/** The same panel with every rib a thousandth longer than last time: nothing of it has been built before. */
let turn = 0;
function fresh(base: Model): Model {
  turn++;
  return { ...base, sheets: base.sheets.map((s) => ({ ...s, thickness: s.thickness + turn * 1e-6 })), readings: base.readings.filter((r) => !r.size.startsWith('sheet.')) };
}

function timed(job: () => void): number {
  const t = performance.now();
  job();
  return performance.now() - t;
}

const build = (kernel: Kernel, parts: readonly PlacedSolid[]): void => kernel.together(() => { for (const p of parts) kernel.build(p.solid); });

function edited(model: Model, value: number): Model {
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  const done = applyEdit(model, measure(model, key, [value], { instrument: 'caliper' }));
  if (!done.ok) throw new Error(done.faults[0]?.sentence);
  return done.model;
}

const megabytes = (): number => process.memoryUsage().rss / 1e6;

export async function solids(base: Model): Promise<void> {
  const kernel = await openKernel();
  build(kernel, partsOf(fresh(base)));
  console.log('\nsolids, panel A repeated  stations  parts  pairs   build ms  one edit ms  every pair ms');
  const points: [number, number][] = [];
  for (const n of [8, 80]) {
    const model = fresh(repeated(base, n));
    const parts = partsOf(model);
    const whole = timed(() => build(kernel, parts));
    const again = timed(() => build(kernel, partsOf(edited(model, 83.2))));
    const other = partsOf(fresh(repeated(base, n)));
    const { pairs, shared } = kernel.together(() => {
      build(kernel, other);
      return { pairs: boxPairs(other, kernel).length, shared: timed(() => sharedIn(other, kernel)) };
    });
    points.push([Math.log(model.stations.length), Math.log(shared)]);
    console.log(`${String(model.stations.length).padStart(33)}${String(parts.length).padStart(7)}${String(pairs).padStart(7)}${whole.toFixed(0).padStart(11)}${again.toFixed(0).padStart(13)}${shared.toFixed(0).padStart(15)}`);
  }
  const [[x1, y1], [x2, y2]] = points as [[number, number], [number, number]];
  console.log(`growth exponent of every pair, 8 to 80 stations: ${((y2 - y1) / (x2 - x1)).toFixed(3)} (aim: at most 1.15)`);
  memory(kernel, base);
}

function memory(kernel: Kernel, base: Model): void {
  let model = base;
  const edit = (k: number): void => {
    model = edited(model, 83 + k * 1e-3);
    build(kernel, partsOf(model));
  };
  for (let k = 0; k < 20; k++) edit(k);
  const before = megabytes();
  for (let k = 20; k < 220; k++) edit(k);
  console.log(`memory after 200 more edits of panel A: ${(megabytes() - before).toFixed(0)} MB more than the ${before.toFixed(0)} MB before`);
}
