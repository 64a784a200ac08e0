import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import { BufferAttribute, BufferGeometry, Color, ShapeUtils, Vector2 } from 'three';
import { platesOf } from '../../geometry/loops.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import type { Cut } from '../../scene/cut.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { SceneGap } from '../../scene/shown.ts';
import { FatLines } from './FatLines.tsx';
import { capMaterial, FILL, setScale, setZoom } from './hatch.ts';

type Loops = readonly (readonly Vec2[])[];

interface Filled {
  readonly loops: Loops;
  readonly fill: number;
  readonly tone: string;
}

/** The cut faces on the plane at y: every part hatched its own way, what two parts share crossed, gaps in their tone. */
export function Caps({ cut, y, gaps, light }: { cut: Cut; y: number; gaps: readonly SceneGap[]; light: Light }) {
  const tones = PALETTE[light];
  const ratio = useThree((s) => s.viewport.dpr);
  const shown = useMemo(() => {
    const metal = cut.parts
      .filter((p) => p.kind !== 'skin')
      .map((p): Filled => ({ loops: p.loops, fill: p.style, tone: tones.ink }));
    const slabs = gaps.flatMap((g): Filled[] => {
      const loop = cutThrough(g, cut.y);
      return g.shown && loop.length >= 3
        ? [{ loops: [loop], fill: g.kind === 'daylight' ? FILL.daylight : FILL.shared, tone: tones[g.verdict] }]
        : [];
    });
    const shared = cut.shared.map((s): Filled => ({ loops: s.loops, fill: FILL.shared, tone: tones.act }));
    return { metal, over: [...slabs, ...shared] };
  }, [cut, gaps, tones]);
  const skin = useMemo(() => outline(cut.parts.filter((p) => p.kind === 'skin').flatMap((p) => [...p.loops])), [cut]);
  const lines = useMemo(
    () => ({ metal: outline(shown.metal.flatMap((f) => [...f.loops])), over: tinted(shown.over) }),
    [shown],
  );
  const faces = useMemo(() => [filled(shown.metal), filled(shown.over)] as const, [shown]);
  const material = useMemo(() => capMaterial(tones), [tones]);
  setScale(material, ratio);
  useEffect(() => () => faces.forEach((g) => g.dispose()), [faces]);
  useEffect(() => () => material.dispose(), [material]);
  return (
    <group position={[0, y, 0]}>
      {faces.map((geometry, i) => (
        <mesh
          key={i}
          geometry={geometry}
          material={material}
          frustumCulled={false}
          renderOrder={5 + i}
          onBeforeRender={(_r, _s, camera) => setZoom(material, (camera as unknown as { zoom: number }).zoom)}
        />
      ))}
      <FatLines segments={skin} color={tones.edge} width={1.25} order={6} />
      <FatLines segments={lines.metal} color={tones.ink} width={1.5} order={7} />
      <FatLines segments={lines.over.segments} colors={lines.over.colors} color={tones.act} width={2} order={8} />
    </group>
  );
}

/** Faces filled, in the plane y = 0. */
function filled(list: readonly Filled[]): BufferGeometry {
  const places: number[] = [];
  const fills: number[] = [];
  const colours: number[] = [];
  for (const { loops, fill, tone } of list) {
    const { r, g, b } = new Color(tone);
    for (const { outline: loop, holes } of platesOf(loops)) {
      const flat = (l: readonly Vec2[]): Vector2[] => l.map(([u, v]) => new Vector2(u, v));
      const corners = [...loop, ...holes.flat()];
      for (const three of ShapeUtils.triangulateShape(flat(loop), holes.map(flat))) {
        for (const i of three) {
          const [u, v] = corners[i!]!;
          places.push(u, 0, v);
          fills.push(fill);
          colours.push(r, g, b);
        }
      }
    }
  }
  const geometry = new BufferGeometry();
  geometry.setAttribute('position', new BufferAttribute(Float32Array.from(places), 3));
  geometry.setAttribute('aFill', new BufferAttribute(Float32Array.from(fills), 1));
  geometry.setAttribute('aTone', new BufferAttribute(Float32Array.from(colours), 3));
  return geometry;
}

function outline(loops: Loops): Float32Array {
  return Float32Array.from(
    loops.flatMap((loop) =>
      loop.flatMap((p, i) => {
        const q = loop[(i + 1) % loop.length]!;
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

const EDGES: readonly (readonly [number, number])[] = [
  [0, 1],
  [1, 2],
  [2, 3],
  [3, 0],
  [4, 5],
  [5, 6],
  [6, 7],
  [7, 4],
  [0, 4],
  [1, 5],
  [2, 6],
  [3, 7],
];

/** Where the plane at y goes through a gap, counterclockwise; nothing where it misses it. */
function cutThrough({ corners }: SceneGap, y: number): Vec2[] {
  const at = (a: Vec3, b: Vec3): Vec2[] => {
    if (a[1] > y === b[1] > y) return [];
    const t = (y - a[1]) / (b[1] - a[1]);
    return [[a[0] + t * (b[0] - a[0]), a[2] + t * (b[2] - a[2])]];
  };
  const points = EDGES.flatMap(([i, j]) => at(corners[i]!, corners[j]!));
  const [u, v] = [0, 1].map((k) => points.reduce((sum, p) => sum + p[k]!, 0) / Math.max(points.length, 1)) as [
    number,
    number,
  ];
  return points.sort((p, q) => Math.atan2(p[1] - v, p[0] - u) - Math.atan2(q[1] - v, q[0] - u));
}
