import type { Finding } from '../checks/finding.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { fromPart, type Stand, standOf } from './drawnPlaces.ts';
import { facesOf } from './faces.ts';
import { gapsOf } from './gaps.ts';
import { holeMarksOf } from './holeMarks.ts';
import { labelsOf } from './labels.ts';
import { benchOf, linesOf } from './lines.ts';
import type { Scene, SceneBox, SceneOptions } from './shown.ts';

/*
 * All that the bench shows beside the metal itself, as plain data: the gaps between faces that should meet, the faces that
 * carry a verdict, the lines everything is judged against, holes, labels, and the bench.
 *
 * Wing frame, mm: x aft, y right along the span, z up. Everything stands where `solidsOf` draws the parts with the same
 * `magnify`: size drawn = drawing + magnify × (best − drawing). Texts keep the true numbers, in the panel's unit.
 */

/**
 * The scene of a skeleton and its findings for one question. Pure; nothing is remembered but where parts stand.
 * Example, panel A at ×20: M2's front end has an 'interference' above and one below, each with the text "0.32 mm".
 */
export function sceneOf(skeleton: Skeleton, findings: readonly Finding[], options: SceneOptions): Scene {
  const stand = standOf(skeleton, options.magnify, options.frames);
  const gaps = gapsOf(stand, findings, options);
  const holes = holeMarksOf(stand, findings, options.stage);
  const lines = linesOf(stand, findings);
  const bounds = boundsOf(stand);
  return {
    gaps,
    faces: facesOf(stand, findings, options),
    lines,
    holes,
    labels: labelsOf(stand, findings, { gaps, holes, lines, options }),
    bench: benchOf(stand, bounds),
    bounds,
  };
}

/** A box round ribs and spars as drawn; the noses and the tab ends of every rib, the spars' corners. */
function boundsOf(stand: Stand): SceneBox {
  const { skeleton } = stand;
  const low: [number, number, number] = [Infinity, Infinity, Infinity];
  const high: [number, number, number] = [-Infinity, -Infinity, -Infinity];
  const add = (p: Vec3) =>
    p.forEach((v, i) => {
      if (v < low[i]!) low[i] = v;
      if (v > high[i]!) high[i] = v;
    });
  for (const name of ['front', 'rear'] as const) {
    for (const ring of stand.rings[name] ?? [])
      for (const z of [-ring.depth / 2, ring.depth / 2]) add([ring.x, ring.y, ring.z + z]);
  }
  for (const rib of skeleton.model.ribs) {
    const frame = stand.frames.get(rib.id);
    if (!frame) continue;
    const length = stand.drawn(`${rib.id}.length`) ?? rib.length;
    const ends =
      rib.kind === 'main'
        ? [0, length]
        : rib.kind === 'nose'
          ? [-length, 0]
          : [-(length - (skeleton.model.spars.rear ? (stand.drawn(`webs@${rib.station}`) ?? 0) : 0)), 0];
    const tall = rib.kind === 'tip' ? rib.height : rib.kind === 'nose' ? rib.tail.height : rib.front.height;
    for (const x of ends) for (const z of [-tall / 2, tall / 2]) add(fromPart(frame, [x, 0, x < 0 ? 0 : z]));
  }
  return Number.isFinite(low[0]) ? { low, high } : { low: [0, 0, 0], high: [1, 1, 1] };
}
