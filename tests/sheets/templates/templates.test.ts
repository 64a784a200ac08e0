import { spawnSync } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Vec2 } from '../../../src/geometry/vector.ts';
import { ribFlat } from '../../../src/parts/flat/flatRib.ts';
import { flatSize } from '../../../src/parts/flat/flatShape.ts';
import { BAR_NOTE } from '../../../src/sheets/paper/checkBars.ts';
import { type Ink, MARGIN, type Page, type Sheet } from '../../../src/sheets/paper/page.ts';
import { readPath } from '../../../src/sheets/paper/path.ts';
import { sheetsPdf } from '../../../src/sheets/paper/pdf.ts';
import { fallOf, riseOf, textWidth } from '../../../src/sheets/paper/type.ts';
import { cutPieces, ribPieces } from '../../../src/sheets/templates/pieces.ts';
import { pieceTemplates, ribTemplates, stripTemplates } from '../../../src/sheets/templates/templates.ts';
import { clipped, OVERLAP, tiled, tilesFor } from '../../../src/sheets/templates/tiles.ts';
import { job, panel } from '../panel.ts';

/* Full-size pages: true to scale, checked on the ink and, where poppler's pdftoppm is installed, on the rasterised PDF. */

type Path = Extract<Ink, { kind: 'path' }>;
type Text = Extract<Ink, { kind: 'text' }>;
const paths = (page: Page): Path[] => page.ink.filter((i): i is Path => i.kind === 'path');
const texts = (page: Page): Text[] => page.ink.filter((i): i is Text => i.kind === 'text');
const pointsOf = (p: Path): Vec2[] =>
  readPath(p.d).flatMap((s): Vec2[] => (s[0] === 'M' || s[0] === 'L' ? [[s[1], s[2]]] : []));
const sizeOf = (points: readonly Vec2[]): [number, number] => {
  const [xs, ys] = [points.map((p) => p[0]), points.map((p) => p[1])];
  return [Math.max(...xs) - Math.min(...xs), Math.max(...ys) - Math.min(...ys)];
};
const saidOn = (sheet: Sheet): string => sheet.pages.flatMap((p) => texts(p).map((t) => t.text)).join(' ');

/** The rectangle a text takes, upright or turned a quarter. */
function boxOf(t: Text): { x: [number, number]; y: [number, number] } {
  const w = textWidth(t.text, { size: t.size, bold: t.bold ?? false });
  const back = w * { start: 0, middle: 0.5, end: 1 }[t.align ?? 'start'];
  return t.turn
    ? { x: [t.x - riseOf(t.size), t.x + fallOf(t.size)], y: [t.y - w + back, t.y + back] }
    : { x: [t.x - back, t.x - back + w], y: [t.y - riseOf(t.size), t.y + fallOf(t.size)] };
}

const A = panel('narrow-tail');
const SHEETS = (['a4', 'letter'] as const).flatMap((paper) =>
  (['plain', 'narrow-tail', 'washed-out-wing'] as const).flatMap((name) => {
    const model = panel(name);
    const ribs = name === 'washed-out-wing' ? ['T1', 'M2', 'N8'] : undefined;
    return [
      pieceTemplates(job(model, paper)),
      ribTemplates(job(model, paper), ribs),
      stripTemplates(job(model, paper)),
    ].map((sheet) => [`${name} ${sheet.id} on ${paper}`, sheet] as const);
  }),
);

describe('every full-size page', () => {
  test.each(SHEETS)('%s: four check bars of 100 mm and 4 in, both ways, with their note', (_, sheet) => {
    for (const page of sheet.pages) {
      const bars = paths(page)
        .filter((p) => p.stroke === 'outline')
        .map(pointsOf)
        .filter((p) => p.length === 2)
        .map(sizeOf);
      for (const length of [100, 101.6]) {
        expect(
          bars.some(([w, h]) => Math.abs(w - length) < 1e-3 && h < 1e-3),
          `${length} across`,
        ).toBe(true);
        expect(
          bars.some(([w, h]) => Math.abs(h - length) < 1e-3 && w < 1e-3),
          `${length} up`,
        ).toBe(true);
      }
      const said = texts(page)
        .map((t) => t.text)
        .join(' ');
      expect(said).toContain(BAR_NOTE);
    }
  });

  test.each(SHEETS)('%s: no ink in the margins, no text under 10 pt, no text on text', (_, sheet) => {
    for (const [k, page] of sheet.pages.entries()) {
      const inside = ([x, y]: Vec2): boolean =>
        x >= MARGIN - 0.01 &&
        y >= MARGIN - 0.01 &&
        x <= page.paper.width - MARGIN + 0.01 &&
        y <= page.paper.height - MARGIN + 0.01;
      for (const p of paths(page)) for (const at of pointsOf(p)) expect(inside(at), `page ${k + 1}: ${at}`).toBe(true);
      const all = texts(page);
      const boxes = all.map(boxOf);
      all.forEach((t, i) => {
        const b = boxes[i]!;
        expect(t.size).toBeGreaterThanOrEqual(10);
        expect(inside([b.x[0], b.y[0]]) && inside([b.x[1], b.y[1]]), `page ${k + 1}: ${t.text}`).toBe(true);
        boxes.slice(i + 1).forEach((c, j) => {
          const over = Math.min(
            Math.min(b.x[1], c.x[1]) - Math.max(b.x[0], c.x[0]),
            Math.min(b.y[1], c.y[1]) - Math.max(b.y[0], c.y[0]),
          );
          expect(over, `page ${k + 1}: “${t.text}” on “${all[i + 1 + j]!.text}”`).toBeLessThan(0.9);
        });
      });
    }
  });
});

