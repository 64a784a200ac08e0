import { Canvas } from '@react-three/fiber';
import {
  type PointerEvent as ReactPointerEvent,
  useCallback,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import { type OrthographicCamera, Plane, Vector3, type WebGLRenderer } from 'three';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Question } from '../../checks/questions.ts';
import type { Frame } from '../../geometry/frame.ts';
import { add, scale, type Vec3 } from '../../geometry/vector.ts';
import type { Model } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { apartBy } from '../../scene/apart.ts';
import { bayThrough, flangePlane, flangesTurn } from '../../scene/cutPlace.ts';
import { type CutSize, cutSizes } from '../../scene/cutSizes.ts';
import { standOf } from '../../scene/drawnPlaces.ts';
import { benchInWords } from '../../scene/inWords.ts';
import { PALETTE } from '../../scene/palette.ts';
import { sceneOf } from '../../scene/scene.ts';
import type { Scene } from '../../scene/shown.ts';
import { stir } from '../state/atRest.ts';
import { InWords } from '../widgets/InWords.tsx';
import { useCut } from '../workers/useCut.ts';
import { CutGrip } from './CutGrip.tsx';
import { CutSizes, type LaySizes } from './CutSizes.tsx';
import { cornersOf, type ViewName } from './camera.ts';
import { Eyes, type EyesHandle } from './Eyes.tsx';
import { Labels, type LayLabels } from './Labels.tsx';
import type { Moves } from './metal.ts';
import { Picture } from './Picture.tsx';
import { boxOf, type Hit, hitAt } from './pick.ts';
import { RibGrip, type RibHold } from './RibGrip.tsx';
import type { LayGrip } from './spanGrip.tsx';
import { type ShownPart, type ShownSolids, type SolidsStatus, useSolids } from './useSolids.ts';

export interface BenchProps {
  readonly model: Model;
  readonly findings: readonly Finding[];
  readonly question: Question;
  readonly magnify: number;
  readonly view: ViewName;
  /** The view is fitted again when this changes. */
  readonly viewTick: number;
  readonly station: string | null;
  /** Holes are shown as at this stage, looking ahead; null for the present one. */
  readonly ahead?: string | null;
  readonly finding: string | null;
  readonly skin: boolean;
  /** Where along the span the skeleton is cut open; null for whole. */
  readonly cut: number | null;
  /** How far the parts are pulled apart, 0 to 1. */
  readonly apart: number;
  readonly dark: boolean;
  /** Parts outlined because what is tried touches them, by id. */
  readonly outlined?: ReadonlySet<string> | undefined;
  /** The other side of what is tried: outlined parts that are otherwise there are drawn as they are there, in dashes. */
  readonly beside?: Model | undefined;
  onPick(p: { station: string | null; part?: string; finding?: string }): void;
  /** Places along the span at the left and right edge of the canvas, in the views that have the span across; else null. */
  onSpan?(m: { y0: number; y1: number } | null): void;
  onStatus?(s: SolidsStatus): void;
  /** What the chosen rib may be slid to along its spars, where it may. */
  readonly ribHold?: RibHold | undefined;
  /** The plane of the cut was dragged to a place along the span. */
  onCut?(y: number): void;
}

const EMPTY: readonly ShownPart[] = [];
const UNCUT: Plane[] = [];
const NOT_MOVED: Moves = new Map();
const NO_SIZES: readonly CutSize[] = [];
/** Faces of a cut this near the plane are still shown on it, mm: they follow when the worker has cut again. */
const FOLLOWS = 2.5;
/** How far the frame of the cut stands clear of the skeleton, mm. */
const CLEAR = 24;
const NOWHERE: ReadonlyMap<string, Frame> = new Map();
const inTest = (): boolean => typeof location !== 'undefined' && new URLSearchParams(location.search).has('test');

function webgl(): boolean {
  try {
    return document.createElement('canvas').getContext('webgl2') !== null;
  } catch {
    return false;
  }
}

const LOST = 'The browser took its 3D drawing back; the plan and the section do the same job, and nothing is lost.';
const MISSING = 'This browser does not draw in 3D here; plan and section do the same job.';

