import { type PointerEvent, type RefObject, useEffect, useLayoutEffect, useRef } from 'react';
import type { Vec3 } from '../../../geometry/vector.ts';
import { type Light, PALETTE } from '../../../scene/palette.ts';
import type { Box } from '../labels/layout.ts';
import type { Eye, Spot } from '../onScreen.ts';
import { alongSpan } from './span.ts';

/** Sets a grip where it is on the canvas, and tells the places it takes. */
export type LayGrip = (eye: Eye) => readonly Box[];

/** Where a knob stands on the canvas, px; how far down it can be taken hold of, where that is more than the knob. */
export interface Standing {
  readonly left: number;
  readonly top: number;
  readonly reach?: number;
  readonly cursor: 'grab' | 'grabbing' | 'ew-resize' | 'ns-resize';
}

interface Props {
  /** Across the knob, px. */
  readonly size: number;
  readonly light: Light;
  readonly held: boolean;
  readonly title: string;
  /** What is taken hold of, for whoever looks for it on the page: the cut, or what stands at a station. */
  readonly holds: 'cut' | { readonly station: string };
  /** Where it is while nobody holds it; a drag is measured from there. */
  readonly from: Vec3;
  /** A slip of fewer pixels than this moves nothing. */
  readonly slip?: number;
  readonly lay: RefObject<LayGrip | null>;
  /** Where it stands for an eye; undefined where the span is seen end on, or nearly. */
  readonly standing: (eye: Eye) => Standing | undefined;
  readonly onDrag: (y: number) => void;
  /** Let go to be put where it is, or to be left where it was. */
  readonly onLetGo: (put: boolean) => void;
  readonly onChanged: () => void;
}

/** Where a hand took hold of a knob. */
interface Taken {
  readonly at: Spot;
  readonly from: Vec3;
  readonly slip: number;
}

/**
 * Follows the hand from where it takes hold until it lets go: how far along the span it drags, from the place given.
 */
function useDrag(eye: RefObject<Eye | null>, { from, slip = 0, onDrag, onLetGo }: Props) {
  const taken = useRef<Taken | null>(null);
  const letGo = (put: boolean): void => {
    if (taken.current) onLetGo(put);
    taken.current = null;
  };
  return {
    letGo,
    take: (e: PointerEvent): void => {
      e.preventDefault();
      e.stopPropagation();
      e.currentTarget.setPointerCapture(e.pointerId);
      taken.current = { at: [e.clientX, e.clientY], from, slip };
    },
    drag: (e: PointerEvent): void => {
      const { current } = taken;
      if (!current || !eye.current) return;
      const by: Spot = [e.clientX - current.at[0], e.clientY - current.at[1]];
      if (Math.hypot(...by) < current.slip) return;
      taken.current = { ...current, slip: 0 };
      onDrag(current.from[1] + alongSpan(eye.current, current.from, by));
    },
  };
}

/** Escape leaves what is held where it was. */
function useEscape(held: boolean, leave: () => void): void {
  useEffect(() => {
    if (!held) return;
    const onKey = (e: KeyboardEvent): void => {
      if (e.key !== 'Escape') return;
      e.preventDefault();
      e.stopPropagation();
      leave();
    };
    window.addEventListener('keydown', onKey, true);
    return () => window.removeEventListener('keydown', onKey, true);
  }, [held, leave]);
}

/**
 * What is taken hold of on the bench and drawn along the span, the plane of a cut or a rib: a disc with an arrow each
 * way.
 */
export function SpanKnob(props: Props) {
  const { size, light, held, title, holds, lay, standing, onChanged } = props;
  const knob = useRef<HTMLDivElement>(null);
  const eye = useRef<Eye | null>(null);
  const { take, drag, letGo } = useDrag(eye, props);
  useEscape(held, () => letGo(false));
  useLayoutEffect(() => {
    lay.current = (now) => {
      eye.current = now;
      const at = standing(now);
      const style = knob.current?.style;
      if (!style) return [];
      style.visibility = at ? 'visible' : 'hidden';
      if (!at) return [];
      style.cursor = at.cursor;
      style.transform = `translate(${at.left}px, ${at.top}px)`;
      style.height = `${at.reach ?? size}px`;
      return [{ left: at.left, top: at.top, width: size, height: size }];
    };
    onChanged();
    return () => {
      lay.current = null;
    };
  });
  return (
    <div
      ref={knob}
      aria-hidden="true"
      data-grip={holds === 'cut' ? '' : undefined}
      data-rib-grip={holds === 'cut' ? undefined : holds.station}
      title={title}
      style={{
        position: 'absolute',
        left: 0,
        top: 0,
        width: size,
        height: size,
        visibility: 'hidden',
        touchAction: 'none',
        userSelect: 'none',
      }}
      onPointerDown={take}
      onPointerMove={drag}
      onPointerUp={() => letGo(true)}
      onPointerCancel={() => letGo(false)}
    >
      <Disc size={size} light={light} held={held} />
    </div>
  );
}

function Disc({ size, light, held }: { size: number; light: Light; held: boolean }) {
  const { ink, paper } = PALETTE[light];
  const [face, arrow] = held ? [ink, paper] : [paper, ink];
  return (
    <svg width={size} height={size} viewBox="0 0 44 44" aria-hidden="true" style={{ display: 'block' }}>
      <circle cx="22" cy="22" r="15" fill={face} stroke={ink} strokeWidth="2" />
      <path d="M18 16L12.5 22L18 28M26 16L31.5 22L26 28" fill="none" stroke={arrow} strokeWidth="2.2" />
    </svg>
  );
}
