import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type OrthographicCamera, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import { type Light, MARK_OF, MARKS, PALETTE } from '../../scene/palette.ts';
import type { SceneLabel } from '../../scene/shown.ts';
import { LEAST_MARK } from './HoleMarks.tsx';
import { type Box, hullOf, laidOut } from './layout.ts';

/** Lays every label out anew for a camera; called on each frame that is drawn. */
export type LayLabels = (camera: OrthographicCamera, size: { width: number; height: number }, round: Round) => void;

/** What the labels have to keep off, and what they must not speak of. */
export interface Round {
  readonly taken: readonly Box[];
  /** Whether a place along the span is cut away. */
  readonly gone: (y: number) => boolean;
}

interface Props {
  readonly labels: readonly SceneLabel[];
  /** The skeleton's outermost points, to keep labels off it. */
  readonly outline: readonly Vec3[];
  readonly chosen: string | null;
  readonly light: Light;
  readonly lay: RefObject<LayLabels | null>;
  onPick(label: SceneLabel): void;
  /** The labels have changed and want laying out. */
  onChanged(): void;
}

const spot = new Vector3();

function onScreen(
  p: Vec3,
  camera: OrthographicCamera,
  { width, height }: { width: number; height: number },
): [number, number] {
  spot.set(...p).project(camera);
  return [(spot.x + 1) * 0.5 * width, (1 - spot.y) * 0.5 * height];
}

/** A place no label is laid out for, px. */
const AWAY = -1e5;

/** Turns a flange's arrow as the flange points on the screen; straight at or from the viewer it is a dot or a cross. */
function turnArrow(arrow: Element | null, points: Vec3 | undefined, camera: OrthographicCamera): void {
  if (!arrow || !points) return;
  const e = camera.matrixWorld.elements;
  const along = (k: number): number => e[k]! * points[0] + e[k + 1]! * points[1] + e[k + 2]! * points[2];
  const [right, up, out] = [along(0), along(4), along(8)];
  const flat = Math.hypot(right, up) > 0.25;
  const [line, dot, cross] = arrow.children;
  line?.setAttribute('display', flat ? 'inline' : 'none');
  line?.setAttribute('transform', `rotate(${((-Math.atan2(up, right) * 180) / Math.PI).toFixed(1)} 9 9)`);
  dot?.setAttribute('display', !flat && out > 0 ? 'inline' : 'none');
  cross?.setAttribute('display', !flat && out <= 0 ? 'inline' : 'none');
}

