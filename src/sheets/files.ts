import type { Kernel } from '../geometry/kernel.ts';
import type { Model } from '../model/schema.ts';
import { SHEETS } from './all.ts';
import type { Job } from './paper/frame.ts';
import type { PaperName, Sheet } from './paper/page.ts';
import { pageSvg } from './paper/svg.ts';
import { drawnStepCards } from './steps/drawnStepCards.ts';

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
  /** The solid modeller, for the pictures of the step cards; without it there are no step cards. */
  readonly kernel?: () => Promise<Kernel>;
}

/** The step cards among the names of sheets: they alone want the solids. */
export const STEP_CARDS = 'step-cards';

/** A name as part of a file's name. */
export const stem = (name: string): string => name.replace(/[^A-Za-z0-9-]+/g, '-');

/**
 * The asked sheets of a panel as files, one after another as they are made. The PDF writer is loaded only when it is
 * asked.
 */
export async function* sheetFiles(model: Model, { date, paper, form, only, kernel }: Asked): AsyncGenerator<SheetFile> {
  const job = { model, date, paper };
  const asked = (id: string): boolean => !only || only.includes(id);
  for (const kind of SHEETS) if (asked(kind.id)) yield* filesOf(job, kind.id, form, kind.build(job));
  if (kernel && asked(STEP_CARDS)) yield* filesOf(job, STEP_CARDS, form, drawnStepCards(job, await kernel()));
}

async function* filesOf(
  { model, date }: Job,
  id: string,
  form: 'pdf' | 'svg',
  sheet: Sheet,
): AsyncGenerator<SheetFile> {
  const name = `${stem(model.name)}-${id}`;
  if (form === 'svg') {
    for (const [i, page] of sheet.pages.entries()) yield { name: `${name}-${i + 1}.svg`, bytes: pageSvg(page) };
  } else {
    const { sheetsPdf } = await import('./paper/pdf.ts');
    yield { name: `${name}.pdf`, bytes: await sheetsPdf([sheet], { title: `${sheet.title}: ${model.name}`, date }) };
  }
}
