import { thicknessOf } from '../edits/jointsLaid.ts';
import { layRow } from '../edits/rows.ts';
import { drillsFor, RIVET_SIZES, rivetFor } from '../rivetSizes.ts';
import type { Joint, Model } from '../schema.ts';
import type { Changes, Column, Row, Table } from './tables.ts';

/* Joints as a table: what each goes through, its rivet and drills, how its row is laid. */

export const jointOfRow = (m: Model, row: string): Joint | undefined => m.joints.find((j) => j.id === row);
const put =
  (change: (j: Joint, v: number | string) => Joint): NonNullable<Column['write']> =>
  (m, changes: Changes) => ({
    ...m,
    joints: m.joints.map((j) => {
      const v = changes.get(j.id);
      return v === undefined ? j : change(j, v);
    }),
  });
export const placeOfStation = (m: Model, station: string): number => m.stations.find((s) => s.id === station)?.y ?? 0;

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
      const j = jointOfRow(now, id);
      if (!j) return now;
      const middle = inCap(j)
        ? j.holes.reduce((sum, h) => sum + h.along, 0) / Math.max(1, j.holes.length)
        : (j.holes[0]?.along ?? 0);
      const to = rule(j, Number(v));
      return (to.count < 1 ? null : layRow(j, { ...to, along: middle }))?.apply(now) ?? now;
    }, m);

const grip = (which: 0 | 1): Pick<Column, 'read' | 'write'> => ({
  read: (m, row) => jointOfRow(m, row)?.rivet.grip?.[which],
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

/** A rivet's diameter as a bag is marked. */
const RIVET_NAMES: Readonly<Record<number, string>> = {
  2.3813: '3/32 in',
  3.175: '1/8 in',
  3.9688: '5/32 in',
  4.7625: '3/16 in',
};

const JOINT_COLUMNS: readonly Column[] = [
  {
    id: 'layers',
    head: 'layers from the drill side',
    name: 'layers',
    kind: 'text',
    what: 'The parts the rivets go through, in order from the side that is drilled.',
    where: 'The section, from the outside in.',
    read: (m, row) => jointOfRow(m, row)?.layers.join(' / '),
  },
  {
    id: 'rivet',
    head: 'rivet',
    name: 'rivet diameter',
    kind: 'choice',
    choices: (m) =>
      [...new Set([...RIVET_SIZES.map((s) => s.diameter), ...m.joints.map((j) => j.rivet.diameter)])]
        .sort((a, b) => a - b)
        .map((d) => [String(d), RIVET_NAMES[d] ?? `${d} mm`] as const),
    what: 'Nominal rivet diameter. Drills and the length follow from it and can be changed after.',
    where: 'The rivet list.',
    read: (m, row) => {
      const j = jointOfRow(m, row);
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
    read: (m, row) => jointOfRow(m, row)?.pilot,
    write: put((j, v) => ({ ...j, pilot: Number(v) })),
  },
  {
    id: 'final',
    head: 'final',
    name: 'final size',
    kind: 'length',
    what: 'Opened to only when every layer is in.',
    where: 'The drill list; type #30 or a size.',
    read: (m, row) => jointOfRow(m, row)?.final,
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
    read: (m, row) => jointOfRow(m, row)?.holes.length,
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
      const j = jointOfRow(m, row);
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
    read: (m, row) => jointOfRow(m, row)?.guide,
    write: put((j, v) => ({ ...j, guide: String(v) })),
  },
];

export const JOINTS: Table = {
  id: 'joints',
  name: 'the joints',
  rows: (m) =>
    m.joints
      .map((j): Row => ({ id: j.id, name: j.id, station: j.station, y: placeOfStation(m, j.station) }))
      .sort((a, b) => a.y - b.y),
  columns: () => JOINT_COLUMNS,
};
