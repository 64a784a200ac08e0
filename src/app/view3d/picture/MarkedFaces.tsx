import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import type { Plane } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneFace } from '../../../scene/shown.ts';
import type { ShownPart } from '../useSolids.ts';
import { faceGeometry } from './faceShapes.ts';
import { faceMaterial, type Share, setScale } from './hatch.ts';
import type { Moves } from './mergedMetal.ts';

interface Props {
  readonly parts: readonly ShownPart[];
  readonly faces: readonly SceneFace[];
  readonly light: Light;
  readonly moves: Moves;
  readonly share: Share;
  readonly clip: Plane[];
}

/** The faces that carry a verdict, in its tone and its mark. */
export function MarkedFaces({ parts, faces, light, moves, share, clip }: Props) {
  const ratio = useThree((s) => s.viewport.dpr);
  const geometry = useMemo(() => faceGeometry(parts, faces, light, moves), [parts, faces, light, moves]);
  const material = useMemo(() => faceMaterial(PALETTE[light].metal, share, clip), [light, share, clip]);
  setScale(material, ratio);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} />;
}
