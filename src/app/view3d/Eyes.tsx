import { OrbitControls } from '@react-three/drei';
import { useFrame, useThree } from '@react-three/fiber';
import { type ComponentRef, type RefObject, useImperativeHandle, useLayoutEffect, useRef } from 'react';
import { MOUSE, type OrthographicCamera, TOUCH, Vector3 } from 'three';
import type { Vec3 } from '../../geometry/vector.ts';
import {
  alongLook,
  benchLook,
  between,
  type CanvasSize,
  FRONT,
  fitted,
  PLAN,
  type Placing,
  place,
  placingNow,
  type ViewName,
} from './camera.ts';
import { lessMotion } from './lessMotion.ts';
import type { Eye } from './onScreen.ts';
import type { Section } from './section.ts';
import { useWhenChanged } from './useLatest.ts';

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
  readonly section: Section;
  readonly handle: RefObject<EyesHandle | null>;
  /** After the camera of a frame is set. */
  onFrame(eye: Eye): void;
}

/** How long a flight from one look to another takes, ms. */
const FLIGHT = 180;

/** The placing that a view asks for. */
function wanted({ view, points, section }: Props, size: CanvasSize): Placing {
  switch (view) {
    case 'along': {
      const fit = fitted(section.points, alongLook(section.way), size);
      return { ...fit, target: [fit.target[0], section.y, fit.target[2]] };
    }
    case 'plan':
      return fitted(points, PLAN, size);
    case 'front':
      return fitted(points, FRONT, size);
    case 'bench':
      return fitted(points, benchLook(points, size), size);
  }
}

/** Sets the camera and flies it: at once where the person asked for less motion. */
function useFlight(controls: RefObject<ComponentRef<typeof OrbitControls> | null>) {
  const camera = useThree((s) => s.camera) as OrthographicCamera;
  const invalidate = useThree((s) => s.invalidate);
  const target = useRef(new Vector3());
  const flight = useRef<{ from: Placing; to: Placing; start: number } | null>(null);
  const settle = (p: Placing): void => {
    place(camera, p, target.current);
    controls.current?.target.copy(target.current);
    controls.current?.update();
  };
  const now = (): Placing => placingNow(camera, controls.current?.target ?? target.current);
  const go = (to: Placing, atOnce = false): void => {
    if (atOnce || lessMotion()) {
      flight.current = null;
      settle(to);
    } else flight.current = { from: now(), to, start: performance.now() };
    invalidate();
  };
  const land = (): void => {
    flight.current = null;
  };
  useFrame(() => {
    const { current } = flight;
    if (!current) return;
    const share = (performance.now() - current.start) / FLIGHT;
    settle(between(current.from, current.to, share));
    if (share < 1) invalidate();
    else land();
  });
  return { camera, now, go, land };
}

/** The camera: fits the view that is asked for, flies between views, and follows the hand. */
export function Eyes(props: Props) {
  const { view, viewTick, drawn, apart, section, handle, onFrame } = props;
  const size = useThree((s) => s.size);
  const controls = useRef<ComponentRef<typeof OrbitControls>>(null);
  const { camera, now, go, land } = useFlight(controls);
  /** The builder has moved the view: it is not fitted again unless something else is asked for. */
  const touched = useRef(false);
  const show = (atOnce: boolean): void => go(wanted(props, size), atOnce);
  const showAnew = (atOnce: boolean): void => {
    touched.current = false;
    show(atOnce);
  };
  const showUntouched = (atOnce: boolean): void => {
    if (!touched.current) show(atOnce);
  };

  const first = useRef(true);
  useLayoutEffect(() => {
    if (first.current) show(true);
    first.current = false;
  });
  useWhenChanged(`${view} ${viewTick}`, () => showAnew(false));
  useWhenChanged(`${size.width} ${size.height}`, () => showUntouched(true));
  useWhenChanged(drawn, () => showAnew(true));
  useWhenChanged(apart, () => showUntouched(false));
  useWhenChanged(view === 'along' ? `${section.station} ${section.way}` : '', (cut, before) => {
    if (cut !== '' && before !== '') show(false);
  });

  useImperativeHandle(handle, () => ({
    flyTo: (near) => {
      touched.current = near !== null;
      if (near === null) show(false);
      else go(fitted(near, now(), size));
    },
  }));

  useFrame(() => {
    camera.updateMatrixWorld();
    onFrame({ camera, size });
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
        land();
      }}
    />
  );
}
