import { type RefObject, useLayoutEffect, useRef } from 'react';
import type { OrthographicCamera } from 'three';
import { hullOf } from '../../../geometry/hull.ts';
import type { Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { SceneLabel } from '../../../scene/shown.ts';
import { type Eye, onScreen } from '../onScreen.ts';
import { LEAST_MARK } from '../picture/HoleMarks.tsx';
import { LabelButton } from './LabelButton.tsx';
import { placed, seen } from './laid.ts';
import { type Box, type Laid, laidOut, type Wanted } from './layout.ts';

/** Lays every label out anew for a camera; called on each frame that is drawn. */
export type LayLabels = (eye: Eye, round: Round) => void;

/** What the labels have to keep off, and what they must not speak of. */
interface Round {
  readonly taken: readonly Box[];
  /** Whether a place along the span is cut away. */
  readonly gone: (y: number) => boolean;
}

interface Props {
  readonly labels: readonly SceneLabel[];
  /** The skeleton's outermost points, to keep labels off it. */
  readonly outline: readonly Vec3[];
  readonly chosen: string | null;
  /** Findings that have a mark of their own where their leader ends: a dot would lie over it. */
  readonly marked: ReadonlySet<string>;
  readonly light: Light;
  readonly lay: RefObject<LayLabels | null>;
  onPick(label: SceneLabel): void;
  /** The labels have changed and want laying out. */
  onChanged(): void;
}

/** A place no label is laid out for, px. */
const AWAY = -1e5;
/** Room for a label not yet measured, px. */
const USUAL = { width: 90, height: 26 };
/** A flange seen flatter than this, the sine of the angle, is drawn as a dot or a cross. */
const FLAT = 0.25;

/** Turns a flange's arrow as the flange points on the screen; straight at or from the viewer it is a dot or a cross. */
function turnArrow(arrow: Element | null, points: Vec3 | undefined, camera: OrthographicCamera): void {
  if (!arrow || !points) return;
  const [rx = 0, ry = 0, rz = 0, , ux = 0, uy = 0, uz = 0, , ox = 0, oy = 0, oz = 0] = camera.matrixWorld.elements;
  const [x, y, z] = points;
  const [right, up, out] = [rx * x + ry * y + rz * z, ux * x + uy * y + uz * z, ox * x + oy * y + oz * z];
  const flat = Math.hypot(right, up) > FLAT;
  const [line, dot, cross] = arrow.children;
  line?.setAttribute('display', flat ? 'inline' : 'none');
  line?.setAttribute('transform', `rotate(${((-Math.atan2(up, right) * 180) / Math.PI).toFixed(1)} 9 9)`);
  dot?.setAttribute('display', !flat && out > 0 ? 'inline' : 'none');
  cross?.setAttribute('display', !flat && out <= 0 ? 'inline' : 'none');
}

/** Draws the leader from a label to what it speaks of. A hole has its own mark there: the leader stops at its rim. */
function drawLeader({ children: [line, dot] }: SVGElement, to: Wanted, at: Laid): void {
  const long = Math.hypot(to.x - at.fromX, to.y - at.fromY) || 1;
  const short = dot ? 0 : Math.min((LEAST_MARK + 3) / long, 1);
  const [x2, y2] = [to.x + (at.fromX - to.x) * short, to.y + (at.fromY - to.y) * short];
  placed(line, { x1: at.fromX, y1: at.fromY, x2, y2 });
  placed(dot, { cx: to.x, cy: to.y });
}

/** One label on the page: what it says, its button and its leader. */
interface OnPage {
  readonly label: SceneLabel;
  readonly button: HTMLElement;
  readonly leader: SVGElement;
  readonly size: { readonly width: number; readonly height: number };
}

/** Puts a label where it goes; hides it, and takes it out of the tab order, where there is no room. */
function put({ label, button, leader }: OnPage, wanted: Wanted, at: Laid | undefined, { camera }: Eye): void {
  seen(button, at !== undefined);
  seen(leader, at !== undefined);
  if (!at) return;
  button.style.transform = `translate(${Math.round(at.left)}px, ${Math.round(at.top)}px)`;
  turnArrow(button.querySelector('[data-arrow]'), label.points, camera);
  drawLeader(leader, wanted, at);
}

function layOut(page: readonly OnPage[], outline: readonly Vec3[], eye: Eye, { taken, gone }: Round): void {
  const wanted = page.map(({ label, size }): Wanted => {
    const [x, y] = onScreen(eye, label.anchor);
    return { id: label.id, x: gone(label.anchor[1]) ? AWAY : x, y, ...size };
  });
  const hull = hullOf(outline.map((p) => onScreen(eye, p)));
  const laid = new Map(laidOut(wanted, { ...eye.size, taken, hull }).map((l) => [l.id, l]));
  page.forEach((on, i) => {
    const own = wanted[i];
    if (own) put(on, own, laid.get(own.id), eye);
  });
}

/** The labels as they stand on the page, in their order. */
function onPage(labels: readonly SceneLabel[], box: HTMLElement | null, svg: SVGElement | null): readonly OnPage[] {
  const buttons = box?.querySelectorAll('button') ?? [];
  const leaders = svg?.children ?? [];
  return labels.flatMap((label, i): OnPage[] => {
    const [button, leader] = [buttons[i], leaders[i]];
    if (!button || !(leader instanceof SVGElement)) return [];
    const { offsetWidth: width, offsetHeight: height } = button;
    return [{ label, button, leader, size: width > 0 ? { width, height } : USUAL }];
  });
}

/** Labels beside what they speak of, each a button, with a thin leader. */
export function Labels({ labels, outline, chosen, marked, light, lay, onPick, onChanged }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const svg = useRef<SVGSVGElement>(null);
  const tones = PALETTE[light];

  useLayoutEffect(() => {
    const page = onPage(labels, box.current, svg.current);
    lay.current = (eye, round) => layOut(page, outline, eye, round);
    onChanged();
  }, [labels, outline, lay, onChanged]);

  return (
    <div ref={box} style={{ position: 'absolute', inset: 0, overflow: 'hidden', pointerEvents: 'none' }}>
      <svg ref={svg} width="100%" height="100%" style={{ position: 'absolute', inset: 0 }} aria-hidden="true">
        {labels.map((l) => (
          <g key={l.id} style={{ visibility: 'hidden' }}>
            <line stroke={tones.ink} strokeWidth={1} opacity={0.75} />
            {!(l.findingId !== null && marked.has(l.findingId)) && (
              <circle r={3} fill={l.verdict ? tones[l.verdict] : tones.ink} stroke={tones.paper} strokeWidth={1.5} />
            )}
          </g>
        ))}
      </svg>
      {labels.map((l) => (
        <LabelButton
          key={l.id}
          label={l}
          chosen={l.findingId !== null && l.findingId === chosen}
          light={light}
          onPick={onPick}
        />
      ))}
    </div>
  );
}
