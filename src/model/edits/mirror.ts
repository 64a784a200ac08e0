import type { Along, Model, Spar } from '../schema.ts';
import { sizeEntries } from '../sizes.ts';
import type { Edit } from './edits.ts';

const OTHER_HAND = { right: 'left', left: 'right', both: 'both' } as const;

const turned = (y: number): number => 0 - y;
const along = (a: Along): Along =>
  typeof a === 'number' ? a : a.map(([y, v]): [number, number] => [turned(y), v]).reverse();
const range = <T extends { readonly from: number; readonly to: number }>(r: T): T => ({
  ...r,
  from: turned(r.to),
  to: turned(r.from),
});

function spar(s: Spar): Spar {
  return {
    ...range(s),
    depth: along(s.depth),
    capWidth: along(s.capWidth),
    strips: s.strips.map(range),
    webDoublers: s.webDoublers.map(range),
  };
}

/**
 * The same panel for the other hand: y becomes -y, so that the stations run the other way; spanwise offsets of holes
 * turn with it. Inboard stays inboard. No finding changes by it (a law, tested). Mirrored twice it is the same panel.
 */
export function mirrorModel(m: Model): Model {
  const entries = sizeEntries(m);
  return {
    ...m,
    hand: OTHER_HAND[m.hand],
    stations: m.stations.map((s) => ({ ...s, y: turned(s.y) })).reverse(),
    spars: { front: spar(m.spars.front), ...(m.spars.rear ? { rear: spar(m.spars.rear) } : {}) },
    webToWeb: along(m.webToWeb),
    survey: { ...m.survey, rearHigher: along(m.survey.rearHigher) },
    joints: m.joints.map((j) => ({ ...j, holes: j.holes.map((h) => ({ ...h, along: turned(h.along) })) })),
    readings: m.readings.map((r) => (entries.get(r.size)?.of.axis === 'along' ? { ...r, value: turned(r.value) } : r)),
  };
}

/** Mirrors the panel on the bench to the other hand. */
export function mirrorPanel({ hand }: Model): Edit {
  const to = hand === 'both' ? 'other' : OTHER_HAND[hand];
  return { name: `mirrored the panel to the ${to} hand`, apply: mirrorModel };
}
