import { nominalDiagonals } from '../../checks/fit/square.ts';
import { alongAt } from '../../model/along.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { neighbours } from '../../parts/layout/span.ts';
import { formatAngle, formatLength } from '../../units.ts';
import { figure, sizeCell } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import { areaOf, type Form, type Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Cell } from '../paper/table.ts';
import { mapDrawing } from './mapDrawing.ts';

/*
 * A. The station map: the skeleton from above to scale, with its datum, running dimensions in mm and inch, rib names,
 * the way each flange turns, brackets, and the diagonals of each bay with their drawing lengths.
 */

const FORM: Form = { id: 'station-map', title: 'Station map', lying: true, marks: true };

const SEEN: Readonly<Record<Model['hand'], string>> = {
  right:
    'Right panel, seen from above, leading edge at the top: its root is on the left of this page, its tip on the right.',
  left: 'Left panel, seen from above, leading edge at the top: its tip is on the left of this page, its root on the right.',
  both: 'Both hands in one piece, seen from above, leading edge at the top: left of the datum is the left hand.',
};

function map(job: Job): Block {
  const { height, draw } = mapDrawing(job.model, skeletonOf(job.model).bays, areaOf(job, FORM, 0));
  return picture(height, draw);
}

/** Which way the flanges of a station's ribs turn: one word where all do alike. */
function turnsAt(bay: Bay): string {
  const ribs = [bay.tip, bay.main, bay.nose].filter((r) => r !== undefined);
  const [turns, ...other] = new Set(ribs.map((r) => r.turns));
  if (turns !== undefined && other.length === 0) return turns;
  return ribs.map((r) => `${r.id} ${r.turns}`).join(', ');
}

function stationRow(model: Model, bay: Bay, first: number): Cell[] {
  const { id, y, nose, washout } = bay.station;
  const marks = [bay.tip?.id, bay.main?.id, bay.nose?.id].filter((m) => m !== undefined);
  const brackets = model.brackets.filter((k) => k.station === id).map((k) => `${k.id} on ${k.spar}`);
  return [
    { text: id, bold: true },
    marks.join(', '),
    turnsAt(bay),
    formatLength(y, 'mm', { signed: true, unitMark: false }),
    formatLength(y, 'in', { signed: true, unitMark: false }),
    formatLength(y - first, 'mm', { unitMark: false }),
    formatLength(y - first, 'in', { unitMark: false }),
    model.spars.rear ? figure(model, alongAt(model.webToWeb, y)) : '',
    figure(model, nose),
    formatAngle((washout * Math.PI) / 180, { signed: true }),
    brackets.join(', '),
  ];
}

/** The stations, each from the datum and from the first of them. */
function stationsTable(model: Model, bays: readonly Bay[]): Block {
  const from = bays[0]?.station;
  const u = model.units;
  return table({
    columns: [
      { head: 'station' },
      { head: 'ribs' },
      { head: 'flanges turn', breaks: true },
      { head: 'from datum mm', align: 'end' },
      { head: 'from datum in', align: 'end' },
      { head: `from ${from?.id ?? ''} mm`, align: 'end' },
      { head: `from ${from?.id ?? ''} in`, align: 'end' },
      { head: `web to web ${u}`, align: 'end' },
      { head: `nose ${u}`, align: 'end' },
      { head: 'washout', align: 'end' },
      { head: 'brackets', breaks: true },
    ],
    rows: bays.map((bay) => stationRow(model, bay, from?.y ?? 0)),
  });
}

function diagonalRow(model: Model, [a, b]: readonly [Bay, Bay]): Cell[] {
  const { book } = skeletonOf(model);
  const [p, q] = [a.station.id, b.station.id];
  const pitch = b.station.y - a.station.y;
  const drawn = nominalDiagonals(pitch, book.nominal(`webs@${p}`) ?? 0, book.nominal(`webs@${q}`) ?? 0);
  const read = (key: string): Cell => sizeCell(model, book.find(key));
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
    figure(model, pitch),
  ];
}

function diagonalsTable(model: Model, bays: readonly Bay[]): Block[] {
  const u = model.units;
  if (!model.spars.rear || bays.length < 2) return [];
  return [
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
      rows: neighbours(bays).map((pair) => diagonalRow(model, pair)),
    }),
  ];
}

export function stationMap(job: Job): Sheet {
  const { model } = job;
  const { bays } = skeletonOf(model);
  return flowed(job, FORM, [
    words(
      `${SEEN[model.hand]} Drawing sizes. Mark every station from the one datum, never from rib to rib. Grey strips: rib flanges, on the side they turn to; short dashes: cap edges and bay diagonals; black: brackets.`,
    ),
    map(job),
    { kind: 'page' },
    heading('Stations'),
    stationsTable(model, bays),
    ...diagonalsTable(model, bays),
  ]);
}
