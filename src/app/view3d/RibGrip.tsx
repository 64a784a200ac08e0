import { type RefObject, useEffect, useLayoutEffect, useRef, useState } from 'react';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { SceneBox } from '../../scene/shown.ts';
import { alongSpan, type Eye, type LayGrip, onScreen, SpanKnob, spanSeen } from './spanGrip.tsx';

/** What the chosen rib may be slid to, and what is said of it there. */
export interface RibHold {
  readonly station: string;
  readonly y: number;
  /** The place it comes to when let go near here: held between its neighbours, snapped. */
  readonly at: (y: number) => { readonly y: number; readonly snapped: string };
  /** Lines read beside it while it is held. */
  readonly says: (y: number) => readonly string[];
  readonly onPut: (y: number) => void;
}

const KNOB = 44;

interface Props {
  readonly hold: RibHold;
  readonly bounds: SceneBox;
  readonly light: Light;
  readonly lay: RefObject<LayGrip | null>;
  onChanged(): void;
}

/**
 * What the chosen rib is taken hold of by, to slide it along its spars: a knob beyond its rear end. While it is held a dashed
 * line shows where it comes to, and what changes is read beside it; nothing is changed until it is let go, and Esc lets it
 * stay where it was. The place in the station table does the same from the keyboard.
 */
export function RibGrip({ hold, bounds, light, lay, onChanged }: Props) {
  const knob = useRef<HTMLDivElement>(null);
  const ghost = useRef<SVGLineElement>(null);
  const words = useRef<HTMLDivElement>(null);
  const tones = PALETTE[light];
  const eye = useRef<Eye | null>(null);
  const start = useRef<{ x: number; y: number } | null>(null);
  const [to, show] = useState<{ y: number; snapped: string } | null>(null);
  /** Where it is held now, also before that is on the screen. */
  const now = useRef(to);
  const setTo = (next: typeof to) => {
    now.current = next;
    show(next);
  };
  const place = to?.y ?? hold.y;

  const beyond = bounds.high[0] + 24;

  useLayoutEffect(() => {
    lay.current = (camera, size) => {
      eye.current = { camera, size };
      const [el, line, text] = [knob.current, ghost.current, words.current];
      if (!el) return [];
      const p = onScreen(eye.current, [beyond, place, 0]);
      const seen = Math.hypot(...spanSeen(eye.current, [beyond, place, 0])) >= 4;
      el.style.visibility = seen ? 'visible' : 'hidden';
      const left = Math.min(Math.max(p[0] - KNOB / 2, 2), size.width - KNOB - 2);
      const top = Math.min(Math.max(p[1] - KNOB / 2, 2), size.height - KNOB - 2);
      el.style.transform = `translate(${Math.round(left)}px, ${Math.round(top)}px)`;
      if (line) {
        const a = onScreen(eye.current, [bounds.low[0] - 20, place, 0]);
        for (const [k, v] of [
          ['x1', a[0]],
          ['y1', a[1]],
          ['x2', p[0]],
          ['y2', p[1]],
        ] as const)
          line.setAttribute(k, v.toFixed(1));
      }
      if (text)
        text.style.transform = `translate(${Math.round(Math.min(left + KNOB + 6, size.width - 320))}px, ${Math.round(Math.max(4, Math.min(top - 60, size.height - text.offsetHeight - 4)))}px)`;
      return seen ? [{ left, top, width: KNOB, height: KNOB }] : [];
    };
    onChanged();
    return () => {
      lay.current = null;
    };
  });

  const letGo = (put: boolean) => {
    start.current = null;
    const { current } = now;
    setTo(null);
    if (put && current && Math.abs(current.y - hold.y) > 1e-6) hold.onPut(current.y);
  };
  const held = to !== null;
  useEffect(() => {
    if (!held) return undefined;
    const esc = (e: KeyboardEvent) => {
      if (e.key !== 'Escape') return;
      e.preventDefault();
      e.stopPropagation();
      letGo(false);
    };
    window.addEventListener('keydown', esc, true);
    return () => window.removeEventListener('keydown', esc, true);
  });

  return (
    <>
      {held && (
        <svg
          aria-hidden="true"
          style={{ position: 'absolute', inset: 0, width: '100%', height: '100%', pointerEvents: 'none' }}
        >
          <line ref={ghost} stroke={tones.ink} strokeWidth="2" strokeDasharray="8 5" />
        </svg>
      )}
      <div
        ref={knob}
        aria-hidden="true"
        data-rib-grip={hold.station}
        title={`Slide what stands at ${hold.station} along the spars`}
        style={{
          position: 'absolute',
          left: 0,
          top: 0,
          width: KNOB,
          height: KNOB,
          visibility: 'hidden',
          touchAction: 'none',
          userSelect: 'none',
          cursor: held ? 'grabbing' : 'grab',
        }}
        onPointerDown={(e) => {
          e.preventDefault();
          e.stopPropagation();
          e.currentTarget.setPointerCapture(e.pointerId);
          start.current = { x: e.clientX, y: e.clientY };
        }}
        onPointerMove={(e) => {
          const { current } = start;
          if (!current) return;
          const [mx, my] = [e.clientX - current.x, e.clientY - current.y];
          // A slip of a few pixels moves nothing.
          if (now.current === null && Math.hypot(mx, my) < 6) return;
          setTo(hold.at(hold.y + alongSpan(eye.current, [beyond, hold.y, 0], [mx, my])));
        }}
        onPointerUp={() => letGo(true)}
        onPointerCancel={() => letGo(false)}
      >
        <SpanKnob size={KNOB} light={light} held={held} />
      </div>
      {held && (
        <div
          ref={words}
          role="status"
          style={{
            position: 'absolute',
            left: 0,
            top: 0,
            width: 310,
            pointerEvents: 'none',
            userSelect: 'none',
            background: tones.paper,
            color: tones.ink,
            border: `1px solid ${tones.ink}`,
            padding: '6px 10px',
            font: '500 15px/1.4 system-ui, sans-serif',
            fontVariantNumeric: 'tabular-nums',
          }}
        >
          {to?.snapped && <div>{to.snapped}</div>}
          {hold.says(place).map((line) => (
            <div key={line}>{line}</div>
          ))}
          <div style={{ opacity: 0.75 }}>Let go to put it here; Esc leaves it.</div>
        </div>
      )}
    </>
  );
}