/** The bench: the skeleton in 3D with what the present question asks of it. */
export function Bench(props: BenchProps) {
  const {
    model,
    findings,
    question,
    magnify,
    view,
    viewTick,
    station,
    ahead = null,
    finding,
    skin,
    cut,
    apart,
    dark,
    outlined,
    beside,
    onPick,
    onSpan,
    onStatus,
    onCut,
  } = props;
  const light = dark ? 'dark' : 'light';
  const [able] = useState(webgl);
  const tell = useRef(onStatus);
  tell.current = onStatus;
  const status = useCallback((s: SolidsStatus) => tell.current?.(s), []);
  useEffect(() => {
    if (!able) status({ building: false, done: 0, total: 0, problem: MISSING });
  }, [able, status]);

  const solids = useSolids({ model, magnify, skin }, status);
  const parts = solids?.parts ?? EMPTY;
  // Gaps and labels stand on the solids that are on the screen, which may be those of a moment ago.
  const [drawnModel, drawnMagnify] = [solids?.model ?? model, solids?.magnify ?? magnify];
  const ghosts = useGhosts(solids, outlined, beside);
  const frames = solids?.frames ?? NOWHERE;
  const skeleton = skeletonOf(drawnModel);
  const shownFindings = drawnModel === model ? findings : checkAll(drawnModel);
  const whole = useMemo(
    () =>
      sceneOf(skeleton, shownFindings, {
        magnify: drawnMagnify,
        question,
        station,
        frames,
        apart: apart > 0,
        stage: ahead,
        ...(finding === null ? {} : { finding }),
      }),
    [skeleton, shownFindings, drawnMagnify, question, station, ahead, finding, frames, apart > 0],
  );
  const inWords = useMemo(() => benchInWords(skeleton, whole, question === 'drill'), [skeleton, whole, question]);
  const moves = useMemo(() => apartBy(skeleton, parts), [skeleton, parts]);
  // Looking along the span at one station, what is said of the others would lie over it.
  const scene = useMemo(
    () => (view === 'along' && station !== null ? onlyAt(whole, station) : whole),
    [whole, view, station],
  );
  const labels = useMemo(
    () =>
      apart === 0
        ? scene.labels
        : scene.labels.map((l) => ({
            ...l,
            anchor: add(l.anchor, scale(moves.get(l.part ?? '') ?? [0, 0, 0], apart)),
          })),
    [scene.labels, moves, apart],
  );

  // Cut open where asked; looking along the span, through the chosen station. Parts that stand apart are not cut.
  const bay = skeleton.bays.find((b) => b.station.id === station);
  const plane = apart > 0 ? null : (cut ?? (view === 'along' && bay ? flangePlane(skeleton, bay) : null));
  const answer = useCut(
    plane === null || !able || parts.length === 0 ? null : { model: drawnModel, magnify: drawnMagnify, y: plane, skin },
  );
  const faces =
    plane !== null &&
    answer?.model === drawnModel &&
    answer.cut.magnify === drawnMagnify &&
    Math.abs(answer.cut.y - plane) < FOLLOWS
      ? answer.cut
      : null;
  const knife = useRef({ plane: new Plane(new Vector3(0, 1, 0), 0), y: null as number | null });
  const clip = useMemo(() => (plane === null ? UNCUT : [knife.current.plane]), [plane === null]);
  useLayoutEffect(() => {
    knife.current.y = plane;
    if (plane !== null) knife.current.plane.constant = -knife.current.plane.normal.y * plane;
  }, [plane]);
  const gone = useCallback((y: number): boolean => {
    const {
      plane: { normal },
      y: at,
    } = knife.current;
    return at !== null && (y - at) * normal.y < -1;
  }, []);
  const framed = useMemo(
    () => ({ low: add(scene.bounds.low, [-CLEAR, 0, -CLEAR]), high: add(scene.bounds.high, [CLEAR, 0, CLEAR]) }),
    [scene.bounds],
  );
  const stand = standOf(skeleton, drawnMagnify, solids?.frames);
  const sizes = useMemo(
    () => (plane === null || parts.length === 0 ? NO_SIZES : cutSizes(stand, shownFindings, plane)),
    [plane, parts, stand, shownFindings],
  );

  const handle = useRef<EyesHandle>(null);
  const lay = useRef<LayLabels>(null);
  const laySizes = useRef<LaySizes>(null);
  const layGrip = useRef<LayGrip>(null);
  const layRib = useRef<LayGrip>(null);
  const wake = useRef<() => void>(() => undefined);
  const eye = useRef<{ camera: OrthographicCamera; size: { width: number; height: number } } | null>(null);
  const near = useRef<string | null>(null);
  const drawn = useRef(0);
  const gpu = useRef<WebGLRenderer | null>(null);
  const root = useRef<HTMLDivElement>(null);
  const [hovered, setHovered] = useState<string | null>(null);
  const [hint, setHint] = useState<{ x: number; y: number; text: string } | null>(null);
  const points = useMemo(() => pointsOf(parts, scene, apart > 0 ? moves : NOT_MOVED), [parts, scene, apart > 0, moves]);
  const section = useMemo(
    () => sectionOf(skeleton, scene, points, station, view === 'along' && cut !== null ? cut : null),
    [skeleton, scene, points, station, view, cut],
  );

  const span = useRef(onSpan);
  span.current = onSpan;
  const told = useRef('');
  const across = view === 'plan' || view === 'front';
  const onFrame = useCallback(
    (camera: OrthographicCamera, size: { width: number; height: number }) => {
      eye.current = { camera, size };
      stir();
      // What is nearer the viewer than the plane is what is cut away; seen edge on, it stays as it was.
      const { plane: blade, y } = knife.current;
      const side = camera.matrixWorld.elements[9]!;
      if (y !== null && Math.abs(side) > 0.05) {
        blade.normal.y = side < 0 ? 1 : -1;
        blade.constant = -blade.normal.y * y;
      }
      lay.current?.(camera, size, {
        taken: [
          ...(layGrip.current?.(camera, size) ?? []),
          ...(layRib.current?.(camera, size) ?? []),
          ...(laySizes.current?.(camera, size) ?? []),
        ],
        gone,
      });
      if (inTest() && root.current) {
        root.current.dataset.drawn = String(++drawn.current);
        const { calls, triangles, lines } = gpu.current?.info.render ?? { calls: 0, triangles: 0, lines: 0 };
        root.current.dataset.drawing = `${calls} draws, ${triangles} triangles, ${lines} lines`;
      }
      const level = Math.abs(camera.matrixWorld.elements[1]! - 1) < 1e-3;
      const half = size.width / 2 / camera.zoom;
      const m = across && level ? { y0: camera.position.y - half, y1: camera.position.y + half } : null;
      const now = m ? `${m.y0.toFixed(2)} ${m.y1.toFixed(2)}` : '';
      if (now === told.current) return;
      told.current = now;
      span.current?.(m);
    },
    [across, gone],
  );
  useEffect(() => {
    if (!across && told.current !== '') {
      told.current = '';
      span.current?.(null);
    }
  }, [across]);
  useEffect(() => () => span.current?.(null), []);

  const hit = (e: ReactPointerEvent): Hit | undefined => {
    const bounds = root.current?.getBoundingClientRect();
    if (!eye.current || !bounds) return undefined;
    return hitAt(eye.current.camera, eye.current.size, e.clientX - bounds.left, e.clientY - bounds.top, {
      parts,
      scene,
      holes: question === 'drill' && apart === 0,
      gone,
      moved: (id) => (apart > 0 && moves.has(id) ? scale(moves.get(id)!, apart) : undefined),
    });
  };

  const moving = useRef(0);
  const onLeave = (): void => {
    cancelAnimationFrame(moving.current);
    setHovered(null);
    setHint(null);
  };

  const down = useRef<{ x: number; y: number } | null>(null);
  const tap = useRef<{ x: number; y: number; at: number } | null>(null);
  const onUp = (e: ReactPointerEvent): void => {
    const start = down.current;
    down.current = null;
    if (!start || e.button !== 0 || Math.hypot(e.clientX - start.x, e.clientY - start.y) > 5) return;
    const found = hit(e);
    const here = found && pickedBy(found, scene, skeleton);
    const before = tap.current;
    const twice =
      before !== null && e.timeStamp - before.at < 450 && Math.hypot(e.clientX - before.x, e.clientY - before.y) < 24;
    tap.current = twice ? null : { x: e.clientX, y: e.clientY, at: e.timeStamp };
    if (!twice) return onPick(here ?? { station: null });
    const to = here?.station ?? null;
    const back = near.current !== null && (to === null || to === near.current);
    near.current = back ? null : to;
    onLeave();
    handle.current?.flyTo(near.current === null ? null : stationPoints(skeleton, scene, near.current));
  };
  useEffect(() => {
    near.current = null;
  }, [view, viewTick]);

  const onMove = (e: ReactPointerEvent): void => {
    if (e.buttons !== 0 || e.pointerType === 'touch') return;
    cancelAnimationFrame(moving.current);
    const at = { x: e.clientX, y: e.clientY };
    moving.current = requestAnimationFrame(() => {
      const found = hit(e);
      const bounds = root.current?.getBoundingClientRect();
      setHovered(found?.part?.id ?? found?.gap?.part ?? null);
      const text = found ? words(found, scene) : '';
      setHint(text === '' || !bounds ? null : { x: at.x - bounds.left, y: at.y - bounds.top, text });
    });
  };

  const putAway = useRef(false);
  useEffect(() => {
    putAway.current = false;
    return () => {
      putAway.current = true;
    };
  }, []);
  const watch = useCallback(
    (gl: WebGLRenderer) => {
      gl.domElement.addEventListener('webglcontextlost', (e) => {
        // A bench that is put away gives its drawing back itself.
        if (putAway.current) return;
        e.preventDefault();
        status({ building: false, done: 0, total: 0, problem: LOST });
      });
    },
    [status],
  );
  const onChanged = useCallback(() => wake.current(), []);
  const onLabel = useCallback(
    (l: Scene['labels'][number]) =>
      onPick({
        station: l.station,
        ...(l.part === null ? {} : { part: l.part }),
        ...(l.findingId === null ? {} : { finding: l.findingId }),
      }),
    [onPick],
  );

  const tones = PALETTE[light];
  if (!able) return null;
  return (
    <div
      ref={root}
      data-bench=""
      data-caps={faces ? faces.parts.filter((p) => p.kind !== 'skin').length : undefined}
      data-shared={faces ? faces.shared.length : undefined}
      data-cut={plane ?? undefined}
      data-apart={apart > 0 ? apart : undefined}
      data-ghosts={ghosts.length > 0 ? ghosts.map((p) => p.id).join(' ') : undefined}
      data-outlined={
        outlined
          ? parts
              .filter((p) => outlined.has(p.id))
              .map((p) => p.id)
              .join(' ')
          : undefined
      }
      style={{
        position: 'absolute',
        inset: 0,
        overflow: 'hidden',
        background: tones.paper,
        touchAction: 'none',
        cursor: hovered !== null ? 'pointer' : 'default',
      }}
    >
      <div
        role="img"
        aria-label={`The skeleton in 3D, ${SEEN[view]}${plane === null ? '' : ', cut open'}${apart > 0 ? ', its parts pulled apart' : ''}, deviations times ${magnify}; said in words after it`}
        style={{ position: 'absolute', inset: 0 }}
        onPointerDown={(e) => {
          down.current = { x: e.clientX, y: e.clientY };
          setHint(null);
        }}
        onPointerUp={onUp}
        onPointerMove={onMove}
        onPointerLeave={onLeave}
      >
        <Canvas
          orthographic
          flat
          frameloop="demand"
          dpr={[1, 2]}
          gl={{ antialias: !inTest(), alpha: true, powerPreference: 'high-performance' }}
          camera={{ position: [4000, -2000, 3000], up: [0, 0, 1], near: 1, far: 20000, zoom: 0.4 }}
          onCreated={({ gl, invalidate }) => {
            gl.localClippingEnabled = true;
            watch(gl);
            gpu.current = gl;
            wake.current = invalidate;
          }}
        >
          <Picture
            parts={parts}
            scene={scene}
            station={station}
            outlined={outlined}
            ghosts={ghosts}
            hovered={hovered}
            question={question}
            light={light}
            moves={moves}
            apart={apart}
            along={view === 'along' ? section.way : null}
            clip={clip}
            cut={faces && plane !== null ? { cut: faces, y: plane } : null}
            frame={view === 'along' || plane === null ? null : { y: plane, bounds: framed }}
          />
          <Eyes
            view={view}
            viewTick={viewTick}
            drawn={parts.length > 0 ? `${drawnModel.name} ${drawnModel.stations.map((s) => s.id).join(' ')}` : ''}
            points={points}
            apart={apart > 0}
            section={section}
            handle={handle}
            onFrame={onFrame}
          />
        </Canvas>
      </div>
      <InWords lines={inWords} />
      {sizes.length > 0 && <CutSizes sizes={sizes} light={light} lay={laySizes} onChanged={onChanged} />}
      {parts.length > 0 && (
        <Labels
          labels={labels}
          outline={points}
          chosen={finding}
          light={light}
          lay={lay}
          onPick={onLabel}
          onChanged={onChanged}
        />
      )}
      {plane !== null && cut !== null && view !== 'along' && parts.length > 0 && (
        <CutGrip
          y={plane}
          bounds={framed}
          light={light}
          lay={layGrip}
          onMove={(y) => onCut?.(y)}
          onChanged={onChanged}
        />
      )}
      {props.ribHold && plane === null && apart === 0 && view !== 'along' && parts.length > 0 && (
        <RibGrip
          key={props.ribHold.station}
          hold={props.ribHold}
          bounds={scene.bounds}
          light={light}
          lay={layRib}
          onChanged={onChanged}
        />
      )}
      {hint && (
        <div
          aria-hidden="true"
          style={{
            position: 'absolute',
            left: 0,
            top: 0,
            transform: `translate(${Math.round(hint.x + 14)}px, ${Math.round(hint.y + 16)}px)`,
            pointerEvents: 'none',
            whiteSpace: 'nowrap',
            padding: '2px 7px',
            borderRadius: 2,
            font: '500 13px/18px system-ui, sans-serif',
            fontVariantNumeric: 'tabular-nums',
            color: tones.paper,
            background: tones.ink,
          }}
        >
          {hint.text}
        </div>
      )}
    </div>
  );
}

