import type { PaperName, Sheet } from '../../sheets/paper/page.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { askPaper } from './printer.ts';

const PDF = 'application/pdf';

/** Bench sheets by their ids as one PDF, named after the panel. */
export async function savePdf(ids: readonly string[], name: string, paper: PaperName): Promise<void> {
  const { model } = useApp.getState();
  const bytes = await askPaper((p) => p.pdf({ model, date: today(), paper }, ids));
  saveAs(bytes, `${fileStem(model.name)}-${name}.pdf`, PDF);
}

/** Sheets made here as one PDF, true to size; written where the others are, by the one writer. */
export async function saveSheets(sheets: readonly Sheet[], name: string): Promise<void> {
  const bytes = await askPaper((p) => p.written(sheets, name, today()));
  saveAs(new Uint8Array(bytes), `${fileStem(name)}.pdf`, PDF);
}
