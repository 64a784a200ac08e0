import { nominalDiagonals } from '../../checks/fit/square.ts';
import { alongAt } from '../../model/along.ts';
import { flangesPoint } from '../../model/hand.ts';
import type { Model, Rib, Spar, SparName } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { figure } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import { areaOf, type Form, type Job } from '../paper/frame.ts';
import { type Box, type Ink, type Sheet } from '../paper/page.ts';
import { arrowHead, line, rectangle, shape } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { fallOf, LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth } from '../paper/type.ts';

/*
 * A. The station map: the skeleton from above to scale, with its datum, running dimensions in mm and inch, rib names, the
 * way each flange turns, brackets, and the diagonals of each bay with their drawing lengths.
 */

const FORM: Form = { id: 'station-map', title: 'Station map', lying: true };

/** Scales a bench rule can be laid to, 1 to so many. */
const SCALES = [
  1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500, 1000,
] as const;

/** Height of two running dimensions written up the page, mm. */
const RUNNING = 30;
const BESIDE = 16;

const inOut: Readonly<Record<Rib['turns'], string>> = { inboard: 'inboard', outboard: 'outboard' };

/** The panel's frame on the page: x of the page from along the span, y of the page from aft. */
interface Plan {
  readonly model: Model;
  readonly bays: readonly Bay[];
  readonly one: number;
  X(y: number): number;
  Y(x: number): number;
}

const ys = (bays: readonly Bay[]): number[] => bays.map((b) => b.station.y);
const noseMost = (bays: readonly Bay[]): number => Math.max(0, ...bays.map((b) => b.station.nose));
const webMost = ({ webToWeb, spars }: Model, bays: readonly Bay[]): number =>
  spars.rear ? Math.max(...bays.map((b) => alongAt(webToWeb, b.station.y))) : 0;

/** One to so many: the largest drawing that goes in the room. */
function scaleFor(
  model: Model,
  bays: readonly Bay[],
  room: { readonly width: number; readonly height: number },
): number {
  const all = ys(bays);
  const span = Math.max(...all) - Math.min(...all);
  const chord = noseMost(bays) + webMost(model, bays) + 30;
  return (
    SCALES.find((s) => span / s <= room.width && chord / s <= room.height) ??
    Math.ceil(Math.max(span / room.width, chord / room.height))
  );
}

/** A spar from above: its web heavy, the edge of its caps hidden behind. */
function sparInk(plan: Plan, name: SparName, spar: Spar): Ink[] {
  const { model, bays } = plan;
  const web = (y: number): number => (name === 'front' ? 0 : alongAt(model.webToWeb, y));
  const inside = ys(bays).filter((y) => y > spar.from && y < spar.to);
  const along = [spar.from, ...inside, spar.to];
  const way = spar.opens === 'aft' ? 1 : -1;
  return [
    line(
      along.map((y): [number, number] => [plan.X(y), plan.Y(web(y))]),
      'heavy',
    ),
    line(
      along.map((y): [number, number] => [plan.X(y), plan.Y(web(y) + way * alongAt(spar.capWidth, y))]),
      'hidden',
    ),
  ];
}

/** A rib from above: its web a line, its flange a hair line on the side it turns to. */
function ribInk(plan: Plan, bay: Bay, rib: Rib): Ink[] {
  const { model } = plan;
  const { y, nose } = bay.station;
  const web = alongAt(model.webToWeb, y);
  const [from, to] =
    rib.kind === 'main' ? [0, web] : rib.kind === 'nose' ? [-nose, 0] : [-nose, model.spars.rear ? web : 0];
  const way = flangesPoint(model, rib, y);
  const [a, b] = [plan.Y(from), plan.Y(to)];
  const [x, edge] = [plan.X(y), plan.X(y + way * rib.flange)];
  return [
    line(
      [
        [x, a],
        [x, b],
      ],
      'outline',
    ),
    shape(
      [
        [x, a],
        [edge, a],
        [edge, b],
        [x, b],
      ],
      'hairline',
      'light',
    ),
  ];
}