describe('flat patterns', () => {
  const sheet = pieceTemplates(job(A));

  test('every doubler is there in its own size, its bend lines across it dashed', () => {
    const cuts = sheet.pages
      .flatMap((p) =>
        paths(p)
          .filter((i) => i.stroke === 'cut')
          .map(pointsOf),
      )
      .filter((p) => p.length === 5)
      .map(sizeOf);
    for (const piece of cutPieces(A)) {
      const { width, height } = flatSize(piece.pattern);
      expect(
        cuts.some(
          ([w, h]) =>
            (Math.abs(w - width) < 1e-3 && Math.abs(h - height) < 1e-3) ||
            (Math.abs(h - width) < 1e-3 && Math.abs(w - height) < 1e-3),
        ),
        piece.parts[0]!.id,
      ).toBe(true);
    }
    const bends = sheet.pages.flatMap((p) =>
      paths(p)
        .filter((i) => i.stroke === 'bend')
        .map(pointsOf)
        .map(sizeOf),
    );
    // Four lines a doubler, 28 long, and one in the legend.
    expect(bends.filter((s) => Math.abs(Math.max(...s) - 28) < 1e-3)).toHaveLength(4 * 6);
  });

  test('each says what it is, its metal, how many, where, which side up, and its grain', () => {
    const said = saidOn(sheet);
    for (const id of ['D2', 'D3', 'D4', 'D5', 'D6', 'D7']) expect(said).toContain(`${id}: channel doubler`);
    // Panel A by hand: 83.10 + 2 × 0.635 over the legs; 5/64 in.
    for (const words of [
      '84.37 mm over the legs',
      '5/64 in',
      '6061-T6',
      'Make 1.',
      'Front of M4 at S4.',
      'this side up',
      'grain',
      'bend one from scrap',
    ])
      expect(said).toContain(words);
  });

  test('a radius in the file that rides on the spar’s bend is laid out at the next block that clears, and said', () => {
    const tight = { ...A, doublers: A.doublers.map((d) => ({ ...d, radius: 1.2 })) };
    const [piece] = cutPieces(tight);
    // demo panel A, item 5: at 1.2 they ride; "bend at 5/64 in or more".
    expect(piece!.pattern.bends[0]!.radius).toBeCloseTo((5 * 25.4) / 64, 9);
    expect(piece!.notes.join(' ')).toContain('The file says 1.20 mm');
  });

  test('a panel without pieces says so on a whole page', () => {
    const none = pieceTemplates(job({ ...A, doublers: [] }));
    expect(none.pages).toHaveLength(1);
    expect(saidOn(none)).toContain('There is no doubler');
  });
});

