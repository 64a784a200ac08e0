import { useMemo } from 'react';
import type { SceneBox } from '../../../scene/shown.ts';
import { FatLines, segmentsOf } from './FatLines.tsx';

/** The plane of the cut, as a frame that stands clear of the skeleton. */
export function CutFrame({ y, bounds, color }: { y: number; bounds: SceneBox; color: string }) {
  const { low, high } = bounds;
  const segments = useMemo(() => {
    const [x0, x1, z0, z1] = [low[0], high[0], low[2], high[2]];
    return segmentsOf([
      [
        [x0, 0, z0],
        [x1, 0, z0],
        [x1, 0, z1],
        [x0, 0, z1],
        [x0, 0, z0],
      ],
    ]);
  }, [low, high]);
  return (
    <group position={[0, y, 0]}>
      <FatLines segments={segments} color={color} width={1} opacity={0.55} order={9} />
    </group>
  );
}
