import type { Finding } from '../checks/finding.ts';
import type { HoleState, SceneHole } from './shown.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { Joint, Model } from '../model/schema.ts';
import { fromSection, type Stand, turnsOf } from './stand.ts';

/*
 * Where every hole is, on the web its joint is made through, and whether it may be drilled to final size.
 * Never: the finding on it says act, or that it does not clean up. Not yet: its joint is opened at a later stage than the
 * present one. Otherwise now.
 */

/** Joints opened at or before the present stage; with no present stage named, none. */
function openedBy(model: Model): Set<string> {
  const at = model.stages.findIndex((s) => s.id === model.now);
  return new Set(model.stages.slice(0, at + 1).flatMap((s) => s.opens));
}

export function holeMarksOf(stand: Stand, findings: readonly Finding[]): SceneHole[] {
  const { model } = stand.skeleton;
  const opened = openedBy(model);
  const answers = new Map(findings.flatMap((f): [string, Finding][] => (f.check === 'hole-cleanup' ? [[f.id, f]] : [])));
  return model.joints.flatMap((joint) => {
    const spot = rowOf(stand, joint);
    if (!spot) return [];
    return joint.holes.map((hole): SceneHole => {
      const finding = answers.get(`hole-cleanup:${joint.id}-hole-${hole.id}`);
      const never = finding !== undefined && (finding.verdict === 'act' || finding.value < 0);
      const state: HoleState = never ? 'never' : opened.has(joint.id) ? 'now' : 'not yet';
      return {
        id: `${joint.id}/${hole.id}`,
        at: spot.at(hole.along, hole.up),
        axis: spot.axis,
        radius: joint.final / 2,
        state,
        verdict: finding?.verdict ?? null,
        findingId: finding?.id ?? null,
        station: joint.station,
        joint: joint.id,
      };
    });
  });
}

/** The row a joint's holes lie on: its place on the web, from offsets along the span and up. */
function rowOf(stand: Stand, joint: Joint): { at: (along: number, up: number) => Vec3; axis: Vec3 } | undefined {
  const stance = stand.stances.get(joint.station);
  const places = stand.skeleton.placesAt(joint.station).filter((p) => (joint.end === 'rear') === (p.spar === 'rear'));
  const place = places.find((p) => joint.layers.includes(p.rib.id));
  if (!stance || !place) return undefined;
  const row = turnsOf(stand, place) * (stand.drawn(`${place.rib.id}.${place.end}.row`) ?? place.spec.row);
  const x = joint.end === 'rear' ? stance.rear : stance.front;
  return {
    at: (along, up) => fromSection(stance, x, up, stance.bay.station.y + row + along),
    axis: [Math.cos(stance.pitch), 0, -Math.sin(stance.pitch)],
  };
}
