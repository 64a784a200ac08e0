import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { onPaper } from '../../../src/drilling/onPaper.ts';
import { openKernel } from '../../../src/geometry/kernel.ts';
import { alongAt } from '../../../src/model/along.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Model } from '../../../src/model/schema.ts';
import { readAnswer } from '../../../src/model/starts/answered.ts';
import { type AnswerValue, askedBy, complete, type Start, type StartAnswers } from '../../../src/model/starts/asked.ts';
import { easesMeant, ribMade } from '../../../src/model/starts/eased.ts';
import { STARTS, startPanel } from '../../../src/model/starts/starts.ts';
import { TAPERED_TAIL } from '../../../src/model/starts/taperedTail.ts';
import { WING_PANEL } from '../../../src/model/starts/wing.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { solidsOf } from '../../../src/parts/placed/solids.ts';
import { COUNTS } from '../../counts.ts';
import { Draw } from '../../random-panel.ts';

/*
 * What a start must do: whatever is answered, either a doubt is said at its question or the panel is whole, reads back, and
 * on paper every finding fits, unless a rib was answered smaller than fits. That is the promise itself, asked of the checks, which have tests of their own. The sizes of
 * panel B come from its table, worked by a script that shares nothing with this program.
 */

const { panels: MANY } = COUNTS;

/** One question answered by chance: near the usual, anywhere likely, or the usual itself. */
function answer(
  d: Draw,
  id: string,
  kind: string,
  usual: AnswerValue,
  range: readonly [number, number],
  choices: readonly (readonly [string, string])[],
): AnswerValue {
  if (kind === 'choice') return d.one(choices)[0];
  if (typeof usual !== 'number') return usual;
  if (kind === 'count') return Math.round(d.between(Math.max(range[0], usual - 3), usual + 6));
  if (id.endsWith('Radius')) return d.one([0, 0, d.between(9, 10)]);
  // A row nearer to the web than usual leaves no room for the head beside the bend: that is a doubt of its own, tried apart.
  if (id === 'row') return d.between(usual, 1.3 * usual);
  if (/^ease/.test(id)) return d.between(range[0], range[1]);
  return Math.min(Math.max(d.between(0.8 * usual, 1.3 * usual), range[0]), range[1]);
}

function randomAnswers(start: Start, seed: number): StartAnswers {
  const d = new Draw(seed);
  const all: Record<string, AnswerValue> = { ...complete(start, {}) };
  for (const q of start.groups.flatMap((g) => g.questions)) {
    if (q.kind === 'text' || q.kind === 'places') continue;
    if (d.chance(0.3)) continue;
    all[q.id] = answer(d, q.id, q.kind, q.usual, [q.least ?? -1e9, q.fits ?? q.most ?? 1e9], q.choices ?? []);
  }
  for (const id of ['frontDepth', 'rearDepth', 'webs', 'nose']) {
    const [root, tip] = [all[id], all[`${id}Tip`]];
    if (typeof root === 'number' && typeof tip === 'number' && d.chance(0.8)) all[`${id}Tip`] = Math.min(root, tip);
  }
  // A row as the trade lays it: 4 to 8 diameters apart (NAVEDTRA 14018), 2 D and more to the edge.
  all.pitch = d.between(4.01, 7.99) * Number(all.rivet);
  all.row = Math.min(Number(all.row), Number(all.tab) - 2 * Number(all.rivet));
  if (d.chance(0.4)) {
    let y = d.between(-200, 300);
    all.places = Array.from({ length: Math.floor(d.between(2, 9)) }, () => (y += d.between(120, 420)));
  }
  // A larger rivet comes with a row further from the bend and a wider flange.
  const rivet = Number(all.rivet);
  if (rivet > 3.2 && d.chance(0.8)) {
    all.row = 2.3 * rivet + 1;
    all.tab = 4.7 * rivet + 1;
  }
  if (d.chance(0.4)) all.profile = d.one(['0012', '2412', '0009', 'ellipse']);
  return all;
}

