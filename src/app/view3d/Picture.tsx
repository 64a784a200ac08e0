import { useFrame, useThree } from '@react-three/fiber';
import { useEffect, useMemo, useRef } from 'react';
import type { LineSegments, Plane } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Cut } from '../../scene/cut.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { Scene, SceneBox, SceneGap } from '../../scene/shown.ts';
import { Caps } from './Caps.tsx';
import { quiet } from './Eyes.tsx';
import { FatLines, segmentsOf } from './FatLines.tsx';
import { Ground } from './Ground.tsx';
import { HoleMarks } from './HoleMarks.tsx';
import {
  edgeMaterial,
  faceMaterial,
  gapMaterial,
  metalMaterial,
  type Share,
  setScale,
  skinEdgeMaterial,
  skinMaterial,
} from './hatch.ts';
import { edgesOf, faceGeometry, gapEdges, gapGeometry, type Moves, mergedOf, stepBack } from './metal.ts';
import { boxOf } from './pick.ts';
import type { ShownPart } from './useSolids.ts';

interface Props {
  readonly parts: readonly ShownPart[];
  readonly scene: Scene;
  readonly station: string | null;
  readonly outlined?: ReadonlySet<string> | undefined;
  /** Parts as they are on the other side of what is tried. */
  readonly ghosts?: readonly ShownPart[];
  readonly hovered: string | null;
  readonly question: string;
  readonly light: Light;
  /** How far parts move when all is pulled apart, and how much of that is wanted now, 0 to 1. */
  readonly moves: Moves;
  readonly apart: number;
  /** Seen along the span, to the right (1) or the left: what lies behind the section steps back. */
  readonly along: 1 | -1 | null;
  /** What is cut away; empty where nothing is. */
  readonly clip: Plane[];
  /** The faces of the cut, and where its plane stands; null where nothing is cut or they are not there yet. */
  readonly cut: { readonly cut: Cut; readonly y: number } | null;
  /** The plane of the cut, drawn as a frame that stands clear of the skeleton. */
  readonly frame: { readonly y: number; readonly bounds: SceneBox } | null;
}

/** Everything drawn in 3D, from plain data. */
export function Picture({
  parts,
  scene,
  station,
  outlined,
  ghosts,
  hovered,
  question,
  light,
  moves,
  apart,
  along,
  clip,
  cut,
  frame,
}: Props) {
  const tones = PALETTE[light];
  const invalidate = useThree((s) => s.invalidate);
  const height = useThree((s) => s.size.height);
  const share = useMemo((): Share => ({ value: 0 }), []);
  useEffect(() => invalidate());
  const pulled = apart > 0;
  return (
    <>
      <hemisphereLight
        args={['#ffffff', light === 'light' ? '#cfc9bd' : '#8a8f96', light === 'light' ? 1.9 : 2.3]}
        position={[0, 0, 1]}
      />
      <directionalLight position={[0.6, -0.65, 1.15]} intensity={light === 'light' ? 1.75 : 2.1} />
      <directionalLight position={[-0.7, 0.8, 0.35]} intensity={light === 'light' ? 0.4 : 0.7} />
      {along !== null && <directionalLight position={[0.15, -along, 0.3]} intensity={light === 'light' ? 0.9 : 0.8} />}
      <Ground bench={scene.bench} parts={parts} light={light} clip={clip} bare={pulled} />
      <Pulling share={share} wanted={apart} />
      <Metal
        parts={parts}
        station={station}
        along={along !== null && clip.length > 0}
        light={light}
        moves={moves}
        share={share}
        clip={clip}
      />
      <Faces parts={parts} scene={scene} light={light} moves={moves} share={share} clip={clip} />
      <Gaps gaps={scene.gaps} light={light} clip={clip} />
      {pulled && <Trails parts={parts} moves={moves} apart={apart} color={tones.edge} />}
      {cut && <Caps cut={cut.cut} y={cut.y} gaps={scene.gaps} light={light} />}
      {frame && <Frame {...frame} color={tones.ink} />}
      {station !== null && clip.length === 0 && (
        <Outline
          parts={parts.filter((p) => p.station === station)}
          color={tones.ink}
          width={2}
          moves={moves}
          apart={apart}
          clip={clip}
        />
      )}
      {ghosts && ghosts.length > 0 && (
        <Ghosts parts={ghosts} color={tones.ink} moves={moves} apart={apart} clip={clip} />
      )}
      {outlined && outlined.size > 0 && (
        <Outline
          parts={parts.filter((p) => outlined.has(p.id) && p.kind !== 'spar' && p.kind !== 'skin')}
          color={tones.ink}
          width={3}
          moves={moves}
          apart={apart}
          clip={clip}
        />
      )}
      {hovered !== null && (
        <Outline
          parts={parts.filter((p) => p.id === hovered)}
          color={tones.ink}
          width={1.5}
          moves={moves}
          apart={apart}
          clip={clip}
        />
      )}
      {question === 'true' && !pulled && <TrueLines scene={scene} light={light} clip={clip} />}
      {question === 'drill' && !pulled && (
        <HoleMarks holes={scene.holes} station={station} light={light} pixels={height / 2} clip={clip} />
      )}
    </>
  );
}

