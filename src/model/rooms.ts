import { alongAt } from './along.ts';
import type { Model, SparName } from './schema.ts';

/*
 * What room a drawing leaves at a place along the span, mm: between a spar's caps, between the webs. From drawing
 * values alone; as read, the chains of `parts/meeting.ts` say it.
 */

/** The largest share of a channel's depth that an inside radius takes: picked; usual ones take a twentieth. */
export const MOST_OF_DEPTH = 0.25;

const thick = (m: Model, sheet: string): number => m.sheets.find((s) => s.id === sheet)?.thickness ?? 0;

/**
 * Clear height between the caps: depth less two caps less the strips that run past. 0 where there is no such spar.
 * Depth 86, sheet 0.813, a strip of 0.635 in both caps: 83.10.
 */
export function drawnClear(m: Model, name: SparName, y: number): number {
  const spar = m.spars[name];
  if (!spar) return 0;
  const strips = spar.strips
    .filter((s) => y >= s.from && y <= s.to)
    .reduce((sum, s) => sum + (s.caps === 'both' ? 2 : 1) * thick(m, s.sheet), 0);
  return alongAt(spar.depth, y) - 2 * thick(m, spar.sheet) - strips;
}

/** Web doublers of a spar that run past a place, their thickness: what they take off the room along the chord. */
function onWeb(m: Model, name: SparName, y: number): number {
  return (m.spars[name]?.webDoublers ?? [])
    .filter((d) => y >= d.from && y <= d.to)
    .reduce((sum, d) => sum + thick(m, d.sheet), 0);
}

/**
 * Room along the chord for a main rib with its own doublers: web to web less the front spar's sheet less the web
 * doublers of both spars.
 */
export const drawnChord = (m: Model, y: number): number =>
  alongAt(m.webToWeb, y) - thick(m, m.spars.front.sheet) - onWeb(m, 'front', y) - onWeb(m, 'rear', y);
