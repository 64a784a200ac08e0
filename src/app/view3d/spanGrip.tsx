import { type OrthographicCamera, Vector3 } from 'three';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { Box } from './layout.ts';

/* What is taken hold of on the bench and drawn along the span: the plane of a cut, a rib. */

export interface Eye {
  readonly camera: OrthographicCamera;
  readonly size: { readonly width: number; readonly height: number };
}

/** Sets a grip where it is on the canvas, and tells the place its knob takes. */
export type LayGrip = (camera: OrthographicCamera, size: Eye['size']) => readonly Box[];

type Place = readonly [x: number, y: number, z: number];

const spot = new Vector3();

/** Where a place of the wing is on the canvas, pixels from its top left corner. */
export function onScreen(eye: Eye | null, place: Place): [number, number] {
  if (!eye) return [0, 0];
  spot.set(...place).project(eye.camera);
  return [(spot.x + 1) * 0.5 * eye.size.width, (1 - spot.y) * 0.5 * eye.size.height];
}

/** 100 mm along the span from a place, as it is seen: pixels to the right and down. */
export function spanSeen(eye: Eye | null, [x, y, z]: Place): [number, number] {
  const [a, b] = [onScreen(eye, [x, y, z]), onScreen(eye, [x, y + 100, z])];
  return [b[0] - a[0], b[1] - a[1]];
}

/** How far along the span a drag of so many pixels goes, mm. */
export function alongSpan(eye: Eye | null, from: Place, drag: readonly [right: number, down: number]): number {
  const [dx, dy] = spanSeen(eye, from).map((v) => v / 100) as [number, number];
  return (drag[0] * dx + drag[1] * dy) / Math.max(dx * dx + dy * dy, 1e-9);
}

/** The knob: a disc with an arrow each way. */
export function SpanKnob({
  size,
  light,
  held = false,
}: {
  readonly size: number;
  readonly light: Light;
  readonly held?: boolean;
}) {
  const tones = PALETTE[light];
  return (
    <svg width={size} height={size} viewBox="0 0 44 44" style={{ display: 'block' }}>
      <circle cx="22" cy="22" r="15" fill={held ? tones.ink : tones.paper} stroke={tones.ink} strokeWidth="2" />
      <path
        d="M18 16L12.5 22L18 28M26 16L31.5 22L26 28"
        fill="none"
        stroke={held ? tones.paper : tones.ink}
        strokeWidth="2.2"
      />
    </svg>
  );
}
