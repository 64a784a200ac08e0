import type { Doubler, Model } from '../schema.ts';
import { BENT_FROM, choiceColumn, field, lengthColumn, type Say, sheetChoices } from './partColumns.ts';
import type { CellValue, Column, Table } from './tables.ts';

/* Doublers, packers and brackets as sheets: a row a piece, a column a size of its drawing. */

const placeOf = (m: Model, station: string): number => m.stations.find((s) => s.id === station)?.y ?? 0;
const optional = (path: keyof Doubler, head: string, name: string, say: Say): Column => ({
  id: path,
  head,
  name,
  kind: 'length',
  size: (row) => `${row}.${path}`,
  ...say,
  read: (m, row) => {
    const v = m.doublers.find((d) => d.id === row)?.[path];
    return typeof v === 'number' ? v : undefined;
  },
  write: (m, changes) => ({
    ...m,
    doublers: m.doublers.map((d) => (changes.has(d.id) ? { ...d, [path]: changes.get(d.id) as number } : d)),
  }),
});

const DOUBLER_COLUMNS: readonly Column[] = [
  choiceColumn(
    'doublers',
    'form',
    'form',
    'form',
    () => [
      ['channel', 'channel'],
      ['flat', 'flat'],
    ],
    {
      what: 'A channel covers web and both caps in one bent piece; a flat piece lies on one face.',
      where: 'The detail at the rib end.',
    },
  ),
  choiceColumn(
    'doublers',
    'on',
    'on',
    'face it lies on',
    () => [
      ['web', 'web'],
      ['top', 'top cap'],
      ['bottom', 'bottom cap'],
    ],
    { what: 'Where a flat piece lies; a channel says web.', where: 'The detail at the rib end.' },
  ),
  choiceColumn('doublers', 'sheet', 'sheet', 'sheet', sheetChoices, BENT_FROM),
  {
    id: 'part',
    head: 'of',
    name: 'rib it belongs to',
    kind: 'choice',
    choices: (m) => m.ribs.map((r) => [r.id, r.id] as const),
    what: 'The rib it lies against.',
    where: 'The detail at the rib end.',
    ...field('doublers', ['part']),
  },
  choiceColumn(
    'doublers',
    'end',
    'at its',
    'rib end it is at',
    () => [
      ['front', 'front'],
      ['rear', 'rear'],
      ['tail', 'tail'],
    ],
    { what: 'At which end of that rib.', where: 'The detail at the rib end.' },
  ),
  optional('radius', 'bend', 'inside bend radius', {
    what: 'Inside radius of a channel’s bends. Its outside must not be sharper than the spar’s inside, or it rides on the bend.',
    where: 'The doubler’s drawing.',
    jaws: 'radius',
  }),
  optional('height', 'height', 'height', {
    what: 'Height of a flat piece on a web.',
    where: 'The doubler’s drawing.',
  }),
  optional('leg', 'leg', 'outside leg', { what: 'Outside leg of a channel.', where: 'The doubler’s drawing.' }),
  lengthColumn('doublers', 'width', 'width', 'width', { what: 'Along the span.', where: 'The doubler’s drawing.' }),
  {
    id: 'designed',
    head: 'said by',
    name: 'origin',
    kind: 'choice',
    choices: () => [
      ['yes', 'the drawing'],
      ['no', 'a cure'],
    ],
    what: 'On the drawing, or added as a cure.',
    where: 'Only the drawing can say.',
    read: (m, row) => {
      const d = m.doublers.find((x) => x.id === row);
      return d && (d.designed ? 'yes' : 'no');
    },
    write: (m, changes: ReadonlyMap<string, CellValue>) => ({
      ...m,
      doublers: m.doublers.map((d) => (changes.has(d.id) ? { ...d, designed: changes.get(d.id) === 'yes' } : d)),
    }),
  },
];

export const DOUBLERS: Table = {
  id: 'doublers',
  name: 'the doublers and packers',
  rows: (m) =>
    m.doublers.map((d) => {
      const station = m.ribs.find((r) => r.id === d.part)?.station ?? null;
      return { id: d.id, name: d.id, station, y: station === null ? 0 : placeOf(m, station), part: d.id };
    }),
  columns: () => DOUBLER_COLUMNS,
};

const BRACKET_COLUMNS: readonly Column[] = [
  choiceColumn(
    'brackets',
    'spar',
    'on',
    'spar it sits on',
    (m) => [['front', 'front spar'], ...(m.spars.rear ? [['rear', 'rear spar'] as const] : [])],
    { what: 'The spar it is riveted to.', where: 'The plan view.' },
  ),
  choiceColumn('brackets', 'station', 'at', 'station', (m) => m.stations.map((s) => [s.id, s.id] as const), {
    what: 'Where it sits.',
    where: 'The plan view.',
  }),
  choiceColumn('brackets', 'sheet', 'sheet', 'sheet', sheetChoices, BENT_FROM),
  lengthColumn('brackets', 'width', 'width', 'width', { what: 'Along the span.', where: 'The bracket’s drawing.' }),
  lengthColumn('brackets', 'height', 'height', 'height', {
    what: 'Up and down on the web.',
    where: 'The bracket’s drawing.',
  }),
  lengthColumn('brackets', 'edge', 'edge', 'row to edge', {
    what: 'From the rivet row to the nearest free edge.',
    where: 'The bracket’s drawing.',
  }),
];

export const BRACKETS: Table = {
  id: 'brackets',
  name: 'the brackets',
  rows: (m) =>
    m.brackets.map((b) => ({ id: b.id, name: b.id, station: b.station, y: placeOf(m, b.station), part: b.id })),
  columns: () => BRACKET_COLUMNS,
};
