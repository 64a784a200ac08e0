import { areaOf, type Form, framed, type Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line, placed, rectangle, shape } from '../paper/path.ts';
import { leadOf, riseOf, textWidth, wrap } from '../paper/type.ts';
import { person } from './standHere.ts';
import { STOP_LINE, type Step } from './step.ts';
import { numberText } from './stepNumber.ts';
import { PICTURE, PLAN, type StepPicture } from './stepPicture.ts';

/*
 * Step cards on paper: one action a card, read at arm's length with gloves on. Two to an upright page, or one to a page
 * that lies on its side, larger.
 */

export type CardSize = 'two to a page' | 'one to a page';

const FORMS: Readonly<Record<CardSize, Form>> = {
  'two to a page': { id: 'step-cards', title: 'Step cards' },
  'one to a page': { id: 'step-cards-large', title: 'Step cards', lying: true },
};

const GAP = 4;

const LEFT = 3;
const COLUMN = LEFT + PICTURE.width + 4;
const FOOT = 11;
/** Sizes of a card's words, tried from the largest: the first at which the column is not too long. */
const SIZES = [1.3, 1.2, 1.1, 1, 0.92, 0.84];
const LEAST = 10;

/** A card's room, mm. */
interface Room {
  readonly width: number;
  readonly height: number;
}

/** The column of words beside the picture, being filled. */
class Column {
  readonly ink: Ink[] = [];
  readonly width: number;
  readonly grow: number;
  y: number;

  constructor(top: number, width: number, grow: number) {
    this.y = top;
    this.width = width;
    this.grow = grow;
  }

  size(points: number): number {
    return Math.max(LEAST, points * this.grow);
  }

  words(text: string, points: number): void {
    const size = this.size(points);
    for (const line of wrap(text, this.width, { size })) {
      this.ink.push({ kind: 'text', x: COLUMN, y: this.y + riseOf(size), text: line, size });
      this.y += leadOf(size);
    }
    this.y += 0.8;
  }

  /** White on black, as wide as the column. */
  band(text: string, points: number): void {
    const size = this.size(points);
    const lines = wrap(text, this.width - 4, { size, bold: true });
    const height = lines.length * leadOf(size) + 2;
    this.ink.push(rectangle(COLUMN, this.y, this.width, height, null, 'ink'));
    lines.forEach((line, i) =>
      this.ink.push({
        kind: 'text',
        x: COLUMN + 2,
        y: this.y + 1 + riseOf(size) + i * leadOf(size),
        text: line,
        size,
        bold: true,
        white: true,
      }),
    );
    this.y += height + 1.5;
  }

  /** Layers as they lie, one bar each from the drill side down. */
  layers(names: readonly string[]): void {
    if (names.length === 0) return;
    this.words('Layers, drill side on top:', 10);
    const size = this.size(11);
    const height = leadOf(size) + 1.2;
    names.forEach((name, i) => {
      const y = this.y + i * height;
      this.ink.push(rectangle(COLUMN, y, this.width, height, 'hairline', i % 2 === 0 ? 'light' : 'paper'), {
        kind: 'text',
        x: COLUMN + 2,
        y: y + 0.7 + riseOf(size),
        text: name,
        size,
        bold: true,
      });
    });
    this.y += names.length * height + 2;
  }

  number(step: Step, units: 'mm' | 'in'): void {
    if (!step.check) return;
    const { large, small, band } = numberText(step.check, units);
    const top = this.y + 0.5;
    const [figureSize, wordSize, smallSize] = [this.size(large.length > 1 ? 18 : 24), this.size(11), this.size(10)];
    let y = top + 1.5;
    for (const { figure, words } of large) {
      const wide = textWidth(figure, { size: figureSize, bold: true });
      this.ink.push({
        kind: 'text',
        x: COLUMN + 2,
        y: y + riseOf(figureSize),
        text: figure,
        size: figureSize,
        bold: true,
      });
      // Beside the figure where two lines do, else under it.
      const beside = wrap(words, this.width - wide - 7, { size: wordSize, bold: true });
      const under = beside.length > 2;
      const lines = under ? wrap(words, this.width - 4, { size: wordSize, bold: true }) : beside;
      const [left, first] = under ? [COLUMN + 2, y + leadOf(figureSize)] : [COLUMN + wide + 5, y + 0.6];
      lines.forEach((text, i) =>
        this.ink.push({
          kind: 'text',
          x: left,
          y: first + riseOf(wordSize) + i * leadOf(wordSize),
          text,
          size: wordSize,
          bold: true,
        }),
      );
      y = Math.max(y + leadOf(figureSize), first + lines.length * leadOf(wordSize) + 0.4);
    }
    if (small) {
      this.ink.push({ kind: 'text', x: COLUMN + 2, y: y + riseOf(smallSize), text: small, size: smallSize });
      y += leadOf(smallSize);
    }
    this.ink.push(rectangle(COLUMN, top, this.width, y + 1 - top, 'heavy', 'none'));
    this.y = y + 2.5;
    if (band) this.band(band, 13);
  }
}

