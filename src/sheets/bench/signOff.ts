import { type BasisWord, basisOfFinding, basisText } from '../../checks/basis.ts';
import { show } from '../../checks/describe.ts';
import { type GateItem, worstItem } from '../../drilling/gate.ts';
import { gatesOf } from '../../drilling/gates.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { limitText, readWith } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { LEAST_SIZE } from '../paper/type.ts';

/*
 * H. Ready to skin: every gate with its value, its limit, with what and when it was read, and room for two people's
 * initials; what is open, what was photographed, and a line for the inspector. It certifies nothing.
 */

const FORM: Form = { id: 'sign-off', title: 'Ready-to-skin sign-off', marks: true };
const BLANK: Cell = { blank: true };
const SAID = { yes: 'yes', no: 'NO', unsettled: 'UNSETTLED', 'not asked': 'NOT ASKED' } as const;

/**
 * The items of all gates, each once, as the worst of them stands: what must hold before pilots must hold still when
 * the skin goes on.
 */
function itemsOf(model: Model): GateItem[] {
  const all = gatesOf(model).flatMap((gate) => gate.items);
  const names = [...new Set(all.map((i) => i.name))];
  return names.flatMap((name) => worstItem(all.filter((i) => i.name === name)) ?? []);
}

const capital = (text: string): string => `${text[0]?.toUpperCase() ?? ''}${text.slice(1)}`;

/** What an item rests on in words: with which instruments it was read, and when. */
function restsText(model: Model, item: GateItem, basis: BasisWord): string {
  const isRead = basis !== 'drawing' && basis !== 'not asked';
  const { instruments, days } = item.finding && isRead ? readWith(model, item.finding.restsOn) : NOT_READ;
  return [basisText(basis), instruments, days].filter((t) => t !== '').join(', ');
}

const NOT_READ = { instruments: '', days: '' };

function itemRow(model: Model, item: GateItem): Cell[] {
  const f = item.finding;
  const basis = f ? basisOfFinding(skeletonOf(model), f) : item.basis;
  const doubt = f && f.u > 0 ? ` ± ${show(model, 2 * f.u, f.unit)}` : '';
  const bold = item.answer !== 'yes';
  return [
    { text: capital(item.name), bold },
    { text: SAID[item.answer], bold },
    f ? { text: `${f.place}: ${show(model, f.value, f.unit)}${doubt}, ${f.sense}`, basis } : '',
    f ? limitText(model, f.limits) : '',
    restsText(model, item, basis),
    BLANK,
    BLANK,
  ];
}

/** Everything that the skin will hide: a square to tick for each photograph. */
function photographs(model: Model): Cell[][] {
  const { bays, placesAt } = skeletonOf(model);
  return bays.map((bay): Cell[] => {
    const { id } = bay.station;
    const marks = [bay.tip?.id, bay.main?.id, bay.nose?.id].filter((m): m is string => m !== undefined);
    const pieces = placesAt(id).flatMap((p) => p.doublers);
    const added = pieces.filter((d) => !d.designed).map((d) => d.id);
    return [
      id,
      marks.join(', '),
      pieces
        .filter((d) => d.designed)
        .map((d) => d.id)
        .join(', '),
      { text: added.join(', '), bold: true },
      { tick: true },
      BLANK,
    ];
  });
}

/** Lines to sign on, a word under each; all on one page. */
function signing(lines: readonly (readonly string[])[]): Block {
  const HIGH = 16;
  return picture(HIGH * lines.length, (box: Box): Ink[] =>
    lines.flatMap((labels, row) =>
      labels.flatMap((label, i): Ink[] => {
        const width = box.width / labels.length;
        const [x, y] = [box.x + i * width, box.y + row * HIGH];
        return [
          line(
            [
              [x, y + 10],
              [x + width - 4, y + 10],
            ],
            'outline',
          ),
          { kind: 'text', x, y: y + 14, text: label, size: LEAST_SIZE },
        ];
      }),
    ),
  );
}

export function signOff(job: Job): Sheet {
  const { model } = job;
  const items = itemsOf(model);
  const open = items.filter((i) => i.answer !== 'yes');
  const skin = gatesOf(model)[2];
  return flowed(job, FORM, [
    words(
      `${skin.question} ${capital(skin.answer)}. ${open.length === 0 ? 'Nothing is open.' : `${open.length} of ${items.length} items are open.`}`,
      { size: 12, bold: true },
    ),
    words(
      'This sheet says what was measured and what stands open. It is not a certificate: whether the panel may be covered is for the drawings, the local rules and the inspector to say.',
    ),
    heading('Before the skin goes on'),
    table({
      rowHeight: 9,
      columns: [
        { head: 'item', breaks: true },
        { head: 'answer' },
        { head: 'worst value', breaks: true },
        { head: 'limit', breaks: true },
        { head: 'rests on, read with, on', breaks: true },
        { head: 'initials', least: 15 },
        { head: 'initials', least: 15 },
      ],
      rows: items.map((i) => itemRow(model, i)),
    }),
    ...(open.length > 0
      ? [heading('Open items'), ...open.map((i) => words(`${capital(i.says)} (${basisText(i.basis)}). ${i.first}`))]
      : []),
    heading('Photographs taken before it is covered'),
    table({
      rowHeight: 7,
      columns: [
        { head: 'station' },
        { head: 'ribs' },
        { head: 'doublers as drawn' },
        { head: 'pieces added' },
        { head: 'taken', align: 'middle' },
        { head: 'where it is kept', least: 50 },
      ],
      rows: photographs(model),
    }),
    heading('Seen before it was covered'),
    signing([
      ['builder', 'signature', 'date'],
      ['second reader', 'signature', 'date'],
      ['inspector or licensed mechanic', 'signature', 'date'],
    ]),
  ]);
}
