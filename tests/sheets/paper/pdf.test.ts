import { execFileSync } from 'node:child_process';
import { mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { getDocumentProxy, getResolvedPDFJS } from 'unpdf';
import { beforeAll, describe, expect, it } from 'vitest';
import { SHEETS } from '../../../src/sheets/all.ts';
import { plainText } from '../../../src/sheets/paper/characters.ts';
import { framed, type Job } from '../../../src/sheets/paper/frame.ts';
import type { Ink, Sheet } from '../../../src/sheets/paper/page.ts';
import { sheetsPdf } from '../../../src/sheets/paper/pdf.ts';
import { pageSvg } from '../../../src/sheets/paper/svg.ts';
import { panel } from '../../model/panels.ts';
import { boundsOf } from '../reading.ts';

/*
 * The files, read back by other programs: a PDF reader that always runs (pdf.js), and poppler's where it is installed. A
 * point is 1/72 in (ISO 32000); papers by ISO 216 and the US size.
 */

const PT = 72 / 25.4;
const DATE = '2026-07-01';
const asked: Job = { model: panel('narrow-tail'), date: DATE, paper: 'a4' };

const OWN: readonly Ink[] = [
  { kind: 'path', d: 'M30 80L130 80', stroke: 'cut', fill: 'none' },
  { kind: 'path', d: 'M40 90L140.5 90C145 90 150 95 150 100L40 100Z', stroke: 'bend', fill: 'light' },
  { kind: 'circle', x: 60, y: 130, r: 10, stroke: 'outline', fill: 'paper' },
  { kind: 'text', x: 50, y: 60, text: 'Ø 3.26 → 4.04, ⅝″ ± ½° “M2” ≤ Δ', size: 12 },
  { kind: 'text', x: 180, y: 150, text: 'ends here', size: 10, bold: true, align: 'end' },
  { kind: 'text', x: 100, y: 170, text: 'up the page', size: 10, turn: 90 },
];
const own: Sheet = framed(asked, { id: 'own', title: 'Own', fullSize: true }, [OWN]);
const lying: Sheet = framed({ ...asked, paper: 'letter' }, { id: 'lying', title: 'Lying', lying: true }, [[]]);

interface Item {
  readonly str: string;
  readonly transform: number[];
  readonly width: number;
}

let bytes: Uint8Array;
let pdf: Awaited<ReturnType<typeof getDocumentProxy>>;
beforeAll(async () => {
  bytes = await sheetsPdf([own, lying], { title: 'Own → sheets', date: DATE });
  pdf = await getDocumentProxy(bytes.slice(), { verbosity: 0 });
});
const itemsOf = async (page: number): Promise<Item[]> =>
  ((await (await pdf.getPage(page)).getTextContent()).items as Item[]).filter((i) => i.str.trim() !== '');

describe('a PDF, read by another program', () => {
  it('has its pages in their own size, A4 and Letter lying', async () => {
    const sizes = [];
    for (let i = 1; i <= pdf.numPages; i++) {
      const v = (await pdf.getPage(i)).getViewport({ scale: 1 });
      sizes.push([v.width, v.height]);
    }
    expect(sizes).toHaveLength(2);
    expect(sizes[0]![0]).toBeCloseTo(595.2756, 3);
    expect(sizes[0]![1]).toBeCloseTo(841.8898, 3);
    expect(sizes[1]![0]).toBeCloseTo(792, 3);
    expect(sizes[1]![1]).toBeCloseTo(612, 3);
  });

  it('asks viewers not to scale it, and says its title and date', async () => {
    expect(await pdf.getViewerPreferences()).toMatchObject({ PrintScaling: 'None' });
    const { info } = (await pdf.getMetadata()) as unknown as { info: Record<string, string> };
    expect(info.Title).toBe('Own -> sheets');
    expect(info.CreationDate).toContain('D:20260701');
  });

  it('has every text as text, where it stands, as wide as it was laid out', async () => {
    const items = await itemsOf(1);
    for (const ink of own.pages[0]!.ink) {
      if (ink.kind !== 'text') continue;
      const text = plainText(ink.text).trim();
      const b = boundsOf(ink);
      const [left, base] = ink.turn === 90 ? [ink.x, ink.y] : [b.left, ink.y];
      const found = items.find(
        (i) =>
          i.str === text &&
          Math.abs(i.transform[4]! - left * PT) < 0.02 &&
          Math.abs(i.transform[5]! - (297 - base) * PT) < 0.02,
      );
      expect(found, text).toBeDefined();
      const trailing = plainText(ink.text).endsWith(' ') ? 0.278 * ink.size : 0;
      expect(found!.width + trailing).toBeCloseTo((ink.turn === 90 ? b.bottom - b.top : b.right - b.left) * PT, 1);
      const turn = ((ink.turn ?? 0) * Math.PI) / 180;
      expect(found!.transform[0]).toBeCloseTo(ink.size * Math.cos(turn), 3);
      expect(found!.transform[1]).toBeCloseTo(ink.size * Math.sin(turn), 3);
    }
  });

  it('draws lines to scale: 100 mm are 100 mm, dashes and widths as given', async () => {
    const { OPS } = await getResolvedPDFJS();
    const { fnArray, argsArray } = await (await pdf.getPage(1)).getOperatorList();
    const at = fnArray.indexOf(OPS.transform!);
    const [a, , , d] = argsArray[at] as number[];
    expect(a).toBeCloseTo(PT, 9);
    expect(d).toBeCloseTo(-PT, 9);
    // What is drawn within that one enlargement is in mm.
    expect(fnArray.filter((f) => f === OPS.transform)).toHaveLength(1);
    const drawn = fnArray.flatMap((f, i) =>
      f === OPS.constructPath ? [Object.values((argsArray[i] as [number, unknown, Record<string, number>])[2])] : [],
    );
    const cut = drawn.find((m) => Math.abs(m[0]! - 30) < 1e-4 && Math.abs(m[2]! - 130) < 1e-4)!;
    expect(cut[2]! - cut[0]!).toBeCloseTo(100, 4);
    const circle = drawn.find((m) => Math.abs(m[0]! - 50) < 1e-4 && Math.abs(m[1]! - 120) < 1e-4)!;
    expect([circle[2]! - circle[0]!, circle[3]! - circle[1]!].map((v) => Math.round(v * 1e4) / 1e4)).toEqual([20, 20]);
    expect(argsArray.filter((_, i) => fnArray[i] === OPS.setLineWidth).map((w) => (w as number[])[0])).toEqual(
      expect.arrayContaining([0.35, 0.25]),
    );
    expect(JSON.stringify(argsArray.filter((_, i) => fnArray[i] === OPS.setDash))).toContain('[[3,1.5],0]');
  });

  it('is the same bytes for the same sheets, whatever the clock', async () => {
    const again = await sheetsPdf([own, lying], { title: 'Own → sheets', date: DATE });
    expect(Buffer.compare(Buffer.from(again), Buffer.from(bytes))).toBe(0);
  });

  it('holds every word of every sheet', async () => {
    const sheets = SHEETS.map((s) => s.build(asked));
    const all = await getDocumentProxy(await sheetsPdf(sheets, { title: 'All', date: DATE }), { verbosity: 0 });
    const pages = sheets.flatMap((s) => s.pages);
    expect(all.numPages).toBe(pages.length);
    for (const [i, page] of pages.entries()) {
      const got = ((await (await all.getPage(i + 1)).getTextContent()).items as Item[])
        .map((t) => t.str)
        .filter((t) => t.trim() !== '')
        .sort();
      const wanted = page.ink
        .flatMap((k) => (k.kind === 'text' && k.text.trim() !== '' ? [plainText(k.text)] : []))
        .sort();
      expect(got.join(' ').split(/\s+/).sort()).toEqual(wanted.join(' ').trim().split(/\s+/).sort());
    }
  });
});

function poppler(): boolean {
  try {
    for (const name of ['pdfinfo', 'pdftotext', 'pdftoppm']) execFileSync(name, ['-v'], { stdio: 'ignore' });
    return true;
  } catch {
    return false;
  }
}

describe.runIf(poppler())('a PDF, read by poppler', () => {
  const within = (run: (file: string, folder: string) => void): void => {
    const folder = mkdtempSync(join(tmpdir(), 'ribtrue-pdf-'));
    try {
      const file = join(folder, 'own.pdf');
      writeFileSync(file, bytes);
      run(file, folder);
    } finally {
      rmSync(folder, { recursive: true, force: true });
    }
  };

  it('has A4 and its words', () =>
    within((file) => {
      expect(execFileSync('pdfinfo', [file], { encoding: 'utf8' })).toMatch(
        /Page size:\s+595\.27\d* x 841\.8\d* pts \(A4\)/,
      );
      const text = execFileSync('pdftotext', ['-layout', file, '-'], { encoding: 'utf8' });
      for (const words of [
        'Ø 3.26 -> 4.04, 5/8" ± ½° “M2” <= delta',
        'ends here',
        'does not check strength',
        'narrow tail',
      ])
        expect(text).toContain(words);
    }));

  it('draws a 100 mm line 100 mm long: counted in dots at 254 to the inch, ten to the mm', () =>
    within((file, folder) => {
      execFileSync('pdftoppm', ['-r', '254', '-f', '1', '-l', '1', '-gray', file, join(folder, 'p')]);
      const image = execFileSync('cat', [join(folder, 'p-1.pgm')], { maxBuffer: 1e8 });
      const head = /^P5\s+(\d+)\s+(\d+)\s+255\s/.exec(image.subarray(0, 40).toString('latin1'))!;
      const [wide, tall] = [Number(head[1]), Number(head[2])];
      // It rounds up what is no more than a rounding over.
      expect([2100, 2101]).toContain(wide);
      expect([2970, 2971]).toContain(tall);
      const row = image.subarray(head[0].length + 800 * wide, head[0].length + 801 * wide);
      const dark = [...row.keys()].filter((x) => row[x]! < 128);
      expect(dark[0]).toBeGreaterThanOrEqual(299);
      expect(dark[0]).toBeLessThanOrEqual(301);
      expect(dark.length).toBeGreaterThanOrEqual(999);
      expect(dark.length).toBeLessThanOrEqual(1001);
    }));
});

describe('an SVG page', () => {
  const svg = pageSvg(own.pages[0]!);
  it('is in mm, one unit a mm, and has the same texts', () => {
    expect(svg).toMatch(/^<svg [^>]*width="210mm" height="297mm" viewBox="0 0 210 297"/);
    const texts = [...svg.matchAll(/<text [^>]*>([^<]*)<\/text>/g)].map((m) =>
      m[1]!
        .replace(/&lt;/g, '<')
        .replace(/&gt;/g, '>')
        .replace(/&quot;/g, '"')
        .replace(/&amp;/g, '&'),
    );
    expect(texts).toEqual(own.pages[0]!.ink.flatMap((i) => (i.kind === 'text' ? [plainText(i.text)] : [])));
  });
  it('cannot be broken by what is typed', () => {
    const evil = pageSvg({
      paper: own.pages[0]!.paper,
      ink: [{ kind: 'text', x: 20, y: 20, text: '</text><script>alert(1)</script>&"\u0000\ud800', size: 10 }],
    });
    expect(evil).not.toContain('<script');
    expect(evil.match(/<text /g)).toHaveLength(1);
    expect([...evil].every((c) => c >= ' ' || c === '\n')).toBe(true);
  });
});
