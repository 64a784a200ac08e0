import { useEffect, useMemo } from 'react';
import type { Plane } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Scene } from '../../../scene/shown.ts';
import type { ShownPart } from '../useSolids.ts';
import { shadowOf } from './shadow.ts';

const BOARD = 22;

/**
 * The matt bench top, the blocks the spars rest on, and the skeleton's shadow; `bare` leaves only the top, for parts
 * held in the air.
 */
export function Ground({
  bench,
  parts,
  light,
  clip,
  bare,
}: {
  bench: Scene['bench'];
  parts: readonly ShownPart[];
  light: Light;
  clip: Plane[];
  bare: boolean;
}) {
  const tones = PALETTE[light];
  const shadow = useMemo(
    () =>
      shadowOf(
        parts.filter((p) => p.kind !== 'skin'),
        bench.z,
      ),
    [parts, bench.z],
  );
  useEffect(() => () => shadow.texture.dispose(), [shadow]);
  const size = [bench.high[0] - bench.low[0], bench.high[1] - bench.low[1]] as const;
  const middle = [(bench.high[0] + bench.low[0]) / 2, (bench.high[1] + bench.low[1]) / 2] as const;
  const cast = [shadow.high[0] - shadow.low[0], shadow.high[1] - shadow.low[1]] as const;
  return (
    <group>
      <mesh position={[middle[0], middle[1], bench.z - BOARD / 2]}>
        <boxGeometry args={[size[0], size[1], BOARD]} />
        <meshStandardMaterial
          color={tones.bench}
          roughness={1}
          metalness={0}
          polygonOffset
          polygonOffsetFactor={3}
          polygonOffsetUnits={12}
        />
      </mesh>
      <mesh
        position={[(shadow.high[0] + shadow.low[0]) / 2, (shadow.high[1] + shadow.low[1]) / 2, bench.z + 0.5]}
        renderOrder={-1}
      >
        <planeGeometry args={[cast[0], cast[1]]} />
        <meshBasicMaterial
          map={shadow.texture}
          clippingPlanes={clip}
          transparent
          opacity={bare ? 0.35 : 1}
          depthWrite={false}
          toneMapped={false}
        />
      </mesh>
      {!bare &&
        bench.blocks.map(({ low, high }) => (
          <mesh key={low.join(' ')} position={[(low[0] + high[0]) / 2, (low[1] + high[1]) / 2, (low[2] + high[2]) / 2]}>
            <boxGeometry args={[high[0] - low[0], high[1] - low[1], Math.max(high[2] - low[2], 0.1)]} />
            <meshStandardMaterial
              color={tones.block}
              roughness={1}
              metalness={0}
              clippingPlanes={clip}
              polygonOffset
              polygonOffsetFactor={3}
              polygonOffsetUnits={9}
            />
          </mesh>
        ))}
    </group>
  );
}
