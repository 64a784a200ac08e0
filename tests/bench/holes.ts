import { checkAll } from '../../src/checks/checkAll.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { tonight } from '../../src/drilling/hold.ts';
import { ledgerOf } from '../../src/drilling/ledger.ts';
import { applyEdit, type Edit, measure } from '../../src/model/edits/edits.ts';
import { drilledThrough } from '../../src/model/edits/rows.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { afresh } from './afresh.ts';
import { repeated } from './repeat.ts';
import type { Row } from './rows.ts';
import { middle, PLAIN, plainLoop, timed } from './yardstick.ts';

/*
 * May I drill? on a long panel: 80 stations with 1,500 holes, and how the work grows. What a builder waits for is an edit
 * and the first answer after it.
 */

/** A long panel with three times the holes: two more beside each, 8 mm over and under it. */
function manyHoles(base: Model, stations: number): Model {
  const long = repeated(base, stations);
  const joints = long.joints.map((j) => ({
    ...j,
    holes: j.holes.flatMap((h) => [h, { ...h, id: `${h.id}a`, up: h.up + 8 }, { ...h, id: `${h.id}b`, up: h.up - 8 }]),
  }));
  return { ...long, joints };
}

/** A panel with another height read. */
function heightRead(model: Model, height: number): Model {
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  const done = applyEdit(model, measure(model, key, [height], { instrument: 'caliper' }));
  if (!done.ok) throw new Error(done.faults[0]?.sentence);
  return done.model;
}

/**
 * A height read, to every finding, gate and hole: against all of it worked out afresh, and against the findings alone. What
 * gates and holes rest on is kept a row and a station each, so they are to cost no more than the findings do.
 */
function readingRows(base: Model): Row[] {
  const gatesAndHoles = (m: Model): void => {
    gatesOf(m);
    askHoles(skeletonOf(m));
  };
  let model = manyHoles(base, 80);
  const all = middle(3, () => {
    const now = afresh(model);
    return timed(() => {
      checkAll(now);
      gatesAndHoles(now);
    });
  });
  checkAll(model);
  gatesAndHoles(model);
  const findings: number[] = [];
  const whole = middle(
    30,
    () => {
      const first = timed(() => {
        model = heightRead(model, 83 + findings.length / 100);
        checkAll(model);
      });
      findings.push(first);
      return first + timed(() => gatesAndHoles(model));
    },
    3,
  );
  const alone = findings.sort((a, b) => a - b)[findings.length >> 1]!;
  const row = { figure: whole, unit: 'ms', sense: 'time' } as const;
  return [
    {
      ...row,
      what: 'one height read, edit to findings, gates and holes',
      ratio: whole / all,
      against: 'the same afresh',
      note: 'aim under 100 ms',
    },
    {
      ...row,
      what: 'the same against its findings alone',
      ratio: whole / alone,
      against: 'edit to findings',
    },
  ];
}

export function holesRows(base: Model): Row[] {
  const loop = plainLoop();
  const rows: Row[] = [];
  const times: number[] = [];
  for (const [stations, runs] of [
    [80, 5],
    [800, 1],
  ] as const) {
    const model = manyHoles(base, stations);
    let holes = 0;
    const ms = middle(runs, () => {
      const now = afresh(model);
      const skeleton = skeletonOf(now);
      checkAll(now);
      return timed(() => {
        holes = askHoles(skeleton).length;
      });
    });
    times.push(ms);
    rows.push({
      what: `every hole asked, ${stations} stations`,
      figure: ms,
      unit: 'ms',
      ratio: ms / (stations === 80 ? loop : times[0]!),
      against: stations === 80 ? PLAIN : '80 stations',
      sense: 'time',
      note: `${holes} holes, ${((ms * 1000) / holes).toFixed(0)} us each`,
    });
  }
  const exponent = Math.log10(times[1]! / times[0]!);
  rows.push({
    what: 'growth exponent, 80 to 800 stations',
    figure: exponent,
    unit: '',
    ratio: exponent,
    against: 'in step with the panel',
    sense: 'amount',
    note: 'aim at most 1.1',
  });
  const after = (what: string, edit: (model: Model, i: number) => Edit): void => {
    let model = manyHoles(base, 80);
    tonight(askHoles(skeletonOf(model)));
    let i = 0;
    const ms = middle(20, () =>
      timed(() => {
        const done = applyEdit(model, edit(model, i++));
        if (!done.ok) throw new Error(done.faults[0]?.sentence);
        model = done.model;
        tonight(askHoles(skeletonOf(model)));
      }),
    );
    rows.push({
      what,
      figure: ms,
      unit: 'ms',
      ratio: ms / times[0]!,
      against: 'every hole asked, 80 stations',
      sense: 'time',
      note: 'aim under 100 ms',
    });
  };
  rows.push(...readingRows(base));
  after('one height read, edit to answer', (m, i) =>
    measure(m, m.readings.find((r) => r.size.endsWith('.front.height'))!.size, [83 + i / 100], {
      instrument: 'caliper',
    }),
  );
  after('one hole drilled, edit to answer', (m, i) => {
    const j = m.joints[i % m.joints.length]!;
    return drilledThrough(j, j.holes[0]!.id, { parts: [j.layers.at(-1)!], state: 'pilot' });
  });
  const model = manyHoles(base, 80);
  const lists = middle(3, () => {
    const now = afresh(model);
    askHoles(skeletonOf(now));
    return timed(() => {
      gatesOf(now);
      ledgerOf(now);
    });
  });
  rows.push({
    what: 'gates and ledger, 80 stations',
    figure: lists,
    unit: 'ms',
    ratio: lists / times[0]!,
    against: 'every hole asked, 80 stations',
    sense: 'time',
  });
  return rows;
}