function columnOf(step: Step, units: 'mm' | 'in', top: number, room: Room): Column {
  const filled = (grow: number): Column => {
    const column = new Column(top, room.width - COLUMN - 3, grow);
    if (step.held) column.band(`NOT YET. ${sentence(step.held)} Ask first.`, 11);
    for (const text of step.lines) column.words(text, 12);
    column.layers(step.layers);
    column.number(step, units);
    return column;
  };
  let column = filled(SIZES[0]!);
  for (const grow of SIZES.slice(1)) if (column.y > room.height - FOOT) column = filled(grow);
  return column;
}

/** One card at its own origin, mm. */
function card(step: Step, picture: StepPicture | undefined, units: 'mm' | 'in', room: Room): Ink[] {
  const { width, height } = room;
  const label = `${step.number}.`;
  const labelWide = textWidth(label, { size: 18, bold: true }) + 2.5;
  const size = textWidth(step.title, { size: 18, bold: true }) > width - 2 * LEFT - labelWide ? 14 : 18;
  const title = wrap(step.title, width - 2 * LEFT - labelWide, { size, bold: true });
  const top = Math.max(11, 2.5 + title.length * leadOf(size));
  const foot = height - FOOT;
  const drawn = Math.min(1, (foot - top - PLAN.height - 5) / PICTURE.height);
  return [
    rectangle(0, 0, width, height, 'outline', 'none'),
    { kind: 'text', x: LEFT, y: 2 + riseOf(18), text: label, size: 18, bold: true },
    ...title.map(
      (text, i): Ink => ({
        kind: 'text',
        x: LEFT + labelWide,
        y: 2 + riseOf(18) + i * leadOf(size),
        text,
        size,
        bold: true,
      }),
    ),
    line([
      [0, top],
      [width, top],
    ]),
    ...(picture
      ? [
          ...moved(picture.ink, { x: LEFT + (PICTURE.width * (1 - drawn)) / 2, y: top + 0.5, scale: drawn }),
          ...moved(picture.plan, { x: LEFT, y: foot - PLAN.height - 4, scale: 1 }),
        ]
      : []),
    ...columnOf(step, units, top + 2, room).ink,
    { kind: 'text', x: LEFT, y: foot - 1.2, text: `You stand here. ${step.edge}`, size: 10 },
    line([
      [0, foot],
      [width, foot],
    ]),
    { kind: 'text', x: LEFT, y: foot + 7, text: STOP_LINE, size: 13, bold: true },
    rectangle(width - 62, foot + 1.8, 7.5, 7.5, 'outline', 'none'),
    { kind: 'text', x: width - 53, y: foot + 7, text: 'done', size: 11 },
    { kind: 'text', x: width - 40, y: foot + 7, text: 'initials', size: 11 },
    line([
      [width - 26, foot + 7.6],
      [width - 4, foot + 7.6],
    ]),
  ];
}

