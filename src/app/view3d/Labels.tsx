import { type RefObject, useLayoutEffect, useRef } from 'react';
import { type OrthographicCamera, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import { type Light, MARK_OF, MARKS, PALETTE } from '../../scene/palette.ts';
import type { SceneLabel } from '../../scene/shown.ts';
import { LEAST_MARK } from './HoleMarks.tsx';
import { hullOf, laidOut } from './layout.ts';

/** Lays every label out anew for a camera; called on each frame that is drawn. */
export type LayLabels = (camera: OrthographicCamera, size: { width: number; height: number }) => void;

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

function onScreen(p: Vec3, camera: OrthographicCamera, { width, height }: { width: number; height: number }): [number, number] {
  spot.set(...p).project(camera);
  return [(spot.x + 1) * 0.5 * width, (1 - spot.y) * 0.5 * height];
}

/** Labels beside what they speak of, each a button, with a thin leader. */
export function Labels({ labels, outline, chosen, light, lay, onPick, onChanged }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const tones = PALETTE[light];

  useLayoutEffect(() => {
    const buttons = [...(box.current?.querySelectorAll<HTMLButtonElement>('button') ?? [])];
    const sizes = new Map(buttons.map((b) => [b.dataset.id ?? '', { width: b.offsetWidth, height: b.offsetHeight }]));
    lay.current = (camera, size) => {
      const lines = [...(svg.current?.children ?? [])] as SVGGElement[];
      const wanted = labels.map((l) => {
        const [x, y] = onScreen(l.anchor, camera, size);
        return { id: l.id, x, y, ...(sizes.get(l.id) ?? { width: 90, height: 26 }) };
      });
      const laid = new Map(laidOut(wanted, { ...size, hull: hullOf(outline.map((p) => onScreen(p, camera, size))) }).map((p) => [p.id, p]));
      wanted.forEach((w, i) => {
        const [button, line] = [buttons[i], lines[i]];
        const at = laid.get(w.id);
        if (!button || !line) return;
        // Hidden ones leave the tab order too.
        button.style.visibility = at ? 'visible' : 'hidden';
        line.style.visibility = at ? 'visible' : 'hidden';
        if (!at) return;
        button.style.transform = `translate(${Math.round(at.left)}px, ${Math.round(at.top)}px)`;
        const [leader, dot] = line.children;
        // A hole has its own mark there: the leader stops at its rim.
        const long = Math.hypot(w.x - at.fromX, w.y - at.fromY) || 1;
        const stop = dot ? 0 : Math.min((LEAST_MARK + 3) / long, 1);
        const [toX, toY] = [w.x + (at.fromX - w.x) * stop, w.y + (at.fromY - w.y) * stop];
        for (const [name, value] of [['x1', at.fromX], ['y1', at.fromY], ['x2', toX], ['y2', toY]] as const) leader?.setAttribute(name, value.toFixed(1));
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
            {!l.id.startsWith('hole-') && <circle r={3} fill={l.verdict ? tones[l.verdict] : tones.ink} stroke={tones.paper} strokeWidth={1.5} />}
          </g>
        ))}
      </svg>
      {labels.map((l) => (
        <button
          key={l.id}
          type="button"
          data-id={l.id}
          aria-label={l.verdict ? `${l.text}, ${l.verdict}` : l.text}
          onClick={() => onPick(l)}
          style={{
            position: 'absolute', left: 0, top: 0, visibility: 'hidden', pointerEvents: 'auto', cursor: 'pointer', display: 'flex', alignItems: 'center', gap: 6, whiteSpace: 'nowrap',
            padding: l.verdict ? '3px 8px 3px 5px' : '2px 6px', margin: 0, minHeight: 24, borderRadius: 2,
            font: `${l.verdict ? 500 : 400} 14px/18px system-ui, sans-serif`, fontVariantNumeric: 'tabular-nums',
            color: tones.ink, background: tones.paper,
            border: `${l.findingId !== null && l.findingId === chosen ? 2 : 1}px solid ${l.findingId !== null && l.findingId === chosen ? tones.ink : tones.edge}`,
          }}
        >
          {l.verdict && <Symbol verdict={l.verdict} light={light} />}
          {l.text}
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
