import { type RefObject, useRef, useState } from 'react';
import type { Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneBox } from '../../../scene/shown.ts';
import { placed } from '../labels/laid.ts';
import { type Eye, onScreen, type Spot } from '../onScreen.ts';
import { HeldWords, layWords } from './HeldWords.tsx';
import { type LayGrip, SpanKnob, type Standing } from './SpanKnob.tsx';
import { seenEndOn } from './span.ts';

/** Where a rib comes to, and what note of the drawing it comes to there; empty for none. */
interface Place {
  readonly y: number;
  readonly snapped: string;
}

/** What the chosen rib may be slid to, and what is said of it there. */
export interface RibHold {
  readonly station: string;
  readonly y: number;
  /** The place it comes to when let go near here: held between its neighbours, snapped. */
  readonly at: (y: number) => Place;
  /** Lines read beside it while it is held. */
  readonly says: (y: number) => readonly string[];
  readonly onPut: (y: number) => void;
}

const KNOB = 44;
/** How far beyond its rear end a rib is taken hold of, and how far before its nose the line ends, mm. */
const [BEHIND, BEFORE] = [24, 20];
/** A slip of a few pixels moves nothing. */
const SLIP = 6;

interface Props {
  readonly hold: RibHold;
  readonly bounds: SceneBox;
  readonly light: Light;
  readonly lay: RefObject<LayGrip | null>;
  onChanged(): void;
}

/** A knob's upper left corner, kept on the canvas. */
const onCanvas = ([x, y]: Spot, { size }: Eye): Spot => [
  Math.round(Math.min(Math.max(x - KNOB / 2, 2), size.width - KNOB - 2)),
  Math.round(Math.min(Math.max(y - KNOB / 2, 2), size.height - KNOB - 2)),
];

/** Where a rib is held now, told before it is on the screen: the hand may let go in the same moment. */
function useHeld(hold: RibHold) {
  const [to, show] = useState<Place | null>(null);
  const now = useRef(to);
  const set = (next: Place | null): void => {
    now.current = next;
    show(next);
  };
  const letGo = (put: boolean): void => {
    const { current } = now;
    set(null);
    if (put && current && Math.abs(current.y - hold.y) > 1e-6) hold.onPut(current.y);
  };
  return { to, letGo, drag: (y: number) => set(hold.at(y)) };
}

/**
 * What the chosen rib is taken hold of by, to slide it along its spars: a knob beyond its rear end. While it is held
 * a dashed line shows where it comes to, and what changes is read beside it; nothing is changed until it is let go,
 * and Esc lets it stay where it was. The place in the station table does the same from the keyboard.
 */
export function RibGrip({ hold, bounds, light, lay, onChanged }: Props) {
  const line = useRef<SVGLineElement>(null);
  const words = useRef<HTMLDivElement>(null);
  const { to, letGo, drag } = useHeld(hold);
  const held = to !== null;
  const y = to?.y ?? hold.y;
  const beyond = bounds.high[0] + BEHIND;
  const standing = (eye: Eye): Standing | undefined => {
    const at: Vec3 = [beyond, y, 0];
    const [rear, nose] = [onScreen(eye, at), onScreen(eye, [bounds.low[0] - BEFORE, y, 0])];
    const [left, top] = onCanvas(rear, eye);
    placed(line.current, { x1: nose[0], y1: nose[1], x2: rear[0], y2: rear[1] });
    layWords(words.current, { left, top, size: KNOB }, eye);
    if (seenEndOn(eye, at)) return undefined;
    return { left, top, cursor: held ? 'grabbing' : 'grab' };
  };
  return (
    <>
      {held && (
        <svg
          aria-hidden="true"
          style={{ position: 'absolute', inset: 0, width: '100%', height: '100%', pointerEvents: 'none' }}
        >
          <line ref={line} stroke={PALETTE[light].ink} strokeWidth="2" strokeDasharray="8 5" />
        </svg>
      )}
      <SpanKnob
        size={KNOB}
        light={light}
        held={held}
        title={`Slide what stands at ${hold.station} along the spars`}
        holds={{ station: hold.station }}
        from={[beyond, hold.y, 0]}
        slip={SLIP}
        lay={lay}
        standing={standing}
        onDrag={drag}
        onLetGo={letGo}
        onChanged={onChanged}
      />
      {to && <HeldWords box={words} light={light} lines={[...(to.snapped ? [to.snapped] : []), ...hold.says(y)]} />}
    </>
  );
}