const SEEN: Readonly<Record<ViewName, string>> = {
  bench: 'from where you stand at the bench',
  plan: 'from above',
  front: 'from behind',
  along: 'along the span',
};

/** Outlined parts as they were last drawn for another panel, where they are not the same metal in the same place now. */
function useGhosts(
  solids: ShownSolids | null,
  outlined: ReadonlySet<string> | undefined,
  beside: Model | undefined,
): readonly ShownPart[] {
  const seen = useRef<readonly ShownSolids[]>([]);
  return useMemo(() => {
    if (solids && !seen.current.includes(solids))
      seen.current = [...seen.current.filter((s) => s.model !== solids.model), solids].slice(-3);
    const other = beside && solids && seen.current.find((s) => s.model === beside && s.magnify === solids.magnify);
    if (!other || !outlined) return EMPTY;
    const here = new Set(solids.parts.map((p) => p.key));
    return other.parts.filter((p) => outlined.has(p.id) && p.kind !== 'spar' && p.kind !== 'skin' && !here.has(p.key));
  }, [solids, outlined, beside]);
}

/** What a tap on the bench chooses. A spar belongs to no station: the nearest one is taken. */
function pickedBy(
  { part, face, gap, hole, at }: Hit,
  scene: Scene,
  skeleton: Skeleton,
): { station: string | null; part?: string; finding?: string } {
  if (hole) return { station: hole.station, ...(hole.findingId === null ? {} : { finding: hole.findingId }) };
  if (gap) return { station: gap.station, part: gap.part, finding: gap.findingId };
  if (!part) return { station: null };
  const worn = scene.faces.find(
    (f) =>
      f.part === part.id && f.face === face && (!f.within || (at[0] >= f.within.low[0] && at[0] <= f.within.high[0])),
  );
  const nearest = skeleton.bays.reduce(
    (a, b) => (Math.abs(b.station.y - at[1]) < Math.abs(a.station.y - at[1]) ? b : a),
    skeleton.bays[0]!,
  );
  return { station: part.station ?? nearest.station.id, part: part.id, ...(worn ? { finding: worn.findingId } : {}) };
}

