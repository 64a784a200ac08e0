import { areaOf, type Form, framed, type Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line, placed, rectangle, shape } from '../paper/path.ts';
import { leadOf, riseOf, textWidth, wrap } from '../paper/type.ts';
import { columnInk, FOOT, LEFT, type Room } from './cardColumn.ts';
import { person } from './standHere.ts';
import { STOP_LINE, type Step } from './step.ts';
import { STEP_PICTURE, STEP_PLAN } from './stepInk.ts';
import type { StepPicture } from './stepPicture.ts';

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

/** One card at its own origin, mm. */
function card(step: Step, picture: StepPicture | undefined, units: 'mm' | 'in', room: Room): Ink[] {
  const { width, height } = room;
  const label = `${step.number}.`;
  const labelWide = textWidth(label, { size: 18, bold: true }) + 2.5;
  const size = textWidth(step.title, { size: 18, bold: true }) > width - 2 * LEFT - labelWide ? 14 : 18;
  const title = wrap(step.title, width - 2 * LEFT - labelWide, { size, bold: true });
  const top = Math.max(11, 2.5 + title.length * leadOf(size));
  const foot = height - FOOT;
  const drawn = Math.min(1, (foot - top - STEP_PLAN.height - 5) / STEP_PICTURE.height);
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
          ...moved(picture.ink, { x: LEFT + (STEP_PICTURE.width * (1 - drawn)) / 2, y: top + 0.5, scale: drawn }),
          ...moved(picture.plan, { x: LEFT, y: foot - STEP_PLAN.height - 4, scale: 1 }),
        ]
      : []),
    ...columnInk(step, units, top + 2, room),
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