describe.each(STARTS.map((s) => [s.id, s] as const))('%s', (_, start) => {
  test('the usual answers make a panel that is whole and fits on paper', () => {
    const made = startPanel(start, {});
    if (!made.ok) throw new Error(made.doubts.map((x) => `${x.id}: ${x.sentence}`).join('\n'));
    const read = parseModel(writeModel(made.model));
    expect(read.ok ? [] : read.faults).toEqual([]);
    expect(
      onPaper(made.model)
        .filter((f) => f.verdict !== 'fits')
        .map((f) => f.sentence),
    ).toEqual([]);
  });

  test(`${MANY} panels of chance answers fit on paper, and nothing is at act before anything is read`, () => {
    let whole = 0;
    const wrong: string[] = [];
    for (let seed = 1; seed <= MANY; seed++) {
      const made = startPanel(start, randomAnswers(start, seed));
      if (!made.ok) continue;
      whole++;
      const read = parseModel(writeModel(made.model));
      if (!read.ok) {
        wrong.push(...read.faults.map((f) => `${seed}: ${f.path} ${f.sentence}`));
        continue;
      }
      wrong.push(
        ...onPaper(made.model)
          .filter((f) => f.verdict !== 'fits')
          .map((f) => `${seed}: ${f.sentence}`),
      );
      wrong.push(
        ...checkAll(made.model)
          .filter((f) => f.verdict === 'act')
          .map((f) => `${seed}: act before measuring: ${f.sentence}`),
      );
    }
    expect(wrong.slice(0, 12)).toEqual([]);
    expect(whole, 'most chance answers can be laid').toBeGreaterThan(0.6 * MANY);
  });

  test('its parts can be cut: every one a solid with metal in it', async () => {
    const kernel = await openKernel();
    for (const seed of [0, 5]) {
      const made = startPanel(start, seed === 0 ? {} : randomAnswers(start, seed));
      if (!made.ok) continue;
      const parts = solidsOf(skeletonOf(made.model), { magnify: 1 });
      expect(parts.length).toBeGreaterThan(made.model.ribs.length);
      for (const p of parts) expect(kernel.volume(p.solid), p.id).toBeGreaterThan(0);
    }
  });

  test('no question is without its place on a drawing, its own name and an answer to begin from', () => {
    const questions = start.groups.flatMap((g) => g.questions);
    expect(new Set(questions.map((q) => q.id)).size).toBe(questions.length);
    for (const q of questions)
      expect(q.ask.endsWith('?') && q.where.length > 3 && q.usual !== undefined, q.id).toBe(true);
    expect(
      askedBy(start, complete(start, {})).filter((q) => !q.more).length,
      'only a few questions at first',
    ).toBeLessThan(30);
  });
});

/** Panel B's table: place, front depth, rear depth, web to web, nose, washout; from the page that describes it. */
const PANEL_B: readonly (readonly [number, number, number, number, number, number, number])[] = [
  [30, 166.0, 160.26, 102.0, 632.0, 228.0, 0],
  [355, 160.29, 154.55, 98.53, 611.9, 220.93, -0.27],
  [680, 154.59, 148.85, 95.05, 591.81, 213.86, -0.55],
  [1010, 148.79, 143.05, 91.53, 571.4, 206.68, -0.82],
  [1340, 143.0, 140.46, 88.0, 551.0, 199.5, -1.1],
  [1670, 137.21, 134.67, 84.47, 530.6, 192.32, -1.38],
  [1995, 131.5, 128.96, 81.0, 510.5, 185.25, -1.65],
  [2320, 125.79, 123.25, 77.53, 490.4, 178.18, -1.92],
  [2650, 120.0, 117.46, 74.0, 470.0, 171.0, -2.2],
];

const B_ANSWERS: StartAnswers = {
  name: 'washed-out wing',
  hand: 'right',
  places: PANEL_B.map((r) => r[0]),
  frontSheet: 1.27,
  frontDepth: 166,
  frontDepthTip: 120,
  frontOpens: 'aft',
  frontCap: 22,
  frontRadius: 4,
  strip: 'yes',
  stripSheet: 1.6002,
  stripTo: 1310,
  rearSheet: 0.8128,
  rearDepth: 102,
  rearDepthTip: 74,
  rearOpens: 'forward',
  rearCap: 18,
  rearRadius: 2.4,
  webs: 632,
  websTip: 470,
  nose: 228,
  noseTip: 171,
  washout: 2.2,
  mainSheet: 0.635,
  noseSheet: 0.8128,
  tipSheet: 0.8128,
  registered: 'rear',
  skinSheet: 0.635,
  easeHeight: 0.2,
  easeLength: 0.1,
  rowFront: 5,
  rowRear: 3,
};

