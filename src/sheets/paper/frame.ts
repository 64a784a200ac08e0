import { CAUTION } from '../../checks/report.ts';
import type { Model } from '../../model/schema.ts';
import { type Ink, lying, PAPERS, type Page, type Paper, type PaperName, type Sheet } from './page.ts';
import { line, rectangle } from './path.ts';
import { LEAST_SIZE, leadOf, linesHeight, MM_PER_POINT, riseOf, textWidth, wrap } from './type.ts';

/*
 * What stands on every sheet: the title strip, the caution, the page number, and on full-size pages the check bars.
 */

/** What is printed, when and on what. The clock belongs to the app and the terminal: the date is given, `2026-05-16`. */
export interface Job {
  readonly model: Model;
  readonly date: string;
  readonly paper: PaperName;
}

/** One sheet's name and kind of page. */
export interface Form {
  /** For file names: letters, digits and hyphens. */
  readonly id: string;
  readonly title: string;
  /** The page lies on its long side. */
  readonly lying?: boolean;
  /** Parts are drawn in their own size: check bars both ways, and the words that go with them. */
  readonly fullSize?: boolean;
  /** A paper of its own in place of the job's. */
  readonly own?: Paper;
}

export interface Box {
  readonly x: number;
  readonly y: number;
  readonly width: number;
  readonly height: number;
}

/** No ink nearer to the paper's edge than this, mm: what every printer can reach, and room to hold the sheet. */
export const MARGIN = 12;

const TITLE_SIZE = 16;
const PAD = 1.4;

/** The caution on a sheet's first page is whole; on the pages behind it this. */
export const CAUTION_BRIEF =
  'Fit, not strength. Drawings and their limits govern. Any added piece or larger rivet changes the structure: ask the designer, show the inspector. The whole caution is on page 1.';

/** Which way to say what the panel is. */
export const HANDS: Readonly<Record<Model['hand'], string>> = {
  right: 'right',
  left: 'left',
  both: 'both, in one piece',
};

const paperOf = ({ paper }: Pick<Job, 'paper'>, form: Pick<Form, 'lying' | 'own'>): Paper =>
  form.own ?? (form.lying ? lying(PAPERS[paper]) : PAPERS[paper]);

/** "Printed from values measured on 2026-05-16.", from the days of the readings. */
export function measuredOn({ readings }: Pick<Model, 'readings'>): string {
  if (readings.length === 0) return 'Printed from drawing values: nothing was measured yet.';
  const days = [...new Set(readings.flatMap((r) => (r.date ? [r.date] : [])))].sort();
  const undated = readings.filter((r) => !r.date).length;
  const without = undated > 0 ? `${undated} of ${readings.length} readings have no date` : '';
  if (days.length === 0) return 'Printed from values measured on days that were not written down.';
  const said =
    days.length <= 3
      ? days.join(days.length === 2 ? ' and ' : ', ')
      : `${days.length} days from ${days[0]} to ${days.at(-1)}`;
  return `Printed from values measured on ${said}${without ? `; ${without}` : ''}.`;
}

interface Cell {
  readonly label: string;
  readonly value: string;
}

function cellsOf({ model, date }: Job): Cell[] {
  return [
    { label: 'Panel', value: model.name },
    { label: 'Hand', value: HANDS[model.hand] },
    { label: 'Model revision', value: model.revision || 'none' },
    { label: 'Unit', value: model.units === 'mm' ? 'mm' : 'inch' },
    { label: 'Printed', value: date },
  ];
}

const VALUE = { size: 11, bold: true } as const;

/** Cells with their widths: each as wide as it needs, the panel's name takes what is left. */
function strip(
  job: Job,
  width: number,
): {
  readonly cells: readonly (Cell & { readonly width: number; readonly lines: readonly string[] })[];
  readonly height: number;
} {
  const cells = cellsOf(job);
  const needs = cells.map((c) =>
    Math.min(Math.max(textWidth(c.label), textWidth(c.value, VALUE)) + 2 * PAD + 0.6, width / 4),
  );
  needs[0] = width - needs.slice(1).reduce((a, b) => a + b, 0);
  const laid = cells.map((c, i) => ({ ...c, width: needs[i]!, lines: wrap(c.value, needs[i]! - 2 * PAD, VALUE) }));
  const most = Math.max(...laid.map((c) => c.lines.length));
  return { cells: laid, height: PAD + leadOf() + linesHeight(most, VALUE.size) + PAD };
}

const headHeight = (job: Job, width: number): number =>
  TITLE_SIZE * MM_PER_POINT + 2 + strip(job, width).height + 1.6 + linesHeight(1) + 3;

const cautionLines = (width: number, first: boolean): string[] =>
  wrap(first ? CAUTION.replaceAll('\n', ' ') : CAUTION_BRIEF, width);
const footHeight = (width: number, first: boolean): number => 3 + linesHeight(cautionLines(width, first).length) + 1;

/** Room that check bars take from the left and from the bottom of a full-size page's area, and between the two scales of a pair. */
const BARS = { left: 14, bottom: 18, apart: 2 };

/** Where a page's own ink may go. Pages count from 0; the first has the whole caution under it. */
export function areaOf(job: Job, form: Form, page: number): Box {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const top = MARGIN + headHeight(job, width);
  const bottom = paper.height - MARGIN - footHeight(width, page === 0);
  const bars = form.fullSize ? BARS : { left: 0, bottom: 0 };
  return { x: MARGIN + bars.left, y: top, width: width - bars.left, height: bottom - top - bars.bottom };
}