function bracketInk(plan: Plan): Ink[] {
  const { model, bays } = plan;
  return model.brackets.flatMap((k): Ink[] => {
    const bay = bays.find((b) => b.station.id === k.station);
    const spar = model.spars[k.spar];
    if (!bay || !spar) return [];
    const { y } = bay.station;
    const web = k.spar === 'front' ? 0 : alongAt(model.webToWeb, y);
    const wide = Math.max(k.width / plan.one, 2);
    return [rectangle(plan.X(y) - wide / 2, plan.Y(web) + (k.spar === 'rear' ? 0 : -1.6), wide, 1.6, 'outline', 'ink')];
  });
}

/** Names along a line that do not run into each other: those that would are left out and counted. */
function named(
  entries: readonly { readonly x: number; readonly text: string; readonly bold?: boolean }[],
  y: number,
): { ink: Ink[]; left: number } {
  let clear = Number.NEGATIVE_INFINITY;
  let left = 0;
  const ink = entries.flatMap(({ x, text, bold = false }): Ink[] => {
    const half = textWidth(text, { bold }) / 2;
    if (x - half < clear + 0.8) {
      left++;
      return [];
    }
    clear = x + half;
    return [{ kind: 'text', x, y, text, size: LEAST_SIZE, bold, align: 'middle' }];
  });
  return { ink, left };
}

/** Running dimensions from the datum, mm and inch, written up the page over each station. */
function runningInk(plan: Plan, top: number): Ink[] {
  const both = leadOf() + riseOf();
  let clear = Number.NEGATIVE_INFINITY;
  const bottom = plan.Y(-noseMost(plan.bays)) - 1;
  return plan.bays.flatMap((bay): Ink[] => {
    const { y, nose } = bay.station;
    const x = plan.X(y);
    const from = plan.Y(-nose);
    const ticks: Ink[] = [
      line(
        [
          [x, from - 1],
          [x, bottom - 3],
        ],
        'hairline',
      ),
    ];
    if (x - both / 2 < clear) return ticks;
    clear = x + both / 2 + 0.6;
    const texts = [formatLength(y, 'mm', { signed: true }), formatLength(y, 'in', { signed: true })];
    return [
      ...ticks,
      ...texts.map(
        (text, i): Ink => ({
          kind: 'text',
          x: x - both / 2 + riseOf() + i * leadOf(),
          y: top + RUNNING - 4,
          text,
          size: LEAST_SIZE,
          turn: 90,
          bold: (i === 0) === (plan.model.units === 'mm'),
        }),
      ),
    ];
  });
}

function datumInk(plan: Plan, top: number, bottom: number): Ink[] {
  const all = ys(plan.bays);
  const inside = 0 >= Math.min(...all) - 200 && 0 <= Math.max(...all) + 200;
  if (!inside) return [];
  const x = plan.X(0);
  const half = textWidth('datum', { bold: true }) / 2;
  return [
    line(
      [
        [x, top + RUNNING + 1],
        [x, bottom + 1],
      ],
      'centre',
    ),
    arrowHead(x, bottom + 1, 0, -1, 2.5),
    line(
      [
        [x, bottom + 1],
        [x, bottom + 4],
      ],
      'outline',
    ),
    { kind: 'text', x: x - half, y: bottom + 4 + riseOf(), text: 'datum', size: LEAST_SIZE, bold: true },
  ];
}

