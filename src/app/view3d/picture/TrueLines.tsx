import { useMemo } from 'react';
import type { Plane } from 'three';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Scene, SceneLine } from '../../../scene/shown.ts';
import { FatLines, segmentsOf } from './FatLines.tsx';

/** Chords tell their verdict in one ink too: fits whole, watch in long dashes, unsettled in short ones, act heavy. */
const CHORDS = [
  { verdict: 'fits', width: 2.5 },
  { verdict: 'watch', width: 2.5, dash: 24 },
  { verdict: 'unsettled', width: 2.5, dash: 7 },
  { verdict: 'act', width: 4.5 },
] as const;

const drawn = (lines: readonly SceneLine[]): Float32Array => segmentsOf(lines.map((l) => l.points));

/** The lines that truth is judged by: noses against the line they should lie on, chords against one another. */
export function TrueLines({ scene, light, clip }: { scene: Scene; light: Light; clip: Plane[] }) {
  const tones = PALETTE[light];
  const { wanted, noses, level, chords } = useMemo(() => {
    const of = (kind: SceneLine['kind']): SceneLine[] => scene.lines.filter((l) => l.kind === kind);
    return {
      wanted: drawn(of('nose-line')),
      noses: drawn(of('noses')),
      level: drawn(of('level')),
      chords: CHORDS.map((look) => ({
        ...look,
        segments: drawn(of('chord').filter((l) => (l.verdict ?? 'fits') === look.verdict)),
      })),
    };
  }, [scene.lines]);
  return (
    <>
      <FatLines segments={level} color={tones.edge} width={1} dash={10} through order={5} clip={clip} />
      <FatLines segments={wanted} color={tones.ink} width={1.5} dash={14} through order={6} clip={clip} />
      <FatLines segments={noses} color={tones.ink} width={2} through order={6} clip={clip} />
      {chords.map(({ verdict, ...line }) => (
        <FatLines key={verdict} {...line} color={tones[verdict]} through order={6} clip={clip} />
      ))}
    </>
  );
}