/** How long parts take to come apart, ms. */
const PULL = 180;

/** Moves the parts to where they are wanted: at once where the person asked for less motion. */
function Pulling({ share, wanted }: { share: Share; wanted: number }) {
  const invalidate = useThree((s) => s.invalidate);
  const way = useRef<{ from: number; start: number } | null>(null);
  useEffect(() => {
    way.current = quiet() ? null : { from: share.value, start: performance.now() };
    if (!way.current) share.value = wanted;
    invalidate();
  }, [share, wanted, invalidate]);
  useFrame(() => {
    if (!way.current) return;
    const t = Math.min((performance.now() - way.current.start) / PULL, 1);
    share.value = way.current.from + (wanted - way.current.from) * t * t * (3 - 2 * t);
    if (t < 1) invalidate();
    else way.current = null;
  });
  return null;
}

/** From this many pixels a millimetre on, the rims of rivet holes and the facets of bends can be told. */
const RIMS_FROM = 1.1;

function Metal({
  parts,
  station,
  along,
  light,
  moves,
  share,
  clip,
}: {
  parts: readonly ShownPart[];
  station: string | null;
  along: boolean;
  light: Light;
  moves: Moves;
  share: Share;
  clip: Plane[];
}) {
  const tones = PALETTE[light];
  const open = clip.length > 0;
  const merged = useMemo(
    () =>
      mergedOf(
        parts.filter((p) => p.kind !== 'skin'),
        moves,
      ),
    [parts, moves],
  );
  const skin = useMemo(
    () =>
      mergedOf(
        parts.filter((p) => p.kind === 'skin'),
        moves,
      ),
    [parts, moves],
  );
  const material = useMemo(
    () => metalMaterial({ metal: tones.metal, paper: tones.bench, cut: tones.ink }, open, share, clip),
    [tones, open, share, clip],
  );
  const lines = useMemo(() => edgeMaterial(share, clip), [share, clip]);
  const [over, overLines] = useMemo(
    () => [skinMaterial(tones.metal, share, clip), skinEdgeMaterial(tones.edge, share, clip)] as const,
    [tones, share, clip],
  );
  useEffect(
    () => () => [merged, skin].forEach((m) => [m.surface, m.edges.lines, m.rims.lines].forEach((g) => g.dispose())),
    [merged, skin],
  );
  useEffect(
    () => () => [material, lines, over, overLines].forEach((m) => m.dispose()),
    [material, lines, over, overLines],
  );
  useMemo(() => stepBack(merged, station, along, light), [merged, station, along, light]);
  const rims = useRef<LineSegments>(null);
  useFrame(({ camera }) => {
    if (rims.current) rims.current.visible = camera.zoom >= RIMS_FROM;
  });
  return (
    <>
      <mesh geometry={merged.surface} material={material} frustumCulled={false} />
      <lineSegments geometry={merged.edges.lines} material={lines} frustumCulled={false} />
      <lineSegments ref={rims} geometry={merged.rims.lines} material={lines} frustumCulled={false} />
      {skin.ranges.length > 0 && (
        <mesh geometry={skin.surface} material={over} renderOrder={10} frustumCulled={false} />
      )}
      {skin.ranges.length > 0 && (
        <lineSegments geometry={skin.edges.lines} material={overLines} renderOrder={10} frustumCulled={false} />
      )}
    </>
  );
}

function Faces({
  parts,
  scene,
  light,
  moves,
  share,
  clip,
}: {
  parts: readonly ShownPart[];
  scene: Scene;
  light: Light;
  moves: Moves;
  share: Share;
  clip: Plane[];
}) {
  const ratio = useThree((s) => s.viewport.dpr);
  const geometry = useMemo(() => faceGeometry(parts, scene.faces, light, moves), [parts, scene.faces, light, moves]);
  const material = useMemo(() => faceMaterial(PALETTE[light].metal, share, clip), [light, share, clip]);
  setScale(material, ratio);
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} />;
}