/** What the drawings mean, once, for who has never seen a card. */
const KEY: readonly (readonly [(x: number, y: number) => Ink[], string])[] = [
  [
    (x, y) => [rectangle(x - 5, y - 3, 10, 6, 'heavy', 'dark')],
    'Dark, with a thick line: the part you handle. Light: what is there already.',
  ],
  [
    (x, y) => [rectangle(x - 5, y - 3, 10, 6, 'hidden', 'none')],
    'Dashes: where the part goes. On the plan: what comes later.',
  ],
  [
    (x, y) => [
      line(
        [
          [x - 5, y],
          [x + 2, y],
        ],
        'heavy',
      ),
      shape(
        [
          [x + 1, y - 2.2],
          [x + 5.5, y],
          [x + 1, y + 2.2],
        ],
        null,
        'ink',
      ),
    ],
    'Arrow: the way the part or the drill goes.',
  ],
  [(x, y) => [{ kind: 'circle', x, y, r: 1.5, stroke: null, fill: 'ink' }], 'Dot: a clamp. One beside each hole.'],
  [
    (x, y) => [
      { kind: 'circle', x, y, r: 2, stroke: 'outline', fill: 'paper' },
      { kind: 'circle', x, y, r: 0.6, stroke: null, fill: 'ink' },
    ],
    'Ring with a point: a hole to drill.',
  ],
  [
    (x, y) => [{ kind: 'circle', x, y, r: 3, stroke: 'heavy', fill: 'none' }],
    'Open ring: where the feeler leaf is tried.',
  ],
  [(x, y) => person([x, y], 'up'), 'You, from above: where you stand, and which way you look.'],
];

/** The card before the first: how to read one. */
function keyCard({ height, width }: Room): Ink[] {
  const [top, foot] = [11, height - FOOT];
  const step = (foot - top - 4) / KEY.length;
  return [
    rectangle(0, 0, width, height, 'outline', 'none'),
    { kind: 'text', x: LEFT, y: 2 + riseOf(18), text: 'How to read a card', size: 18, bold: true },
    line([
      [0, top],
      [width, top],
    ]),
    ...KEY.flatMap(([draw, text], i): Ink[] => {
      const y = top + 2 + (i + 0.5) * step;
      return [...draw(LEFT + 9, y), { kind: 'text', x: LEFT + 22, y: y + 1.6, text, size: 13 }];
    }),
    line([
      [0, foot],
      [width, foot],
    ]),
    { kind: 'text', x: LEFT, y: foot + 7, text: `One card, one action, in order. ${STOP_LINE}`, size: 13, bold: true },
  ];
}

const sentence = (text: string): string =>
  `${text.charAt(0).toUpperCase()}${text.slice(1)}${/[.!?]$/.test(text) ? '' : '.'}`;

/** Ink enlarged and moved. */
function moved(
  ink: readonly Ink[],
  { x, y, scale }: { readonly x: number; readonly y: number; readonly scale: number },
): Ink[] {
  return ink.map((i): Ink => {
    if (i.kind === 'path') return { ...i, d: placed(i.d, { scale, x, y }) };
    if (i.kind === 'circle') return { ...i, x: x + i.x * scale, y: y + i.y * scale, r: i.r * scale };
    return { ...i, x: x + i.x * scale, y: y + i.y * scale, size: i.size * scale };
  });
}

/** How much larger everything is on a card that has the page to itself. */
const LARGER = 1.4;

/** Draws into a box on the page, everything `scale` times as large. */
function cardAt(draw: (room: Room) => Ink[], { x, y, width, height }: Box, scale: number): Ink[] {
  return moved(draw({ width: width / scale, height: height / scale }), { x, y, scale });
}

/** Step cards as pages, each step with its picture, after a card that says how to read one. */
export function stepCards(
  job: Job,
  steps: readonly Step[],
  pictures: ReadonlyMap<string, StepPicture>,
  cards: CardSize = 'two to a page',
): Sheet {
  const form = FORMS[cards];
  const each = cards === 'two to a page' ? 2 : 1;
  const draws = [
    keyCard,
    ...steps.map(
      (step) =>
        (room: Room): Ink[] =>
          card(step, pictures.get(step.id), job.model.units, room),
    ),
  ];
  const pages: Ink[][] = [];
  for (let i = 0; i < draws.length; i += each) {
    const area = areaOf(job, form, pages.length);
    const height = (area.height - GAP * (each - 1)) / each;
    pages.push(
      draws
        .slice(i, i + each)
        .flatMap((draw, k) =>
          cardAt(
            draw,
            { x: area.x, y: area.y + k * (height + GAP), width: area.width, height },
            each === 1 ? LARGER : 1,
          ),
        ),
    );
  }
  return framed(job, form, pages);
}
