import { thicknessOf } from '../edits/jointsLaid.ts';
import { layRow } from '../edits/rows.ts';
import { partNames } from '../metal.ts';
import { drillsFor, RIVET_SIZES, rivetFor } from '../rivetSizes.ts';
import type { Hole, Joint, Model } from '../schema.ts';
import type { Changes, Column, Row, Table } from './tables.ts';

/* Joints and their holes, and in which stage each part comes and each joint is opened. */

const joint = (m: Model, row: string): Joint | undefined => m.joints.find((j) => j.id === row);
const put =
  (change: (j: Joint, v: number | string) => Joint): NonNullable<Column['write']> =>
  (m, changes: Changes) => ({
    ...m,
    joints: m.joints.map((j) => {
      const v = changes.get(j.id);
      return v === undefined ? j : change(j, v);
    }),
  });
const place = (m: Model, station: string): number => m.stations.find((s) => s.id === station)?.y ?? 0;

const inCap = (j: Joint): boolean => j.on === 'top' || j.on === 'bottom';
const pitchOf = (j: Joint): number | undefined => {
  const [a, b] = j.holes;
  return a && b ? Math.round(1e4 * Math.hypot(a.up - b.up, a.along - b.along)) / 1e4 : undefined;
};
/** Rows laid again, each by its new count or pitch; one that has a hole drilled in it keeps its holes. */
const relaid =
  (rule: (j: Joint, v: number) => { readonly count: number; readonly pitch: number }): NonNullable<Column['write']> =>
  (m, changes: Changes) =>
    [...changes].reduce((now, [id, v]) => {
      const j = joint(now, id);
      if (!j) return now;
      const middle = inCap(j)
        ? j.holes.reduce((sum, h) => sum + h.along, 0) / Math.max(1, j.holes.length)
        : (j.holes[0]?.along ?? 0);
      const to = rule(j, Number(v));
      return (to.count < 1 ? null : layRow(j, { ...to, along: middle }))?.apply(now) ?? now;
    }, m);

const grip = (which: 0 | 1): Pick<Column, 'read' | 'write'> => ({
  read: (m, row) => joint(m, row)?.rivet.grip?.[which],
  write: put((j, v) => ({
    ...j,
    rivet: {
      ...j.rivet,
      grip:
        which === 0
          ? [Number(v), Math.max(Number(v), j.rivet.grip?.[1] ?? Number(v))]
          : [Math.min(Number(v), j.rivet.grip?.[0] ?? Number(v)), Number(v)],
    },
  })),
});

const name = (d: number): string =>
  ({ 2.3813: '3/32 in', 3.175: '1/8 in', 3.9688: '5/32 in', 4.7625: '3/16 in' })[d] ?? `${d} mm`;

export const JOINTS: Table = {
  id: 'joints',
  name: 'the joints',
  rows: (m) =>
    m.joints
      .map((j): Row => ({ id: j.id, name: j.id, station: j.station, y: place(m, j.station) }))
      .sort((a, b) => a.y - b.y),
  columns: () => [
    {
      id: 'layers',
      head: 'layers from the drill side',
      name: 'layers',
      kind: 'text',
      what: 'The parts the rivets go through, in order from the side that is drilled.',
      where: 'The section, from the outside in.',
      read: (m, row) => joint(m, row)?.layers.join(' / '),
    },
    {
      id: 'rivet',
      head: 'rivet',
      name: 'rivet diameter',
      kind: 'choice',
      choices: (m) =>
        [...new Set([...RIVET_SIZES.map((s) => s.diameter), ...m.joints.map((j) => j.rivet.diameter)])]
          .sort((a, b) => a - b)
          .map((d) => [String(d), name(d)] as const),
      what: 'Nominal rivet diameter. Drills and the length follow from it and can be changed after.',
      where: 'The rivet list.',
      read: (m, row) => {
        const j = joint(m, row);
        return j && String(j.rivet.diameter);
      },
      write: (m, changes) =>
        put((j, v) => {
          const { next: _, ...rest } = j;
          return {
            ...rest,
            rivet: rivetFor(
              j.layers.reduce((sum, p) => sum + thicknessOf(m, p), 0),
              Number(v),
              m.stock.rivets,
            ),
            ...drillsFor(Number(v)),
          };
        })(m, changes),
    },
    {
      id: 'grip.least',
      band: 'grip range',
      head: 'least',
      name: 'least grip',
      kind: 'length',
      what: 'Least thickness the rivet in the bag takes.',
      where: 'The mark on the bag, or the rivet list.',
      ...grip(0),
    },
    {
      id: 'grip.most',
      band: 'grip range',
      head: 'most',
      name: 'most grip',
      kind: 'length',
      what: 'Most thickness the rivet in the bag takes.',
      where: 'The mark on the bag, or the rivet list.',
      ...grip(1),
    },
    {
      id: 'pilot',
      head: 'pilot',
      name: 'pilot size',
      kind: 'length',
      what: 'Drilled first, one or two sizes small.',
      where: 'The drill list; type #40 or a size.',
      read: (m, row) => joint(m, row)?.pilot,
      write: put((j, v) => ({ ...j, pilot: Number(v) })),
    },
    {
      id: 'final',
      head: 'final',
      name: 'final size',
      kind: 'length',
      what: 'Opened to only when every layer is in.',
      where: 'The drill list; type #30 or a size.',
      read: (m, row) => joint(m, row)?.final,
      write: put((j, v) => ({ ...j, final: Number(v) })),
    },
    {
      id: 'count',
      band: 'row',
      head: 'holes',
      name: 'number of holes',
      kind: 'count',
      what: 'How many in the row. A row with a hole drilled in it stays as it is.',
      where: 'The rib’s end view.',
      read: (m, row) => joint(m, row)?.holes.length,
      write: relaid((j, count) => ({ count, pitch: pitchOf(j) ?? 20 })),
    },
    {
      id: 'pitch',
      band: 'row',
      head: 'pitch',
      name: 'pitch',
      kind: 'length',
      what: 'Hole to hole: usually 4 to 8 rivet diameters, never under 3.',
      where: 'The rib’s end view.',
      read: (m, row) => {
        const j = joint(m, row);
        return j && pitchOf(j);
      },
      write: relaid((j, pitch) => ({ count: j.holes.length, pitch })),
    },
    {
      id: 'guide',
      head: 'guide',
      name: 'guide layer',
      kind: 'choice',
      choices: (m) => [...new Set(m.joints.flatMap((j) => j.layers))].map((p) => [p, p] as const),
      what: 'The layer whose hole the drill follows.',
      where: 'Whichever was drilled first.',
      read: (m, row) => joint(m, row)?.guide,
      write: put((j, v) => ({ ...j, guide: String(v) })),
    },
  ],
};

