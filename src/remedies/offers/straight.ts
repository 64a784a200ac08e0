import type { SparName } from '../../model/schema.ts';
import type { Maker } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** Pulls a spar straight on its blocks: its bow readings become nothing. Worked out, not read: it says so until it is read again. */
export function pullStraight(spar: SparName, station: string): Remedy {
  return {
    id: `straight:${spar}`,
    kind: 'straight',
    name: `pull the ${spar} spar straight on its blocks`,
    station,
    part: spar,
    cost: { ...FREE, moved: 1 },
    askDesigner: false,
    layers: false,
    edit: {
      name: `pulled the ${spar} spar straight`,
      apply: (m) => ({
        ...m,
        readings: m.readings.map((r) =>
          r.size.startsWith(`${spar}.bow@`)
            ? { ...r, value: 0, note: 'worked out after pulling it straight: read it again' }
            : r,
        ),
      }),
    },
  };
}

/** The front spar pulled straight, for an end gap it opens. */
export const frontSparStraight: Maker = ({ rib }) => (rib ? [pullStraight('front', rib.station)] : []);
