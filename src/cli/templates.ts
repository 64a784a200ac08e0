import type { Model } from '../model/schema.ts';
import { templateFiles, templateNames } from '../sheets/templateFiles.ts';
import type { Command, Flags } from './command.ts';
import { dayHere, filesIn, writeInto } from './files.ts';
import { folderOf, formOf, namesGiven, OUT, PAPER, paperName, paperOf } from './flags.ts';

/** Which parts are asked for, and which ribs are to be cut again. */
function wanted(model: Model, flags: Flags): { only?: readonly string[]; remake?: readonly string[] } {
  const ribs = model.ribs.map((r) => r.id);
  const only = namesGiven(flags, '--only', templateNames(model), 'a part with a template of this panel');
  const remake = namesGiven(flags, '--remake', ribs, 'a rib of this panel');
  return { ...(only ? { only } : {}), ...(remake ? { remake } : {}) };
}

/** Full-size paper to cut by, or files for a cutter. */
export const templatesCommand: Command = {
  says: 'writes full-size flat patterns, rib blanks, forming blocks and drill strips, and the cut list',
  flags: [
    OUT,
    PAPER,
    {
      name: '--form',
      value: 'pdf|svg|dxf',
      wants: 'pdf, svg or dxf',
      says: 'pdf (pages with check bars), or svg or dxf (a file a piece, mm, for a cutter); pdf unless told',
    },
    {
      name: '--only',
      value: 'PARTS',
      wants: 'names of parts',
      says: 'names of parts, commas between; all unless told, and then the cut list comes too',
    },
    {
      name: '--remake',
      value: 'RIBS',
      wants: 'names of ribs',
      says: 'names of ribs to cut again, commas between: they join the cut list, which then comes',
    },
  ],
  async run(model, flags) {
    const folder = folderOf(flags, 'templates');
    const paper = paperOf(flags);
    const form = formOf(flags, ['pdf', 'svg', 'dxf'], 'templates');
    const job = { date: dayHere(), paper, form, ...wanted(model, flags) };
    const count = await writeInto(folder, templateFiles(model, job));
    const how =
      form === 'pdf'
        ? `${paperName(paper)}: print them at actual size (100 %) and lay a rule on the check bars`
        : 'millimetres: layers CUT, BEND and MARK';
    return { text: `${filesIn(count)} in ${form}, ${how}`, code: 0 };
  },
};
