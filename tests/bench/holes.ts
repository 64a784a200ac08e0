import { checkAll } from '../../src/checks/checkAll.ts';
import { askHoles } from '../../src/checks/drill.ts';
import { gatesOf } from '../../src/checks/gates.ts';
import { ledgerOf } from '../../src/checks/ledger.ts';
import { tonight } from '../../src/checks/leaveAlone.ts';
import { applyEdit, type Edit, measure } from '../../src/model/edits.ts';
import { drilledThrough } from '../../src/model/rows.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/skeleton.ts';
import { repeated } from './repeat.ts';

/*
 * May I drill? on a long panel: 80 stations with 1,500 holes, and how the work grows. What a builder waits for is an edit
 * and the first answer after it.
 */

/** A long panel with three times the holes: two more beside each, 8 mm over and under it. */
export function manyHoles(base: Model, stations: number): Model {
  const long = repeated(base, stations);
  const joints = long.joints.map((j) => ({ ...j, holes: j.holes.flatMap((h) => [h, { ...h, id: `${h.id}a`, up: h.up + 8 }, { ...h, id: `${h.id}b`, up: h.up - 8 }]) }));
  return { ...long, joints };
}

/** The same panel with nothing remembered of it. */
const fresh = (m: Model): Model => ({ ...m, ribs: [...m.ribs], joints: m.joints.map((j) => ({ ...j })) });

function median(runs: number, job: () => number): number {
  job();
  const times = Array.from({ length: runs }, job).sort((a, b) => a - b);
  return times[Math.floor(runs / 2)]!;
}

const timed = (job: () => void): number => {
  const t = performance.now();
  job();
  return performance.now() - t;
};

export function holesBench(base: Model): void {
  console.log('\nmay I drill                     stations   holes   findings ms   holes ms   us/hole');
  const points: [number, number][] = [];
  for (const [stations, runs] of [[80, 5], [240, 3], [800, 1]] as const) {
    const model = manyHoles(base, stations);
    let holes = 0;
    const before = timed(() => checkAll(fresh(model)));
    const ms = median(runs, () => {
      const now = fresh(model);
      const skeleton = skeletonOf(now);
      checkAll(now);
      return timed(() => { holes = askHoles(skeleton).length; });
    });
    points.push([Math.log(stations), Math.log(ms)]);
    console.log(`${String(stations).padStart(40)}${String(holes).padStart(8)}${before.toFixed(1).padStart(14)}${ms.toFixed(1).padStart(11)}${((ms * 1000) / holes).toFixed(1).padStart(10)}`);
  }
  const [[x1, y1], [x2, y2]] = [points[0]!, points.at(-1)!];
  console.log(`growth exponent, 80 to 800 stations: ${((y2 - y1) / (x2 - x1)).toFixed(3)} (aim: at most 1.1)`);

  const after = (name: string, edit: (model: Model, i: number) => Edit): void => {
    let model = manyHoles(base, 80);
    tonight(askHoles(skeletonOf(model)));
    let i = 0;
    const ms = median(20, () => timed(() => {
      const done = applyEdit(model, edit(model, i++));
      if (!done.ok) throw new Error(done.faults[0]?.sentence);
      model = done.model;
      tonight(askHoles(skeletonOf(model)));
    }));
    console.log(`${name}, edit to answer, 80 stations: ${ms.toFixed(1)} ms (aim: under 100, a key's patience)`);
  };
  after('one height read', (m, i) => measure(m, m.readings.find((r) => r.size.endsWith('.front.height'))!.size, [83 + i / 100], { instrument: 'caliper' }));
  after('one hole drilled', (m, i) => { const j = m.joints[i % m.joints.length]!; return drilledThrough(j, j.holes[0]!.id, { parts: [j.layers.at(-1)!], state: 'pilot' }); });
  const model = manyHoles(base, 80);
  askHoles(skeletonOf(model));
  console.log(`gates and ledger on the same: ${timed(() => { gatesOf(model); ledgerOf(model); }).toFixed(1)} ms`);
}
