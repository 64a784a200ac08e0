import { best } from '../../chains/chain.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { flangesPoint } from '../../model/hand.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint, Rib } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { capSplitChains, chordGapChain } from '../../parts/layout/meeting.ts';
import { feelPlaces, holePlaces, isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Feel, Standing } from './step.ts';
import { type Draft, heldBy, heldPart, tipEnd, type Work } from './stepDraft.ts';
import { RIB_WORDS } from './stepWords.ts';

/*
 * Steps at a rib that stands: clamps beside its holes, and the feeler at its caps and webs. Which leaf must not go in comes
 * from the limits.
 */

/** How far from a hole its clamp goes, rivet diameters, so that the drill still gets in. */
const CLAMP_OFF = 2.5;

export function clampSpots(skeleton: Skeleton, joints: readonly Joint[]): Vec3[] {
  return joints.flatMap((joint) =>
    holePlaces(skeleton, joint).map(({ at }, i): Vec3 => {
      const { up, along } = joint.holes[i]!;
      const off = CLAMP_OFF * joint.rivet.diameter;
      return isCapRow(joint)
        ? [at[0], at[1] + (along >= 0 ? off : -off), at[2]]
        : [at[0], at[1], at[2] + (up >= 0 ? off : -off)];
    }),
  );
}

export function clampRib(work: Work, bay: Bay, rib: Rib): Draft[] {
  const joints = work.skeleton.jointsAt(bay.station.id).filter((j) => j.layers.includes(rib.id));
  const own = joints.filter((j) => rib.kind !== 'nose' || j.end === 'front');
  const spots = clampSpots(work.skeleton, own);
  if (spots.length === 0) return [];
  const standing: Standing = rib.kind === 'nose' ? 'ahead' : rib.kind === 'tip' ? tipEnd(work, bay) : 'behind';
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
      lines: ['Clamp beside each hole, not at the middle.', 'Light pressure. Do not pull a gap shut.'],
      stack: own[0],
      check: { kind: 'count', count: spots.length, what: spots.length === 1 ? 'clamp' : 'clamps' },
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

/** Feels each rib end at the caps; one step for a rib where one leaf does for all of it. */
export function feelCaps(work: Work, rib: Rib): Draft[] {
  const limit = limitFor(work.model, 'cap-split');
  const ends = work.skeleton
    .placesAt(rib.station)
    .filter((p) => p.rib === rib && p.spec.ends === 'nests')
    .flatMap((place) => {
      const { top, bottom } = capSplitChains(work.skeleton, place);
      const [t, b] = [leafFor(best(top), limit.fits, limit.act), leafFor(best(bottom), limit.fits, limit.act)];
      if (t === undefined || b === undefined) return [];
      const feels: Feel[] =
        t === b
          ? [{ side: 'top and bottom', leaf: t }]
          : [
              { side: 'top', leaf: t },
              { side: 'bottom', leaf: b },
            ];
      return [{ place, feels }];
    });
  const spots = (list: typeof ends): Vec3[] =>
    list.flatMap(({ place }) => {
      const at = feelPlaces(work.skeleton, place);
      return at ? [at.top, at.bottom] : [];
    });
  const draft = (id: string, title: string, feels: readonly Feel[], at: readonly Vec3[]): Draft => ({
    id,
    kind: 'feel',
    title,
    station: rib.station,
    chosen: [rib.id],
    opens: flangesPoint(work.model, rib, work.skeleton.bays.find((b) => b.station.id === rib.station)?.station.y ?? 0),
    standing: rib.kind === 'nose' ? 'ahead' : 'behind',
    check: { kind: 'feeler', feels },
    feels: at,
    lines: ['Feel at the rings: between the flange and the cap, at the bend.', 'Do not force the leaf.'],
    ...heldBy(heldPart(work, rib.id)),
  });
  const [first, second] = ends;
  if (
    first &&
    second &&
    first.feels.length === 1 &&
    second.feels.length === 1 &&
    first.feels[0]!.leaf === second.feels[0]!.leaf
  ) {
    return [draft(`feel:${rib.id}`, `Feel both ends of ${rib.id} at the caps`, first.feels, spots(ends))];
  }
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
