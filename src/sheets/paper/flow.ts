import { areaOf, type Box, type Form, framed, type Job } from './frame.ts';
import type { Ink, Sheet } from './page.ts';
import { type LaidTable, layTable, rowInk, type Table } from './table.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, wrap } from './type.ts';

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

/** Pours blocks into the boxes of pages counted from 0; a table's head stands again on each page, a heading never stands alone at a foot. */
export function pour(blocks: readonly Block[], boxOf: (page: number) => Box): Ink[][] {
  const pages: Ink[][] = [[]];
  let box = boxOf(0);
  let y = box.y;
  const turn = (): void => {
    box = boxOf(pages.length);
    pages.push([]);
    y = box.y;
  };
  const put = (ink: readonly Ink[]): void => void pages.at(-1)!.push(...ink);
  const fits = (height: number): boolean => y + height <= box.y + box.height + 1e-9;
  const fresh = (): boolean => y === box.y;

  const text = (lines: readonly string[], size: number, bold: boolean): void => {
    for (const l of lines) {
      if (!fits(linesHeight(1, size))) turn();
      put([{ kind: 'text', x: box.x, y: y + riseOf(size), text: l, size, bold }]);
      y += leadOf(size);
    }
    y += GAP - 1;
  };
  /** Height of a row with those that must follow it on its page: after rows that run across, the next ordinary one. */
  const together = (t: LaidTable, from: number): number => {
    let height = 0;
    for (const row of t.rows.slice(from)) {
      height += row.height;
      if (!row.across) break;
    }
    return Math.min(height, box.height - t.head.height);
  };
  const heightOf = (t: LaidTable): number => t.rows.reduce((sum, r) => sum + r.height, t.head.height);
  const tableRows = (t: LaidTable): void => {
    const head = (): void => {
      put(rowInk(t, t.head, box.x, y));
      y += t.head.height;
    };
    if (!fits(t.head.height + together(t, 0)) && !fresh()) turn();
    head();
    for (const [i, row] of t.rows.entries()) {
      if (!fits(together(t, i))) {
        turn();
        head();
      }
      put(rowInk(t, row, box.x, y));
      y += row.height;
    }
    y += GAP;
  };
  /** Height that must stand on one page with a heading: the words under it, and the start of what they speak of. */
  const start = (from: number): number => {
    const next = blocks[from];
    switch (next?.kind) {
      case 'table': {
        const t = layTable(next.table, box.width);
        const whole = heightOf(t);
        return next.table.whole && whole < box.height - linesHeight(3, HEADING)
          ? whole
          : t.head.height + together(t, 0);
      }
      case 'picture':
      case 'gap':
        return next.height;
      case 'text': {
        const size = next.size ?? LEAST_SIZE;
        const lines = wrap(next.text, box.width, { size, bold: next.bold ?? false });
        const whole = lines.length * leadOf(size) + GAP + start(from + 1);
        return whole < box.height / 2 ? whole : linesHeight(Math.min(2, lines.length), size);
      }
      default:
        return 0;
    }
  };

  blocks.forEach((block, i) => {
    switch (block.kind) {
      case 'page':
        if (!fresh()) turn();
        break;
      case 'gap':
        y += block.height;
        break;
      case 'heading': {
        const lines = wrap(block.text, box.width, { size: HEADING, bold: true });
        if (!fresh()) y += GAP;
        if (!fits(linesHeight(lines.length, HEADING) + GAP + start(i + 1)) && !fresh()) turn();
        text(lines, HEADING, true);
        break;
      }
      case 'text': {
        const { size = LEAST_SIZE, bold = false } = block;
        text(wrap(block.text, box.width, { size, bold }), size, bold);
        break;
      }
      case 'picture':
        if (!fits(block.height) && !fresh()) turn();
        put(block.draw({ x: box.x, y, width: box.width, height: block.height }));
        y += block.height + GAP;
        break;
      case 'table':
        tableRows(layTable(block.table, box.width));
        break;
    }
  });
  return pages;
}

/** A sheet poured from blocks, framed on every page. */
export function flowed(job: Job, form: Form, blocks: readonly Block[]): Sheet {
  return framed(
    job,
    form,
    pour(blocks, (page) => areaOf(job, form, page)),
  );
}
