import type { Skeleton } from '../../parts/layout/layout.ts';
import type { Scene } from '../../scene/shown.ts';
import type { Hit } from './pick.ts';

/** What a tap on the bench chooses. */
export interface Picked {
  readonly station: string | null;
  readonly part?: string;
  readonly finding?: string;
}

/** The station nearest a place along the span. */
function nearestStation({ bays }: Skeleton, y: number): string | null {
  const near = bays.map((b) => ({ id: b.station.id, far: Math.abs(b.station.y - y) }));
  return near.reduce((a, b) => (b.far < a.far ? b : a), near[0] ?? { id: null, far: 0 }).id;
}

/** What a tap on something chooses. A spar belongs to no station: the nearest one is taken. */
export function pickedBy({ part, face, gap, hole, at }: Hit, scene: Scene, skeleton: Skeleton): Picked {
  if (hole) return { station: hole.station, ...(hole.findingId === null ? {} : { finding: hole.findingId }) };
  if (gap) return { station: gap.station, part: gap.part, finding: gap.findingId };
  if (!part) return { station: null };
  const worn = scene.faces.find(
    (f) =>
      f.part === part.id && f.face === face && (!f.within || (at[0] >= f.within.low[0] && at[0] <= f.within.high[0])),
  );
  return {
    station: part.station ?? nearestStation(skeleton, at[1]),
    part: part.id,
    ...(worn ? { finding: worn.findingId } : {}),
  };
}

const HOLE_WORDS = {
  now: 'drill now',
  'not yet': 'not yet',
  'not asked': 'not asked',
  'in doubt': 'in doubt',
  never: 'never at this size',
  done: 'done',
} as const;

/** What something under the pointer is, in a few words. */
export function hitInWords({ part, gap, hole }: Hit, scene: Scene): string {
  if (hole) return `${hole.name}: ${HOLE_WORDS[hole.state]}. ${hole.why}`;
  if (!gap) return part?.mark ?? '';
  const own = scene.labels.find((l) => l.findingId === gap.findingId && !l.text.includes(' more '));
  return `${own?.text ?? `${gap.part} ${gap.text}`}${gap.state === undefined ? '' : `, ${gap.state}`}`;
}