function mapInk(plan: Plan, top: number): Ink[] {
  const { model, bays } = plan;
  const { front, rear } = model.spars;
  const web = webMost(model, bays);
  const bottom = plan.Y(web + (rear ? 8 : 0)) + 1.5;
  const stations = named(
    bays.map((b) => ({ x: plan.X(b.station.y), text: b.station.id, bold: true })),
    bottom + 9 + riseOf(),
  );
  const inside = named(
    bays.map((b) => ({ x: plan.X(b.station.y), text: b.main?.id ?? b.tip?.id ?? '' })),
    bottom + 9 + leadOf() + riseOf(),
  );
  const noses = named(
    bays.map((b) => ({ x: plan.X(b.station.y), text: b.nose?.id ?? '' })),
    bottom + 9 + 2 * leadOf() + riseOf(),
  );
  const left = plan.X(bays[0]!.station.y) - 5;
  const label = (text: string, y: number, bold = false): Ink => ({
    kind: 'text',
    x: left,
    y,
    text,
    size: LEAST_SIZE,
    bold,
    align: 'end',
  });
  const diagonals = rear
    ? bays.slice(1).flatMap((b, i): Ink[] => {
        const a = bays[i]!;
        const [p, q] = [a.station.y, b.station.y];
        return [
          line(
            [
              [plan.X(p), plan.Y(0)],
              [plan.X(q), plan.Y(alongAt(model.webToWeb, q))],
            ],
            'hidden',
          ),
          line(
            [
              [plan.X(q), plan.Y(0)],
              [plan.X(p), plan.Y(alongAt(model.webToWeb, p))],
            ],
            'hidden',
          ),
        ];
      })
    : [];
  const noseLine = bays
    .filter((b) => b.nose ?? b.tip)
    .map((b): [number, number] => [plan.X(b.station.y), plan.Y(-b.station.nose)]);
  return [
    ...diagonals,
    ...datumInk(plan, top, bottom),
    ...bays.flatMap((bay) => [bay.tip, bay.main, bay.nose].flatMap((rib) => (rib ? ribInk(plan, bay, rib) : []))),
    ...sparInk(plan, 'front', front),
    ...(rear ? sparInk(plan, 'rear', rear) : []),
    ...(noseLine.length > 1 ? [line(noseLine, 'hairline')] : []),
    ...bracketInk(plan),
    ...runningInk(plan, top),
    label('nose', plan.Y(-bays[0]!.station.nose) + 1.2),
    label('front', plan.Y(0) + 1.2),
    ...(rear ? [label('rear', plan.Y(alongAt(model.webToWeb, bays[0]!.station.y)) + 1.2)] : []),
    label('station', bottom + 9 + riseOf(), true),
    ...stations.ink,
    label('rib', bottom + 9 + leadOf() + riseOf()),
    ...inside.ink,
    ...(noses.ink.some((i) => i.kind === 'text' && i.text !== '')
      ? [label('nose rib', bottom + 9 + 2 * leadOf() + riseOf()), ...noses.ink]
      : []),
  ];
}

/** Length a bar of the scale stands for, so that it is 40 to 100 mm long on the page. */
function scaleBar(one: number, units: Model['units'], x: number, y: number): Ink[] {
  const step = units === 'mm' ? 1 : 25.4;
  const length =
    [1, 2, 3, 5, 6, 10, 12, 20, 24, 36, 50, 60, 100, 120, 200, 250, 500, 1000, 2000, 5000, 10000]
      .map((n) => n * step)
      .filter((l) => l / one <= 70)
      .at(-1) ?? step;
  const wide = length / one;
  return [
    line(
      [
        [x, y],
        [x + wide, y],
      ],
      'outline',
    ),
    ...[0, 0.5, 1].map((k) =>
      line(
        [
          [x + k * wide, y - 1.6],
          [x + k * wide, y],
        ],
        k === 0.5 ? 'hairline' : 'outline',
      ),
    ),
    {
      kind: 'text',
      x: x + wide + 2,
      y: y + 0.4,
      text: `${formatLength(length, units, { digits: 0 })} at 1 to ${one}`,
      size: LEAST_SIZE,
    },
  ];
}

const SEEN: Readonly<Record<Model['hand'], string>> = {
  right:
    'Right panel, seen from above, leading edge at the top: its root is on the left of this page, its tip on the right.',
  left: 'Left panel, seen from above, leading edge at the top: its tip is on the left of this page, its root on the right.',
  both: 'Both hands in one piece, seen from above, leading edge at the top: left of the datum is the left hand.',
};

function map(job: Job): Block {
  const { model } = job;
  const { bays } = skeletonOf(model);
  const area = areaOf(job, FORM, 0);
  const names = 9 + linesHeight(3) + 8;
  // What stands over the map on its page: two lines of words.
  const room = { width: area.width - BESIDE - 8, height: area.height - 24 - RUNNING - names };
  const one = scaleFor(model, bays, room);
  const all = ys(bays);
  const [first, last] = [Math.min(...all), Math.max(...all)];
  const tall = RUNNING + (noseMost(bays) + webMost(model, bays) + 8) / one + names + 4;
  return picture(tall, (box: Box): Ink[] => {
    const left = box.x + BESIDE + (box.width - BESIDE - (last - first) / one) / 2;
    const plan: Plan = {
      model,
      bays,
      one,
      X: (y) => left + (y - first) / one,
      Y: (x) => box.y + RUNNING + (x + noseMost(bays)) / one,
    };
    return [...mapInk(plan, box.y), ...scaleBar(one, model.units, box.x + BESIDE, box.y + tall - fallOf() - 1)];
  });
}

