import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { DoubleSide } from 'three';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { Scene, SceneGap } from '../../scene/shown.ts';
import { FatLines, segmentsOf } from './FatLines.tsx';
import { Ground } from './Ground.tsx';
import { HoleMarks } from './HoleMarks.tsx';
import { faceMaterial, gapMaterial, metalMaterial, setScale } from './hatch.ts';
import { edgesOf, faceGeometry, gapEdges, gapGeometry, mergedOf, stepBack } from './metal.ts';
import type { ShownPart } from './useSolids.ts';

interface Props {
  readonly parts: readonly ShownPart[];
  readonly scene: Scene;
  readonly station: string | null;
  readonly hovered: string | null;
  readonly question: string;
  /** The view cuts parts open. */
  readonly open: boolean;
  readonly light: Light;
}

/** Everything drawn in 3D, from plain data. */
export function Picture({ parts, scene, station, hovered, question, open, light }: Props) {
  const tones = PALETTE[light];
  const invalidate = useThree((s) => s.invalidate);
  const height = useThree((s) => s.size.height);
  useEffect(invalidate);
  return (
    <>
      <hemisphereLight args={['#ffffff', light === 'light' ? '#cfc9bd' : '#8a8f96', light === 'light' ? 1.9 : 2.3]} position={[0, 0, 1]} />
      <directionalLight position={[0.6, -0.65, 1.15]} intensity={light === 'light' ? 1.75 : 2.1} />
      <directionalLight position={[-0.7, 0.8, 0.35]} intensity={light === 'light' ? 0.4 : 0.7} />
      <Ground bench={scene.bench} parts={parts} light={light} />
      <Metal parts={parts} station={station} open={open} light={light} />
      <Faces parts={parts} scene={scene} light={light} />
      <Gaps gaps={scene.gaps} light={light} />
      {station !== null && <Outline parts={parts.filter((p) => p.station === station)} color={tones.ink} width={2} />}
      {hovered !== null && <Outline parts={parts.filter((p) => p.id === hovered)} color={tones.ink} width={1.5} />}
      {question === 'true' && <TrueLines scene={scene} light={light} />}
      {question === 'drill' && <HoleMarks holes={scene.holes} station={station} light={light} pixels={height / 2} />}
    </>
  );
}

function Metal({ parts, station, open, light }: { parts: readonly ShownPart[]; station: string | null; open: boolean; light: Light }) {
  const tones = PALETTE[light];
  const merged = useMemo(() => mergedOf(parts.filter((p) => p.kind !== 'skin')), [parts]);
  const skin = useMemo(() => mergedOf(parts.filter((p) => p.kind === 'skin')), [parts]);
  const material = useMemo(() => metalMaterial(tones.metal, tones.bench, tones.ink, open), [tones, open]);
  useEffect(() => () => [merged, skin].forEach((m) => [m.surface, m.edges].forEach((g) => g.dispose())), [merged, skin]);
  useEffect(() => () => material.dispose(), [material]);
  useMemo(() => stepBack(merged, station, light), [merged, station, light]);
  return (
    <>
      <mesh geometry={merged.surface} material={material} />
      <lineSegments geometry={merged.edges}>
        <lineBasicMaterial vertexColors />
      </lineSegments>
      {skin.ranges.length > 0 && (
        <mesh geometry={skin.surface} renderOrder={10}>
          <meshStandardMaterial color={tones.metal} transparent opacity={0.16} depthWrite={false} side={DoubleSide} roughness={0.6} />
        </mesh>
      )}
      {skin.ranges.length > 0 && (
        <lineSegments geometry={skin.edges} renderOrder={10}>
          <lineBasicMaterial color={tones.edge} transparent opacity={0.35} depthWrite={false} />
        </lineSegments>
      )}
    </>
  );
}

function Faces({ parts, scene, light }: { parts: readonly ShownPart[]; scene: Scene; light: Light }) {
  const ratio = useThree((s) => s.viewport.dpr);
  const geometry = useMemo(() => faceGeometry(parts, scene.faces, light), [parts, scene.faces, light]);
  const material = useMemo(() => faceMaterial(PALETTE[light].metal), [light]);
  setScale(material, ratio);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} />;
}

function Gaps({ gaps, light }: { gaps: readonly SceneGap[]; light: Light }) {
  const shown = useMemo(() => gaps.filter((g) => g.shown), [gaps]);
  const edges = useMemo(() => gapEdges(shown, light), [shown, light]);
  return (
    <>
      <GapKind gaps={shown} kind="interference" light={light} />
      <GapKind gaps={shown} kind="daylight" light={light} />
      <FatLines segments={edges.segments} colors={edges.colors} color={PALETTE[light].ink} width={1.5} opacity={0.85} through order={5} />
    </>
  );
}

function GapKind({ gaps, kind, light }: { gaps: readonly SceneGap[]; kind: SceneGap['kind']; light: Light }) {
  const ratio = useThree((s) => s.viewport.dpr);
  const geometry = useMemo(() => gapGeometry(gaps.filter((g) => g.kind === kind), light), [gaps, kind, light]);
  const material = useMemo(() => gapMaterial(kind, PALETTE[light].paper), [kind, light]);
  setScale(material, ratio);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} renderOrder={kind === 'daylight' ? 4 : 2} />;
}

function Outline({ parts, color, width }: { parts: readonly ShownPart[]; color: string; width: number }) {
  const segments = useMemo(() => edgesOf(parts), [parts]);
  return <FatLines segments={segments} color={color} width={width} />;
}

function TrueLines({ scene, light }: { scene: Scene; light: Light }) {
  const tones = PALETTE[light];
  const kinds = useMemo(() => {
    const of = (kind: string, verdict?: string) => segmentsOf(scene.lines.filter((l) => l.kind === kind && (verdict === undefined || (l.verdict ?? 'fits') === verdict)).map((l) => l.points));
    return { wanted: of('nose-line'), noses: of('noses'), level: of('level'), chords: (['fits', 'watch', 'unsettled', 'act'] as const).map((v) => ({ v, segments: of('chord', v) })) };
  }, [scene.lines]);
  return (
    <>
      <FatLines segments={kinds.level} color={tones.edge} width={1} dash={10} through order={5} />
      <FatLines segments={kinds.wanted} color={tones.ink} width={1.5} dash={14} through order={6} />
      <FatLines segments={kinds.noses} color={tones.ink} width={2} through order={6} />
      {kinds.chords.map(({ v, segments }) => <FatLines key={v} segments={segments} color={tones[v]} width={2.5} through order={6} />)}
    </>
  );
}
