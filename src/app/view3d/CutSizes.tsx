import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type OrthographicCamera, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import type { CutSize } from '../../scene/cutSizes.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { Box } from './layout.ts';

/** Lays the sizes of a cut out anew and tells which places on the canvas they take; nothing where they would not be read. */
export type LaySizes = (camera: OrthographicCamera, size: { width: number; height: number }) => readonly Box[];

/** Sizes are written from this many pixels of the nearest size on the screen. */
const LEAST = 64;
/** And where the plane is seen at no flatter than this, the sine of the angle. */
const FLATTEST = 0.45;
const HALF_TEXT = 9;
const NOTE = 30;

const spot = new Vector3();

/** The main sizes on a cut, as on a drawing: thin lines from the feature, a measuring line with arrows, the number on it. */
export function CutSizes({
  sizes,
  light,
  lay,
  onChanged,
}: {
  sizes: readonly CutSize[];
  light: Light;
  lay: RefObject<LaySizes | null>;
  onChanged(): void;
}) {
  const svg = useRef<SVGSVGElement>(null);
  const tones = PALETTE[light];
  useLayoutEffect(() => {
    const groups = [...(svg.current?.querySelectorAll<SVGGElement>('g[data-size]') ?? [])];
    const widths = groups.map((g) => g.querySelector('text')?.getComputedTextLength() ?? 60);
    lay.current = (camera, size) => {
      const on = (p: Vec3): [number, number] => {
        spot.set(...p).project(camera);
        return [(spot.x + 1) * 0.5 * size.width, (1 - spot.y) * 0.5 * size.height];
      };
      const facing = Math.abs(camera.matrixWorld.elements[9]!);
      const spans = sizes.filter((s) => s.kind === 'span');
      const longest = Math.max(0, ...spans.map(({ ends: [a, b] }) => far(on(a), on(b))));
      const read = facing > FLATTEST && longest > 3 * LEAST;
      const boxes: Box[] = [];
      sizes.forEach((s, i) => {
        const g = groups[i];
        if (!g) return;
        const wide = widths[i]! + 8;
        const placed = !read ? undefined : s.kind === 'span' ? spanAt(s, on, wide, boxes) : noteAt(s, on, wide, boxes);
        g.style.visibility = placed ? 'visible' : 'hidden';
        if (!placed) return;
        boxes.push(placed.box);
        g.querySelector('path')?.setAttribute('d', placed.d);
        const text = g.querySelector('text');
        text?.setAttribute('x', (placed.box.left + 4).toFixed(1));
        text?.setAttribute('y', (placed.box.top + HALF_TEXT + 4.5).toFixed(1));
      });
      return boxes;
    };
    onChanged();
    return () => {
      lay.current = null;
    };
  }, [sizes, lay, onChanged]);
  return (
    <svg
      ref={svg}
      width="100%"
      height="100%"
      data-sizes={sizes.length}
      style={{ position: 'absolute', inset: 0, pointerEvents: 'none' }}
      aria-hidden="true"
    >
      {sizes.map((s) => (
        <g key={s.id} data-size={s.id} style={{ visibility: 'hidden' }}>
          <path fill="none" stroke={s.kind === 'note' ? tones[s.verdict] : tones.ink} strokeWidth={1} />
          <text
            fill={s.kind === 'note' ? tones[s.verdict] : tones.ink}
            stroke={tones.paper}
            strokeWidth={4}
            paintOrder="stroke"
            strokeLinejoin="round"
            style={{
              font: `${s.kind === 'note' ? 600 : 500} 13.5px system-ui, sans-serif`,
              fontVariantNumeric: 'tabular-nums',
              fill: s.kind === 'note' ? tones[s.verdict] : tones.ink,
            }}
          >
            {s.text}
          </text>
        </g>
      ))}
    </svg>
  );
}

type On = (p: Vec3) => [number, number];
type Point = readonly [number, number];

const far = (a: Point, b: Point): number => Math.hypot(a[0] - b[0], a[1] - b[1]);
const line = (a: Point, b: Point): string =>
  `M${a[0].toFixed(1)} ${a[1].toFixed(1)}L${b[0].toFixed(1)} ${b[1].toFixed(1)}`;
const clear = (box: Box, boxes: readonly Box[]): boolean =>
  boxes.every(
    (b) =>
      box.left > b.left + b.width ||
      b.left > box.left + box.width ||
      box.top > b.top + b.height ||
      b.top > box.top + box.height,
  );

function spanAt(
  { feet, ends, at }: CutSize & { kind: 'span' },
  onScreen: On,
  wide: number,
  boxes: readonly Box[],
): { d: string; box: Box } | undefined {
  const [f, g, a, b] = [onScreen(feet[0]), onScreen(feet[1]), onScreen(ends[0]), onScreen(ends[1])];
  const long = far(a, b);
  if (long < LEAST) return undefined;
  const [dx, dy] = [(b[0] - a[0]) / long, (b[1] - a[1]) / long];
  const upright = Math.abs(dy) > Math.abs(dx);
  const place = (share: number): Box => {
    const [x, y] = [a[0] + dx * long * share, a[1] + dy * long * share];
    return { left: x - wide / 2, top: y - HALF_TEXT, width: wide, height: 2 * HALF_TEXT };
  };
  const box = [at, 0.5, 0.28, 0.72].map(place).find((p) => clear(p, boxes));
  if (!box || (!upright && wide > long)) return undefined;
  const arrow = (p: Point, way: number): string => {
    const [x, y] = [p[0] + dx * 7 * way, p[1] + dy * 7 * way];
    return `M${(x - dy * 2.6).toFixed(1)} ${(y + dx * 2.6).toFixed(1)}L${p[0].toFixed(1)} ${p[1].toFixed(1)}L${(x + dy * 2.6).toFixed(1)} ${(y - dx * 2.6).toFixed(1)}`;
  };
  const beyond = (foot: Point, end: Point): string => {
    const away = far(foot, end);
    if (away < 3) return '';
    const [ex, ey] = [(end[0] - foot[0]) / away, (end[1] - foot[1]) / away];
    return line([foot[0] + ex * 2, foot[1] + ey * 2], [end[0] + ex * 5, end[1] + ey * 5]);
  };
  // The line is broken where its number stands.
  const half = Math.min(box.width / 2 / Math.max(Math.abs(dx), 1e-6), box.height / 2 / Math.max(Math.abs(dy), 1e-6));
  const mid = (box.left + box.width / 2 - a[0]) * dx + (box.top + box.height / 2 - a[1]) * dy;
  const on = (s: number): Point => [a[0] + dx * s, a[1] + dy * s];
  return {
    d: `${beyond(f, a)}${beyond(g, b)}${line(a, on(mid - half))}${line(on(mid + half), b)}${arrow(a, 1)}${arrow(b, -1)}`,
    box,
  };
}

function noteAt(
  { foot, side }: CutSize & { kind: 'note' },
  on: On,
  wide: number,
  boxes: readonly Box[],
): { d: string; box: Box } | undefined {
  const f = on(foot);
  for (const slip of [0, 22, 44]) {
    const top = side === 1 ? f[1] - NOTE - slip - 2 * HALF_TEXT : f[1] + NOTE + slip;
    const box: Box = { left: f[0] - wide / 2, top, width: wide, height: 2 * HALF_TEXT };
    if (clear(box, boxes))
      return {
        d: `${line(f, [f[0], side === 1 ? top + 2 * HALF_TEXT : top])}M${f[0] - 2} ${f[1]}a2 2 0 1 0 4 0a2 2 0 1 0 -4 0`,
        box,
      };
  }
  return undefined;
}
