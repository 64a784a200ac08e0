import { useEffect, useMemo } from 'react';
import { Color, InstancedBufferAttribute, InstancedBufferGeometry, type Plane, PlaneGeometry } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneHole } from '../../../scene/shown.ts';
import { HOLE_NUMBER, holeMaterial } from './holeMaterial.ts';

/** Least radius of a hole's mark on the screen, CSS px. */
export const LEAST_MARK = 7;
/** How far a hole of another station than the chosen one stands out. */
const ASIDE = 0.4;

/** The verdict of a hole with little to spare, or of which not enough is known. */
const closeVerdict = ({ verdict }: SceneHole): 'watch' | 'unsettled' | undefined =>
  verdict === 'watch' || verdict === 'unsettled' ? verdict : undefined;

/** Whether a hole must not be drilled, or may not be yet because it may not clean up. */
const forbidden = ({ state, doubt }: SceneHole): boolean => state === 'never' || doubt;

/** What matters more lies over what matters less where marks crowd. */
function weight(hole: SceneHole): number {
  if (hole.state === 'never') return 3;
  if (hole.doubt) return 2;
  return closeVerdict(hole) ? 1 : 0;
}

function toneOf(hole: SceneHole, light: Light): Color {
  const close = closeVerdict(hole);
  return new Color(PALETTE[light][forbidden(hole) ? 'act' : (close ?? 'ink')]);
}

/** One square an instance, with what its mark is. */
function marksOf(all: readonly SceneHole[], station: string | null, light: Light): InstancedBufferGeometry {
  const holes = [...all].sort((a, b) => weight(a) - weight(b));
  const places = holes.flatMap((h) => [...h.at]);
  const kinds = holes.flatMap((h) => [h.radius, HOLE_NUMBER[h.doubt ? 'in doubt' : h.state], closeVerdict(h) ? 1 : 0]);
  const colours = holes.flatMap((h) => {
    const { r, g, b } = toneOf(h, light);
    const out = station === null || h.station === station || forbidden(h);
    return [r, g, b, out ? 1 : ASIDE];
  });
  const square = new PlaneGeometry(2, 2);
  const made = new InstancedBufferGeometry();
  made.index = square.index;
  made.setAttribute('position', square.getAttribute('position'));
  made.setAttribute('aAt', new InstancedBufferAttribute(Float32Array.from(places), 3));
  made.setAttribute('aKind', new InstancedBufferAttribute(Float32Array.from(kinds), 3));
  made.setAttribute('aTone', new InstancedBufferAttribute(Float32Array.from(colours), 4));
  made.instanceCount = holes.length;
  return made;
}

interface Props {
  readonly holes: readonly SceneHole[];
  readonly station: string | null;
  readonly light: Light;
  /** Half the canvas' height, CSS px. */
  readonly pixels: number;
  readonly clip: Plane[];
}

/**
 * Every hole as one mark: open circle, circle with a bar, with two where it is in doubt, crossed circle, filled when
 * done; a heavy ring where there is little to spare.
 */
export function HoleMarks({ holes, station, light, pixels, clip }: Props) {
  const geometry = useMemo(() => marksOf(holes, station, light), [holes, station, light]);
  const material = useMemo(
    () => holeMaterial({ paper: PALETTE[light].paper, pixels, least: LEAST_MARK }, clip),
    [light, pixels, clip],
  );
  useEffect(() => () => geometry.dispose(), [geometry]);
  useEffect(() => () => material.dispose(), [material]);
  return <mesh geometry={geometry} material={material} frustumCulled={false} renderOrder={8} />;
}