/** Labels beside what they speak of, each a button, with a thin leader. */
export function Labels({ labels, outline, chosen, light, lay, onPick, onChanged }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const tones = PALETTE[light];

  useLayoutEffect(() => {
    const buttons = [...(box.current?.querySelectorAll<HTMLButtonElement>('button') ?? [])];
    const sizes = new Map(buttons.map((b) => [b.dataset.id ?? '', { width: b.offsetWidth, height: b.offsetHeight }]));
    lay.current = (camera, size, { taken, gone }) => {
      const lines = [...(svg.current?.children ?? [])] as SVGGElement[];
      const wanted = labels.map((l) => {
        const [x, y] = onScreen(l.anchor, camera, size);
        return { id: l.id, x: gone(l.anchor[1]) ? AWAY : x, y, ...(sizes.get(l.id) ?? { width: 90, height: 26 }) };
      });
      const laid = new Map(
        laidOut(wanted, { ...size, taken, hull: hullOf(outline.map((p) => onScreen(p, camera, size))) }).map((p) => [
          p.id,
          p,
        ]),
      );
      wanted.forEach((w, i) => {
        const [button, line] = [buttons[i], lines[i]];
        const at = laid.get(w.id);
        if (!button || !line) return;
        // Hidden ones leave the tab order too.
        button.style.visibility = at ? 'visible' : 'hidden';
        line.style.visibility = at ? 'visible' : 'hidden';
        if (!at) return;
        button.style.transform = `translate(${Math.round(at.left)}px, ${Math.round(at.top)}px)`;
        turnArrow(button.querySelector('[data-arrow]'), labels[i]?.points, camera);
        const [leader, dot] = line.children;
        // A hole has its own mark there: the leader stops at its rim.
        const long = Math.hypot(w.x - at.fromX, w.y - at.fromY) || 1;
        const stop = dot ? 0 : Math.min((LEAST_MARK + 3) / long, 1);
        const [toX, toY] = [w.x + (at.fromX - w.x) * stop, w.y + (at.fromY - w.y) * stop];
        for (const [name, value] of [
          ['x1', at.fromX],
          ['y1', at.fromY],
          ['x2', toX],
          ['y2', toY],
        ] as const)
          leader?.setAttribute(name, value.toFixed(1));
        dot?.setAttribute('cx', w.x.toFixed(1));
        dot?.setAttribute('cy', w.y.toFixed(1));
      });
    };
    onChanged();
  }, [labels, outline, lay, onChanged]);

  return (
    <div ref={box} style={{ position: 'absolute', inset: 0, overflow: 'hidden', pointerEvents: 'none' }}>
      <svg ref={svg} width="100%" height="100%" style={{ position: 'absolute', inset: 0 }} aria-hidden="true">
        {labels.map((l) => (
          <g key={l.id} style={{ visibility: 'hidden' }}>
            <line stroke={tones.ink} strokeWidth={1} opacity={0.75} />
            {!l.id.startsWith('hole-') && (
              <circle r={3} fill={l.verdict ? tones[l.verdict] : tones.ink} stroke={tones.paper} strokeWidth={1.5} />
            )}
          </g>
        ))}
      </svg>
      {labels.map((l) => (
        <button
          key={l.id}
          type="button"
          data-id={l.id}
          aria-label={
            l.verdict
              ? `${l.text}, ${l.verdict}`
              : l.points
                ? `${l.text}, flange to the ${l.points[1] > 0 ? 'right' : 'left'}`
                : l.text
          }
          onClick={() => onPick(l)}
          style={{
            position: 'absolute',
            left: 0,
            top: 0,
            visibility: 'hidden',
            pointerEvents: 'auto',
            cursor: 'pointer',
            display: 'flex',
            alignItems: 'center',
            gap: 6,
            whiteSpace: 'nowrap',
            padding: l.verdict ? '3px 8px 3px 5px' : '2px 6px',
            margin: 0,
            minHeight: 24,
            borderRadius: 2,
            font: `${l.verdict ? 500 : 400} 14px/18px system-ui, sans-serif`,
            fontVariantNumeric: 'tabular-nums',
            color: tones.ink,
            background: tones.paper,
            border: `${l.findingId !== null && l.findingId === chosen ? 2 : 1}px solid ${l.findingId !== null && l.findingId === chosen ? tones.ink : tones.edge}`,
          }}
        >
          {l.verdict && <Symbol verdict={l.verdict} light={light} />}
          {l.text}
          {l.points && (
            <svg
              data-arrow=""
              width={18}
              height={18}
              viewBox="0 0 18 18"
              fill="none"
              stroke={tones.ink}
              strokeWidth={1.6}
              aria-hidden="true"
              style={{ flex: 'none', margin: '-2px -3px -2px -1px' }}
            >
              <path d="M2.5 9H14M10.5 5L14.5 9L10.5 13" />
              <path d="M9 3.5a5.5 5.5 0 1 0 0 11a5.5 5.5 0 1 0 0-11M9 8a1 1 0 1 0 0 2a1 1 0 1 0 0-2" />
              <path d="M9 3.5a5.5 5.5 0 1 0 0 11a5.5 5.5 0 1 0 0-11M5.2 5.2L12.8 12.8M12.8 5.2L5.2 12.8" />
            </svg>
          )}
        </button>
      ))}
    </div>
  );
}

function Symbol({ verdict, light }: { verdict: NonNullable<SceneLabel['verdict']>; light: Light }) {
  const { symbol } = MARKS[MARK_OF[verdict]];
  const tones = PALETTE[light];
  return (
    <svg width={14} height={14} viewBox="0 0 14 14" aria-hidden="true" style={{ flex: 'none' }}>
      <path d={symbol.path} fill={tones[verdict]} />
      {symbol.strokes !== '' && <path d={symbol.strokes} stroke={tones.paper} strokeWidth={symbol.width} fill="none" />}
    </svg>
  );
}
