import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { type BufferGeometry, type Camera, Color, OrthographicCamera, ShapeUtils, Vector2 } from 'three';
import { platesOf } from '../../../geometry/loops.ts';
import type { Vec2 } from '../../../geometry/vector.ts';
import type { Cut } from '../../../scene/cut.ts';
import { type Light, PALETTE, type Tone } from '../../../scene/palette.ts';
import type { SceneGap } from '../../../scene/shown.ts';
import { geometryOf } from './attributes.ts';
import { FatLines } from './FatLines.tsx';
import { gapCut } from './gapShapes.ts';
import { capMaterial, FILL, setScale, setZoom } from './hatch.ts';

type Loops = readonly (readonly Vec2[])[];
type Tones = Readonly<Record<Tone, string>>;

interface Filled {
  readonly loops: Loops;
  readonly fill: number;
  readonly tone: string;
}

interface Props {
  readonly cut: Cut;
  readonly y: number;
  readonly gaps: readonly SceneGap[];
  readonly light: Light;
}

const skinOf = (cut: Cut): Loops => cut.parts.filter((p) => p.kind === 'skin').flatMap((p) => [...p.loops]);

/** The cut metal, each part hatched its own way. */
const metalOf = (cut: Cut, tones: Tones): Filled[] =>
  cut.parts.filter((p) => p.kind !== 'skin').map((p) => ({ loops: p.loops, fill: p.style, tone: tones.ink }));

/** What lies over it: the gaps the plane goes through, in their tone, and what two parts share, crossed. */
function overOf(cut: Cut, gaps: readonly SceneGap[], tones: Tones): Filled[] {
  const slabs = gaps.flatMap((g): Filled[] => {
    const loop = g.shown ? gapCut(g, cut.y) : [];
    if (loop.length < 3) return [];
    return [{ loops: [loop], fill: g.kind === 'daylight' ? FILL.daylight : FILL.shared, tone: tones[g.verdict] }];
  });
  return [...slabs, ...cut.shared.map((s): Filled => ({ loops: s.loops, fill: FILL.shared, tone: tones.act }))];
}

/**
 * The cut faces on the plane at y: every part hatched its own way, what two parts share crossed, gaps in their tone.
 */
export function Caps({ cut, y, gaps, light }: Props) {
  const tones = PALETTE[light];
  const ratio = useThree((s) => s.viewport.dpr);
  const metal = useMemo(() => metalOf(cut, tones), [cut, tones]);
  const over = useMemo(() => overOf(cut, gaps, tones), [cut, gaps, tones]);
  const lines = useMemo(
    () => ({ skin: outline(skinOf(cut)), metal: outline(metal.flatMap((f) => [...f.loops])), over: tinted(over) }),
    [cut, metal, over],
  );
  const material = useMemo(() => capMaterial(tones), [tones]);
  setScale(material, ratio);
  useEffect(() => () => material.dispose(), [material]);
  const fill = { material, zoomed: (camera: Camera) => setZoom(material, zoomOf(camera)) };
  return (
    <group position={[0, y, 0]}>
      <FilledFaces faces={metal} order={5} {...fill} />
      <FilledFaces faces={over} order={6} {...fill} />
      <FatLines segments={lines.skin} color={tones.edge} width={1.25} order={6} />
      <FatLines segments={lines.metal} color={tones.ink} width={1.5} order={7} />
      <FatLines {...lines.over} color={tones.act} width={2} order={8} />
    </group>
  );
}

const zoomOf = (camera: Camera): number => (camera instanceof OrthographicCamera ? camera.zoom : 1);

interface FilledProps {
  readonly faces: readonly Filled[];
  readonly material: ReturnType<typeof capMaterial>;
  readonly order: number;
  readonly zoomed: (camera: Camera) => void;
}

function FilledFaces({ faces, material, order, zoomed }: FilledProps) {
  const geometry = useMemo(() => filled(faces), [faces]);
  useEffect(() => () => geometry.dispose(), [geometry]);
  return (
    <mesh
      geometry={geometry}
      material={material}
      frustumCulled={false}
      renderOrder={order}
      onBeforeRender={(_renderer, _scene, camera) => zoomed(camera)}
    />
  );
}

const flat = (loop: readonly Vec2[]): Vector2[] => loop.map(([u, v]) => new Vector2(u, v));

/** Corners of the triangles that fill some loops, three after three. */
function cornersOf(loops: Loops): Vec2[] {
  return platesOf(loops).flatMap(({ outline: loop, holes }) => {
    const corners = [...loop, ...holes.flat()];
    const triangles = ShapeUtils.triangulateShape(flat(loop), holes.map(flat));
    return triangles.flat().flatMap((i) => (corners[i] ? [corners[i]] : []));
  });
}

/** Faces filled, in the plane y = 0. */
function filled(list: readonly Filled[]): BufferGeometry {
  const places: number[] = [];
  const fills: number[] = [];
  const colours: number[] = [];
  for (const { loops, fill, tone } of list) {
    const { r, g, b } = new Color(tone);
    for (const [u, v] of cornersOf(loops)) {
      places.push(u, 0, v);
      fills.push(fill);
      colours.push(r, g, b);
    }
  }
  return geometryOf({ position: [places, 3], aFill: [fills, 1], aTone: [colours, 3] });
}

/** Every side of some loops as a segment, six numbers each, in the plane y = 0. */
function outline(loops: Loops): Float32Array {
  return Float32Array.from(
    loops.flatMap((loop) =>
      loop.flatMap((p, i) => {
        const q = loop[i + 1] ?? loop[0] ?? p;
        return [p[0], 0, p[1], q[0], 0, q[1]];
      }),
    ),
  );
}

function tinted(list: readonly Filled[]): { segments: Float32Array; colors: Float32Array } {
  const colours = list.flatMap(({ loops, tone }) => {
    const { r, g, b } = new Color(tone);
    return loops.flatMap((loop) => loop.flatMap(() => [r, g, b, r, g, b]));
  });
  return { segments: outline(list.flatMap((f) => [...f.loops])), colors: Float32Array.from(colours) };
}
