import { show } from '../../checks/describe.ts';
import type { Doubler, Model } from '../../model/schema.ts';
import { echo } from '../../units.ts';
import { type Block, flowed, heading, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Cell } from '../paper/table.ts';
import { type DecisionText, decisionText } from './decisionText.ts';

/*
 * J. The change note, for the builder's log: what was added or changed, why, what it did, and who was asked. It must be
 * readable years later without the program.
 */

const FORM: Form = { id: 'change-note', title: 'Change note', marks: true };
const BLANK: Cell = { blank: true };

/** What the panel's own file says was decided, oldest first. */
const decidedIn = (model: Model): DecisionText[] => (model.decisions ?? []).map(decisionText);

const WHERE: Readonly<Record<Doubler['end'], string>> = { front: 'front end', rear: 'rear end', tail: 'tail' };

function pieceName(d: Doubler): string {
  if (d.form === 'channel') return 'channel doubler';
  return d.on === 'web' ? 'flat packer on the web' : `shim under the ${d.on} cap`;
}

function pieceRow(model: Model, d: Doubler): Cell[] {
  const sheet = model.sheets.find((s) => s.id === d.sheet);
  return [
    d.id,
    pieceName(d),
    sheet ? `${echo(sheet.thickness)}, ${sheet.alloy}` : d.sheet,
    `${d.part}, ${WHERE[d.end]}`,
    d.radius === undefined ? '' : show(model, d.radius),
    BLANK,
    BLANK,
  ];
}

function decisionBlocks(d: DecisionText, at: number): Block[] {
  return [
    heading(`${at}. ${d.what}`),
    words(`Why: ${d.why || '______________________________________________________'}`),
    words(
      `Decided on: ${d.date || 'no day was written down'}. ${d.ask.length > 0 ? `To be asked or shown: ${d.ask.join(', ')}.` : ''}`,
    ),
    words(
      `Who was asked, and what they said: ${d.asked || (d.ask.length > 0 ? 'NOBODY YET. Before it is built in: ______________________' : 'nobody')}`,
      { bold: d.asked === '' && d.ask.length > 0 },
    ),
    ...(d.lines.length > 0
      ? [
          table({
            columns: [
              { head: 'what moved', breaks: true },
              { head: 'before, as it was known', breaks: true },
              { head: 'after, worked out, not read', breaks: true },
            ],
            rows: d.lines.map((l): Cell[] => [l.what, l.before, { text: l.after, bold: true, basis: 'predicted' }]),
          }),
        ]
      : []),
  ];
}

/** Lines for what was decided without the program. */
function byHand(count: number): Block[] {
  return [
    heading('Written by hand'),
    table({
      rowHeight: 14,
      columns: [
        { head: 'what was added or changed', least: 52 },
        { head: 'why', least: 44 },
        { head: 'before and after', least: 36 },
        { head: 'who was asked, day', least: 34 },
      ],
      rows: Array.from({ length: count }, (): Cell[] => [BLANK, BLANK, BLANK, BLANK]),
    }),
  ];
}

/** The change note of a panel, from the decisions of its log and the pieces that are not on the drawing. */
export function changeNote(job: Job, decisions: readonly DecisionText[] = decidedIn(job.model)): Sheet {
  const { model } = job;
  const added = model.doublers.filter((d) => !d.designed);
  return flowed(job, FORM, [
    words(
      'Every piece here that is not on the drawing changes the structure: the designer decides whether it may stay, and the inspector sees it before it is covered.',
    ),
    heading(added.length === 0 ? 'Pieces that are not on the drawing: none' : 'Pieces that are not on the drawing'),
    ...(added.length === 0
      ? []
      : [
          table({
            rowHeight: 8,
            columns: [
              { head: 'mark' },
              { head: 'piece', breaks: true },
              { head: 'sheet', breaks: true },
              { head: 'where' },
              { head: 'bend radius', align: 'end' },
              { head: 'why', least: 34 },
              { head: 'who was asked', least: 30 },
            ],
            rows: added.map((d) => pieceRow(model, d)),
          }),
        ]),
    ...decisions.flatMap((d, i) => decisionBlocks(d, i + 1)),
    ...byHand(decisions.length === 0 ? 6 : 3),
  ]);
}
