import { Canvas, type RootState } from '@react-three/fiber';
import { useEffect, useMemo, useRef, useState } from 'react';
import type { WebGLRenderer } from 'three';
import { scale } from '../../geometry/vector.ts';
import type { Model } from '../../model/schema.ts';
import { type Light, PALETTE } from '../../scene/palette.ts';
import type { SceneLabel } from '../../scene/shown.ts';
import type { ViewName } from './camera.ts';
import { canDraw, inTest } from './drawing.ts';
import { Eyes, type EyesHandle } from './Eyes.tsx';
import type { RibHold } from './grips/RibGrip.tsx';
import { framedBy, Over } from './Over.tsx';
import type { Eye, Spot } from './onScreen.ts';
import { type Hit, hitAt } from './pick.ts';
import { hitInWords, type Picked, pickedBy } from './picked.ts';
import { Picture } from './picture/Picture.tsx';
import { pointsNear } from './section.ts';
import { type SpanShown, useFrames, useLayers } from './useFrames.ts';
import { useHand } from './useHand.ts';
import { useLatest, useWhenChanged } from './useLatest.ts';
import { type Opened, useOpened } from './useOpened.ts';
import { type AskedToShow, type Shown, useGhosts, useShown } from './useShown.ts';
import { type ShownPart, type SolidsStatus, useSolids } from './useSolids.ts';

export interface BenchProps extends AskedToShow {
  /** The view is fitted again when this changes. */
  readonly viewTick: number;
  readonly skin: boolean;
  /** Where along the span the skeleton is cut open; null for whole. */
  readonly cut: number | null;
  readonly dark: boolean;
  /** Parts outlined because what is tried touches them, by id. */
  readonly outlined?: ReadonlySet<string> | undefined;
  /**
   * The other side of what is tried: outlined parts that are otherwise there are drawn as they are there, in dashes.
   */
  readonly beside?: Model | undefined;
  onPick(p: Picked): void;
  /**
   * Places along the span at the left and right edge of the canvas, in the views that have the span across; else
   * null.
   */
  onSpan?(m: SpanShown | null): void;
  onStatus?(s: SolidsStatus): void;
  /** What the chosen rib may be slid to along its spars, where it may. */
  readonly ribHold?: RibHold | undefined;
  /** The plane of the cut was dragged to a place along the span. */
  onCut?(y: number): void;
}

const LOST = 'The browser took its 3D drawing back; the plan and the section do the same job, and nothing is lost.';
const MISSING = 'This browser does not draw in 3D here; plan and section do the same job.';
const problem = (sentence: string): SolidsStatus => ({ building: false, done: 0, total: 0, problem: sentence });

/** The bench: the skeleton in 3D with what the present question asks of it. */
export function Bench(props: BenchProps) {
  const [able] = useState(canDraw);
  return able ? <OpenBench {...props} /> : <NoBench onStatus={props.onStatus} />;
}

/** Says that there is nothing to see, where the browser does not draw in 3D. */
function NoBench({ onStatus }: { onStatus: BenchProps['onStatus'] }) {
  const say = useLatest(onStatus);
  useEffect(() => say(problem(MISSING)), [say]);
  return null;
}

/** The drawing itself: asked to be drawn again, and said when the browser takes it back. */
function useDrawing(onLost: () => void) {
  const gpu = useRef<WebGLRenderer | null>(null);
  const wake = useRef<() => void>(() => undefined);
  const putAway = useRef(false);
  useEffect(() => {
    putAway.current = false;
    return () => {
      putAway.current = true;
    };
  }, []);
  return {
    gpu,
    onChanged: useLatest(() => wake.current()),
    onCreated: ({ gl, invalidate }: RootState): void => {
      gl.localClippingEnabled = true;
      gpu.current = gl;
      wake.current = invalidate;
      gl.domElement.addEventListener('webglcontextlost', (e) => {
        // A bench that is put away gives its drawing back itself.
        if (putAway.current) return;
        e.preventDefault();
        onLost();
      });
    },
  };
}

/** Two taps fly to the station they are on; two more there, or on nothing, fly back. */
function useFlights({ view, viewTick }: BenchProps, { skeleton, scene }: Shown) {
  const eyes = useRef<EyesHandle>(null);
  const near = useRef<string | null>(null);
  useWhenChanged(`${view} ${viewTick}`, () => {
    near.current = null;
  });
  const flyTo = (station: string | null): void => {
    const back = near.current !== null && (station === null || station === near.current);
    near.current = back ? null : station;
    eyes.current?.flyTo(near.current === null ? null : pointsNear(skeleton, scene, near.current));
  };
  return { eyes, flyTo };
}

/** What lies under a spot of the window. */
function useHits(props: BenchProps, { parts, scene, moves }: Shown, { knife }: Opened) {
  const { question, apart } = props;
  return (eye: Eye, spot: Spot): Hit | undefined =>
    hitAt(eye, spot, {
      parts,
      scene,
      holes: question === 'drill' && apart === 0,
      gone: knife.gone,
      moved: (id) => {
        const by = apart > 0 ? moves.get(id) : undefined;
        return by && scale(by, apart);
      },
    });
}

const SEEN: Readonly<Record<ViewName, string>> = {
  bench: 'from where you stand at the bench',
  plan: 'from above',
  front: 'from behind',
  along: 'along the span',
};

/** The picture in a sentence; what it shows is said after it. */
function pictureInWords({ view, apart, magnify }: BenchProps, { plane }: Opened): string {
  const how = `${plane === null ? '' : ', cut open'}${apart > 0 ? ', its parts pulled apart' : ''}`;
  return `The skeleton in 3D, ${SEEN[view]}${how}, deviations times ${magnify}; said in words after it`;
}

