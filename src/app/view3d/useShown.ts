import { useMemo, useRef } from 'react';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import type { Question } from '../../checks/questions.ts';
import { boxCorners, moved } from '../../geometry/boxes.ts';
import type { Frame } from '../../geometry/frame.ts';
import { add, scale, type Vec3 } from '../../geometry/vector.ts';
import type { Model } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { apartBy } from '../../scene/apart.ts';
import { type DrawnPlaces, drawnPlacesOf } from '../../scene/drawnPlaces.ts';
import { benchInWords } from '../../scene/inWords.ts';
import { sceneOf } from '../../scene/scene.ts';
import type { Scene, SceneLabel } from '../../scene/shown.ts';
import type { ViewName } from './camera.ts';
import type { Moves } from './picture/mergedMetal.ts';
import { boxOf } from './places.ts';
import type { ShownPart, ShownSolids } from './useSolids.ts';

/** What is asked to be shown. */
export interface AskedToShow {
  readonly model: Model;
  readonly findings: readonly Finding[];
  readonly question: Question;
  readonly magnify: number;
  readonly view: ViewName;
  readonly station: string | null;
  /** Holes are shown as at this stage, looking ahead; null for the present one. */
  readonly ahead?: string | null;
  readonly finding: string | null;
  /** How far the parts are pulled apart, 0 to 1. */
  readonly apart: number;
}

/** What is on the bench: it stands on the solids that are on the screen, which may be those of a moment ago. */
export interface Shown {
  readonly model: Model;
  readonly magnify: number;
  readonly parts: readonly ShownPart[];
  readonly findings: readonly Finding[];
  readonly skeleton: Skeleton;
  readonly drawnPlaces: DrawnPlaces;
  readonly scene: Scene;
  readonly inWords: ReturnType<typeof benchInWords>;
  /** How far each part goes when all is pulled apart. */
  readonly moves: Moves;
  readonly labels: readonly SceneLabel[];
  /** The outermost points of all that is drawn. */
  readonly points: readonly Vec3[];
}

const NO_PARTS: readonly ShownPart[] = [];
const NOT_MOVED: Moves = new Map();
const NO_FRAMES: ReadonlyMap<string, Frame> = new Map();
const STAYS: Vec3 = [0, 0, 0];

/** The corners of every part's box, or of the scene's before there are parts. */
function outermost(parts: readonly ShownPart[], scene: Scene, moves: Moves): Vec3[] {
  const metal = parts.filter((p) => p.kind !== 'skin');
  if (metal.length === 0) return boxCorners(scene.bounds);
  return metal.flatMap((p) => boxCorners(moved(boxOf(p.mesh), moves.get(p.id) ?? STAYS)));
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

/** Labels go with the parts they speak of. */
const pulled = (labels: readonly SceneLabel[], moves: Moves, apart: number): readonly SceneLabel[] =>
  apart === 0
    ? labels
    : labels.map((l) => ({ ...l, anchor: add(l.anchor, scale(moves.get(l.part ?? '') ?? STAYS, apart)) }));

/** All that the bench shows, from the solids as last built. */
export function useShown(asked: AskedToShow, solids: ShownSolids | null): Shown {
  const { question, view, station, ahead = null, finding, apart } = asked;
  const { model, magnify } = solids ?? asked;
  const parts = solids?.parts ?? NO_PARTS;
  const frames = solids?.frames ?? NO_FRAMES;
  const skeleton = skeletonOf(model);
  const findings = model === asked.model ? asked.findings : checkAll(model);
  const isApart = apart > 0;
  const whole = useMemo(() => {
    const chosen = finding === null ? {} : { finding };
    const options = { magnify, question, station, frames, apart: isApart, stage: ahead, ...chosen };
    return sceneOf(skeleton, findings, options);
  }, [skeleton, findings, magnify, question, station, ahead, finding, frames, isApart]);
  // Looking along the span at one station, what is said of the others would lie over it.
  const scene = useMemo(
    () => (view === 'along' && station !== null ? onlyAt(whole, station) : whole),
    [whole, view, station],
  );
  const moves = useMemo(() => apartBy(skeleton, parts), [skeleton, parts]);
  return {
    model,
    magnify,
    parts,
    findings,
    skeleton,
    drawnPlaces: drawnPlacesOf(skeleton, magnify, solids?.frames),
    scene,
    inWords: useMemo(() => benchInWords(skeleton, whole, question === 'drill'), [skeleton, whole, question]),
    moves,
    labels: useMemo(() => pulled(scene.labels, moves, apart), [scene.labels, moves, apart]),
    points: useMemo(() => outermost(parts, scene, isApart ? moves : NOT_MOVED), [parts, scene, isApart, moves]),
  };
}

/** Solids last drawn of other panels that are kept to be shown beside these. */
const MOST_SEEN = 3;

/**
 * Outlined parts as they were last drawn for another panel, where they are not the same metal in the same place now.
 */
export function useGhosts(
  solids: ShownSolids | null,
  outlined: ReadonlySet<string> | undefined,
  beside: Model | undefined,
): readonly ShownPart[] {
  const seen = useRef<readonly ShownSolids[]>([]);
  return useMemo(() => {
    if (solids && !seen.current.includes(solids))
      seen.current = [...seen.current.filter((s) => s.model !== solids.model), solids].slice(-MOST_SEEN);
    const other = beside && solids && seen.current.find((s) => s.model === beside && s.magnify === solids.magnify);
    if (!other || !outlined) return NO_PARTS;
    const here = new Set(solids.parts.map((p) => p.key));
    const changed = (p: ShownPart): boolean => p.kind !== 'spar' && p.kind !== 'skin' && !here.has(p.key);
    return other.parts.filter((p) => outlined.has(p.id) && changed(p));
  }, [solids, outlined, beside]);
}
