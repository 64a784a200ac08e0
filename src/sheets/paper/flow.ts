import { areaOf, type Form, framed, type Job } from './frame.ts';
import type { Box, Ink, Sheet } from './page.ts';
import { type LaidTable, layTable, rowInk, type Table } from './table.ts';
import { textLines } from './text.ts';
import { LEAST_SIZE, leadOf, linesHeight, type Type, wrap } from './type.ts';

/*
 * What a sheet says from top to bottom, poured over as many pages as it needs.
 */

/** One thing after another down a page. A picture is drawn in a box of its height and the page's whole width. */
export type Block =
  | { readonly kind: 'heading'; readonly text: string }
  | { readonly kind: 'text'; readonly text: string; readonly size?: number; readonly bold?: boolean }
  | { readonly kind: 'table'; readonly table: Table }
  | { readonly kind: 'picture'; readonly height: number; readonly draw: (box: Box) => readonly Ink[] }
  | { readonly kind: 'gap'; readonly height: number }
  | { readonly kind: 'page' };

export const heading = (text: string): Block => ({ kind: 'heading', text });
export const words = (text: string, type: { readonly size?: number; readonly bold?: boolean } = {}): Block => ({
  kind: 'text',
  text,
  ...type,
});
export const table = (t: Table): Block => ({ kind: 'table', table: t });
export const picture = (height: number, draw: (box: Box) => readonly Ink[]): Block => ({
  kind: 'picture',
  height,
  draw,
});

const HEADING = 12;
const GAP = 2.2;

/** Pages being filled, and how far down the last of them is. */
class Pages {
  readonly pages: Ink[][] = [[]];
  readonly #boxOf: (page: number) => Box;
  box: Box;
  y: number;

  constructor(boxOf: (page: number) => Box) {
    this.#boxOf = boxOf;
    this.box = boxOf(0);
    this.y = this.box.y;
  }

  /** Nothing stands on this page yet. */
  get isFresh(): boolean {
    return this.y === this.box.y;
  }

  fits(height: number): boolean {
    return this.y + height <= this.box.y + this.box.height + 1e-9;
  }

  turn(): void {
    this.box = this.#boxOf(this.pages.length);
    this.pages.push([]);
    this.y = this.box.y;
  }

  /** Turns where there is no room for so much, unless the page is fresh and a turn would not help. */
  makeRoom(height: number): void {
    if (!this.fits(height) && !this.isFresh) this.turn();
  }

  put(ink: readonly Ink[]): void {
    this.pages.at(-1)?.push(...ink);
  }
}

/**
 * Pours blocks into the boxes of pages counted from 0; a table's head stands again on each page, a heading never
 * stands alone at a foot.
 */
export function pour(blocks: readonly Block[], boxOf: (page: number) => Box): Ink[][] {
  const pages = new Pages(boxOf);
  for (const [i, block] of blocks.entries()) pourBlock(pages, block, blocks.slice(i + 1));
  return pages.pages;
}

function pourBlock(pages: Pages, block: Block, after: readonly Block[]): void {
  switch (block.kind) {
    case 'page':
      if (!pages.isFresh) pages.turn();
      break;
    case 'gap':
      pages.y += block.height;
      break;
    case 'heading':
      pourHeading(pages, block.text, after);
      break;
    case 'text':
      pourText(pages, block.text, block);
      break;
    case 'picture':
      pages.makeRoom(block.height);
      pages.put(block.draw({ ...pages.box, y: pages.y, height: block.height }));
      pages.y += block.height + GAP;
      break;
    case 'table':
      pourTable(pages, layTable(block.table, pages.box.width));
      break;
  }
}

function pourText(pages: Pages, text: string, { size = LEAST_SIZE, bold = false }: Type): void {
  for (const words of wrap(text, pages.box.width, { size, bold })) {
    if (!pages.fits(linesHeight(1, size))) pages.turn();
    pages.put(textLines([words], [pages.box.x, pages.y], { size, bold }));
    pages.y += leadOf(size);
  }
  pages.y += GAP - 1;
}

function pourHeading(pages: Pages, text: string, after: readonly Block[]): void {
  const type = { size: HEADING, bold: true };
  const lines = wrap(text, pages.box.width, type);
  if (!pages.isFresh) pages.y += GAP;
  pages.makeRoom(linesHeight(lines.length, HEADING) + GAP + startHeight(after, pages.box));
  pourText(pages, text, type);
}

function pourTable(pages: Pages, table: LaidTable): void {
  const head = (): void => {
    pages.put(rowInk(table, table.head, pages.box.x, pages.y));
    pages.y += table.head.height;
  };
  pages.makeRoom(tableStart(table, pages.box));
  head();
  for (const [i, row] of table.rows.entries()) {
    if (!pages.fits(together(table, i, pages.box))) {
      pages.turn();
      head();
    }
    pages.put(rowInk(table, row, pages.box.x, pages.y));
    pages.y += row.height;
  }
  pages.y += GAP;
}

/** Height of a row with those that must follow it on its page: after rows that run across, the next ordinary one. */
function together(table: LaidTable, from: number, box: Box): number {
  const rows = table.rows.slice(from);
  const ordinary = rows.findIndex((row) => !row.across);
  const kept = ordinary < 0 ? rows : rows.slice(0, ordinary + 1);
  const height = kept.reduce((sum, row) => sum + row.height, 0);
  return Math.min(height, box.height - table.head.height);
}

const tableStart = (table: LaidTable, box: Box): number => table.head.height + together(table, 0, box);

/** Height that must stand on one page with a heading: the words under it, and the start of what they speak of. */
function startHeight([next, ...after]: readonly Block[], box: Box): number {
  switch (next?.kind) {
    case 'table': {
      const laid = layTable(next.table, box.width);
      const whole = laid.rows.reduce((sum, row) => sum + row.height, laid.head.height);
      const isKept = next.table.whole && whole < box.height - linesHeight(3, HEADING);
      return isKept ? whole : tableStart(laid, box);
    }
    case 'picture':
    case 'gap':
      return next.height;
    case 'text': {
      const { size = LEAST_SIZE, bold = false } = next;
      const lines = wrap(next.text, box.width, { size, bold });
      const whole = lines.length * leadOf(size) + GAP + startHeight(after, box);
      return whole < box.height / 2 ? whole : linesHeight(Math.min(2, lines.length), size);
    }
    default:
      return 0;
  }
}

/** A sheet poured from blocks, framed on every page. */
export function flowed(job: Job, form: Form, blocks: readonly Block[]): Sheet {
  return framed(
    job,
    form,
    pour(blocks, (page) => areaOf(job, form, page)),
  );
}