const HOLE_WORDS = {
  now: 'drill now',
  'not yet': 'not yet',
  'not asked': 'not asked',
  'in doubt': 'in doubt',
  never: 'never at this size',
  done: 'done',
} as const;

function words({ part, gap, hole }: Hit, scene: Scene): string {
  if (hole) return `${hole.id.replace('/', ' ')}: ${hole.doubt ? 'in doubt' : HOLE_WORDS[hole.state]}. ${hole.why}`;
  if (gap)
    return `${scene.labels.find((l) => l.findingId === gap.findingId && !l.text.includes(' more '))?.text ?? `${gap.part} ${gap.text}`}${gap.state === undefined ? '' : `, ${gap.state}`}`;
  return part?.mark ?? '';
}

/** The outermost points of all that is drawn: the corners of every part's box, or of the scene's before there are parts. */
function pointsOf(parts: readonly ShownPart[], scene: Scene, moves: Moves): Vec3[] {
  const metal = parts.filter((p) => p.kind !== 'skin');
  const boxes =
    metal.length === 0
      ? [scene.bounds]
      : metal.map(({ id, mesh }) => {
          const [low, high] = boxOf(mesh.positions);
          const by = moves.get(id) ?? [0, 0, 0];
          return { low: add(low, by), high: add(high, by) };
        });
  return boxes.flatMap(cornersOf);
}

