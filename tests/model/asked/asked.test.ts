import { describe, expect, test } from 'vitest';
import { doubtsOff } from '../../../src/chains/neighbours.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { gatesOf } from '../../../src/drilling/gates.ts';
import { alongAt } from '../../../src/model/along.ts';
import { expectedOf, groupsOf, type Readings } from '../../../src/model/asked/askedOf.ts';
import { exchanged } from '../../../src/model/asked/slip.ts';
import { applyEdit, confirmSize, measure, takeReadings } from '../../../src/model/edits/edits.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import { QUANTITIES } from '../../../src/model/quantities.ts';
import type { Model, Reading } from '../../../src/model/schema.ts';
import { askedOf, instrumentUncertainty, sizeBook, sizeEntries } from '../../../src/model/sizes.ts';
import { STARTS, startPanel } from '../../../src/model/starts/starts.ts';
import { packsUnder } from '../../../src/truing/packing.ts';
import { COUNTS } from '../../counts.ts';
import { Draw, randomPanel } from '../../random-panel.ts';
import { changed, PANELS, panel, readAs, reading } from '../panels.ts';

/*
 * Slips where no drawing says what a size is: each reading is held to its neighbours. The laws go over honest surveys, made
 * up with the waves, twists and wanders of a real bench, and over slips planted in them.
 */

const questions = (m: Model): string[] => [...askedOf(m).values()].map((a) => a.question);

describe('a slip among heights', () => {
  const slipped = changed(panel('narrow-tail'), (m) => {
    reading(m, 'height.rear@S5').value *= 10;
  });

  test('is asked about, with what its neighbours say and what it may be', () => {
    expect(questions(slipped)).toEqual([
      'The height of the rear spar over the bench at S5 reads 768.00 mm where its neighbours say about 77.11 mm: a slipped decimal?',
    ]);
  });

  test('is kept as it was read, in the panel and in its file', () => {
    expect(sizeBook(slipped).find('height.rear@S5')?.best).toBeCloseTo(768, 9);
    const read = parseModel(writeModel(slipped));
    expect(read.ok && reading(read.model, 'height.rear@S5').value).toBeCloseTo(768, 9);
  });

  test('whatever rests on it says so, never fits, and lets no gate say yes; all else is as it was', () => {
    const before = new Map(checkAll(panel('narrow-tail')).map((f) => [f.id, f]));
    const resting = checkAll(slipped).filter((f) => f.restsOn.some((t) => t.size.key === 'height.rear@S5'));
    expect(resting.length).toBeGreaterThan(2);
    for (const f of resting) {
      expect(f.sentence).toMatch(/In doubt: The height of the rear spar over the bench at S5 reads 768\.00 mm/);
      expect(f.basis).toBe('asked');
      expect(['act', 'unsettled']).toContain(f.verdict);
    }
    for (const f of checkAll(slipped))
      if (!f.at.way && !resting.includes(f)) expect(f.sentence, f.id).toBe(before.get(f.id)?.sentence);
    const whole = checkAll(slipped).find((f) => f.place === 'whole panel by heights')!;
    expect(whole.sentence).not.toMatch(/1[0-9]{2}\.\d+°/);
    expect(packsUnder(slipped, 'front')?.sentences[0]).toMatch(
      /^In doubt: The height of the rear spar .* Settle that before/,
    );
    const twist = gatesOf(slipped)[0]!.items.find((i) => i.name === 'the twist is out')!;
    expect(twist.answer).not.toBe('yes');
  });

  test('said to be so it is asked about no more', () => {
    const done = applyEdit(slipped, confirmSize(slipped, 'height.rear@S5'));
    expect(done.ok && questions(done.model)).toEqual([]);
  });
});

