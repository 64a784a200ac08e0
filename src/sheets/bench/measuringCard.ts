import { nextReadings } from '../../chance/nextReading.ts';
import { basisOfReading } from '../../checks/basis.ts';
import { checkAll } from '../../checks/checkAll.ts';
import { INSTRUMENTS, type Kind, QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import type { SizeEntry } from '../../model/sizeEntries.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import { formatAngle } from '../../units.ts';
import { figure } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import { jawsInk } from './jaws.ts';

/*
 * I. The measuring card: what is worth reading next, and the whole walk round the bench, both in walking order, with
 * where the jaws go and a blank for each. Sizes are named as the table of readings names them.
 */

const CARD: Form = { id: 'measuring-card', title: 'Measuring card', marks: true };
const WALK: Form = { id: 'measuring-walk', title: 'Measuring card: the whole walk', marks: true };
const BLANK: Cell = { blank: true };

const printed = (model: Model, kind: Kind, v: number): string =>
  QUANTITIES[kind].unit === 'deg' ? formatAngle((v * Math.PI) / 180) : figure(model, v);

/** One picture for each kind of size asked for, with its words. */
function whereToMeasure(kinds: readonly Kind[]): Block[] {
  const HIGH = 17;
  const perRow = 3;
  const rows = Array.from({ length: Math.ceil(kinds.length / perRow) }, (_, i) =>
    kinds.slice(i * perRow, (i + 1) * perRow),
  );
  const lines = (kind: Kind, width: number): { text: string; bold: boolean }[] => [
    ...wrap(QUANTITIES[kind].name, width, { bold: true }).map((text) => ({ text, bold: true })),
    ...wrap(QUANTITIES[kind].where, width).map((text) => ({ text, bold: false })),
  ];
  // The narrowest column any paper gives, so that a row's height holds on each.
  const wide = 34;
  return [
    heading('Where to put the jaws'),
    ...rows.map((row) => {
      const most = Math.max(...row.map((kind) => lines(kind, wide).length));
      return picture(Math.max(HIGH, linesHeight(most)) + 2, (box: Box): Ink[] =>
        row.flatMap((kind, i) => {
          const width = box.width / perRow;
          const x = box.x + i * width;
          return [
            ...jawsInk(kind, { x, y: box.y, width: width - wide - 3, height: HIGH }),
            ...lines(kind, wide).map(
              ({ text, bold }, k): Ink => ({
                kind: 'text',
                x: x + width - wide - 1,
                y: box.y + riseOf() + k * leadOf(),
                text,
                size: LEAST_SIZE,
                bold,
              }),
            ),
          ];
        }),
      );
    }),
  ];
}

function rowsOf(model: Model, entries: readonly SizeEntry[], withWhat: (e: SizeEntry) => string): Cell[][] {
  const book = sizeBook(model);
  return entries.map((e): Cell[] => {
    const last = book.readingsOf(e.key).at(-1);
    return [
      e.key,
      e.name,
      withWhat(e),
      e.nominal === undefined ? '' : printed(model, e.kind, e.nominal),
      last ? { text: printed(model, e.kind, last.value), basis: basisOfReading(model, last) } : '',
      BLANK,
    ];
  });
}

function readings(model: Model, rows: readonly (readonly Cell[])[]): Block {
  return table({
    rowHeight: 7.5,
    columns: [
      { head: 'size' },
      { head: 'what', breaks: true },
      { head: 'with', breaks: true },
      { head: 'drawing', align: 'end' },
      { head: 'last read', align: 'end' },
      { head: `read now, ${model.units} or °`, least: 27 },
    ],
    rows,
  });
}

const kindsOf = (entries: readonly SizeEntry[]): Kind[] => [...new Set(entries.map((e) => e.kind))];
/** Who read it, when, and how warm the parts were: written by hand. */
const SESSION: Block = picture(9, ({ x, y, width }: Box): Ink[] => {
  const base = y + 6;
  return ['day', 'temperature on the part, °C', 'read by'].flatMap((label, i): Ink[] => {
    const left = x + (i * width) / 3;
    const from = left + textWidth(label) + 1.5;
    return [
      { kind: 'text', x: left, y: base, text: label, size: LEAST_SIZE },
      line(
        [
          [from, base + 0.6],
          [left + width / 3 - 4, base + 0.6],
        ],
        'hairline',
      ),
    ];
  });
});

/** What is worth reading next, in the order one walks round the bench. */
export function measuringCard(job: Job): Sheet {
  const { model } = job;
  const next = nextReadings(model, checkAll(model));
  const by = new Map(next.list.map((r) => [r.size, r]));
  const entries = walkingOrder(model).filter((e) => by.has(e.key));
  const [first] = next.list;
  if (entries.length === 0 || !first)
    return flowed(job, CARD, [
      words(next.sentence, { size: 12, bold: true }),
      words('The sheet with the whole walk round the bench has every size, for a first survey or a second look.'),
    ]);
  const withWhat = ({ key }: SizeEntry): string => {
    const { instrument = '', again = false } = by.get(key) ?? {};
    return `${INSTRUMENTS[instrument] ?? instrument}${again ? ', again' : ''}`;
  };
  return flowed(job, CARD, [
    words(
      `${entries.length} readings are worth taking, in the order of the walk: the sheets, out along the front spar, back along the rear one, the holes.`,
      { size: 11 },
    ),
    words(`Most for the minute: ${first.sentence}`),
    SESSION,
    readings(model, rowsOf(model, entries, withWhat)),
    ...whereToMeasure(kindsOf(entries)),
  ]);
}

/** Every size that the drawing gives or that was ever read, in walking order. */
export function measuringWalk(job: Job): Sheet {
  const { model } = job;
  const book = sizeBook(model);
  const entries = walkingOrder(model).filter((e) => e.nominal !== undefined || book.readingsOf(e.key).length > 0);
  return flowed(job, WALK, [
    words(
      `${entries.length} sizes in the order of the walk: the sheets, out along the front spar, back along the rear one, the holes.`,
    ),
    SESSION,
    readings(
      model,
      rowsOf(model, entries, (e) => {
        const used = book.readingsOf(e.key).at(-1)?.instrument ?? Object.keys(QUANTITIES[e.kind].u)[0] ?? '';
        return INSTRUMENTS[used] ?? used;
      }),
    ),
    ...whereToMeasure(kindsOf(entries)),
  ]);
}
