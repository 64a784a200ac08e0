import { describe, expect, it } from 'vitest';
import { CAUTION } from '../../src/checks/report.ts';
import type { Model } from '../../src/model/schema.ts';
import { SHEETS } from '../../src/sheets/all.ts';
import { plainText } from '../../src/sheets/paper/characters.ts';
import { BAR_NOTE } from '../../src/sheets/paper/checkBars.ts';
import { areaOf, CAUTION_BRIEF, framed, HANDS, type Job, measuredOn } from '../../src/sheets/paper/frame.ts';
import { MARGIN, PAPERS, type Page, type PaperName, type Sheet, STROKES } from '../../src/sheets/paper/page.ts';
import { changed, PANELS, panel } from '../model/panels.ts';
import { randomPanel } from '../random-panel.ts';
import { boundsOf, type TextInk, textBounds, wordsOf } from './reading.ts';

/*
 * What must hold for every sheet of every panel on every paper: from the brief of the paper (A4 and Letter, black on white,
 * 10 pt and up, hairline 0.25 mm) and from what a printer can reach. ISO 216 and the US size give the papers.
 */

const DATE = '2026-07-01';
const job = (model: Model, paper: PaperName): Job => ({ model, date: DATE, paper });

/** Every fault of a page, one sentence each. */
function faultsOf(page: Page): string[] {
  const faults: string[] = [];
  const { width, height } = page.paper;
  for (const ink of page.ink) {
    const b = boundsOf(ink);
    const words = ink.kind === 'text' ? `"${ink.text}"` : 'a circle';
    const what = ink.kind === 'path' ? ink.d : words;
    if (
      !(
        b.left >= MARGIN - 0.3 &&
        b.top >= MARGIN - 0.3 &&
        b.right <= width - MARGIN + 0.3 &&
        b.bottom <= height - MARGIN + 0.3
      )
    )
      faults.push(`${what} lies in the margin: ${JSON.stringify(b)}`);
    if (ink.kind === 'text' && ink.size < 10) faults.push(`${what} is ${ink.size} points`);
  }
  const texts = page.ink
    .filter((i): i is TextInk => i.kind === 'text' && i.text.trim() !== '')
    .map((t) => ({ t, b: textBounds(t) }))
    .sort((p, q) => p.b.top - q.b.top);
  texts.forEach((p, i) => {
    for (const q of texts.slice(i + 1)) {
      if (q.b.top > p.b.bottom - 0.15) break;
      if (p.b.left < q.b.right - 0.15 && q.b.left < p.b.right - 0.15)
        faults.push(`"${p.t.text}" and "${q.t.text}" lie on each other`);
    }
  });
  return faults;
}

const squeezed = (text: string): string => plainText(text).replace(/\s+/g, ' ');

function frameFaults(sheet: Sheet, { model }: Job): string[] {
  return sheet.pages.flatMap((page, i) => {
    const words = squeezed(wordsOf(page));
    const wanted = [
      sheet.title,
      `page ${i + 1} of ${sheet.pages.length}`,
      'Panel',
      'Hand',
      HANDS[model.hand],
      'Model revision',
      ...model.revision.split(' '),
      'Unit',
      model.units === 'mm' ? 'mm' : 'inch',
      'Printed',
      DATE,
      measuredOn(model),
      i === 0 ? CAUTION : CAUTION_BRIEF,
    ];
    const missing = wanted.map(squeezed).filter((w) => !words.includes(w));
    const named = squeezed(model.name)
      .split(' ')
      .every((w) => words.includes(w.slice(0, 20)));
    return [
      ...missing.map((w) => `page ${i + 1} lacks "${w}"`),
      ...(named ? [] : [`page ${i + 1} lacks the panel's name`]),
    ];
  });
}

const inches = (m: Model): Model => ({ ...m, units: 'in' });
const unread = (m: Model): Model => ({ ...m, readings: [] });
const odd = (m: Model): Model =>
  changed(m, (c) => {
    c.name = 'Höhenleitwerk ⌀ “links” 尾翼 with a name as long as a name of a panel may be, eighty';
    c.revision = 'as it was on the day the second spar came';
    c.units = 'in';
  });
const MODELS: readonly (readonly [string, () => Model])[] = [
  ...PANELS.map((name) => [name, () => panel(name)] as const),
  ['narrow-tail in inches', () => inches(panel('narrow-tail'))],
  ['narrow-tail with nothing read', () => unread(panel('narrow-tail'))],
  ['washed-out-wing, a long odd name', () => odd(panel('washed-out-wing'))],
  ...[3, 27].map((seed) => [`random ${seed}`, () => randomPanel(seed)] as const),
];

describe.each(MODELS)('%s', (name, make) => {
  describe.each(/random|inches|nothing/.test(name) ? (['letter'] as const) : (['a4', 'letter'] as const))(
    '%s',
    (paper) => {
      it.each(SHEETS.map((s) => [s.id, s] as const))(
        '%s is whole, inside its margins, nothing on top of anything',
        (id, kind) => {
          const asked = job(make(), paper);
          const sheet = kind.build(asked);
          expect(sheet.id).toBe(id);
          expect(sheet.title).toBe(kind.title);
          expect(sheet.pages.length).toBeGreaterThan(0);
          expect(sheet.pages.flatMap(faultsOf)).toEqual([]);
          expect(frameFaults(sheet, asked)).toEqual([]);
          const { width, height } = PAPERS[paper];
          for (const p of sheet.pages)
            expect([
              [width, height],
              [height, width],
            ]).toContainEqual([p.paper.width, p.paper.height]);
        },
      );
    },
  );
});

