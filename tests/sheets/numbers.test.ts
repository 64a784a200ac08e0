import { beforeAll, describe, expect, it } from 'vitest';
import { nextReadings } from '../../src/chance/nextReading.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { CheckId, Finding } from '../../src/checks/finding.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import type { Model } from '../../src/model/schema.ts';
import { walkingOrder } from '../../src/model/walk.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { changeNote } from '../../src/sheets/bench/changeNote.ts';
import { holeLedger } from '../../src/sheets/bench/holeLedger.ts';
import { leadingEdge } from '../../src/sheets/bench/leadingEdge.ts';
import { measuringCard, measuringWalk } from '../../src/sheets/bench/measuringCard.ts';
import { packingPlan } from '../../src/sheets/bench/packingPlan.ts';
import { signOff } from '../../src/sheets/bench/signOff.ts';
import { stationMap } from '../../src/sheets/bench/stationMap.ts';
import { survey } from '../../src/sheets/bench/survey.ts';
import type { Job } from '../../src/sheets/paper/frame.ts';
import type { Sheet } from '../../src/sheets/paper/page.ts';
import { packing } from '../../src/truing/packing.ts';
import { changed, panel } from '../model/panels.ts';
import { allLines, boundsOf, lineAt, wordsOf } from './reading.ts';

/*
 * The numbers on paper. Outside sources: the two invented panels, whose values and answers were worked by an independent
 * script (N4 0.8 short, echoes at S3 and S5, F3 h1 0.391 off with 0.19 to spare, S8 0.50° nose down, diagonals 661.41 and
 * 677.60, …); and, for every row, that it says what the finding says, printed here by plain rounding.
 */

const job = (model: Model): Job => ({ model, date: '2026-07-01', paper: 'a4' });
const A = panel('narrow-tail');
const B = panel('washed-out-wing');
/** Two decimals, half away from zero, as one rounds by hand; no sign before nothing. */
const two = (v: number): string => {
  const hundredths = Math.round(Number(Math.abs(100 * v).toPrecision(12)));
  return `${v < 0 && hundredths > 0 ? '-' : ''}${(hundredths / 100).toFixed(2)}`;
};
const signed = (v: number): string => (v > 0 && two(v) !== '0.00' ? `+${two(v)}` : two(v));
const down = (v: number): string =>
  two(v) === '0.00' ? 'level' : `${two(Math.abs(v))}° nose ${v < 0 ? 'down' : 'up'}`;
const of = (model: Model, check: CheckId, place: string): Finding =>
  checkAll(model).find((f) => f.check === check && f.place === place)!;
const whole = (sheet: Sheet): string => sheet.pages.map(wordsOf).join(' ');