function Gaps({ gaps, light, clip }: { gaps: readonly SceneGap[]; light: Light; clip: Plane[] }) {
  const shown = useMemo(() => gaps.filter((g) => g.shown), [gaps]);
  const edges = useMemo(() => gapEdges(shown, light), [shown, light]);
  return (
    <>
      <GapKind gaps={shown} kind="interference" light={light} clip={clip} />
      <GapKind gaps={shown} kind="daylight" light={light} clip={clip} />
      <FatLines
        segments={edges.segments}
        colors={edges.colors}
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

function GapKind({
  gaps,
  kind,
  light,
  clip,
}: {
  gaps: readonly SceneGap[];
  kind: SceneGap['kind'];
  light: Light;
  clip: Plane[];
}) {
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
  return (
    <mesh geometry={geometry} material={material} frustumCulled={false} renderOrder={kind === 'daylight' ? 4 : 2} />
  );
}

function Outline({
  parts,
  color,
  width,
  moves,
  apart,
  clip,
}: {
  parts: readonly ShownPart[];
  color: string;
  width: number;
  moves: Moves;
  apart: number;
  clip: Plane[];
}) {
  const segments = useMemo(() => edgesOf(parts, moves, apart), [parts, moves, apart]);
  return <FatLines segments={segments} color={color} width={width} clip={clip} />;
}

/** Parts as they are before, or after, what is tried: their edges in dashes, through the metal. */
function Ghosts({
  parts,
  color,
  moves,
  apart,
  clip,
}: {
  parts: readonly ShownPart[];
  color: string;
  moves: Moves;
  apart: number;
  clip: Plane[];
}) {
  const segments = useMemo(() => edgesOf(parts, moves, apart), [parts, moves, apart]);
  return (
    <FatLines segments={segments} color={color} width={1.5} dash={6} opacity={0.8} through order={8} clip={clip} />
  );
}

/** A thin dashed line from where each part was to where it stands apart; of a spar one at each end. */
function Trails({
  parts,
  moves,
  apart,
  color,
}: {
  parts: readonly ShownPart[];
  moves: Moves;
  apart: number;
  color: string;
}) {
  const segments = useMemo(
    () =>
      segmentsOf(
        parts.flatMap((p): Vec3[][] => {
          const by = moves.get(p.id);
          if (!by) return [];
          const [low, high] = boxOf(p.mesh.positions);
          const mid = (i: 0 | 1 | 2): number => (low[i] + high[i]) / 2;
          const long = high[1] - low[1] > 200;
          const from = (long ? [low[1], high[1]] : [mid(1)]).flatMap((y): Vec3[] =>
            p.kind === 'skin' ? [low[0], high[0]].map((x): Vec3 => [x, y, mid(2)]) : [[mid(0), y, mid(2)]],
          );
          return from.map((a) => [a, [a[0] + by[0] * apart, a[1] + by[1] * apart, a[2] + by[2] * apart]]);
        }),
      ),
    [parts, moves, apart],
  );
  return <FatLines segments={segments} color={color} width={1} dash={7} order={3} />;
}

/** The plane of the cut, as a frame that stands clear of the skeleton. */
function Frame({ y, bounds, color }: { y: number; bounds: SceneBox; color: string }) {
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

/** Chords tell their verdict in one ink too: fits whole, watch in long dashes, unsettled in short ones, act heavy. */
const CHORD: Readonly<
  Record<'fits' | 'watch' | 'unsettled' | 'act', { readonly width: number; readonly dash?: number }>
> = {
  fits: { width: 2.5 },
  watch: { width: 2.5, dash: 24 },
  unsettled: { width: 2.5, dash: 7 },
  act: { width: 4.5 },
};

function TrueLines({ scene, light, clip }: { scene: Scene; light: Light; clip: Plane[] }) {
  const tones = PALETTE[light];
  const kinds = useMemo(() => {
    const of = (kind: string, verdict?: string) =>
      segmentsOf(
        scene.lines
          .filter((l) => l.kind === kind && (verdict === undefined || (l.verdict ?? 'fits') === verdict))
          .map((l) => l.points),
      );
    return {
      wanted: of('nose-line'),
      noses: of('noses'),
      level: of('level'),
      chords: (['fits', 'watch', 'unsettled', 'act'] as const).map((v) => ({ v, segments: of('chord', v) })),
    };
  }, [scene.lines]);
  return (
    <>
      <FatLines segments={kinds.level} color={tones.edge} width={1} dash={10} through order={5} clip={clip} />
      <FatLines segments={kinds.wanted} color={tones.ink} width={1.5} dash={14} through order={6} clip={clip} />
      <FatLines segments={kinds.noses} color={tones.ink} width={2} through order={6} clip={clip} />
      {kinds.chords.map(({ v, segments }) => (
        <FatLines key={v} segments={segments} color={tones[v]} {...CHORD[v]} through order={6} clip={clip} />
      ))}
    </>
  );
}
