import type { Model, Reading, SparName } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import type { Maker } from '../asked.ts';
import { FREE, type Remedy } from '../remedy.ts';

/** Readings of a spar's bow. */
export function bowsOf(model: Model, spar: SparName): ReadonlySet<Reading> {
  const { entries } = sizeBook(model);
  return new Set(
    model.readings.filter(({ size }) => {
      const entry = entries.get(size);
      return entry?.kind === 'bow' && entry.of.spar === spar;
    }),
  );
}

/**
 * Pulls a spar straight on its blocks: its bow readings become nothing. Worked out, not read: it says so until it is
 * read again.
 */
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
      apply: (m) => {
        const bows = bowsOf(m, spar);
        const straight = { value: 0, note: 'worked out after pulling it straight: read it again' };
        return { ...m, readings: m.readings.map((r) => (bows.has(r) ? { ...r, ...straight } : r)) };
      },
    },
  };
}

/** The front spar pulled straight, for an end gap it opens. */
export const frontSparStraight: Maker = ({ rib }) => (rib ? [pullStraight('front', rib.station)] : []);
