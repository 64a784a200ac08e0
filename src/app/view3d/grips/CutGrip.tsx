import type { RefObject } from 'react';
import type { Vec3 } from '../../../geometry/vector.ts';
import type { Light } from '../../../scene/palette.ts';
import type { SceneBox } from '../../../scene/shown.ts';
import { type Eye, onScreen } from '../onScreen.ts';
import { type LayGrip, SpanKnob, type Standing } from './SpanKnob.tsx';
import { seenEndOn, spanSeen } from './span.ts';

const KNOB = 30;
/** Between the knob and the frame of the cut, px. */
const APART = 4;

interface Props {
  readonly y: number;
  readonly bounds: SceneBox;
  readonly light: Light;
  readonly lay: RefObject<LayGrip | null>;
  onMove(y: number): void;
  onChanged(): void;
}

/**
 * What the plane of the cut is taken hold of by: a knob at its upper edge, and where the span lies across the canvas
 * the whole line. The slider among the bench tools does the same from the keyboard.
 */
export function CutGrip({ y, bounds, light, lay, onMove, onChanged }: Props) {
  const from: Vec3 = [(bounds.low[0] + bounds.high[0]) / 2, y, 0];
  const standing = (eye: Eye): Standing | undefined => {
    if (seenEndOn(eye, from)) return undefined;
    const [right100, down100] = spanSeen(eye, from);
    const corners = [bounds.low[0], bounds.high[0]].flatMap((x) =>
      [bounds.low[2], bounds.high[2]].map((z) => onScreen(eye, [x, y, z])),
    );
    const [across, down] = [corners.map((c) => c[0]), corners.map((c) => c[1])];
    const [left, right, top] = [Math.min(...across), Math.max(...across), Math.min(...down)];
    const edgeOn = right - left < KNOB;
    const highest = corners.find((c) => c[1] === top)?.[0] ?? left;
    const x = edgeOn ? (left + right) / 2 : highest;
    return {
      left: Math.round(x - KNOB / 2),
      top: Math.round(Math.max(top - KNOB - APART, 2)),
      ...(edgeOn ? { reach: Math.max(Math.max(...down) - top, 0) + KNOB + 2 * APART } : {}),
      cursor: Math.abs(right100) >= Math.abs(down100) ? 'ew-resize' : 'ns-resize',
    };
  };
  return (
    <SpanKnob
      size={KNOB}
      light={light}
      held={false}
      title="Drag the cut along the span"
      holds="cut"
      from={from}
      lay={lay}
      standing={standing}
      onDrag={onMove}
      onLetGo={() => undefined}
      onChanged={onChanged}
    />
  );
}
