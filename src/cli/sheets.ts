import { SHEETS } from '../sheets/all.ts';
import { STEP_CARDS, sheetFiles } from '../sheets/files.ts';
import type { Command } from './command.ts';
import { dayHere, filesIn, writeInto } from './files.ts';
import { folderOf, formOf, namesGiven, OUT, PAPER, paperName, paperOf } from './flags.ts';

const SHEET_NAMES: readonly string[] = [...SHEETS.map((s) => s.id), STEP_CARDS];

/** Paper for the bench, and who does what. */
export const sheetsCommand: Command = {
  says: 'writes the bench sheets and the step cards, a file a sheet',
  flags: [
    OUT,
    PAPER,
    {
      name: '--only',
      value: 'NAMES',
      wants: 'names of sheets',
      says: `names with commas between; all unless told: ${SHEET_NAMES.join(', ')}`,
    },
    {
      name: '--form',
      value: 'pdf|svg',
      wants: 'pdf or svg',
      says: 'pdf (a file a sheet) or svg (a file a page), both true to scale; pdf unless told',
    },
  ],
  async run(model, flags) {
    const folder = folderOf(flags, 'sheets');
    const paper = paperOf(flags);
    const form = formOf(flags, ['pdf', 'svg'], 'sheets');
    const only = namesGiven(flags, '--only', SHEET_NAMES, 'a sheet');
    const kernel = async () => (await import('../geometry/kernel.ts')).openKernel();
    const job = { date: dayHere(), paper, form, kernel, ...(only ? { only } : {}) };
    const count = await writeInto(folder, sheetFiles(model, job));
    return {
      text: `${filesIn(count)} in ${form}, ${paperName(paper)}: print them at actual size (100 %)`,
      code: 0,
    };
  },
};