const idsOf = (parts: readonly ShownPart[]): string => parts.map((p) => p.id).join(' ');

/** What is drawn, for whoever looks at the page by a program. */
function drawnAs(
  { apart, outlined }: BenchProps,
  { parts }: Shown,
  { plane, faces }: Opened,
  ghosts: readonly ShownPart[],
) {
  return {
    'data-bench': '',
    'data-caps': faces?.parts.filter((p) => p.kind !== 'skin').length,
    'data-shared': faces?.shared.length,
    'data-cut': plane ?? undefined,
    'data-apart': apart > 0 ? apart : undefined,
    'data-ghosts': ghosts.length > 0 ? idsOf(ghosts) : undefined,
    'data-outlined': outlined && idsOf(parts.filter((p) => outlined.has(p.id))),
  };
}

/** All that the bench shows, and what is done on each frame and by the hand. */
function useBench(props: BenchProps) {
  const { model, magnify, skin, view, outlined, beside } = props;
  const status = useLatest(props.onStatus);
  const solids = useSolids({ model, magnify, skin }, status);
  const shown = useShown(props, solids);
  const opened = useOpened(shown, props);
  const ghosts = useGhosts(solids, outlined, beside);
  const root = useRef<HTMLDivElement>(null);
  const layers = useLayers();
  const drawing = useDrawing(() => status(problem(LOST)));
  const across = view === 'plan' || view === 'front';
  const { knife } = opened;
  const frames = useFrames({ root, gpu: drawing.gpu, knife, layers, across, onSpan: props.onSpan });
  const { eyes, flyTo } = useFlights(props, shown);
  const hits = useHits(props, shown, opened);
  const { scene, skeleton } = shown;
  const picked = (hit: Hit | undefined): Picked => (hit ? pickedBy(hit, scene, skeleton) : { station: null });
  const hand = useHand({
    hitAt: ([x, y]) => {
      const [eye, box] = [frames.eye.current, root.current?.getBoundingClientRect()];
      return eye && box ? hits(eye, [x - box.left, y - box.top]) : undefined;
    },
    inWords: (hit) => hitInWords(hit, scene),
    onTap: (hit) => props.onPick(picked(hit)),
    onTwice: (hit) => flyTo(picked(hit).station),
  });
  const framed = useMemo(() => framedBy(scene.bounds), [scene.bounds]);
  return { shown, opened, ghosts, root, layers, drawing, eyes, onFrame: frames.onFrame, hand, framed };
}

interface DrawingProps {
  readonly asked: BenchProps;
  readonly light: Light;
  readonly bench: ReturnType<typeof useBench>;
}

/** The picture in 3D and the camera it is seen by; drawn on demand. */
function Drawing({ asked, light, bench }: DrawingProps) {
  const { view, viewTick, station, question, apart, outlined } = asked;
  const { shown, opened, ghosts, hand, framed, eyes, onFrame, drawing } = bench;
  const { parts, scene, moves, points, model } = shown;
  const { plane, faces, section, knife } = opened;
  const panel = `${model.name} ${model.stations.map((s) => s.id).join(' ')}`;
  return (
    <Canvas
      orthographic
      flat
      frameloop="demand"
      dpr={[1, 2]}
      gl={{ antialias: !inTest(), alpha: true, powerPreference: 'high-performance' }}
      camera={{ position: [4000, -2000, 3000], up: [0, 0, 1], near: 1, far: 20000, zoom: 0.4 }}
      onCreated={drawing.onCreated}
    >
      <Picture
        parts={parts}
        scene={scene}
        station={station}
        outlined={outlined}
        ghosts={ghosts}
        hovered={hand.hovered}
        question={question}
        light={light}
        moves={moves}
        apart={apart}
        along={view === 'along' ? section.way : null}
        clip={knife.clip}
        cut={faces && plane !== null ? { cut: faces, y: plane } : null}
        frame={view === 'along' || plane === null ? null : { y: plane, bounds: framed }}
      />
      <Eyes
        view={view}
        viewTick={viewTick}
        drawn={parts.length > 0 ? panel : ''}
        points={points}
        apart={apart > 0}
        section={section}
        handle={eyes}
        onFrame={onFrame}
      />
    </Canvas>
  );
}

function OpenBench(props: BenchProps) {
  const bench = useBench(props);
  const { shown, opened, ghosts, root, layers, drawing, hand, framed } = bench;
  const light = props.dark ? 'dark' : 'light';
  const onLabel = ({ station, part, findingId }: SceneLabel): void =>
    props.onPick({
      station,
      ...(part === null ? {} : { part }),
      ...(findingId === null ? {} : { finding: findingId }),
    });
  return (
    <div
      ref={root}
      {...drawnAs(props, shown, opened, ghosts)}
      style={{
        position: 'absolute',
        inset: 0,
        overflow: 'hidden',
        background: PALETTE[light].paper,
        touchAction: 'none',
        cursor: hand.hovered === null ? 'default' : 'pointer',
      }}
    >
      <div
        role="img"
        aria-label={pictureInWords(props, opened)}
        style={{ position: 'absolute', inset: 0 }}
        {...hand.handlers}
      >
        <Drawing asked={props} light={light} bench={bench} />
      </div>
      <Over
        shown={shown}
        opened={opened}
        layers={layers}
        light={light}
        view={props.view}
        cut={props.cut}
        apart={props.apart}
        finding={props.finding}
        holes={props.question === 'drill' && props.apart === 0}
        ribHold={props.ribHold}
        framed={framed}
        hint={hand.hint}
        onLabel={onLabel}
        onCut={(y) => props.onCut?.(y)}
        onChanged={drawing.onChanged}
      />
    </div>
  );
}
