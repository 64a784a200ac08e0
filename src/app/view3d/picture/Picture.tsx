import { useThree } from '@react-three/fiber';
import { useEffect, useMemo } from 'react';
import type { Plane } from 'three';
import type { Cut } from '../../../scene/cut.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Scene, SceneBox } from '../../../scene/shown.ts';
import type { ShownPart } from '../useSolids.ts';
import { Caps } from './Caps.tsx';
import { CutFrame } from './CutFrame.tsx';
import { Gaps } from './Gaps.tsx';
import { Ground } from './Ground.tsx';
import { HoleMarks } from './HoleMarks.tsx';
import type { Share } from './hatch.ts';
import { Lights } from './Lights.tsx';
import { MarkedFaces } from './MarkedFaces.tsx';
import { Metal } from './Metal.tsx';
import type { Moves } from './mergedMetal.ts';
import { Outlines, Trails } from './Outlines.tsx';
import { Pulling } from './Pulling.tsx';
import { TrueLines } from './TrueLines.tsx';

export interface PictureProps {
  readonly parts: readonly ShownPart[];
  readonly scene: Scene;
  readonly station: string | null;
  readonly outlined?: ReadonlySet<string> | undefined;
  /** Parts as they are on the other side of what is tried. */
  readonly ghosts: readonly ShownPart[];
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
export function Picture(props: PictureProps) {
  const { parts, scene, station, question, light, moves, apart, along, clip, cut, frame } = props;
  const tones = PALETTE[light];
  const invalidate = useThree((s) => s.invalidate);
  const height = useThree((s) => s.size.height);
  const share = useMemo((): Share => ({ value: 0 }), []);
  useEffect(() => invalidate());
  const pulled = apart > 0;
  const metal = { parts, light, moves, share, clip };
  const near = useMemo(() => ({ station, behindCut: along !== null && clip.length > 0 }), [station, along, clip]);
  return (
    <>
      <Lights light={light} along={along} />
      <Ground bench={scene.bench} parts={parts} light={light} clip={clip} bare={pulled} />
      <Pulling share={share} wanted={apart} />
      <Metal {...metal} near={near} />
      <MarkedFaces {...metal} faces={scene.faces} />
      <Gaps gaps={scene.gaps} light={light} clip={clip} />
      {pulled && <Trails parts={parts} moves={moves} apart={apart} color={tones.edge} />}
      {cut && <Caps cut={cut.cut} y={cut.y} gaps={scene.gaps} light={light} />}
      {frame && <CutFrame {...frame} color={tones.ink} />}
      <Outlines {...props} color={tones.ink} />
      {question === 'true' && !pulled && <TrueLines scene={scene} light={light} clip={clip} />}
      {question === 'drill' && !pulled && (
        <HoleMarks holes={scene.holes} station={station} light={light} pixels={height / 2} clip={clip} />
      )}
    </>
  );
}
