import type { Model } from '../model/schema.ts';
import type { SheetFile } from './files.ts';
import type { PaperName } from './paper/page.ts';
import { cutListSheet } from './templates/cutList.ts';
import { pieceDxf, pieceSvg } from './templates/dxf.ts';
import type { Piece } from './templates/piece.ts';
import { cutPieces, ribPieces } from './templates/pieces.ts';
import { pieceTemplates, ribTemplates, stripTemplates } from './templates/templates.ts';

/*
 * Templates as files: full-size pages as PDF with the cut list, or a DXF or SVG a piece for someone with a cutter.
 */

export interface TemplatesAsked {
  /** Of the print, `2026-05-16`. */
  readonly date: string;
  readonly paper: PaperName;
  readonly form: 'pdf' | 'svg' | 'dxf';
  /** Parts to make templates of; all where it is left out. */
  readonly only?: readonly string[];
  /** Ribs made again: they join the cut list. */
  readonly remake?: readonly string[];
}

const stem = (name: string): string => name.replace(/[^A-Za-z0-9-]+/g, '-');

/** Every part that can have a template: ribs, doublers, packers, shims, strips. */
export const templateNames = (model: Model): string[] =>
  [...cutPieces(model), ...ribPieces(model)].flatMap((p) => p.parts.map((part) => part.id));

/** A piece's file name: its first part, and how many more are cut by it. */
const fileOf = ({ kind, parts }: Piece): string =>
  `${kind.replaceAll(' ', '-')}-${parts[0]?.id ?? ''}${parts.length > 1 ? `-and-${parts.length - 1}-more` : ''}`;

/** The files, one after another as they are made. */
export async function* templateFiles(
  model: Model,
  { date, paper, form, only, remake = [] }: TemplatesAsked,
): AsyncGenerator<SheetFile> {
  if (form !== 'pdf') {
    const write = form === 'dxf' ? pieceDxf : pieceSvg;
    for (const piece of [...cutPieces(model, only), ...ribPieces(model, only)])
      yield { name: `${stem(model.name)}-${fileOf(piece)}.${form}`, bytes: write(piece) };
    return;
  }
  const { sheetsPdf } = await import('./paper/pdf.ts');
  const job = { model, date, paper };
  for (const sheet of [
    pieceTemplates(job, only),
    ribTemplates(job, only),
    stripTemplates(job, only),
    ...(only && remake.length === 0 ? [] : [cutListSheet(job, remake)]),
  ]) {
    yield {
      name: `${stem(model.name)}-${sheet.id}.pdf`,
      bytes: await sheetsPdf([sheet], { title: `${sheet.title}: ${model.name}`, date }),
    };
  }
}
