import { type RefObject, useLayoutEffect, useRef } from 'react';
import type { Light } from '../../scene/palette.ts';
import type { SceneBox } from '../../scene/shown.ts';
import { alongSpan, type Eye, type LayGrip, onScreen, SpanKnob, spanSeen } from './spanGrip.tsx';

const KNOB = 30;

interface Props {
  readonly y: number;
  readonly bounds: SceneBox;
  readonly light: Light;
  readonly lay: RefObject<LayGrip | null>;
  onMove(y: number): void;
  onChanged(): void;
}

/**
 * What the plane of the cut is taken hold of by: a knob at its upper edge, and where the span lies across the canvas the
 * whole line. The slider among the bench tools does the same from the keyboard.
 */
export function CutGrip({ y, bounds, light, lay, onMove, onChanged }: Props) {
  const strip = useRef<HTMLDivElement>(null);
  const eye = useRef<Eye | null>(null);
  const held = useRef<{ x: number; y: number; from: number } | null>(null);

  const middle = (bounds.low[0] + bounds.high[0]) / 2;

  useLayoutEffect(() => {
    lay.current = (camera, size) => {
      eye.current = { camera, size };
      const el = strip.current;
      if (!el) return [];
      const corners = [bounds.low[0], bounds.high[0]].flatMap((x) =>
        [bounds.low[2], bounds.high[2]].map((z) => onScreen(eye.current, [x, y, z])),
      );
      const [left, right] = [Math.min(...corners.map((c) => c[0])), Math.max(...corners.map((c) => c[0]))];
      const [top, bottom] = [Math.min(...corners.map((c) => c[1])), Math.max(...corners.map((c) => c[1]))];
      const [right100, down100] = spanSeen(eye.current, [middle, y, 0]);
      const along = Math.hypot(right100, down100);
      const edgeOn = right - left < KNOB;
      el.style.visibility = along < 4 ? 'hidden' : 'visible';
      el.style.cursor = Math.abs(right100) >= Math.abs(down100) ? 'ew-resize' : 'ns-resize';
      const x = edgeOn ? (left + right) / 2 : corners.reduce((a, b) => (b[1] < a[1] ? b : a))[0];
      const knob = {
        left: Math.round(x - KNOB / 2),
        top: Math.round(Math.max(top - KNOB - 4, 2)),
        width: KNOB,
        height: KNOB,
      };
      el.style.transform = `translate(${knob.left}px, ${knob.top}px)`;
      el.style.height = `${edgeOn ? Math.max(bottom - top, 0) + KNOB + 8 : KNOB}px`;
      return along < 4 ? [] : [knob];
    };
    onChanged();
    return () => {
      lay.current = null;
    };
  });

  return (
    <div
      ref={strip}
      aria-hidden="true"
      data-grip=""
      title="Drag the cut along the span"
      style={{
        position: 'absolute',
        left: 0,
        top: 0,
        width: KNOB,
        height: KNOB,
        visibility: 'hidden',
        touchAction: 'none',
      }}
      onPointerDown={(e) => {
        e.stopPropagation();
        e.currentTarget.setPointerCapture(e.pointerId);
        held.current = { x: e.clientX, y: e.clientY, from: y };
      }}
      onPointerMove={(e) => {
        const { current } = held;
        if (!current) return;
        onMove(
          current.from +
            alongSpan(eye.current, [middle, current.from, 0], [e.clientX - current.x, e.clientY - current.y]),
        );
      }}
      onPointerUp={() => {
        held.current = null;
      }}
      onPointerCancel={() => {
        held.current = null;
      }}
    >
      <SpanKnob size={KNOB} light={light} />
    </div>
  );
}