describe('B, the hole ledger', () => {
  let sheet: Sheet;
  beforeAll(() => {
    sheet = holeLedger(job(A));
  });

  it('has every hole once, with its margin, offset and edges as the answers have them', () => {
    for (const a of askHoles(skeletonOf(A))) {
      const row = lineAt(sheet, `${a.joint.id} ${a.hole.id}`);
      const offset = a.need && Math.hypot(a.need.widest.along.best, a.need.widest.up.best);
      const least = (list: (number | undefined)[]): string[] =>
        list.some((v) => v !== undefined) ? [Math.min(...list.filter((v) => v !== undefined)).toFixed(2)] : [];
      const figures = [
        ...(offset === undefined ? [] : [two(offset)]),
        ...(a.bestMargin === undefined ? [] : [two(a.bestMargin)]),
        ...(a.bestChance === undefined ? [] : [expect.stringMatching(/^(under 1|over 99|\d+) %$/)]),
        ...least(a.edges.map((e) => e.final)),
        ...least(a.edges.map((e) => e.next)),
      ];
      expect(row.slice(-1 - figures.length)).toEqual([
        ...figures,
        {
          'not yet': 'NOT YET',
          'not asked': 'NOT YET, not asked',
          'in doubt': 'IN DOUBT',
          never: 'NEVER at this size',
          now: 'drill now',
          done: 'done',
        }[a.state],
      ]);
    }
  });

  it('knows the two bad holes of panel A', () => {
    expect(lineAt(sheet, 'F3 h1')).toEqual(expect.arrayContaining(['0.39', '0.19', '#30 (0.1285 in)']));
    expect(lineAt(sheet, 'F6 h2')).toEqual(expect.arrayContaining(['0.45', '-0.03', 'IN DOUBT']));
    expect(whole(sheet)).toContain('In trouble: F6 h2.');
    expect(whole(sheet)).toMatch(/6\.80 mm to the edge and the next size wants 7\.94 mm/);
  });

  it('prints bold what must not be drilled, and only that', () => {
    const model = changed(A, (m) => {
      m.now = m.stages[0]!.id;
    });
    for (const m of [A, model]) {
      const answers = new Map(askHoles(skeletonOf(m)).map((a) => [`${a.joint.id} ${a.hole.id}`, a.state]));
      const cells = holeLedger(job(m))
        .pages.flatMap((p) => p.ink)
        .filter((i) => i.kind === 'text' && answers.has(i.text));
      expect(cells).toHaveLength(answers.size);
      for (const c of cells)
        if (c.kind === 'text')
          expect(c.bold ?? false, c.text).toBe(['in doubt', 'never'].includes(answers.get(c.text)!));
    }
  });

  it('goes by drilling order: what may be drilled first, then stage by stage from the middle outward', () => {
    const holes = allLines(sheet)
      .flat()
      .filter((t) => /^[FRK]\d h\d$/.test(t));
    expect(holes).toHaveLength(50);
    const first = (joint: string): number => holes.findIndex((h) => h.startsWith(`${joint} `));
    // Panel A: nose ribs come in before the brackets; S4 and S5 stand 128 from the middle, S3 and S6 418, S2 and S7 742.
    for (const [before, after] of [
      ['F4', 'F3'],
      ['F5', 'F6'],
      ['F3', 'F2'],
      ['F6', 'F7'],
      ['F7', 'R4'],
      ['F2', 'K4'],
      ['R4', 'R1'],
      ['R5', 'R8'],
    ] as const)
      expect(first(before), `${before} before ${after}`).toBeLessThan(first(after));
    expect(holes.indexOf('F4 h2')).toBeLessThan(holes.indexOf('F4 h1'));
  });

  it('has a square to tick for every hole that is not done', () => {
    const squares = sheet.pages
      .flatMap((p) => p.ink)
      .filter(
        (i) =>
          i.kind === 'path' &&
          i.fill === 'none' &&
          Math.abs(boundsOf(i).right - boundsOf(i).left - 4.35) < 1e-6 &&
          Math.abs(boundsOf(i).bottom - boundsOf(i).top - 4.35) < 1e-6,
      );
    expect(squares).toHaveLength(50);
  });
});

describe('E, the survey', () => {
  it('says each twist as its finding does, in words', () => {
    const sheet = survey(job(A));
    for (const {
      station: { id },
    } of skeletonOf(A).bays) {
      const row = allLines(sheet).find((l) => l[0] === id && l.length === 6)!;
      expect(row[5]).toBe(down(of(A, 'twist', `${id} by heights`).value));
    }
    // Panel A, worked by hand: S8 touches 59.8 and 78.3, bench -0.2 and +0.6, 0.499° nose down.
    expect(allLines(sheet).find((l) => l[0] === 'S8')).toEqual([
      'S8',
      '59.80',
      '78.30',
      '-0.20',
      '0.60',
      '0.50° nose down',
    ]);
    expect(whole(sheet)).toContain('Rear high = nose down');
    expect(whole(sheet)).toContain('The panel twists 0.59° nose down from S1 to S8 by heights');
  });

  it('holds each diagonal of a tapered bay against its own drawing length', () => {
    const sheet = survey(job(B));
    const row = lineAt(sheet, 'W3 to W4');
    expect(row).toEqual([
      'W3 to W4',
      '659.85',
      '661.41',
      expect.stringMatching(/^\+1\.5/),
      'W4 to W3',
      '677.60',
      '677.60',
      '0.00',
      two(Math.abs(of(B, 'diagonals', 'bay W3 to W4').value)),
    ]);
    expect(lineAt(sheet, 'W4 to W5').slice(3, 4)).toEqual(['0.00']);
  });

  it('says lean and skew of panel B in words', () => {
    const lines = allLines(survey(job(B)));
    expect(lines.find((l) => l[0] === 'M4')).toEqual(['M4', '3.10 out']);
    const lean = of(B, 'lean', 'M6');
    expect(lines.find((l) => l[0] === 'M6')).toEqual([
      'M6',
      expect.stringMatching(/^1\.10 (in|out)$/),
      '140.00',
      two(Math.abs(lean.value)),
    ]);
  });

  it('leaves blanks where nothing was read', () => {
    const sheet = survey(job(changed(A, (m) => m.readings.splice(0))));
    expect(allLines(sheet).find((l) => l[0] === 'S8')).toEqual(['S8']);
  });
});

