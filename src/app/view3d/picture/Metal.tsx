import { useFrame } from '@react-three/fiber';
import { useEffect, useLayoutEffect, useMemo, useRef } from 'react';
import type { LineSegments, Plane } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { ShownPart } from '../useSolids.ts';
import { edgeMaterial, metalMaterial, type Share, skinEdgeMaterial, skinMaterial } from './hatch.ts';
import { forget, type Merged, type Moves, mergedOf, type Near, stepBack } from './mergedMetal.ts';

/** From this many pixels a millimetre on, the rims of rivet holes and the facets of bends can be told. */
const RIMS_FROM = 1.1;

interface Props {
  readonly parts: readonly ShownPart[];
  readonly near: Near;
  readonly light: Light;
  readonly moves: Moves;
  readonly share: Share;
  readonly clip: Plane[];
}

/** Parts as one geometry, for as long as they are drawn. */
function useMerged(parts: readonly ShownPart[], moves: Moves, skin: boolean): Merged {
  const merged = useMemo(
    () =>
      mergedOf(
        parts.filter((p) => (p.kind === 'skin') === skin),
        moves,
      ),
    [parts, moves, skin],
  );
  useEffect(() => () => forget(merged), [merged]);
  return merged;
}

/** The metal: surfaces, crisp edges, and up close the rims of holes. */
function Bare({ parts, near, light, moves, share, clip }: Props) {
  const tones = PALETTE[light];
  const open = clip.length > 0;
  const merged = useMerged(parts, moves, false);
  const material = useMemo(
    () => metalMaterial({ metal: tones.metal, paper: tones.bench, cut: tones.ink }, open, share, clip),
    [tones, open, share, clip],
  );
  const lines = useMemo(() => edgeMaterial(share, clip), [share, clip]);
  useEffect(() => () => material.dispose(), [material]);
  useEffect(() => () => lines.dispose(), [lines]);
  useLayoutEffect(() => stepBack(merged, near, light), [merged, near, light]);
  const rims = useRef<LineSegments>(null);
  useFrame(({ camera }) => {
    if (rims.current) rims.current.visible = camera.zoom >= RIMS_FROM;
  });
  return (
    <>
      <mesh geometry={merged.surface} material={material} frustumCulled={false} />
      <lineSegments geometry={merged.edges.lines} material={lines} frustumCulled={false} />
      <lineSegments ref={rims} geometry={merged.rims.lines} material={lines} frustumCulled={false} />
    </>
  );
}

/** The skin, seen through. */
function Skin({ parts, light, moves, share, clip }: Props) {
  const tones = PALETTE[light];
  const merged = useMerged(parts, moves, true);
  const sheet = useMemo(() => skinMaterial(tones.metal, share, clip), [tones, share, clip]);
  const lines = useMemo(() => skinEdgeMaterial(tones.edge, share, clip), [tones, share, clip]);
  useEffect(() => () => sheet.dispose(), [sheet]);
  useEffect(() => () => lines.dispose(), [lines]);
  if (merged.ranges.length === 0) return null;
  return (
    <>
      <mesh geometry={merged.surface} material={sheet} renderOrder={10} frustumCulled={false} />
      <lineSegments geometry={merged.edges.lines} material={lines} renderOrder={10} frustumCulled={false} />
    </>
  );
}

export function Metal(props: Props) {
  return (
    <>
      <Bare {...props} />
      <Skin {...props} />
    </>
  );
}