test('the wing start gives panel B its table from root and tip alone', () => {
  const made = startPanel(WING_PANEL, B_ANSWERS);
  if (!made.ok) throw new Error('not laid');
  const m: Model = made.model;
  m.stations.forEach((s, i) => {
    const [y, front, clear, rear, webs, nose, washout] = PANEL_B[i]!;
    const got = [
      s.y,
      alongAt(m.spars.front.depth, y),
      alongAt(m.spars.rear!.depth, y),
      alongAt(m.webToWeb, y),
      s.nose,
      s.washout,
    ];
    expect(got).toEqual([y, front, rear, webs, nose, washout]);
    const main = m.ribs.find((r) => r.station === s.id && r.kind === 'main');
    // "Rib heights = clear height - 0.20, rib lengths = B - 1.27 - 0.10".
    if (main?.kind === 'main') {
      expect(main.front.height).toBeCloseTo(clear - 0.2, 2);
      expect(main.length).toBeCloseTo(webs - 1.27 - 0.1, 6);
    }
  });
});

describe('a rib’s own height or length in place of how much it is less than the room', () => {
  // Panel B, M2: clear height 154.55, web to web 611.9; "rib heights = clear height - 0.20, rib lengths = B - 1.27 - 0.10".
  test('is turned into it, and comes out as typed', () => {
    const typed = easesMeant(WING_PANEL, {
      ...complete(WING_PANEL, B_ANSWERS),
      easeHeight: 154.35,
      easeLength: 610.53,
    });
    expect(typed.easeHeight).toBeCloseTo(0.2, 2);
    expect(typed.easeLength).toBeCloseTo(0.1, 6);
    const made = startPanel(WING_PANEL, typed);
    if (!made.ok) throw new Error('not laid');
    const rib = ribMade(made.model);
    expect([rib.end, rib.rib]).toEqual(['M2’s front end', 'M2']);
    expect([rib.height, rib.length]).toEqual([154.35, 610.53]);
  });
  test.each(['right', 'left'])('is that of the rib next to the root, %s hand', (hand) => {
    const made = startPanel(TAPERED_TAIL, { hand });
    if (!made.ok) throw new Error('not laid');
    expect(ribMade(made.model).rib).toBe('M2');
  });
  test('is left alone where it is neither, and doubted', () => {
    const answers = easesMeant(WING_PANEL, { ...complete(WING_PANEL, B_ANSWERS), easeHeight: 40 });
    expect(answers.easeHeight).toBe(40);
    const made = startPanel(WING_PANEL, answers);
    expect(made.ok ? [] : made.doubts.map((d) => d.id)).toEqual(['easeHeight']);
  });
});

describe('a rib answered much smaller than its room', () => {
  const laid = (given: StartAnswers): Model => {
    const made = startPanel(TAPERED_TAIL, given);
    if (!made.ok) throw new Error(made.doubts.map((x) => `${x.id}: ${x.sentence}`).join('\n'));
    return made.model;
  };
  const off = (given: StartAnswers) => onPaper(laid(given)).filter((f) => f.verdict !== 'fits');

  test('1.4 mm lower, or longer: it is laid as drawn, and Fit says so at every main rib', () => {
    const [even, low] = [laid({ easeHeight: 0 }), laid({ easeHeight: 1.4 })];
    const height = (m: Model, id: string): number => {
      const rib = m.ribs.find((r) => r.id === id);
      return rib?.kind === 'main' ? rib.front.height : Number.NaN;
    };
    for (const id of ['M2', 'M3', 'M4', 'M5']) expect(height(even, id) - height(low, id)).toBeCloseTo(1.4, 4);
    const gaps = off({ easeHeight: 1.4 }).filter((f) => f.check === 'cap-gap');
    expect(gaps.every((f) => f.verdict === 'act')).toBe(true);
    expect(gaps.map((f) => f.station)).toEqual(expect.arrayContaining(['S2', 'S3', 'S4', 'S5']));
    expect(off({ easeLength: 1.4 }).some((f) => f.check === 'chord-gap' && f.verdict === 'act')).toBe(true);
  });

  // 0.008 in is 0.2032 mm and 0.012 in is 0.3048 mm: 3 and 5 thousandths of a millimetre over what fits, and written like it.
  test.each([
    ['easeHeight', 0.2032, 'in', 0.2],
    ['easeLength', 0.3048, 'in', 0.3],
    ['easeHeight', 0.2032, 'mm', 0.2],
    ['easeHeight', 0.21, 'mm', 0.21],
    ['frontDepth', 400.002, 'mm', 400],
    ['frontDepth', 29.998, 'mm', 30],
  ] as const)('%s of %d mm on a drawing in %s is taken as %d', (id, typed, units, taken) => {
    expect(complete(TAPERED_TAIL, { units, [id]: typed })[id]).toBe(taken);
  });
  test('what is written like the bound fits on paper', () => {
    expect(off({ units: 'in', easeHeight: 0.2032, easeLength: 0.3048 }).map((f) => f.sentence)).toEqual([]);
  });
});

