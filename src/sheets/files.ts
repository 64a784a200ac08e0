import type { Model } from '../model/schema.ts';
import { SHEETS } from './all.ts';
import type { PaperName } from './page.ts';
import { pageSvg } from './svg.ts';

/*
 * Sheets as files: a PDF a sheet, or an SVG a page.
 */

export interface SheetFile {
  readonly name: string;
  readonly bytes: Uint8Array | string;
}

export interface Asked {
  /** Of the print, `2026-05-16`. */
  readonly date: string;
  readonly paper: PaperName;
  readonly form: 'pdf' | 'svg';
  /** Ids of sheets; all where it is left out. */
  readonly only?: readonly string[];
}

/** A panel's name as the start of a file's name. */
const stem = (name: string): string => name.replace(/[^A-Za-z0-9-]+/g, '-');

/** The asked sheets of a panel as files, one after another as they are made. The PDF writer is loaded only when it is asked. */
export async function* sheetFiles(model: Model, { date, paper, form, only }: Asked): AsyncGenerator<SheetFile> {
  for (const kind of SHEETS) {
    if (only && !only.includes(kind.id)) continue;
    const sheet = kind.build({ model, date, paper });
    const name = `${stem(model.name)}-${kind.id}`;
    if (form === 'svg') {
      for (const [i, page] of sheet.pages.entries()) yield { name: `${name}-${i + 1}.svg`, bytes: pageSvg(page) };
    } else {
      const { sheetsPdf } = await import('./pdf.ts');
      yield { name: `${name}.pdf`, bytes: await sheetsPdf([sheet], { title: `${sheet.title}: ${model.name}`, date }) };
    }
  }
}
