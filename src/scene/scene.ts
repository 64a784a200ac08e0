import type { Finding } from '../checks/finding.ts';
import { boxRound } from '../geometry/boxes.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Rib } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { type DrawnPlaces, drawnPlacesOf, fromPart, heightOf } from './drawnPlaces.ts';
import { facesOf } from './faces.ts';
import { gapsOf } from './gaps.ts';
import { holeMarksOf } from './holeMarks.ts';
import { labelsOf } from './labels.ts';
import { benchOf, linesOf } from './lines.ts';
import type { Scene, SceneBox, SceneOptions } from './shown.ts';

/*
 * All that the bench shows beside the metal itself, as plain data: the gaps between faces that should meet, the faces
 * that carry a verdict, the lines everything is judged against, holes, labels, and the bench.
 *
 * Wing frame, mm: x aft, y right along the span, z up. Everything stands where `solidsOf` draws the parts with the same
 * `magnify`: size drawn = drawing + magnify × (best − drawing). Texts keep the true numbers, in the panel's unit.
 */

/**
 * The scene of a skeleton and its findings for one question. Pure; nothing is remembered but where parts stand.
 * Example, panel A at ×20: M2's front end has an 'interference' above and one below, each with the text "0.32 mm".
 */
export function sceneOf(skeleton: Skeleton, findings: readonly Finding[], options: SceneOptions): Scene {
  const drawnPlaces = drawnPlacesOf(skeleton, options.magnify, options.frames);
  const gaps = gapsOf(drawnPlaces, findings, options);
  const holes = holeMarksOf(drawnPlaces, findings, options.stage);
  const lines = linesOf(drawnPlaces, findings);
  const bounds = boundsOf(drawnPlaces);
  return {
    gaps,
    faces: facesOf(drawnPlaces, findings, options),
    lines,
    holes,
    labels: labelsOf(drawnPlaces, findings, { gaps, holes, lines, options }),
    bench: benchOf(drawnPlaces, bounds),
    bounds,
  };
}

/** A box round ribs and spars as drawn; the noses and the tab ends of every rib, the spars' corners. */
function boundsOf(drawnPlaces: DrawnPlaces): SceneBox {
  const points = [
    ...sparCorners(drawnPlaces),
    ...drawnPlaces.skeleton.model.ribs.flatMap((rib) => ribCorners(drawnPlaces, rib)),
  ];
  return boxRound(points) ?? { low: [0, 0, 0], high: [1, 1, 1] };
}

function sparCorners({ rings }: DrawnPlaces): Vec3[] {
  const all = [...(rings.front ?? []), ...(rings.rear ?? [])];
  return all.flatMap((ring): Vec3[] => [
    [ring.x, ring.y, ring.z - ring.depth / 2],
    [ring.x, ring.y, ring.z + ring.depth / 2],
  ]);
}

/** The nose point of a rib that has one, and the corners of its ends. */
function ribCorners(drawnPlaces: DrawnPlaces, rib: Rib): Vec3[] {
  const frame = drawnPlaces.frames.get(rib.id);
  if (!frame) return [];
  const tall = heightOf(rib);
  return reachOf(drawnPlaces, rib).flatMap((x) =>
    [-tall / 2, tall / 2].map((z) => fromPart(frame, [x, 0, x < 0 ? 0 : z])),
  );
}

/** From where to where a rib reaches along its own x. */
function reachOf(drawnPlaces: DrawnPlaces, rib: Rib): readonly [number, number] {
  const length = drawnPlaces.drawn(`${rib.id}.length`) ?? rib.length;
  if (rib.kind === 'main') return [0, length];
  const behind =
    rib.kind === 'tip' && drawnPlaces.skeleton.model.spars.rear ? (drawnPlaces.drawn(`webs@${rib.station}`) ?? 0) : 0;
  return [-(length - behind), 0];
}
