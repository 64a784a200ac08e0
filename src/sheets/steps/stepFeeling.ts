import { best } from '../../chains/chain.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { flangesPoint } from '../../model/hand.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint, Rib } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { capSplitChains, chordGapChain } from '../../parts/layout/meeting.ts';
import { feelPlaces, holePlaces, isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Feel } from './step.ts';
import { type Draft, heldBy, heldPart, standingAt, type Work } from './stepDraft.ts';
import { RIB_WORDS } from './stepWords.ts';

/*
 * Steps at a rib that stands: clamps beside its holes, and the feeler at its caps and webs. Which leaf must not go in
 * comes from the limits.
 */

/** How far from a hole its clamp goes, rivet diameters, so that the drill still gets in. */
const CLAMP_OFF = 2.5;

export function clampSpots(skeleton: Skeleton, joints: readonly Joint[]): Vec3[] {
  return joints.flatMap((joint) => {
    const away = CLAMP_OFF * joint.rivet.diameter;
    return holePlaces(skeleton, joint).map(({ at: [x, y, z], hole }): Vec3 => {
      if (isCapRow(joint)) return [x, y + (hole.along >= 0 ? away : -away), z];
      return [x, y, z + (hole.up >= 0 ? away : -away)];
    });
  });
}

export function clampRib(work: Work, bay: Bay, rib: Rib): Draft[] {
  const joints = work.skeleton.jointsAt(bay.station.id).filter((j) => j.layers.includes(rib.id));
  const own = joints.filter((j) => rib.kind !== 'nose' || j.end === 'front');
  const spots = clampSpots(work.skeleton, own);
  if (spots.length === 0) return [];
  const nests = work.skeleton.placesAt(bay.station.id).some((p) => p.rib === rib && p.spec.ends === 'nests');
  const standing = standingAt(work, bay, rib);
  return [
    {
      id: `clamp:${rib.id}`,
      kind: 'clamp',
      title: `Clamp ${RIB_WORDS[rib.kind]} ${rib.id} beside each hole`,
      station: bay.station.id,
      chosen: [rib.id],
      standing,
      opens: flangesPoint(work.model, rib, bay.station.y),
      clamps: spots,
      lines: [
        ...(nests ? ['First centre it: the same daylight over and under.'] : []),
        'Clamp beside each hole, not at the middle.',
        'Light pressure. Do not pull a gap shut.',
      ],
      stack: own[0],
      check: { kind: 'count', count: spots.length, what: spots.length === 1 ? 'clamp' : 'clamps' },
      ...heldBy(heldPart(work, rib.id)),
    },
  ];
}

/** The leaf that must not go in: of the pair of limits the first that the gap is expected to stay under. */
function leafFor(
  expected: number,
  [, fits]: readonly [number | null, number | null],
  [, act]: readonly [number | null, number | null],
): number | undefined {
  if (fits !== null && expected <= fits) return fits;
  return act ?? undefined;
}

/** A rib end and the leaves that must not go in at its caps. */
interface FeltEnd {
  readonly place: RibPlace;
  readonly feels: readonly Feel[];
}

function feltEnd(work: Work, place: RibPlace): FeltEnd[] {
  const limit = limitFor(work.model, 'cap-split');
  const chains = capSplitChains(work.skeleton, place);
  const top = leafFor(best(chains.top), limit.fits, limit.act);
  const bottom = leafFor(best(chains.bottom), limit.fits, limit.act);
  if (top === undefined || bottom === undefined) return [];
  if (top === bottom) return [{ place, feels: [{ side: 'top and bottom', leaf: top }] }];
  const feels: Feel[] = [
    { side: 'top', leaf: top },
    { side: 'bottom', leaf: bottom },
  ];
  return [{ place, feels }];
}

/** The leaf that does for all of a rib: every end has one, and it is the same; undefined where they differ. */
function oneLeaf(ends: readonly FeltEnd[]): Feel | undefined {
  const [first, ...others] = ends.flatMap((e) => e.feels);
  return first && others.length === ends.length - 1 && others.every((f) => f.leaf === first.leaf) ? first : undefined;
}

/** Feels each rib end at the caps; one step for a rib where one leaf does for all of it. */
export function feelCaps(work: Work, rib: Rib): Draft[] {
  const { skeleton } = work;
  const ends = skeleton
    .placesAt(rib.station)
    .filter((p) => p.rib === rib && p.spec.ends === 'nests')
    .flatMap((place) => feltEnd(work, place));
  const spots = (list: readonly FeltEnd[]): Vec3[] =>
    list.flatMap(({ place }) => {
      const at = feelPlaces(skeleton, place);
      return at ? [at.top, at.bottom] : [];
    });
  const y = skeleton.bays.find((b) => b.station.id === rib.station)?.station.y ?? 0;
  const draft = (id: string, title: string, feels: readonly Feel[], at: readonly Vec3[]): Draft => ({
    id,
    kind: 'feel',
    title,
    station: rib.station,
    chosen: [rib.id],
    opens: flangesPoint(work.model, rib, y),
    standing: rib.kind === 'nose' ? 'ahead' : 'behind',
    check: { kind: 'feeler', feels },
    feels: at,
    lines: [
      'It must stand in the middle: the same daylight over and under.',
      'Feel at the rings: between the flange and the cap, at the bend.',
      'Do not force the leaf.',
    ],
    ...heldBy(heldPart(work, rib.id)),
  });
  const one = oneLeaf(ends);
  if (one && ends.length === 2)
    return [draft(`feel:${rib.id}`, `Feel both ends of ${rib.id} at the caps`, [one], spots(ends))];
  return ends.map((e) =>
    draft(`feel:${e.place.key}`, `Feel the ${e.place.end} end of ${rib.id} at the caps`, e.feels, spots([e])),
  );
}

/** Feels the daylight at the free end of a main rib that stands home against the other web. */
export function feelChord(work: Work, bay: Bay): Draft[] {
  const { main } = bay;
  if (!main || !work.model.spars.rear || work.model.stand === 'clamped') return [];
  const limit = limitFor(work.model, 'chord-gap');
  const leaf = leafFor(best(chordGapChain(work.skeleton, bay, main, 'straight')), limit.fits, limit.act);
  if (leaf === undefined) return [];
  const free = work.model.stand === 'rear' ? 'front' : 'rear';
  const place = work.skeleton.placesAt(bay.station.id).find((p) => p.rib === main && p.end === free);
  const at = place && feelPlaces(work.skeleton, place)?.web;
  return [
    {
      id: `feel:${main.id}.chord`,
      kind: 'feel',
      title: `Feel the ${free} end of ${main.id} at the web`,
      station: bay.station.id,
      chosen: [main.id],
      standing: 'behind',
      opens: flangesPoint(work.model, main, bay.station.y),
      check: { kind: 'feeler', feels: [{ side: free, leaf }] },
      lines: [`Hold the rib home against the ${work.model.stand} web.`, 'Feel at the ring, before clamping.'],
      feels: at ? [at] : [],
      ...heldBy(heldPart(work, main.id)),
    },
  ];
}