describe('a slip on the bench map', () => {
  test('601 for a height beside a bench of 60.2: both are asked about', () => {
    const m = changed(panel('narrow-tail'), (copy) => {
      readAs(copy, 'height.rear@S5', 601, 'stand');
      readAs(copy, 'bench.rear@S5', 60.2, 'straightedge');
    });
    expect(questions(m).map((q) => q.split(' where ')[0])).toEqual([
      'The height of the rear spar over the bench at S5 reads 601.00 mm',
      'The bench under the rear spar at S5 reads 60.20 mm',
    ]);
  });

  test('the first reading of all is held to what is usual', () => {
    const m = changed(panel('plain'), (copy) => {
      copy.readings = [{ size: 'bench.front@S2', value: 60.2, instrument: 'straightedge' }];
    });
    expect(questions(m)).toEqual([
      'The bench under the front spar at S2 reads 60.20 mm where about 0.00 mm is usual: a slipped decimal?',
    ]);
  });

  test('two heights of one spar and one of the other are held to one another', () => {
    const m = changed(panel('plain'), (copy) => {
      copy.readings = [
        { size: 'height.front@S2', value: 60.1, instrument: 'stand' },
        { size: 'height.front@S3', value: 60.3, instrument: 'stand' },
        { size: 'height.rear@S2', value: 751, instrument: 'stand' },
      ];
    });
    expect(questions(m)).toHaveLength(1);
    expect(questions(m)[0]).toMatch(/rear spar over the bench at S2 reads 751\.00 mm .* a slipped decimal\?$/);
  });
});

describe('when it is entered', () => {
  const A = panel('narrow-tail');
  test('the question comes back, nothing is taken, and a yes takes it', () => {
    const asked = applyEdit(A, measure(A, 'height.rear@S5', [768], { instrument: 'stand' }));
    expect(asked.ok).toBe(false);
    if (!asked.ok) {
      expect(asked.faults.map((f) => f.path)).toEqual(['readings[0].value']);
      expect(asked.faults[0]!.question).toMatch(/: a slipped decimal\?$/);
      expect(asked.faults[0]!.sentence).toMatch(/expected .*; correct the number/);
    }
    const sure = applyEdit(A, measure(A, 'height.rear@S5', [768], { instrument: 'stand', sure: true }));
    expect(sure.ok && questions(sure.model)).toEqual([]);
  });

  test('of a table the line that slipped is named', () => {
    const table: Reading[] = ['S4', 'S5', 'S6'].map((s) => ({
      size: `height.rear@${s}`,
      value: s === 'S5' ? 7.68 : 76.8,
      instrument: 'stand',
    }));
    const asked = applyEdit(A, takeReadings(table));
    expect(asked.ok ? [] : asked.faults.map((f) => f.path)).toEqual(['readings[1].value']);
  });

  test('a right reading is not refused for a slip that stands beside it', () => {
    const slipped = changed(A, (m) => {
      reading(m, 'height.rear@S4').value *= 25.4;
    });
    const done = applyEdit(slipped, measure(slipped, 'height.rear@S5', [76.9], { instrument: 'stand' }));
    expect(done.ok && questions(done.model)).toHaveLength(1);
  });
});

test('figures exchanged, every way', () => {
  expect(exchanged(60.1, 1).sort((a, b) => a - b)).toEqual([6.1, 61]);
  expect(exchanged(-12, 0)).toEqual([-21]);
});

/** A bench, a panel on it and holes in it as they are: smooth, but not straight; true, but not quite. */
function honest(model: Model, d: Draw): Model {
  const normal = (sd: number): number =>
    sd * Math.sqrt(-2 * Math.log(Math.max(d.next(), 1e-12))) * Math.cos(2 * Math.PI * d.next());
  const wave = (high: number): ((y: number) => number) => {
    const [a, long, from] = [d.between(0, high), d.between(900, 3000), d.between(0, 6)];
    return (y) => a * Math.sin((2 * Math.PI * y) / long + from);
  };
  const bench = { front: wave(1.5), rear: wave(1.5) };
  const [bow, camber] = [
    { front: wave(2), rear: wave(2) },
    { front: wave(2), rear: wave(2) },
  ];
  const first = model.stations[0]!.y;
  const span = model.stations.at(-1)!.y - first;
  const [twisted, high] = [d.between(-0.5, 0.5), d.between(40, 120)];
  const places = new Map(model.stations.map((s) => [s.id, s]));
  const turns = new Map(
    model.stations.map((s) => [s.id, s.washout + (twisted * (s.y - first)) / Math.max(span, 1) + normal(0.12)]),
  );
  const shifts = new Map<string, number>();
  const shiftOf = (row: string): number => {
    const had = shifts.get(row) ?? normal(0.3);
    shifts.set(row, had);
    return had;
  };
  const readings: Reading[] = [];
  for (const e of sizeEntries(model).values()) {
    if (e.nominal !== undefined || d.chance(0.2)) continue;
    const s = places.get(e.of.station ?? '');
    const spar = e.of.spar ?? 'front';
    const radians = ((turns.get(s?.id ?? '') ?? 0) * Math.PI) / 180;
    const heightOver = (): number => {
      const rear =
        spar === 'rear'
          ? alongAt(model.survey.rearHigher, s!.y) - Math.sin(radians) * alongAt(model.webToWeb, s!.y)
          : 0;
      return high + rear - bench[spar](s!.y) + camber[spar](s!.y) + normal(0.2);
    };
    const TRUE: Readonly<Record<string, () => number>> = {
      bench: () => bench[spar](s!.y),
      heightOver,
      level: () => turns.get(s!.id)!,
      plumb: () => Math.tan(radians) * 300,
      bow: () => bow[spar](s!.y) + normal(0.25),
      camber: () => camber[spar](s!.y) + normal(0.25),
      lean: () => normal(0.8),
      skew: () => normal(1),
      droop: () => normal(0.12),
      open: () => normal(0.12),
      bias: () => normal(0.25),
      offset: () => shiftOf(`${e.of.joint} ${e.of.layer} ${e.of.axis}`) + normal(0.15),
      edge: () => 7 + shiftOf(`${e.of.joint} ${e.of.layer} edge`) + normal(0.2),
    };
    const is = TRUE[e.kind];
    if (!is) continue;
    const instrument = d.one(Object.keys(QUANTITIES[e.kind].u));
    const u = instrumentUncertainty(model, e.kind, instrument) ?? 0;
    readings.push({ size: e.key, value: Math.round((is() + normal(u)) * 100) / 100, instrument });
  }
  return { ...model, readings };
}

