import { alongAt } from '../../model/along.ts';
import { flangesPoint } from '../../model/hand.ts';
import type { Model, Rib, Spar, SparName } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { neighbours, spanOf } from '../../parts/layout/span.ts';
import { formatLength } from '../../units.ts';
import type { Box, Ink } from '../paper/page.ts';
import { arrowHead, line, rectangle, segment, shape } from '../paper/path.ts';
import { textAt } from '../paper/text.ts';
import { fallOf, leadOf, linesHeight, riseOf, textWidth } from '../paper/type.ts';

/*
 * The skeleton from above, to a scale that a bench rule can be laid to: spars, ribs with the side their flanges turn
 * to, brackets, bay diagonals, the datum, and running dimensions from it.
 */

/** Scales a bench rule can be laid to, 1 to so many. */
const SCALES = [
  1, 2, 2.5, 4, 5, 6, 8, 10, 12, 15, 16, 20, 24, 25, 30, 40, 50, 75, 100, 150, 200, 250, 500, 1000,
] as const;

/** Lengths a bar of the scale may stand for, in the panel's own unit. */
const BAR_LENGTHS = [
  1, 2, 3, 5, 6, 10, 12, 20, 24, 36, 50, 60, 100, 120, 200, 250, 500, 1000, 2000, 5000, 10000,
] as const;
/** Longest bar on the page, mm. */
const BAR = 70;

/** Height of two running dimensions written up the page, mm. */
const RUNNING = 30;
/** Room for the words beside the map, and past its other end, mm. */
const BESIDE = 16;
const PAST = 8;
/** From the map's lower edge to the names under it, their three lines, and what is free below them, mm. */
const OVER_NAMES = 9;
const NAMES = OVER_NAMES + linesHeight(3) + 8;
/** The datum is drawn where it is within so much of the stations, mm of metal. */
const DATUM_NEAR = 200;

/** The panel's frame on the page: x of the page from along the span, y of the page from aft. */
interface Plan {
  readonly model: Model;
  readonly bays: readonly Bay[];
  readonly one: number;
  across(y: number): number;
  down(x: number): number;
}

const noseMost = (bays: readonly Bay[]): number => Math.max(0, ...bays.map((b) => b.station.nose));
const webMost = ({ webToWeb, spars }: Model, bays: readonly Bay[]): number =>
  spars.rear ? Math.max(...bays.map((b) => alongAt(webToWeb, b.station.y))) : 0;

/** How far a spar's web lies behind the front web at a place along the span, mm. */
const webOf = (model: Model, spar: SparName, y: number): number => (spar === 'front' ? 0 : alongAt(model.webToWeb, y));

interface Room {
  readonly width: number;
  readonly height: number;
}

/** One to so many: the largest drawing that goes in the room. */
function scaleFor(model: Model, bays: readonly Bay[], room: Room): number {
  const { first, last } = spanOf(bays);
  const span = last - first;
  const chord = noseMost(bays) + webMost(model, bays) + 30;
  return (
    SCALES.find((s) => span / s <= room.width && chord / s <= room.height) ??
    Math.ceil(Math.max(span / room.width, chord / room.height))
  );
}

/** A spar from above: its web heavy, the edge of its caps hidden behind. */
function sparInk(plan: Plan, name: SparName, spar: Spar): Ink[] {
  const { model, bays } = plan;
  const inside = bays.map((b) => b.station.y).filter((y) => y > spar.from && y < spar.to);
  const along = [spar.from, ...inside, spar.to];
  const way = spar.opens === 'aft' ? 1 : -1;
  const edge = (y: number): number => webOf(model, name, y) + way * alongAt(spar.capWidth, y);
  return [
    line(
      along.map((y) => [plan.across(y), plan.down(webOf(model, name, y))] as const),
      'heavy',
    ),
    line(
      along.map((y) => [plan.across(y), plan.down(edge(y))] as const),
      'hidden',
    ),
  ];
}

/** How far forward and aft of the front web a rib reaches, mm, aft positive. */
function reachOf(model: Model, { nose, y }: Bay['station'], kind: Rib['kind']): readonly [number, number] {
  const web = alongAt(model.webToWeb, y);
  if (kind === 'main') return [0, web];
  if (kind === 'nose') return [-nose, 0];
  return [-nose, model.spars.rear ? web : 0];
}