describe('ribs', () => {
  test('like ribs share a template, turned over for the other hand; unlike ones do not', () => {
    const [, main] = ribPieces(A);
    expect(main!.parts.map((p) => [p.id, p.over])).toEqual([
      ['M2', false],
      ['M3', false],
      ['M4', false],
      ['M5', true],
      ['M6', true],
      ['M7', true],
    ]);
    expect(ribPieces(panel('washed-out-wing')).every((p) => p.parts.length === 1)).toBe(true);
  });

  test('the blank is the drawing’s, whatever was measured', () => {
    const unread = { ...A, readings: [] };
    expect(ribPieces(A).map((p) => flatSize(p.pattern))).toEqual(ribPieces(unread).map((p) => flatSize(p.pattern)));
  });

  test('tiles meet: the crosses stand alike on both, and lines cross the seam at the same height', () => {
    const sheet = ribTemplates(job(A), ['T1']);
    const seamOn = (page: Page, name: string) => {
      const cross = (n: string) => {
        const t = texts(page).find((k) => k.text === n && k.bold)!;
        return [t.x - 1.2, t.y + 1.2] as Vec2;
      };
      const [a, b] = [cross(`${name}1`), cross(`${name}2`)];
      const crossings = paths(page)
        .filter((p) => p.stroke === 'cut' || p.stroke === 'bend')
        .flatMap((p) => {
          const pts = pointsOf(p);
          return pts.slice(1).flatMap((q, i) => {
            const s = pts[i]!;
            if ((s[0] - a[0]) * (q[0] - a[0]) >= 0) return [];
            return [s[1] + ((q[1] - s[1]) * (a[0] - s[0])) / (q[0] - s[0]) - a[1]];
          });
        })
        .filter((y) => y > -8 && y < b[1] - a[1] + 8);
      return { apart: [b[0] - a[0], b[1] - a[1]], crossings: crossings.sort((p, q) => p - q) };
    };
    for (const [k, name] of [
      [0, 'A'],
      [1, 'B'],
    ] as const) {
      const [left, right] = [seamOn(sheet.pages[k]!, name), seamOn(sheet.pages[k + 1]!, name)];
      expect(left.apart).toEqual(right.apart.map((v) => expect.closeTo(v, 3)));
      // Cut line and two bend lines, top and bottom.
      expect(left.crossings.length).toBe(6);
      expect(left.crossings).toEqual(right.crossings.map((v) => expect.closeTo(v, 3)));
    }
  });

  test('a tip rib notched for the spar keeps its notch', () => {
    const [piece] = ribPieces(panel('washed-out-wing'), ['T1']);
    expect(piece!.rib!.passes).toBeDefined();
    expect(piece!.pattern.outline.length).toBeGreaterThan(ribFlat(piece!.rib!.shape).outline.length);
  });
});

describe('tiling', () => {
  test('tiles cover the drawing, fit the page, and neighbours show the same 16 mm', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 20, max: 1200, noNaN: true }),
        fc.double({ min: 20, max: 900, noNaN: true }),
        fc.double({ min: 100, max: 300, noNaN: true }),
        fc.double({ min: 100, max: 300, noNaN: true }),
        (w, h, width, height) => {
          const { tiles, columns, rows } = tiled({ low: [-10, 5], high: [w - 10, h + 5] }, { width, height });
          expect(tiles).toHaveLength(columns * rows);
          expect(columns).toBe(tilesFor(w, width));
          for (const t of tiles) {
            expect(t.high[0] - t.low[0]).toBeLessThanOrEqual(width + 1e-6);
            expect(t.high[1] - t.low[1]).toBeLessThanOrEqual(height + 1e-6);
            const next = tiles.find((k) => k.row === t.row && k.column === t.column + 1);
            if (next) expect(t.high[0] - next.low[0]).toBeCloseTo(OVERLAP, 6);
            const under = tiles.find((k) => k.column === t.column && k.row === t.row + 1);
            if (under) expect(under.high[1] - t.low[1]).toBeCloseTo(OVERLAP, 6);
          }
          expect(tiles[0]!.low[0]).toBeCloseTo(-10, 6);
          expect(tiles.at(-1)!.high[0]).toBeCloseTo(w - 10, 6);
          expect(tiles.at(-1)!.low[1]).toBeCloseTo(5, 6);
        },
      ),
      { seed: 3, numRuns: 300 },
    );
  });

  test('clipped to tiles that only touch, a line keeps its whole length', () => {
    fc.assert(
      fc.property(
        fc.array(fc.tuple(fc.double({ min: 1, max: 99, noNaN: true }), fc.double({ min: 1, max: 99, noNaN: true })), {
          minLength: 2,
          maxLength: 9,
        }),
        fc.double({ min: 10, max: 90, noNaN: true }),
        (points, cut) => {
          const long = (line: readonly Vec2[]): number =>
            line.slice(1).reduce((s, q, i) => s + Math.hypot(q[0] - line[i]![0], q[1] - line[i]![1]), 0);
          fc.pre(points.every(([x]) => Math.abs(x - cut) > 1e-3));
          const halves = [
            { low: [0, 0] as Vec2, high: [cut, 100] as Vec2 },
            { low: [cut, 0] as Vec2, high: [100, 100] as Vec2 },
          ].flatMap((t) => clipped({ points, stroke: 'cut' }, t));
          expect(halves.reduce((s, l) => s + long(l.points), 0)).toBeCloseTo(long(points), 1);
        },
      ),
      { seed: 9, numRuns: 300 },
    );
  });
});

// --- on the rasterised PDF -------------------------------------------------------------------------------------------

const poppler = spawnSync('pdftoppm', ['-v']).status === 0;