const STARTED = STARTS.flatMap((start) => {
  const made = startPanel(start, {});
  return made.ok ? [made.model] : [];
});
const survey = (seed: number): { readonly model: Model; readonly d: Draw } => {
  const d = new Draw(seed);
  const bare = d.chance(0.5) ? d.one([...STARTED, ...PANELS.map(panel)]) : randomPanel(seed);
  return { model: honest(bare, d), d };
};
const readingsOf = (model: Model): Readings => ({
  model,
  entries: sizeEntries(model),
  uOf: (kind, instrument) => instrumentUncertainty(model, kind, instrument) ?? 0,
});

describe('laws', () => {
  test.each(PANELS)('%s: none of its readings is asked about', (name) => expect(questions(panel(name))).toEqual([]));

  test('panels of every kind as they are made up for the other laws: no more than one reading in a thousand', () => {
    let [asked, of] = [0, 0];
    for (let seed = 1; seed <= COUNTS.panels; seed++) {
      const model = randomPanel(seed);
      asked += askedOf(model).size;
      of += model.readings.length;
    }
    expect(asked / of).toBeLessThan(0.001);
  });

  test('honest surveys: no more than one reading in a thousand is asked about', () => {
    let [asked, of] = [0, 0];
    for (let seed = 1; seed <= COUNTS.panels; seed++) {
      const { model } = survey(seed);
      asked += askedOf(model).size;
      of += model.readings.length;
    }
    console.log(`${asked} of ${of} honest readings asked about`);
    expect(asked / of).toBeLessThan(0.001);
  });

  test('a planted slip that is further off than five doubts is asked about, and hardly another reading beside it', () => {
    let [planted, others] = [0, 0];
    const slips: readonly ((v: number, d: Draw) => number)[] = [
      (v) => v * 10,
      (v) => v / 10,
      (v) => v * 25.4,
      (v) => v / 25.4,
      (v, d) => d.one([v, ...exchanged(v)]),
    ];
    for (let seed = 1; seed <= 4 * COUNTS.panels; seed++) {
      const { model, d } = survey(seed);
      const group = d.one([...groupsOf(readingsOf(model)).values()]);
      const one = d.one(group);
      const value = d.one(slips)(one.reading.value, d);
      const row = group.filter((o) => o.row === one.row);
      const expected = expectedOf(one, row, group);
      if (!expected || doubtsOff({ ...one, value: value - one.drawn }, expected) <= 5) continue;
      planted++;
      const slipped = { ...one.reading, value };
      const found = askedOf({ ...model, readings: model.readings.map((r) => (r === one.reading ? slipped : r)) });
      expect(found.get(slipped)?.reading.value, `${seed}: ${one.reading.size} ${one.reading.value} as ${value}`).toBe(
        value,
      );
      others += found.size - 1;
    }
    console.log(`${planted} planted slips found, ${others} others asked about`);
    expect(planted).toBeGreaterThan(COUNTS.panels / 10);
    expect(others / planted).toBeLessThan(0.05);
  });
});
