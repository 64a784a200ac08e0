import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import type { Plane } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneGap } from '../../../scene/shown.ts';
import { FatLines } from './FatLines.tsx';
import { gapEdges, gapGeometry } from './gapShapes.ts';
import { gapMaterial, setScale } from './hatch.ts';

interface Props {
  readonly gaps: readonly SceneGap[];
  readonly light: Light;
  readonly clip: Plane[];
}

/** The gaps that the question asks for: daylight seen through, interference crossed, both with crisp edges. */
export function Gaps({ gaps, light, clip }: Props) {
  const shown = useMemo(() => gaps.filter((g) => g.shown), [gaps]);
  const edges = useMemo(() => gapEdges(shown, light), [shown, light]);
  return (
    <>
      <GapKind gaps={shown} kind="interference" light={light} clip={clip} />
      <GapKind gaps={shown} kind="daylight" light={light} clip={clip} />
      <FatLines
        {...edges}
        color={PALETTE[light].ink}
        width={1.5}
        opacity={0.85}
        through={clip.length === 0}
        order={4}
        clip={clip}
      />
    </>
  );
}

function GapKind({ gaps, kind, light, clip }: Props & { kind: SceneGap['kind'] }) {
  const ratio = useThree((s) => s.viewport.dpr);
  const geometry = useMemo(
    () =>
      gapGeometry(
        gaps.filter((g) => g.kind === kind),
        light,
      ),
    [gaps, kind, light],
  );
  const material = useMemo(() => gapMaterial(kind, PALETTE[light].paper, clip), [kind, light, clip]);
  setScale(material, ratio);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  const order = kind === 'daylight' ? 4 : 2;
  return <mesh geometry={geometry} material={material} frustumCulled={false} renderOrder={order} />;
}