describe('F, the packing plan', () => {
  it('names block, side, pieces and what is read then', () => {
    const sheet = packingPlan(job(A));
    const plan = packing(A)!;
    for (const p of plan.packs)
      expect(lineAt(sheet, p.station, plan.side)).toEqual([
        p.station,
        plan.side,
        p.total > 0 ? two(p.total) : 'none',
        ...(p.pieces.length > 0 ? [p.pieces.map(two).join(' + ')] : []),
      ]);
    for (const h of plan.after.heights) {
      const before = plan.before.heights.find((b) => b.station === h.station)!;
      const at = (lie: typeof plan.after): string => down(lie.twist.find((t) => t.station === h.station)!.value);
      expect(lineAt(sheet, h.station, two(before.front))).toEqual([
        h.station,
        two(before.front),
        two(h.front),
        two(before.rear),
        two(h.rear),
        at(plan.before),
        at(plan.after),
      ]);
    }
    // A pack of p under a block raises what is read there by p: the law, not the plan's own word.
    for (const p of plan.packs) {
      const row = lineAt(sheet, p.station, two(plan.before.heights.find((b) => b.station === p.station)!.front));
      const [was, is] = plan.side === 'front' ? [row[1]!, row[2]!] : [row[3]!, row[4]!];
      expect(Number(is) - Number(was)).toBeCloseTo(p.total, 6);
    }
  });

  it('says what is missing where no heights were read', () =>
    expect(whole(packingPlan(job(B)))).toContain('heights of both spars over the bench were not read'));
});

describe('G, the leading edge', () => {
  it.each([
    ['A', A],
    ['B', B],
  ] as const)('panel %s says every nose, residual and kink as its findings do', (_, model) => {
    const sheet = leadingEdge(job(model));
    for (const f of checkAll(model).filter((g) => g.check === 'nose-kink')) {
      const row = lineAt(sheet, f.station!, f.place);
      expect(row).toContain(signed(f.value));
      expect(row).toContain(signed(of(model, 'nose-line', f.place).value));
      const source = checkAll(model).find((g) => g.check === 'nose-kink' && g.station === f.echoOf);
      const verdict = f.verdict === 'fits' ? 'fits' : f.verdict.toUpperCase();
      expect(row.at(-1)).toBe(f.echoOf ? `echo of ${source!.place}` : verdict);
    }
  });

  it('knows panel A: N4 0.8 short, N7 good only because T8 is wrong, S3 and S5 echoes', () => {
    const sheet = leadingEdge(job(A));
    const row = (mark: string): string[] => lineAt(sheet, `S${mark.slice(1)}`, mark);
    expect(row('N4')).toEqual(['S4', 'N4', '121.00', '120.20', '-0.80', '-1.19', '-0.80', 'UNSETTLED']);
    expect(row('N7').slice(2, 6)).toEqual(['121.00', '121.60', '+0.60', '-0.17']);
    expect(row('T8')).toEqual(['S8', 'T8', '121.00', '121.90', '+0.90', '+0.90', 'an end']);
    expect([row('N3').at(-1), row('N5').at(-1)]).toEqual(['echo of N4', 'echo of N4']);
  });

  it('draws departures 20 times their size and says so', () => {
    const sheet = leadingEdge(job(A));
    expect(whole(sheet)).toContain('drawn 20 times their size');
    const heavy = sheet.pages[0]!.ink.find((i) => i.kind === 'path' && i.stroke === 'heavy');
    const { top, bottom } = boundsOf(heavy!);
    // From N4, 0.80 short, to T8, 0.90 proud: 1.70 mm, 34 on paper.
    expect(bottom - top - 0.9).toBeCloseTo(20 * 1.7, 3);
  });

  it('takes a smaller scale where 20 times would not go on the page', () => {
    const model = changed(A, (m) => {
      m.readings.find((r) => r.size === 'N4.length')!.value = 112;
    });
    const text = whole(leadingEdge(job(model)));
    expect(text).toMatch(/drawn [51]0? times their size/);
    expect(text).not.toContain('drawn 20 times');
  });
});

