import { nextReadings } from '../../src/chance/nextReading.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { applyEdit, measure } from '../../src/model/edits/edits.ts';
import type { Model } from '../../src/model/schema.ts';
import { tonightOf } from '../../src/tonight/tonight.ts';
import { afresh } from './afresh.ts';
import { repeated } from './repeat.ts';
import type { Row } from './rows.ts';
import { least, middle, PLAIN, plainLoop, timed } from './yardstick.ts';

/** Every check of panel A repeated, how the work grows, what a keystroke costs, and the ranking of what to read next. */
export function checksRows(base: Model): Row[] {
  const loop = plainLoop();
  const rows: Row[] = [
    { what: 'the plain loop itself', figure: loop, unit: 'ms', sense: 'time', note: 'what the others are set against' },
  ];
  const times = new Map<number, number>();
  for (const [n, runs, warm] of [
    [8, 25, 10],
    [80, 9, 2],
    [800, 3, 1],
    [8000, 1, 0],
  ] as const) {
    const model = repeated(base, n);
    let found = 0;
    const ms = least(
      runs,
      () => {
        found = checkAll(afresh(model)).length;
      },
      warm,
    );
    times.set(n, ms);
    rows.push({
      what: `all checks, ${n} stations`,
      figure: ms,
      unit: 'ms',
      ratio: n === 8 ? ms / loop : ms / times.get(8)!,
      against: n === 8 ? PLAIN : '8 stations',
      sense: 'time',
      note: `${found} findings`,
    });
  }
  const exponent = Math.log(times.get(8000)! / times.get(80)!) / Math.log(100);
  rows.push({
    what: 'growth exponent, 80 to 8000 stations',
    figure: exponent,
    unit: '',
    ratio: exponent,
    against: 'in step with the panel',
    sense: 'amount',
    note: 'aim at most 1.1',
  });
  const key = keystroke(repeated(base, 80));
  rows.push({
    what: 'keystroke on 80 stations, edit to all findings',
    figure: key,
    unit: 'ms',
    ratio: key / times.get(80)!,
    against: 'all checks, 80 stations',
    sense: 'time',
    note: `${(key / 16.7).toFixed(2)} of a frame, aim under 1`,
  });
  const model = repeated(base, 80);
  const findings = checkAll(model);
  const rank = least(5, () => void nextReadings(model, findings));
  rows.push({
    what: 'which reading next, 80 stations',
    figure: rank,
    unit: 'ms',
    ratio: rank / times.get(80)!,
    against: 'all checks, 80 stations',
    sense: 'time',
    note: 'aim under 100 ms',
  });
  const list = tonightAfterReading(model);
  rows.push({
    what: 'what first tonight, 80 stations, after a reading',
    figure: list,
    unit: 'ms',
    ratio: list / times.get(80)!,
    against: 'all checks, 80 stations',
    sense: 'time',
    note: 'aim under 250 ms, checks and gates included',
  });
  return rows;
}

/** A size read a little otherwise, then the list anew: the middle of seven. */
function tonightAfterReading(long: Model): number {
  let model = long;
  tonightOf(model);
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  let v = 83.1;
  return middle(7, () =>
    timed(() => {
      v += 0.01;
      const done = applyEdit(model, measure(model, key, [v], { instrument: 'caliper' }));
      if (!done.ok) throw new Error(done.faults[0]?.sentence);
      model = done.model;
      tonightOf(model);
    }),
  );
}

function keystroke(long: Model): number {
  let model = long;
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  let v = 83.1;
  checkAll(model);
  return middle(
    40,
    () =>
      timed(() => {
        v += 0.01;
        const done = applyEdit(model, measure(model, key, [v], { instrument: 'caliper' }));
        if (!done.ok) throw new Error(done.faults[0]?.sentence);
        model = done.model;
        checkAll(model);
      }),
    3,
  );
}