/** A hole's row is its joint and its name: `F2/h1`. */
const holeOf = (m: Model, row: string): { j: Joint; h: Hole } | undefined => {
  const [j, h] = row.split('/');
  const found = joint(m, j ?? '');
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

export const HOLES: Table = {
  id: 'holes',
  name: 'the holes',
  rows: (m) =>
    m.joints.flatMap((j) =>
      j.holes.map(
        (h): Row => ({ id: `${j.id}/${h.id}`, name: `${j.id} ${h.id}`, station: j.station, y: place(m, j.station) }),
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
    ...Array.from(
      { length: Math.min(MOST_LAYERS, Math.max(0, ...m.joints.map((j) => j.layers.length))) },
      (_, i): Column => ({
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
          const size = state === 'none' ? 0 : state === 'pilot' ? j.pilot : j.final;
          const has = h.layers.some((l) => l.part === part);
          return {
            ...h,
            layers: has
              ? h.layers.map((l) => (l.part === part ? { ...l, state, size } : l))
              : [...h.layers, { part, state, size }],
          };
        }),
      }),
    ),
  ],
};

const FROM_START = 'start';

/** Which stage brings each part: a row a part. */
export const BRINGS: Table = {
  id: 'brings',
  name: 'the order of assembly',
  rows: (m) =>
    [...partNames(m)].map((id): Row => {
      const station = m.ribs.find((r) => r.id === id)?.station ?? m.brackets.find((b) => b.id === id)?.station ?? null;
      return {
        id,
        name: id === 'front' || id === 'rear' ? `${id} spar` : id,
        station,
        y: station === null ? 0 : place(m, station),
        part: id,
      };
    }),
  columns: () => [
    {
      id: 'stage',
      head: 'comes in at',
      name: 'stage it comes in at',
      kind: 'choice',
      choices: (m) => [[FROM_START, 'there from the start'], ...m.stages.map((s) => [s.id, s.name] as const)],
      what: 'When this part goes in. No hole through it may be opened to final before.',
      where: 'The building sequence, or your own.',
      read: (m, row) => m.stages.find((s) => s.brings.includes(row))?.id ?? FROM_START,
      write: (m, changes) => ({
        ...m,
        stages: m.stages.map((s) => ({
          ...s,
          brings: [
            ...s.brings.filter((p) => !changes.has(p)),
            ...[...changes].filter(([, v]) => v === s.id).map(([p]) => p),
          ],
        })),
      }),
    },
  ],
};

/** Which stage opens each joint to final: a row a joint. */
export const OPENS: Table = {
  id: 'opens',
  name: 'the opening of joints',
  rows: (m) => m.joints.map((j): Row => ({ id: j.id, name: j.id, station: j.station, y: place(m, j.station) })),
  columns: () => [
    {
      id: 'stage',
      head: 'opened to final at',
      name: 'stage it is opened at',
      kind: 'choice',
      choices: (m) => [['none', 'not said'], ...m.stages.map((s) => [s.id, s.name] as const)],
      what: 'When its holes are opened to final: not before its last layer is in.',
      where: 'The building sequence.',
      read: (m, row) => m.stages.find((s) => s.opens.includes(row))?.id ?? 'none',
      write: (m, changes) => ({
        ...m,
        stages: m.stages.map((s) => ({
          ...s,
          opens: [
            ...s.opens.filter((p) => !changes.has(p)),
            ...[...changes].filter(([, v]) => v === s.id).map(([p]) => p),
          ],
        })),
      }),
    },
  ],
};
