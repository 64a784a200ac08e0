import { layersOf } from '../../checks/holes/layers.ts';
import type { Doubler, Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Standing } from './step.ts';

/*
 * How a step calls things: parts by their kind and mark, sides as they are for who stands there.
 */

export const RIB_WORDS = { main: 'rib', nose: 'nose rib', tip: 'tip rib' } as const;

/** What a doubler is called at the bench: on the drawing a doubler; added flat on a web a packer, on a cap a shim. */
export function doublerWord(d: Doubler): 'doubler' | 'packer' | 'shim' {
  if (d.form === 'channel' || (d.designed && d.on === 'web')) return 'doubler';
  return d.on === 'web' ? 'packer' : 'shim';
}

/** A part with its kind: `front spar`, `doubler D5`, `nose rib N5`. */
export function partName(skeleton: Skeleton, id: string): string {
  if (id === 'front' || id === 'rear') return `${id} spar`;
  const part = skeleton.part(id);
  if (!part) return id;
  if ('form' in part) return `${doublerWord(part)} ${id}`;
  return 'kind' in part ? `${RIB_WORDS[part.kind]} ${id}` : `bracket ${id}`;
}

/** Layers of a joint from the drill side, as the card says them. */
export function layerLines(skeleton: Skeleton, joint: Joint, parts: readonly string[] = joint.layers): string[] {
  return layersOf(skeleton, joint)
    .map((l) => l.part)
    .filter((p) => parts.includes(p))
    .map((p) => {
      const part = skeleton.part(p);
      if (p === 'front' || p === 'rear') return isCapRow(joint) ? `${p} spar ${joint.on} cap` : `${p} spar web`;
      return part && 'kind' in part ? `${partName(skeleton, p)} flange` : partName(skeleton, p);
    });
}

export const EDGES: Record<Standing, string> = {
  behind: 'The leading edge is away from you.',
  ahead: 'The leading edge is toward you.',
  'left end': 'The leading edge is to your left.',
  'right end': 'The leading edge is to your right.',
};

/** A direction along the span (+1 to the right, seen nose forward) for who stands there. */
export function sideOf(standing: Standing, way: 1 | -1): string {
  if (standing === 'behind') return way === 1 ? 'to your right' : 'to your left';
  if (standing === 'ahead') return way === 1 ? 'to your left' : 'to your right';
  return (standing === 'left end') === (way === 1) ? 'away from you' : 'toward you';
}

/** Aft or forward for who stands there. */
export function chordSide(standing: Standing, way: 'aft' | 'forward'): string {
  if (standing === 'behind') return way === 'aft' ? 'toward you' : 'away from you';
  if (standing === 'ahead') return way === 'aft' ? 'away from you' : 'toward you';
  return (standing === 'left end') === (way === 'aft') ? 'to your right' : 'to your left';
}

/** Names in a row: `S1, S3 and S6`. */
export const listed = (names: readonly string[]): string =>
  names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`;