describe('what looks for faults finds them', () => {
  const text = (x: number, y: number, t: string, more: Partial<TextInk> = {}): TextInk => ({
    kind: 'text',
    x,
    y,
    text: t,
    size: 10,
    ...more,
  });
  const faults = (...ink: Page['ink']): number => faultsOf({ paper: PAPERS.a4, ink }).length;
  it.each<[string, number, Page['ink']]>([
    ['two texts side by side', 0, [text(20, 50, 'M2'), text(30, 50, 'M3')]],
    ['two texts on each other', 1, [text(20, 50, 'M2 binds'), text(25, 51, 'M3')]],
    [
      'a text written up the page through another',
      1,
      [text(20, 50, 'M2 binds here'), text(30, 60, 'M3 is loose', { turn: 90 })],
    ],
    ['a text off the right edge', 1, [text(190, 50, 'M2 binds')]],
    ['the same text ending there', 0, [text(195, 50, 'M2 binds', { align: 'end' })]],
    ['a line into the margin', 1, [{ kind: 'path', d: 'M20 20L5 20', stroke: 'hairline', fill: 'none' }]],
    ['a text too small', 1, [text(20, 50, 'M2', { size: 9 })]],
  ])('%s', (_, count, ink) => expect(faults(...ink)).toBe(count));
});

describe('the frame', () => {
  it('names papers as the standards do', () => {
    expect(PAPERS.a4).toMatchObject({ width: 210, height: 297 });
    expect([PAPERS.letter.width / 25.4, PAPERS.letter.height / 25.4]).toEqual([8.5, 11]);
  });

  it('has lines no finer than a hairline of 0.25 mm', () => {
    for (const s of Object.values(STROKES)) expect(s.width).toBeGreaterThanOrEqual(0.25);
    expect(STROKES.cut).toEqual({ width: 0.35, dash: [] });
  });

  it('says on which days the values were measured', () => {
    const on = (...days: (string | undefined)[]): string =>
      measuredOn({
        readings: days.map((date) => ({ size: 'x', value: 1, instrument: 'rule', ...(date ? { date } : {}) })),
      });
    expect(on()).toBe('Printed from drawing values: nothing was measured yet.');
    expect(on('2026-05-16', '2026-05-16')).toBe('Printed from values measured on 2026-05-16.');
    expect(on('2026-06-20', '2026-06-06')).toBe('Printed from values measured on 2026-06-06 and 2026-06-20.');
    expect(on('2026-06-20', undefined)).toBe(
      'Printed from values measured on 2026-06-20; 1 of 2 readings have no date.',
    );
    expect(on(undefined)).toBe('Printed from values measured on days that were not written down.');
    expect(on('2026-01-01', '2026-01-02', '2026-01-03', '2026-01-04')).toBe(
      'Printed from values measured on 4 days from 2026-01-01 to 2026-01-04.',
    );
  });

  it.each(['a4', 'letter'] as const)(
    'draws check bars of 100 mm and 4 in both ways on a full-size page of %s, clear of the body',
    (paper) => {
      for (const lying of [false, true]) {
        const asked = job(panel('plain'), paper);
        const form = { id: 'x', title: 'Full size', fullSize: true, lying };
        const area = areaOf(asked, form, 0);
        const body = {
          kind: 'path',
          d: `M${area.x} ${area.y}L${area.x + area.width} ${area.y}L${area.x + area.width} ${area.y + area.height}L${area.x} ${area.y + area.height}Z`,
          stroke: null,
          fill: 'none',
        } as const;
        const [page] = framed(asked, form, [[body]]).pages;
        expect(faultsOf(page!)).toEqual([]);
        const spans = page!.ink
          .filter((i) => i.kind === 'path' && i !== body)
          .map(boundsOf)
          .filter((b) => b.top > area.y - 10);
        const least = (of: (b: ReturnType<typeof boundsOf>) => number, want: number): number =>
          Math.min(...spans.map((b) => Math.abs(of(b) - 0.35 - want)));
        for (const want of [100, 101.6]) {
          expect(
            least((b) => b.right - b.left, want),
            `across, ${want}`,
          ).toBeLessThan(1e-6);
          expect(
            least((b) => b.bottom - b.top, want),
            `up, ${want}`,
          ).toBeLessThan(1e-6);
        }
        expect(squeezed(wordsOf(page!))).toContain(BAR_NOTE.split('. ')[0]!.slice(0, 20));
        for (const i of page!.ink) {
          if (i === body || i.kind === 'text') continue;
          const b = boundsOf(i);
          const inside = b.left > area.x + 0.5 && b.top > area.y + 0.5 && b.bottom < area.y + area.height - 0.5;
          expect(inside, JSON.stringify(b)).toBe(false);
        }
      }
    },
  );
});