function onlyAt(scene: Scene, station: string): Scene {
  const here = (thing: { readonly station: string | null }): boolean => thing.station === station;
  return {
    ...scene,
    gaps: scene.gaps.filter(here),
    labels: scene.labels.filter(here),
    holes: scene.holes.filter(here),
  };
}

/** The points of a station's section and a little of the span either side, for a close look. */
function stationPoints(skeleton: Skeleton, scene: Scene, station: string): Vec3[] {
  const y = skeleton.bays.find((b) => b.station.id === station)?.station.y ?? 0;
  const { low, high } = scene.bounds;
  return cornersOf({ low: [low[0], y - 40, low[2]], high: [high[0], y + 40, high[2]] });
}

/**
 * Where the view along the span cuts, and which way it looks. A chosen station is cut through the middle of its flanges and
 * seen from the side they are turned to, so that caps, doublers and flanges show their layers before the rib's web; with none
 * chosen the look is from the first station over all of them. A cut asked for elsewhere is seen from the left.
 */
function sectionOf(
  skeleton: Skeleton,
  scene: Scene,
  points: readonly Vec3[],
  station: string | null,
  cut: number | null,
): { station: string | null; y: number; way: 1 | -1; points: Vec3[] } {
  const through = cut === null ? undefined : bayThrough(skeleton, cut);
  const bay = cut === null ? skeleton.bays.find((b) => b.station.id === station) : through;
  const flat = (list: readonly Vec3[]): Vec3[] => list.map((p): Vec3 => [p[0], 0, p[2]]);
  if (!bay)
    return { station: cut === null ? null : 'cut', y: cut ?? scene.bounds.low[1] - 60, way: 1, points: flat(points) };
  const near = flat(points.filter((p) => Math.abs(p[1] - bay.station.y) < 60));
  return {
    station: bay.station.id,
    y: cut ?? flangePlane(skeleton, bay),
    way: flangesTurn(skeleton, bay) === 1 ? -1 : 1,
    points: near.length > 0 ? near : cornersOf(scene.bounds),
  };
}