function headInk(job: Job, form: Form, at: { readonly page: number; readonly of: number }): Ink[] {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const right = MARGIN + width;
  const { cells, height } = strip(job, width);
  const base = MARGIN + riseOf(TITLE_SIZE);
  const top = MARGIN + TITLE_SIZE * MM_PER_POINT + 2;
  let x = MARGIN;
  const boxes = cells.flatMap((c): Ink[] => {
    const left = x;
    x += c.width;
    return [
      ...(left > MARGIN
        ? [
            line([
              [left, top],
              [left, top + height],
            ]),
          ]
        : []),
      { kind: 'text', x: left + PAD, y: top + PAD + riseOf(), text: c.label, size: LEAST_SIZE },
      ...c.lines.map(
        (text, i): Ink => ({
          kind: 'text',
          x: left + PAD,
          y: top + PAD + leadOf() + riseOf(VALUE.size) + i * leadOf(VALUE.size),
          text,
          ...VALUE,
        }),
      ),
    ];
  });
  return [
    { kind: 'text', x: MARGIN, y: base, text: form.title, size: TITLE_SIZE, bold: true },
    { kind: 'text', x: right, y: base, text: `page ${at.page + 1} of ${at.of}`, size: 11, align: 'end' },
    rectangle(MARGIN, top, width, height, 'outline'),
    ...boxes,
    { kind: 'text', x: MARGIN, y: top + height + 1.6 + riseOf(), text: measuredOn(job.model), size: LEAST_SIZE },
  ];
}

function footInk(job: Job, form: Form, page: number): Ink[] {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const top = paper.height - MARGIN - footHeight(width, page === 0) + 3;
  return [
    line([
      [MARGIN, top - 1.2],
      [MARGIN + width, top - 1.2],
    ]),
    ...cautionLines(width, page === 0).map(
      (text, i): Ink => ({ kind: 'text', x: MARGIN, y: top + riseOf() + i * leadOf(), text, size: LEAST_SIZE }),
    ),
  ];
}

/** A scale of `length` mm in steps, along x or up y from a corner. */
function bar({
  x,
  y,
  upright,
  length,
  step,
  ticks,
  label,
}: {
  x: number;
  y: number;
  upright: boolean;
  length: number;
  step: number;
  ticks: 1 | -1;
  label: string;
}): Ink[] {
  const at = (along: number, off: number): [number, number] => (upright ? [x + off, y - along] : [x + along, y + off]);
  const count = Math.round(length / step);
  const [tx, ty] = at(length + 1.5, ticks === -1 ? -0.2 : 0.2 + riseOf());
  return [
    line([at(0, 0), at(length, 0)], 'outline'),
    ...Array.from({ length: count + 1 }, (_, i) =>
      line(
        [at(i * step, 0), at(i * step, ticks * (i % 5 === 0 || i === count ? 3.2 : 1.8))],
        i === 0 || i === count ? 'outline' : 'hairline',
      ),
    ),
    upright
      ? { kind: 'text', x: ticks === -1 ? x - 0.4 : x + 0.2 + riseOf(), y: ty, text: label, size: LEAST_SIZE, turn: 90 }
      : { kind: 'text', x: tx, y: ty, text: label, size: LEAST_SIZE },
  ];
}

/** The words beside the check bars of every full-size page. */
export const BAR_NOTE =
  'Lay a steel rule on all four bars before cutting. If one is off, print again at actual size (100 %), not fitted to the page.';

function barInk(job: Job, form: Form, page: number): Ink[] {
  const area = areaOf(job, form, page);
  const [x, y] = [area.x, area.y + area.height + BARS.bottom / 2];
  const bars = [false, true].flatMap((upright) => {
    const [bx, by] = upright ? [MARGIN + 4.6, area.y + area.height - 1] : [x, y];
    return [
      ...bar({ x: bx, y: by, upright, length: 100, step: 10, ticks: -1, label: '100 mm' }),
      ...bar({
        x: upright ? bx + BARS.apart : bx,
        y: upright ? by : by + BARS.apart,
        upright,
        length: 101.6,
        step: 12.7,
        ticks: 1,
        label: '4 in',
      }),
    ];
  });
  const left = x + 101.6 + 1.5 + textWidth('100 mm') + 5;
  const lines = wrap(BAR_NOTE, area.x + area.width - left, { bold: true });
  const top = y + BARS.apart / 2 - linesHeight(lines.length) / 2;
  return [
    ...bars,
    ...lines.map(
      (text, i): Ink => ({
        kind: 'text',
        x: left,
        y: top + riseOf() + i * leadOf(),
        text,
        size: LEAST_SIZE,
        bold: true,
      }),
    ),
  ];
}

/** A sheet of pages: each body framed with strip, page number, caution, and check bars where it is full size. */
export function framed(job: Job, form: Form, bodies: readonly (readonly Ink[])[]): Sheet {
  const all = bodies.length > 0 ? bodies : [[]];
  const pages = all.map(
    (body, page): Page => ({
      paper: paperOf(job, form),
      ink: [
        ...headInk(job, form, { page, of: all.length }),
        ...body,
        ...(form.fullSize ? barInk(job, form, page) : []),
        ...footInk(job, form, page),
      ],
    }),
  );
  return { id: form.id, title: form.title, pages };
}
