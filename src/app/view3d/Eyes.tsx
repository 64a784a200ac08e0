import { OrbitControls } from '@react-three/drei';
import { useFrame, useThree } from '@react-three/fiber';
import {
  type ComponentRef,
  type RefObject,
  useCallback,
  useEffect,
  useImperativeHandle,
  useLayoutEffect,
  useRef,
} from 'react';
import { MOUSE, type OrthographicCamera, TOUCH, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import {
  alongLook,
  benchLook,
  between,
  FRONT,
  fitted,
  type Look,
  PLAN,
  type Placing,
  place,
  placingNow,
  type ViewName,
} from './camera.ts';

export interface EyesHandle {
  /** Flies to a close look at some points, or back to all of them. */
  flyTo(points: readonly Vec3[] | null): void;
}

interface Props {
  readonly view: ViewName;
  readonly viewTick: number;
  /** Name of the panel whose solids are there, empty before there are any. Another panel is fitted again. */
  readonly drawn: string;
  /** The points that the whole picture must show; the picture is not moved when only these change. */
  readonly points: readonly Vec3[];
  /** The parts stand apart: the picture is fitted to them and back, unless the builder has moved the view. */
  readonly apart: boolean;
  /** For the view along the span: where the plane of the cut is, which way to look, and the points of the section. */
  readonly section: {
    readonly station: string | null;
    readonly y: number;
    readonly way: 1 | -1;
    readonly points: readonly Vec3[];
  };
  readonly handle: RefObject<EyesHandle | null>;
  /** After the camera of a frame is set. */
  onFrame(camera: OrthographicCamera, size: { width: number; height: number }): void;
}

const FLIGHT = 180;
/** The person asked for less motion. */
export const quiet = (): boolean =>
  typeof matchMedia === 'function' && matchMedia('(prefers-reduced-motion: reduce)').matches;

/** The camera: fits the view that is asked for, flies between views, and follows the hand. */
export function Eyes({ view, viewTick, drawn, points, apart, section, handle, onFrame }: Props) {
  const camera = useThree((s) => s.camera) as OrthographicCamera;
  const size = useThree((s) => s.size);
  const invalidate = useThree((s) => s.invalidate);
  const controls = useRef<ComponentRef<typeof OrbitControls>>(null);
  const target = useRef(new Vector3());
  const flight = useRef<{ from: Placing; to: Placing; start: number } | null>(null);
  const touched = useRef(false);
  const first = useRef(true);

  const settle = useCallback(
    (p: Placing) => {
      place(camera, p, target.current);
      if (controls.current) {
        controls.current.target.copy(target.current);
        controls.current.update();
      }
    },
    [camera],
  );

  const go = useCallback(
    (to: Placing, at_once = false) => {
      if (at_once || quiet()) {
        flight.current = null;
        settle(to);
      } else
        flight.current = {
          from: placingNow(camera, controls.current?.target ?? target.current),
          to,
          start: performance.now(),
        };
      invalidate();
    },
    [camera, invalidate, settle],
  );

  const wanted = useCallback((): Placing => {
    if (view === 'along') return alongAt(section, size);
    const look: Look = view === 'plan' ? PLAN : view === 'front' ? FRONT : benchLook(points, size);
    return fitted(points, look, size);
  }, [view, points, section, size]);
  const latest = useRef(wanted);
  latest.current = wanted;

  useLayoutEffect(() => {
    touched.current = false;
    go(latest.current(), first.current);
    first.current = false;
  }, [view, viewTick, go]);

  // A canvas of another size is fitted again, unless the builder has moved the view.
  useLayoutEffect(() => {
    if (!touched.current) go(latest.current(), true);
  }, [size.width, size.height, go]);

  useLayoutEffect(() => {
    touched.current = false;
    go(latest.current(), true);
  }, [drawn, go]);

  const wasApart = useRef(apart);
  useEffect(() => {
    if (wasApart.current !== apart && !touched.current) go(latest.current());
    wasApart.current = apart;
  }, [apart, go]);

  const cut = view === 'along' ? `${section.station} ${section.way}` : '';
  const lastCut = useRef(cut);
  useEffect(() => {
    if (cut !== '' && lastCut.current !== '' && cut !== lastCut.current) go(latest.current());
    lastCut.current = cut;
  }, [cut, go]);

  useImperativeHandle(
    handle,
    () => ({
      flyTo: (near) => {
        touched.current = near !== null;
        if (near === null) return go(latest.current());
        const now = placingNow(camera, controls.current?.target ?? target.current);
        go(fitted(near, now, size));
      },
    }),
    [camera, go, size],
  );

  useFrame(() => {
    const { current } = flight;
    if (current) {
      const share = (performance.now() - current.start) / FLIGHT;
      settle(between(current.from, current.to, share));
      if (share < 1) invalidate();
      else flight.current = null;
    }
    camera.updateMatrixWorld();
    onFrame(camera, size);
  });

  const flat = view !== 'bench';
  return (
    <OrbitControls
      ref={controls}
      makeDefault
      enableDamping={false}
      enableRotate={!flat}
      zoomToCursor
      minZoom={0.02}
      maxZoom={120}
      maxPolarAngle={Math.PI * 0.75}
      mouseButtons={{ LEFT: flat ? MOUSE.PAN : MOUSE.ROTATE, MIDDLE: MOUSE.DOLLY, RIGHT: MOUSE.PAN }}
      touches={{ ONE: flat ? TOUCH.PAN : TOUCH.ROTATE, TWO: TOUCH.DOLLY_PAN }}
      onStart={() => {
        touched.current = true;
        flight.current = null;
      }}
    />
  );
}

function alongAt({ y, way, points }: Props['section'], size: { width: number; height: number }): Placing {
  const fit = fitted(points, alongLook(way), size);
  return { ...fit, target: [fit.target[0], y, fit.target[2]] };
}
