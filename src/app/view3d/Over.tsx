import { useMemo } from 'react';
import { add, type Vec3 } from '../../geometry/vector.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { SceneBox, SceneLabel } from '../../scene/shown.ts';
import { InWords } from '../widgets/InWords.tsx';
import type { ViewName } from './camera.ts';
import { CutGrip } from './grips/CutGrip.tsx';
import { RibGrip, type RibHold } from './grips/RibGrip.tsx';
import { CutSizes } from './labels/CutSizes.tsx';
import { Labels } from './labels/Labels.tsx';
import type { Layers } from './useFrames.ts';
import type { Hint } from './useHand.ts';
import type { Opened } from './useOpened.ts';
import type { Shown } from './useShown.ts';

interface Props {
  readonly shown: Shown;
  readonly opened: Opened;
  readonly layers: Layers;
  readonly light: Light;
  readonly view: ViewName;
  readonly cut: number | null;
  readonly apart: number;
  readonly finding: string | null;
  readonly holes: boolean;
  readonly ribHold: RibHold | undefined;
  readonly framed: SceneBox;
  readonly hint: Hint | null;
  onLabel(label: SceneLabel): void;
  onCut(y: number): void;
  onChanged(): void;
}

/** What is written over the picture, and what is taken hold of there. */
export function Over(props: Props) {
  const { shown, opened, layers, light, view, cut, apart, finding, holes, ribHold, framed, hint } = props;
  const { onLabel, onCut, onChanged } = props;
  const { parts, scene } = shown;
  const { plane, sizes } = opened;
  const marked = useMemo(
    () => new Set(holes ? scene.holes.flatMap((h) => h.findingId ?? []) : []),
    [holes, scene.holes],
  );
  const drawn = parts.length > 0;
  const across = view !== 'along' && drawn;
  const own = { light, onChanged };
  return (
    <>
      <InWords lines={shown.inWords} />
      {sizes.length > 0 && <CutSizes sizes={sizes} lay={layers.sizes} {...own} />}
      {drawn && (
        <Labels
          labels={shown.labels}
          outline={shown.points}
          chosen={finding}
          marked={marked}
          lay={layers.labels}
          onPick={onLabel}
          {...own}
        />
      )}
      {across && plane !== null && cut !== null && (
        <CutGrip y={plane} bounds={framed} lay={layers.cut} onMove={onCut} {...own} />
      )}
      {across && plane === null && apart === 0 && ribHold && (
        <RibGrip key={ribHold.station} hold={ribHold} bounds={scene.bounds} lay={layers.rib} {...own} />
      )}
      {hint && <HintWords hint={hint} light={light} />}
    </>
  );
}

/** What is under the pointer, beside it. */
function HintWords({ hint: { at, text }, light }: { hint: Hint; light: Light }) {
  const tones = PALETTE[light];
  return (
    <div
      aria-hidden="true"
      style={{
        position: 'absolute',
        left: 0,
        top: 0,
        transform: `translate(${Math.round(at[0] + 14)}px, ${Math.round(at[1] + 16)}px)`,
        pointerEvents: 'none',
        whiteSpace: 'nowrap',
        padding: '2px 7px',
        borderRadius: 2,
        font: '500 13px/18px system-ui, sans-serif',
        fontVariantNumeric: 'tabular-nums',
        color: tones.paper,
        background: tones.ink,
      }}
    >
      {text}
    </div>
  );
}

/** How far the frame of the cut stands clear of the skeleton, mm. */
const CLEAR = 24;

/** The box that the frame of a cut goes round, clear of the skeleton. */
export function framedBy({ low, high }: SceneBox): SceneBox {
  const out: Vec3 = [CLEAR, 0, CLEAR];
  return { low: add(low, [-CLEAR, 0, -CLEAR]), high: add(high, out) };
}
