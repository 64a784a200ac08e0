import { CAUTION } from '../../checks/report.ts';
import type { Model } from '../../model/schema.ts';
import { legendHeight, legendInk, marksIn } from './basisMark.ts';
import { BAR_ROOM, checkBars } from './checkBars.ts';
import {
  type Box,
  type Ink,
  lying,
  MARGIN,
  PAPERS,
  type Page,
  type Paper,
  type PaperName,
  type Sheet,
} from './page.ts';
import { rectangle, segment } from './path.ts';
import { textAt, textLines } from './text.ts';
import { leadOf, linesHeight, MM_PER_POINT, riseOf, textWidth, wrap } from './type.ts';

/*
 * What stands on every sheet: the title strip, the caution, the page number, and on full-size pages the check bars.
 */

/**
 * What is printed, when and on what. The clock belongs to the app and the terminal: the date is given, `2026-05-16`.
 */
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
  /** Its values may have marks of what they rest on: the foot of each page has the words of those on it. */
  readonly marks?: boolean;
  /** A paper of its own in place of the job's. */
  readonly own?: Paper;
}

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
  const cells = cellsOf(job).map((c) => ({
    ...c,
    width: Math.min(Math.max(textWidth(c.label), textWidth(c.value, VALUE)) + 2 * PAD + 0.6, width / 4),
  }));
  const others = cells.slice(1).reduce((sum, c) => sum + c.width, 0);
  const laid = cells.map((c, i) => {
    const wide = i === 0 ? width - others : c.width;
    return { ...c, width: wide, lines: wrap(c.value, wide - 2 * PAD, VALUE) };
  });
  const most = Math.max(...laid.map((c) => c.lines.length));
  return { cells: laid, height: PAD + leadOf() + linesHeight(most, VALUE.size) + PAD };
}

const headHeight = (job: Job, width: number): number =>
  TITLE_SIZE * MM_PER_POINT + 2 + strip(job, width).height + 1.6 + linesHeight(1) + 3;

const cautionLines = (width: number, first: boolean): string[] =>
  wrap(first ? CAUTION.replaceAll('\n', ' ') : CAUTION_BRIEF, width);
/** The marks' words stand over the caution. */
const marksHeight = (form: Form, width: number): number => (form.marks ? legendHeight(width) + 1 : 0);
const cautionHeight = (width: number, first: boolean): number => 3 + linesHeight(cautionLines(width, first).length) + 1;
const footHeight = (form: Form, width: number, first: boolean): number =>
  marksHeight(form, width) + cautionHeight(width, first);

/** Where a page's own ink may go. Pages count from 0; the first has the whole caution under it. */
export function areaOf(job: Job, form: Form, page: number): Box {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const top = MARGIN + headHeight(job, width);
  const bottom = paper.height - MARGIN - footHeight(form, width, page === 0);
  const bars = form.fullSize ? BAR_ROOM : { left: 0, bottom: 0 };
  return { x: MARGIN + bars.left, y: top, width: width - bars.left, height: bottom - top - bars.bottom };
}

function headInk(job: Job, form: Form, at: { readonly page: number; readonly of: number }): Ink[] {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const right = MARGIN + width;
  const { cells, height } = strip(job, width);
  const base = MARGIN + riseOf(TITLE_SIZE);
  const top = MARGIN + TITLE_SIZE * MM_PER_POINT + 2;
  let left = MARGIN;
  const boxes: Ink[] = [];
  for (const cell of cells) {
    if (left > MARGIN) boxes.push(segment([left, top], [left, top + height]));
    boxes.push(
      ...textLines([cell.label], [left + PAD, top + PAD]),
      ...textLines(cell.lines, [left + PAD, top + PAD + leadOf()], VALUE),
    );
    left += cell.width;
  }
  return [
    textAt(form.title, [MARGIN, base], { size: TITLE_SIZE, bold: true }),
    textAt(`page ${at.page + 1} of ${at.of}`, [right, base], { size: 11, align: 'end' }),
    rectangle(MARGIN, top, width, height, 'outline'),
    ...boxes,
    ...textLines([measuredOn(job.model)], [MARGIN, top + height + 1.6]),
  ];
}

function footInk(job: Job, form: Form, page: number, body: readonly Ink[]): Ink[] {
  const paper = paperOf(job, form);
  const width = paper.width - 2 * MARGIN;
  const bottom = paper.height - MARGIN;
  const top = bottom - cautionHeight(width, page === 0) + 3;
  const marks = bottom - footHeight(form, width, page === 0) + 1;
  return [
    ...(form.marks ? legendInk(marksIn(body), [MARGIN, marks], width) : []),
    segment([MARGIN, top - 1.2], [MARGIN + width, top - 1.2]),
    ...textLines(cautionLines(width, page === 0), [MARGIN, top]),
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
        ...(form.fullSize ? checkBars(areaOf(job, form, page)) : []),
        ...footInk(job, form, page, body),
      ],
    }),
  );
  return { id: form.id, title: form.title, pages };
}