function stationRows(model: Model): Cell[][] {
  const { bays } = skeletonOf(model);
  const first = bays[0]!.station.y;
  return bays.map((bay): Cell[] => {
    const { id, y, nose, washout } = bay.station;
    const ribs = [bay.tip, bay.main, bay.nose].filter((r): r is Rib & object => r !== undefined);
    const turns = [...new Set(ribs.map((r) => inOut[r.turns]))];
    const brackets = model.brackets.filter((k) => k.station === id).map((k) => `${k.id} on ${k.spar}`);
    return [
      { text: id, bold: true },
      ribs.map((r) => r.id).join(', '),
      turns.length === 1 ? turns[0]! : ribs.map((r) => `${r.id} ${inOut[r.turns]}`).join(', '),
      formatLength(y, 'mm', { signed: true, unitMark: false }),
      formatLength(y, 'in', { signed: true, unitMark: false }),
      formatLength(y - first, 'mm', { unitMark: false }),
      formatLength(y - first, 'in', { unitMark: false }),
      model.spars.rear ? figure(model, alongAt(model.webToWeb, y)) : '',
      figure(model, nose),
      formatAngle((washout * Math.PI) / 180, { signed: true }),
      brackets.join(', '),
    ];
  });
}

function diagonalRows(model: Model): Cell[][] {
  const { bays, book } = skeletonOf(model);
  return bays.slice(1).map((b, i): Cell[] => {
    const a = bays[i]!;
    const [p, q] = [a.station.id, b.station.id];
    const drawn = nominalDiagonals(
      b.station.y - a.station.y,
      book.nominal(`webs@${p}`) ?? 0,
      book.nominal(`webs@${q}`) ?? 0,
    );
    const read = (key: string): Cell => {
      const size = book.find(key);
      return size ? figure(model, size.best) : { blank: true };
    };
    const both = (mm: number): [string, string] => [
      formatLength(mm, 'mm', { unitMark: false }),
      formatLength(mm, 'in', { unitMark: false }),
    ];
    return [
      `${p} to ${q}`,
      ...both(drawn.ab),
      read(`diagonal@${p}-${q}`),
      `${q} to ${p}`,
      ...both(drawn.ba),
      read(`diagonal@${q}-${p}`),
      figure(model, b.station.y - a.station.y),
    ];
  });
}

export function stationMap(job: Job): Sheet {
  const { model } = job;
  const { bays } = skeletonOf(model);
  const u = model.units;
  return flowed(job, FORM, [
    words(
      `${SEEN[model.hand]} Drawing sizes. Mark every station from the one datum, never from rib to rib. Grey strips: rib flanges, on the side they turn to; short dashes: cap edges and bay diagonals; black: brackets.`,
    ),
    map(job),
    { kind: 'page' },
    heading('Stations'),
    table({
      columns: [
        { head: 'station' },
        { head: 'ribs' },
        { head: 'flanges turn', breaks: true },
        { head: 'from datum mm', align: 'end' },
        { head: 'from datum in', align: 'end' },
        { head: `from ${bays[0]!.station.id} mm`, align: 'end' },
        { head: `from ${bays[0]!.station.id} in`, align: 'end' },
        { head: `web to web ${u}`, align: 'end' },
        { head: `nose ${u}`, align: 'end' },
        { head: 'washout', align: 'end' },
        { head: 'brackets', breaks: true },
      ],
      rows: stationRows(model),
    }),
    ...(model.spars.rear && bays.length > 1
      ? [
          heading('Bay diagonals, front web to rear web'),
          table({
            rowHeight: 7,
            columns: [
              { head: 'front to rear' },
              { head: 'drawing mm', align: 'end' },
              { head: 'drawing in', align: 'end' },
              { head: `read ${u}`, align: 'end', least: 24 },
              { head: 'front to rear' },
              { head: 'drawing mm', align: 'end' },
              { head: 'drawing in', align: 'end' },
              { head: `read ${u}`, align: 'end', least: 24 },
              { head: `pitch ${u}`, align: 'end' },
            ],
            rows: diagonalRows(model),
          }),
        ]
      : []),
  ]);
}
