import { useMemo } from 'react';
import type { Plane } from 'three';
import { add, scale, type Vec3 } from '../../../geometry/vector.ts';
import { boxOf } from '../places.ts';
import type { ShownPart } from '../useSolids.ts';
import { FatLines, segmentsOf } from './FatLines.tsx';
import { edgesOf, type Moves } from './mergedMetal.ts';

interface OutlineProps {
  readonly parts: readonly ShownPart[];
  readonly moves: Moves;
  readonly apart: number;
  readonly color: string;
  readonly width: number;
  readonly clip: Plane[];
}

function Outline({ parts, moves, apart, ...line }: OutlineProps) {
  const segments = useMemo(() => edgesOf(parts, moves, apart), [parts, moves, apart]);
  return <FatLines segments={segments} {...line} />;
}

/** Parts as they are before, or after, what is tried: their edges in dashes, through the metal. */
function Ghosts({ parts, moves, apart, ...line }: OutlineProps) {
  const segments = useMemo(() => edgesOf(parts, moves, apart), [parts, moves, apart]);
  return <FatLines segments={segments} {...line} dash={6} opacity={0.8} through order={8} />;
}

interface Props {
  readonly parts: readonly ShownPart[];
  readonly station: string | null;
  readonly outlined?: ReadonlySet<string> | undefined;
  readonly ghosts: readonly ShownPart[];
  readonly hovered: string | null;
  readonly moves: Moves;
  readonly apart: number;
  readonly color: string;
  readonly clip: Plane[];
}

const isRib = (p: ShownPart): boolean => p.kind !== 'spar' && p.kind !== 'skin';

/** What is pointed out: the chosen station while nothing is cut, what is tried touches, what is under the pointer. */
export function Outlines({ parts, station, outlined, ghosts, hovered, moves, apart, color, clip }: Props) {
  const chosen = useMemo(() => parts.filter((p) => p.station === station), [parts, station]);
  const touched = useMemo(() => parts.filter((p) => isRib(p) && outlined?.has(p.id)), [parts, outlined]);
  const under = useMemo(() => parts.filter((p) => p.id === hovered), [parts, hovered]);
  const line = { moves, apart, color, clip };
  return (
    <>
      {station !== null && clip.length === 0 && <Outline parts={chosen} width={2} {...line} />}
      {ghosts.length > 0 && <Ghosts parts={ghosts} width={1.5} {...line} />}
      {touched.length > 0 && <Outline parts={touched} width={3} {...line} />}
      {hovered !== null && <Outline parts={under} width={1.5} {...line} />}
    </>
  );
}

/** A part longer than this along the span gets a trail at each end, mm. */
const LONG = 200;

/** Where the trails of a part begin: at its middle; of a spar at each end, of the skin at both edges. */
function beginnings({ kind, mesh }: ShownPart): Vec3[] {
  const { low, high } = boxOf(mesh);
  const [x, y, z] = scale(add(low, high), 0.5);
  const along = high[1] - low[1] > LONG ? [low[1], high[1]] : [y];
  const across = kind === 'skin' ? [low[0], high[0]] : [x];
  return along.flatMap((at) => across.map((aft): Vec3 => [aft, at, z]));
}

interface TrailProps {
  readonly parts: readonly ShownPart[];
  readonly moves: Moves;
  readonly apart: number;
  readonly color: string;
}

/** A thin dashed line from where each part was to where it stands apart. */
export function Trails({ parts, moves, apart, color }: TrailProps) {
  const segments = useMemo(() => {
    const trails = parts.flatMap((part): Vec3[][] => {
      const by = moves.get(part.id);
      return by ? beginnings(part).map((from) => [from, add(from, scale(by, apart))]) : [];
    });
    return segmentsOf(trails);
  }, [parts, moves, apart]);
  return <FatLines segments={segments} color={color} width={1} dash={7} order={3} />;
}
