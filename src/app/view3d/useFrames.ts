import { type RefObject, useCallback, useEffect, useRef } from 'react';
import type { WebGLRenderer } from 'three';
import { stir } from '../state/atRest.ts';
import { inTest } from './drawing.ts';
import type { LayGrip } from './grips/SpanKnob.tsx';
import type { LaySizes } from './labels/CutSizes.tsx';
import type { LayLabels } from './labels/Labels.tsx';
import type { Eye } from './onScreen.ts';
import type { Knife } from './useKnife.ts';
import { useLatest } from './useLatest.ts';

/** The stretch of the span that the canvas shows from edge to edge, mm. */
export interface SpanShown {
  readonly y0: number;
  readonly y1: number;
}

/** What is written over the picture lays itself out on every frame. */
export function useLayers() {
  const labels = useRef<LayLabels>(null);
  const sizes = useRef<LaySizes>(null);
  const cut = useRef<LayGrip>(null);
  const rib = useRef<LayGrip>(null);
  return { labels, sizes, cut, rib };
}
export type Layers = ReturnType<typeof useLayers>;

/** The stretch of the span from edge to edge, where it lies level across the canvas. */
function spanOf({ camera, size }: Eye): SpanShown | null {
  const level = Math.abs((camera.matrixWorld.elements[1] ?? 0) - 1) < 1e-3;
  const half = size.width / 2 / camera.zoom;
  return level ? { y0: camera.position.y - half, y1: camera.position.y + half } : null;
}

/** Tells which stretch of the span is seen, when it is another than was told before; null where it is not across. */
function useSpan(across: boolean, onSpan: ((m: SpanShown | null) => void) | undefined): (eye: Eye) => void {
  const tell = useLatest(onSpan);
  const told = useRef('');
  const say = useCallback(
    (m: SpanShown | null): void => {
      const now = m ? `${m.y0.toFixed(2)} ${m.y1.toFixed(2)}` : '';
      if (now === told.current) return;
      told.current = now;
      tell(m);
    },
    [tell],
  );
  useEffect(() => {
    if (!across) say(null);
  }, [across, say]);
  useEffect(() => () => tell(null), [tell]);
  return (eye) => say(across ? spanOf(eye) : null);
}

/** Writes on the page what was drawn, for whoever tests it. */
function useCount(root: RefObject<HTMLElement | null>, gpu: RefObject<WebGLRenderer | null>): () => void {
  const drawn = useRef(0);
  return () => {
    if (!inTest() || !root.current) return;
    drawn.current++;
    const { calls, triangles, lines } = gpu.current?.info.render ?? { calls: 0, triangles: 0, lines: 0 };
    root.current.dataset.drawn = String(drawn.current);
    root.current.dataset.drawing = `${calls} draws, ${triangles} triangles, ${lines} lines`;
  };
}

interface Asked {
  readonly root: RefObject<HTMLElement | null>;
  readonly gpu: RefObject<WebGLRenderer | null>;
  readonly knife: Knife;
  readonly layers: Layers;
  /** The span lies across the canvas. */
  readonly across: boolean;
  readonly onSpan: ((m: SpanShown | null) => void) | undefined;
}

/** What is done on every frame that is drawn, once its camera is set; and how the bench was seen in the last one. */
export function useFrames({ root, gpu, knife, layers, across, onSpan }: Asked) {
  const eye = useRef<Eye | null>(null);
  const tellSpan = useSpan(across, onSpan);
  const count = useCount(root, gpu);
  const onFrame = useLatest((now: Eye) => {
    eye.current = now;
    stir();
    knife.turn(now.camera);
    const taken = [layers.cut, layers.rib, layers.sizes].flatMap((lay) => lay.current?.(now) ?? []);
    layers.labels.current?.(now, { taken, gone: knife.gone });
    count();
    tellSpan(now);
  });
  return { eye, onFrame };
}
