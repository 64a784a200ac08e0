import type { Doubler, Model } from '../model/schema.ts';
import { show } from '../checks/describe.ts';
import { echo } from '../units.ts';
import { type Block, flowed, heading, table, words } from './flow.ts';
import type { Form, Job } from './frame.ts';
import type { Sheet } from './page.ts';
import type { Cell } from './table.ts';

/*
 * J. The change note, for the builder's log: what was added or changed, why, what it did, and who was asked. It must be
 * readable years later without the program.
 */

const FORM: Form = { id: 'change-note', title: 'Change note' };
const BLANK: Cell = { blank: true };

/** One thing decided at the bench, as the log keeps it. */
export interface Decision {
  readonly what: string;
  readonly why: string;
  /** Who was asked: the designer, the inspector; empty while nobody was. */
  readonly asked: string;
  readonly date: string;
  /** Each thing that moved: what it was, what it then was. */
  readonly lines: readonly { readonly what: string; readonly before: string; readonly after: string }[];
}

const WHERE: Readonly<Record<Doubler['end'], string>> = { front: 'front end', rear: 'rear end', tail: 'tail' };

function pieceName(d: Doubler): string {
  if (d.form === 'channel') return 'channel doubler';
  return d.on === 'web' ? 'flat packer on the web' : `shim under the ${d.on} cap`;
}

function pieceRow(model: Model, d: Doubler): Cell[] {
  const sheet = model.sheets.find((s) => s.id === d.sheet);
  return [d.id, pieceName(d), sheet ? `${echo(sheet.thickness)}, ${sheet.alloy}` : d.sheet, `${d.part}, ${WHERE[d.end]}`, d.radius === undefined ? '' : show(model, d.radius), BLANK, BLANK];
}

function decisionBlocks(d: Decision, at: number): Block[] {
  return [
    heading(`${at}. ${d.what}`),
    words(`Why: ${d.why || '______________________________________________________'}`),
    words(`Who was asked: ${d.asked || 'NOBODY YET: ask the designer before it is built in  ______________________'}   Day: ${d.date || '______________'}`, { bold: d.asked === '' }),
    ...(d.lines.length > 0 ? [table({ columns: [{ head: 'what moved', breaks: true }, { head: 'before', breaks: true }, { head: 'after', breaks: true }], rows: d.lines.map((l): Cell[] => [l.what, l.before, { text: l.after, bold: true }]) })] : []),
  ];
}

/** Lines for what was decided without the program. */
function byHand(count: number): Block[] {
  return [
    heading('Written by hand'),
    table({ rowHeight: 14, columns: [{ head: 'what was added or changed', least: 52 }, { head: 'why', least: 44 }, { head: 'before and after', least: 36 }, { head: 'who was asked, day', least: 34 }], rows: Array.from({ length: count }, (): Cell[] => [BLANK, BLANK, BLANK, BLANK]) }),
  ];
}

/** The change note of a panel, from the decisions of its log and the pieces that are not on the drawing. */
export function changeNote(job: Job, decisions: readonly Decision[]): Sheet {
  const { model } = job;
  const added = model.doublers.filter((d) => !d.designed);
  return flowed(job, FORM, [
    words('Every piece here that is not on the drawing changes the structure: the designer decides whether it may stay, and the inspector sees it before it is covered.'),
    heading(added.length === 0 ? 'Pieces that are not on the drawing: none' : 'Pieces that are not on the drawing'),
    ...(added.length === 0 ? [] : [table({ rowHeight: 8, columns: [{ head: 'mark' }, { head: 'piece', breaks: true }, { head: 'sheet', breaks: true }, { head: 'where' }, { head: 'bend radius', align: 'end' }, { head: 'why', least: 34 }, { head: 'who was asked', least: 30 }], rows: added.map((d) => pieceRow(model, d)) })]),
    ...decisions.flatMap((d, i) => decisionBlocks(d, i + 1)),
    ...byHand(decisions.length === 0 ? 6 : 3),
  ]);
}