/** A page at 600 dots an inch, grey: true where there is ink. */
function raster(
  pdf: Uint8Array,
  page: number,
): { at: (x: number, y: number) => boolean; mm: number; width: number; height: number } {
  const folder = mkdtempSync(join(tmpdir(), 'pages-'));
  try {
    writeFileSync(join(folder, 'a.pdf'), pdf);
    const run = spawnSync('pdftoppm', [
      '-r',
      '600',
      '-gray',
      '-aa',
      'no',
      '-f',
      String(page),
      '-l',
      String(page),
      '-singlefile',
      join(folder, 'a.pdf'),
      join(folder, 'a'),
    ]);
    if (run.status !== 0) throw new Error(String(run.stderr));
    const bytes = readFileSync(join(folder, 'a.pgm'));
    const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(bytes.subarray(0, 40).toString('latin1'))!;
    const [width, height] = [Number(head[1]), Number(head[2])];
    const start = head[0].length;
    return { at: (x, y) => bytes[start + y * width + x]! < 128, mm: 25.4 / 600, width, height };
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** Middles of the dark stretches along one row or column of dots, mm. */
function middles(dots: number, dark: (k: number) => boolean, mm: number): number[] {
  const found: number[] = [];
  let from = -1;
  for (let k = 0; k <= dots; k++) {
    const on = k < dots && dark(k);
    if (on && from < 0) from = k;
    if (!on && from >= 0) {
      found.push(((from + k) / 2) * mm);
      from = -1;
    }
  }
  return found;
}

describe.skipIf(!poppler)('the PDF rasterised by pdftoppm', () => {
  test.each([
    ['a4', 210, 297],
    ['letter', 215.9, 279.4],
  ] as const)(
    'on %s the bars measure 100 mm and 4 in within 0.1 mm both ways, and D2’s flat its own size',
    async (paper, wide, tall) => {
      const sheet = pieceTemplates(job(A, paper));
      const image = raster(await sheetsPdf([sheet], { title: sheet.title, date: '2026-05-16' }), 1);
      expect(image.width * image.mm).toBeCloseTo(wide, 0);
      expect(image.height * image.mm).toBeCloseTo(tall, 0);
      const page = sheet.pages[0]!;
      const row = (y: number): number[] => middles(image.width, (x) => image.at(x, Math.round(y / image.mm)), image.mm);
      const column = (x: number): number[] =>
        middles(image.height, (y) => image.at(Math.round(x / image.mm), y), image.mm);
      const bars = paths(page)
        .filter((p) => p.stroke === 'outline')
        .map(pointsOf)
        .filter((p) => p.length === 2);
      for (const length of [100, 101.6]) {
        // Where the ink says the bar is; how long it is comes from the dots: end tick to end tick, 2.6 mm out along the ticks.
        const across = bars.find((p) => Math.abs(sizeOf(p)[0] - length) < 1e-3 && sizeOf(p)[1] < 1e-3)!;
        const up = bars.find((p) => Math.abs(sizeOf(p)[1] - length) < 1e-3 && sizeOf(p)[0] < 1e-3)!;
        const out = length === 100 ? -2.6 : 2.6;
        const [x0, y0] = across[0]!;
        const inRow = row(y0 + out).filter((x) => x > x0 - 1 && x < x0 + length + 1);
        expect(Math.abs(inRow.at(-1)! - inRow[0]! - length)).toBeLessThan(0.1);
        const [ux] = up[0]!;
        const ys = up.map((p) => p[1]);
        const inColumn = column(ux + out).filter((y) => y > Math.min(...ys) - 1 && y < Math.max(...ys) + 1);
        expect(Math.abs(inColumn.at(-1)! - inColumn[0]! - length)).toBeLessThan(0.1);
      }
      const [piece] = cutPieces(A);
      const { width, height } = flatSize(piece!.pattern);
      const outline = paths(page)
        .filter((p) => p.stroke === 'cut')
        .map(pointsOf)
        .find((p) => p.length === 5)!;
      const [xs, ys] = [outline.map((p) => p[0]), outline.map((p) => p[1])];
      // Across the flat 1 mm under its upper edge, and down it 1 mm inside its left one.
      const edges = row(Math.min(...ys) + 1).filter((x) => x > Math.min(...xs) - 0.5 && x < Math.max(...xs) + 0.5);
      const sides = column(Math.min(...xs) + 1).filter((y) => y > Math.min(...ys) - 0.5 && y < Math.max(...ys) + 0.5);
      const found = [edges.at(-1)! - edges[0]!, sides.at(-1)! - sides[0]!].sort((a, b) => a - b);
      expect(Math.abs(found[0]! - Math.min(width, height))).toBeLessThan(0.1);
      expect(Math.abs(found[1]! - Math.max(width, height))).toBeLessThan(0.1);
    },
  );
});
