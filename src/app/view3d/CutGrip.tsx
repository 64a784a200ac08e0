import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type OrthographicCamera, Vector3 } from 'three';
import type { SceneBox } from '../../scene/shown.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { Box } from './layout.ts';

/** Sets the grip where the plane is on the canvas, and tells the place its knob takes. */
export type LayGrip = (camera: OrthographicCamera, size: { width: number; height: number }) => readonly Box[];

const KNOB = 30;
const spot = new Vector3();

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
  const tones = PALETTE[light];
  const eye = useRef<{ camera: OrthographicCamera; size: { width: number; height: number } } | null>(null);
  const held = useRef<{ x: number; y: number; from: number } | null>(null);

  const onScreen = (px: number, py: number, pz: number): [number, number] => {
    const { current } = eye;
    if (!current) return [0, 0];
    spot.set(px, py, pz).project(current.camera);
    return [(spot.x + 1) * 0.5 * current.size.width, (1 - spot.y) * 0.5 * current.size.height];
  };
  const middle = (bounds.low[0] + bounds.high[0]) / 2;

  useLayoutEffect(() => {
    lay.current = (camera, size) => {
      eye.current = { camera, size };
      const el = strip.current;
      if (!el) return [];
      const corners = [bounds.low[0], bounds.high[0]].flatMap((x) => [bounds.low[2], bounds.high[2]].map((z) => onScreen(x, y, z)));
      const [left, right] = [Math.min(...corners.map((c) => c[0])), Math.max(...corners.map((c) => c[0]))];
      const [top, bottom] = [Math.min(...corners.map((c) => c[1])), Math.max(...corners.map((c) => c[1]))];
      const p = onScreen(middle, y, 0);
      const q = onScreen(middle, y + 100, 0);
      const along = Math.hypot(q[0] - p[0], q[1] - p[1]);
      const edgeOn = right - left < KNOB;
      el.style.visibility = along < 4 ? 'hidden' : 'visible';
      el.style.cursor = Math.abs(q[0] - p[0]) >= Math.abs(q[1] - p[1]) ? 'ew-resize' : 'ns-resize';
      const x = edgeOn ? (left + right) / 2 : corners.reduce((a, b) => (b[1] < a[1] ? b : a))[0];
      const knob = { left: Math.round(x - KNOB / 2), top: Math.round(Math.max(top - KNOB - 4, 2)), width: KNOB, height: KNOB };
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
      style={{ position: 'absolute', left: 0, top: 0, width: KNOB, height: KNOB, visibility: 'hidden', touchAction: 'none' }}
      onPointerDown={(e) => {
        e.stopPropagation();
        e.currentTarget.setPointerCapture(e.pointerId);
        held.current = { x: e.clientX, y: e.clientY, from: y };
      }}
      onPointerMove={(e) => {
        const { current } = held;
        if (!current) return;
        const a = onScreen(middle, current.from, 0);
        const b = onScreen(middle, current.from + 100, 0);
        const [dx, dy] = [(b[0] - a[0]) / 100, (b[1] - a[1]) / 100];
        onMove(current.from + ((e.clientX - current.x) * dx + (e.clientY - current.y) * dy) / Math.max(dx * dx + dy * dy, 1e-9));
      }}
      onPointerUp={() => {
        held.current = null;
      }}
      onPointerCancel={() => {
        held.current = null;
      }}
    >
      <svg width={KNOB} height={KNOB} viewBox="0 0 30 30" style={{ display: 'block' }}>
        <circle cx="15" cy="15" r="11" fill={tones.paper} stroke={tones.ink} strokeWidth="1.5" />
        <path d="M12 10L7.5 15L12 20M18 10L22.5 15L18 20" fill="none" stroke={tones.ink} strokeWidth="1.8" />
      </svg>
    </div>
  );
}