/** A rib from above: its web a line, its flange a hair line on the side it turns to. */
function ribInk(plan: Plan, bay: Bay, rib: Rib): Ink[] {
  const { y } = bay.station;
  const [from, to] = reachOf(plan.model, bay.station, rib.kind);
  const way = flangesPoint(plan.model, rib, y);
  const [a, b] = [plan.down(from), plan.down(to)];
  const [x, edge] = [plan.across(y), plan.across(y + way * rib.flange)];
  return [
    segment([x, a], [x, b], 'outline'),
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

const ribsInk = (plan: Plan): Ink[] =>
  plan.bays.flatMap((bay) => [bay.tip, bay.main, bay.nose].flatMap((rib) => (rib ? ribInk(plan, bay, rib) : [])));

/** Thickness of a bracket on the page, and its least width, mm. */
const BRACKET = { thick: 1.6, least: 2 };

function bracketInk(plan: Plan): Ink[] {
  const { model, bays } = plan;
  return model.brackets.flatMap((k): Ink[] => {
    const bay = bays.find((b) => b.station.id === k.station);
    if (!bay || !model.spars[k.spar]) return [];
    const { y } = bay.station;
    const wide = Math.max(k.width / plan.one, BRACKET.least);
    const top = plan.down(webOf(model, k.spar, y)) - (k.spar === 'front' ? BRACKET.thick : 0);
    return [rectangle(plan.across(y) - wide / 2, top, wide, BRACKET.thick, 'outline', 'ink')];
  });
}

/** Both diagonals of every bay. */
function diagonalInk(plan: Plan): Ink[] {
  const { model, bays } = plan;
  if (!model.spars.rear) return [];
  const rearWeb = (y: number): number => plan.down(alongAt(model.webToWeb, y));
  return neighbours(bays).flatMap(([a, b]) => {
    const [p, q] = [a.station.y, b.station.y];
    return [
      segment([plan.across(p), plan.down(0)], [plan.across(q), rearWeb(q)], 'hidden'),
      segment([plan.across(q), plan.down(0)], [plan.across(p), rearWeb(p)], 'hidden'),
    ];
  });
}

function noseLineInk(plan: Plan): Ink[] {
  const points = plan.bays
    .filter((b) => b.nose ?? b.tip)
    .map((b) => [plan.across(b.station.y), plan.down(-b.station.nose)] as const);
  return points.length > 1 ? [line(points, 'hairline')] : [];
}

/** Names along a line that do not run into each other: those that would are left out. */
function named(
  plan: Plan,
  nameOf: (bay: Bay) => string,
  { at, bold = false }: { readonly at: number; readonly bold?: boolean },
): Ink[] {
  let clear = Number.NEGATIVE_INFINITY;
  return plan.bays.flatMap((bay): Ink[] => {
    const text = nameOf(bay);
    const x = plan.across(bay.station.y);
    const half = textWidth(text, { bold }) / 2;
    if (x - half < clear + 0.8) return [];
    clear = x + half;
    return [textAt(text, [x, at], { bold, align: 'middle' })];
  });
}

/** Running dimensions from the datum, mm and inch, written up the page over each station. */
function runningInk(plan: Plan, top: number): Ink[] {
  const both = leadOf() + riseOf();
  let clear = Number.NEGATIVE_INFINITY;
  const bottom = plan.down(-noseMost(plan.bays)) - 1;
  return plan.bays.flatMap((bay): Ink[] => {
    const { y, nose } = bay.station;
    const x = plan.across(y);
    const tick = segment([x, plan.down(-nose) - 1], [x, bottom - 3], 'hairline');
    if (x - both / 2 < clear) return [tick];
    clear = x + both / 2 + 0.6;
    const texts = (['mm', 'in'] as const).map((unit, i) =>
      textAt(formatLength(y, unit, { signed: true }), [x - both / 2 + riseOf() + i * leadOf(), top + RUNNING - 4], {
        turn: 90,
        bold: unit === plan.model.units,
      }),
    );
    return [tick, ...texts];
  });
}

function datumInk(plan: Plan, top: number, bottom: number): Ink[] {
  const { first, last } = spanOf(plan.bays);
  if (first - DATUM_NEAR > 0 || last + DATUM_NEAR < 0) return [];
  const x = plan.across(0);
  const half = textWidth('datum', { bold: true }) / 2;
  return [
    segment([x, top + RUNNING + 1], [x, bottom + 1], 'centre'),
    arrowHead(x, bottom + 1, 0, -1, 2.5),
    segment([x, bottom + 1], [x, bottom + 4], 'outline'),
    textAt('datum', [x - half, bottom + 4 + riseOf()], { bold: true }),
  ];
}

/** Names of stations and ribs under the map, and of the webs and the nose beside it. */
function namesInk(plan: Plan, bottom: number): Ink[] {
  const { model, bays } = plan;
  const start = bays[0];
  if (!start) return [];
  const { y, nose } = start.station;
  const left = plan.across(y) - 5;
  const label = (text: string, at: number, bold = false): Ink => textAt(text, [left, at], { bold, align: 'end' });
  const lineAt = (i: number): number => bottom + OVER_NAMES + i * leadOf() + riseOf();
  const noses = bays.some((b) => b.nose)
    ? [label('nose rib', lineAt(2)), ...named(plan, (b) => b.nose?.id ?? '', { at: lineAt(2) })]
    : [];
  return [
    label('nose', plan.down(-nose) + 1.2),
    label('front', plan.down(0) + 1.2),
    ...(model.spars.rear ? [label('rear', plan.down(webOf(model, 'rear', y)) + 1.2)] : []),
    label('station', lineAt(0), true),
    ...named(plan, (b) => b.station.id, { at: lineAt(0), bold: true }),
    label('rib', lineAt(1)),
    ...named(plan, (b) => b.main?.id ?? b.tip?.id ?? '', { at: lineAt(1) }),
    ...noses,
  ];
}

function mapInk(plan: Plan, top: number): Ink[] {
  const { model, bays } = plan;
  const { front, rear } = model.spars;
  const bottom = plan.down(webMost(model, bays) + (rear ? 8 : 0)) + 1.5;
  return [
    ...diagonalInk(plan),
    ...datumInk(plan, top, bottom),
    ...ribsInk(plan),
    ...sparInk(plan, 'front', front),
    ...(rear ? sparInk(plan, 'rear', rear) : []),
    ...noseLineInk(plan),
    ...bracketInk(plan),
    ...runningInk(plan, top),
    ...namesInk(plan, bottom),
  ];
}

/** A bar of the scale with what it stands for. */
function scaleBar(one: number, units: Model['units'], x: number, y: number): Ink[] {
  const step = units === 'mm' ? 1 : 25.4;
  const length = BAR_LENGTHS.map((n) => n * step).findLast((l) => l / one <= BAR) ?? step;
  const wide = length / one;
  const tick = (share: number): Ink =>
    segment([x + share * wide, y - 1.6], [x + share * wide, y], share === 0.5 ? 'hairline' : 'outline');
  return [
    segment([x, y], [x + wide, y], 'outline'),
    ...[0, 0.5, 1].map(tick),
    textAt(`${formatLength(length, units, { digits: 0 })} at 1 to ${one}`, [x + wide + 2, y + 0.4]),
  ];
}

export interface MapDrawing {
  /** Height it takes on the page, mm. */
  readonly height: number;
  draw(box: Box): Ink[];
}

/** The map at the largest scale at which it goes into a page's room, mm. */
export function mapDrawing(model: Model, bays: readonly Bay[], area: Room): MapDrawing {
  // What stands over the map on its page: two lines of words.
  const room = { width: area.width - BESIDE - PAST, height: area.height - 24 - RUNNING - NAMES };
  const one = scaleFor(model, bays, room);
  const { first, last } = spanOf(bays);
  const height = RUNNING + (noseMost(bays) + webMost(model, bays) + 8) / one + NAMES + 4;
  const draw = (box: Box): Ink[] => {
    const left = box.x + BESIDE + (box.width - BESIDE - (last - first) / one) / 2;
    const plan: Plan = {
      model,
      bays,
      one,
      across: (y) => left + (y - first) / one,
      down: (x) => box.y + RUNNING + (x + noseMost(bays)) / one,
    };
    return [...mapInk(plan, box.y), ...scaleBar(one, model.units, box.x + BESIDE, box.y + height - fallOf() - 1)];
  };
  return { height, draw };
}
