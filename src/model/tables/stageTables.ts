import { partNames } from '../metal.ts';
import { placeOfStation } from './jointTables.ts';
import type { Row, Table } from './tables.ts';

/* In which stage each part comes and each joint is opened. */

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
        y: station === null ? 0 : placeOfStation(m, station),
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
  rows: (m) =>
    m.joints.map((j): Row => ({ id: j.id, name: j.id, station: j.station, y: placeOfStation(m, j.station) })),
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
