import type { Hole, Joint, Model } from '../schema.ts';
import { jointOfRow, placeOfStation } from './jointTables.ts';
import type { Changes, Column, Row, Table } from './tables.ts';

/* Holes as a table: where each lies in its row, and what is drilled in each layer. */

/** A hole's row is its joint and its name: `F2/h1`. */
const holeOf = (m: Model, row: string): { j: Joint; h: Hole } | undefined => {
  const [j, h] = row.split('/');
  const found = jointOfRow(m, j ?? '');
  const hole = found?.holes.find((x) => x.id === h);
  return found && hole ? { j: found, h: hole } : undefined;
};
const putHole =
  (change: (h: Hole, v: number | string, j: Joint) => Hole): NonNullable<Column['write']> =>
  (m, changes: Changes) => ({
    ...m,
    joints: m.joints.map((j) =>
      j.holes.some((h) => changes.has(`${j.id}/${h.id}`))
        ? {
            ...j,
            holes: j.holes.map((h) => {
              const v = changes.get(`${j.id}/${h.id}`);
              return v === undefined ? h : change(h, v, j);
            }),
          }
        : j,
    ),
  });

/** How many layers the holes table has columns for. */
const MOST_LAYERS = 6;
const STATES = [
  ['none', 'no hole'],
  ['pilot', 'pilot'],
  ['final', 'final'],
] as const;

/** What is drilled in a joint's layer of a number, from 0. */
const layerColumn = (i: number): Column => ({
  id: `layer${i + 1}`,
  band: 'what is drilled',
  head: `layer ${i + 1}`,
  name: `state in layer ${i + 1}`,
  kind: 'choice',
  choices: () => STATES,
  what: 'What is drilled in this layer by now. Put what was really done, also where it was too soon.',
  where: 'Look at the part.',
  read: (mm, row) => {
    const x = holeOf(mm, row);
    const part = x?.j.layers[i];
    return part === undefined ? undefined : (x?.h.layers.find((l) => l.part === part)?.state ?? 'none');
  },
  write: putHole((h, v, j) => {
    const part = j.layers[i];
    if (part === undefined) return h;
    const state = v as 'none' | 'pilot' | 'final';
    const size = { none: 0, pilot: j.pilot, final: j.final }[state];
    const has = h.layers.some((l) => l.part === part);
    return {
      ...h,
      layers: has
        ? h.layers.map((l) => (l.part === part ? { ...l, state, size } : l))
        : [...h.layers, { part, state, size }],
    };
  }),
});

export const HOLES: Table = {
  id: 'holes',
  name: 'the holes',
  rows: (m) =>
    m.joints.flatMap((j) =>
      j.holes.map(
        (h): Row => ({
          id: `${j.id}/${h.id}`,
          name: `${j.id} ${h.id}`,
          station: j.station,
          y: placeOfStation(m, j.station),
        }),
      ),
    ),
  columns: (m) => [
    {
      id: 'up',
      head: 'up',
      name: 'height',
      kind: 'length',
      what: 'Above the chord line, in the web.',
      where: 'The rib’s end view.',
      read: (mm, row) => holeOf(mm, row)?.h.up,
      write: putHole((h, v) => ({ ...h, up: Number(v) })),
    },
    {
      id: 'along',
      head: 'off the row',
      name: 'place off the row',
      kind: 'length',
      what: 'Along the span from the row’s own line.',
      where: 'Zero on a straight row.',
      read: (mm, row) => holeOf(mm, row)?.h.along,
      write: putHole((h, v) => ({ ...h, along: Number(v) })),
    },
    {
      id: 'stack',
      head: 'layers',
      name: 'layers',
      kind: 'text',
      what: 'The parts it goes through, from the drill side.',
      where: '',
      read: (mm, row) => holeOf(mm, row)?.j.layers.join(' / '),
    },
    ...Array.from({ length: Math.min(MOST_LAYERS, Math.max(0, ...m.joints.map((j) => j.layers.length))) }, (_, i) =>
      layerColumn(i),
    ),
  ],
};