describe('the unit of the drawing', () => {
  test.each(STARTS.map((s) => [s.id, s] as const))('is asked first of all: %s', (_, start) => {
    expect(start.groups[0]?.questions[0]?.id).toBe('units');
    expect(start.groups[0]?.questions[0]?.more).toBeUndefined();
  });
  test('an inch drawing begins from whole thousandths of an inch, and fits on paper', () => {
    for (const start of STARTS) {
      const usual = complete(start, { units: 'in' });
      for (const q of start.groups.flatMap((g) => g.questions).filter((x) => x.kind === 'length')) {
        const mils = (usual[q.id] as number) / 0.0254;
        expect(Math.abs(mils - Math.round(mils)), `${start.id} ${q.id}`).toBeLessThan(1e-6);
      }
      const made = startPanel(start, { units: 'in' });
      if (!made.ok) throw new Error(made.doubts.map((x) => `${x.id}: ${x.sentence}`).join('\n'));
      expect(onPaper(made.model).filter((f) => f.verdict !== 'fits')).toEqual([]);
    }
  });
});

test('so many degrees nose down is so much washout: minus at the tip’s station', () => {
  const tip = (washout: number): number | undefined => {
    const made = startPanel(WING_PANEL, { washout });
    return made.ok ? made.model.stations.at(-1)?.washout : undefined;
  };
  expect([tip(2.2), tip(0), tip(-1)]).toEqual([-2.2, 0, 1]);
});

describe('typed answers', () => {
  const q = WING_PANEL.groups.flatMap((g) => g.questions);
  const ask = (id: string) => q.find((x) => x.id === id)!;
  test.each<[string, string, AnswerValue]>([
    ['places', '30 355 680', [30, 355, 680]],
    ['places', '30\n355\n680\n', [30, 355, 680]],
    ['places', '0, 12 in; 24"', [0, 304.8, 609.6]],
    ['places', '', []],
    ['places', '0 11.5 23 34.25 45.5 in', [0, 292.1, 584.2, 869.95, 1155.7]],
    ['places', '0, 11.5, 23"', [0, 292.1, 584.2]],
    ['places', '0 11 1/2 23 in', [0, 292.1, 584.2]],
    ['places', '0 30 60 cm', [0, 300, 600]],
    ['places', '0 12 in 600 mm', [0, 304.8, 600]],
    ['places', '0 300 24 in', [0, 7620, 609.6]],
    ['frontSheet', '0.050"', 1.27],
    ['frontSheet', '50 mil', 1.27],
    ['washout', '-2.2', -2.2],
    ['ribs', '9', 9],
  ])('%s “%s”', (id, text, value) => expect(readAnswer(ask(id), text, 'mm')).toEqual({ ok: true, value }));
  test.each([
    ['frontSheet', '16 ga', /gauge/],
    ['places', '30 x 680', /“x|30 x/],
    ['ribs', '9.5', /whole number/],
  ])('%s “%s” is refused', (id, text, words) => {
    const read = readAnswer(ask(id), text, 'mm');
    expect(read.ok ? '' : read.sentence).toMatch(words);
  });
  test.each<[StartAnswers, string]>([
    [{ places: [30, 680, 355] }, 'places'],
    [{ places: [30] }, 'places'],
    [{ frontDepth: 6.5 }, 'frontDepth'],
    [{ row: 13 }, 'row'],
    [{ strip: 'yes', stripTo: 9000 }, 'stripTo'],
    [{ name: '' }, 'name'],
    [{ profile: '12' }, 'profile'],
    [{ ribs: 40, span: 300 }, 'ribs'],
  ])('%o is doubted at %s', (given, id) => {
    const made = startPanel(WING_PANEL, given);
    expect(made.ok ? [] : made.doubts.map((x) => x.id)).toContain(id);
  });
});