describe('A, the station map', () => {
  it('has running dimensions from the datum in mm and inch', () => {
    const sheet = stationMap(job(A));
    expect(lineAt(sheet, 'S2', 'M2, N2')).toEqual([
      'S2',
      'M2, N2',
      'outboard',
      '-742.00',
      '-29.213',
      '294.00',
      '11.575',
      '264.00',
      '121.00',
      '0.00°',
      'H2 on rear',
    ]);
    const turned = sheet.pages[0]!.ink.flatMap((i) => (i.kind === 'text' && i.turn === 90 ? [i.text] : []));
    expect(turned).toEqual(expect.arrayContaining(['-742.00 mm', '-29.213 in', '+1036.00 mm', '+40.787 in']));
    expect(turned).toHaveLength(16);
  });

  it('is to the scale it states', () => {
    for (const model of [A, B]) {
      const sheet = stationMap(job(model));
      const one = Number(/at 1 to ([\d.]+)/.exec(whole(sheet))![1]);
      const ys = model.stations.map((s) => s.y);
      const labels = sheet.pages[0]!.ink.flatMap((i) =>
        i.kind === 'text' && i.align === 'middle' && model.stations.some((s) => s.id === i.text) ? [i.x] : [],
      );
      expect(labels).toHaveLength(ys.length);
      expect((Math.max(...labels) - Math.min(...labels)) * one).toBeCloseTo(Math.max(...ys) - Math.min(...ys), 6);
    }
  });

  it('gives each bay’s diagonals their own drawing length: √(324² + 264²) = 417.94', () => {
    expect(lineAt(stationMap(job(A)), 'S2 to S3').slice(0, 4)).toEqual(['S2 to S3', '417.94', '16.454', 'S3 to S2']);
  });
});

describe('H, the sign-off', () => {
  it('has every gate’s item once, with its answer, and every open one with what to do first', () => {
    const sheet = signOff(job(A));
    const text = whole(sheet);
    const items = new Map(
      gatesOf(A)
        .flatMap((g) => g.items)
        .map((i) => [i.name, i]),
    );
    expect(items.size).toBeGreaterThan(8);
    expect(text).toContain(
      `${[...items.values()].filter((i) => i.answer !== 'yes').length} of ${items.size} items are open.`,
    );
    const all = gatesOf(A).flatMap((g) => g.items);
    for (const name of items.keys()) {
      const open = all.filter((i) => i.name === name && i.answer !== 'yes');
      expect(open.length === 0 || open.some((i) => text.includes(i.first.slice(0, 40))), name).toBe(true);
    }
    for (const words of [
      'not a certificate',
      'inspector or licensed mechanic',
      'initials',
      'Photographs taken',
      'caliper',
      '2026-05-16',
    ])
      expect(text).toContain(words);
  });

  it('says nothing is open only where nothing is', () => {
    const open = (m: Model): boolean => gatesOf(m).some((g) => g.answer !== 'yes');
    for (const m of [A, B, panel('plain')]) expect(whole(signOff(job(m))).includes('Nothing is open.')).toBe(!open(m));
  });

  it('never uses a word that only an authority may', () => {
    for (const word of [/\bapproved by\b/i, /\bcertified\b/i, /\bairworthy\b/i, /\bpasses\b/i])
      expect(whole(signOff(job(A)))).not.toMatch(word);
  });
});

describe('I, the measuring card', () => {
  it('has what is worth reading, in walking order, with its instrument', () => {
    const sheet = measuringCard(job(A));
    const next = nextReadings(A).list.map((r) => r.size);
    const order = walkingOrder(A)
      .map((e) => e.key)
      .filter((k) => next.includes(k));
    const printed = allLines(sheet)
      .map((l) => l[0]!)
      .filter((t) => next.includes(t));
    expect(printed).toEqual(order);
    expect(new Set(printed).size).toBe(next.length);
  });

  it('says stop where nothing is worth reading', () =>
    expect(whole(measuringCard(job(panel('plain'))))).toContain('Stop measuring'));

  it('has the whole walk too, with drawing value and last reading', () => {
    const sheet = measuringWalk(job(A));
    expect(lineAt(sheet, 'M2.front.height')).toEqual([
      'M2.front.height',
      'height of M2, front end',
      'caliper',
      '83.10',
      '83.35',
    ]);
    for (const line of ['over the flanges at', 'the bend line, flange']) expect(allLines(sheet).flat()).toContain(line);
  });
});

describe('J, the change note', () => {
  const decision = {
    what: 'Packer 0.032 in behind N4',
    why: 'N4 is 0.8 short',
    ask: ['the designer'],
    asked: 'the designer, by letter',
    date: '2026-06-02',
    lines: [{ what: 'N4 kink', before: '0.80 mm short', after: '0.01 mm proud' }],
  };
  it('carries each decision whole, and says loudly where nobody was asked', () => {
    const text = whole(changeNote(job(A), [decision, { ...decision, asked: '' }]));
    for (const words of [
      '1. Packer 0.032 in behind N4',
      'Why: N4 is 0.8 short',
      'the designer, by letter',
      '2026-06-02',
      '0.80 mm short',
      '0.01 mm proud',
      'NOBODY YET',
    ])
      expect(text).toContain(words);
    expect(whole(changeNote(job(A), [decision]))).not.toContain('NOBODY YET');
  });

  it('takes them from the panel’s own file, what was left as it is too', () => {
    const line = {
      finding: 'nose-kink:N4',
      place: 'N4',
      check: 'nose-kink',
      before: { value: -0.8, verdict: 'unsettled' as const, text: '0.80 mm, short' },
    };
    const model = changed(A, (m) => {
      m.decisions = [
        {
          id: 'd1',
          kind: 'accepted',
          what: 'N4 stays short',
          why: 'the skin was tried on',
          ask: ['the inspector'],
          asked: '',
          date: '2026-06-03',
          remedies: [],
          findings: ['nose-kink:N4'],
          places: ['S4'],
          lines: [line],
        },
      ];
    });
    const text = whole(changeNote(job(model)));
    for (const words of [
      '1. Left as it is: N4 stays short',
      'the skin was tried on',
      '2026-06-03',
      'To be asked or shown: the inspector',
      'NOBODY YET',
      'nose kink, N4',
      '0.80 mm, short: unsettled',
      'nothing',
    ])
      expect(text).toContain(words);
  });

  it('lists every piece that is not on the drawing, and no other', () => {
    const model = changed(
      A,
      (m) =>
        void m.doublers.push({
          id: 'P4',
          form: 'flat',
          on: 'web',
          sheet: 's032',
          part: 'N4',
          end: 'tail',
          height: 70,
          width: 28,
          designed: false,
        }),
    );
    const sheet = changeNote(job(model), []);
    expect(lineAt(sheet, 'P4')).toEqual([
      'P4',
      expect.stringContaining('flat packer'),
      expect.stringContaining('0.813 mm = 0.032 in'),
      'N4, tail',
    ]);
    expect(whole(sheet)).not.toMatch(/\bD[2-7]\b/);
    expect(whole(changeNote(job(A), []))).toContain('not on the drawing: none');
  });
});
