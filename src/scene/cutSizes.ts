import { best } from '../chains/chain.ts';
import { atEnd, isAt } from '../checks/at.ts';
import type { Finding, Verdict } from '../checks/finding.ts';
import { nosesOf } from '../checks/fit/noseLine.ts';
import type { Vec3 } from '../geometry/vector.ts';
import { alongAt } from '../model/along.ts';
import type { SparName } from '../model/schema.ts';
import type { Bay, RibPlace } from '../parts/layout/layout.ts';
import { capSplitChains, clearHeight } from '../parts/layout/meeting.ts';
import { formatLength } from '../units.ts';
import { bayThrough } from './cutPlace.ts';
import { capped, capStack, type DrawnPlaces, faceOf, fromPart, halfHeight, inwardOf, onSpar } from './drawnPlaces.ts';
import { nosesIn } from './noses.ts';

/*
 * The main sizes written on a cut: where the lines stand is as drawn, deviations enlarged; the numbers are the true
 * ones.
 */

/** A size between two places: from each a thin line runs to the measuring line's end. */
export interface CutSpan {
  readonly kind: 'span';
  readonly id: string;
  readonly text: string;
  readonly feet: readonly [Vec3, Vec3];
  readonly ends: readonly [Vec3, Vec3];
  /** Where along the line its number stands, 0 to 1. */
  readonly at: number;
}

/** A word at one place, such as what a cap gap comes to. */
export interface CutNote {
  readonly kind: 'note';
  readonly id: string;
  readonly text: string;
  readonly foot: Vec3;
  /** Up over the section, or down under it. */
  readonly side: 1 | -1;
  readonly verdict: Verdict;
}

export type CutSize = CutSpan | CutNote;

/** How far beyond the free edge of a cap the measuring lines stand, mm. */
const STEP = 13;
/** How far under the section the long measures stand, mm. */
const UNDER = 15;

/**
 * The sizes of a cut at y. Panel A at S2: 84.30 clear, 83.35 over M2, 264.00 web to web, 0.16 bound above and below.
 */
export function cutSizes(drawnPlaces: DrawnPlaces, findings: readonly Finding[], y: number): CutSize[] {
  const bay = bayThrough(drawnPlaces.skeleton, y);
  const spars = (['front', 'rear'] as const).filter(
    (name) => drawnPlaces.skeleton.model.spars[name] && within(drawnPlaces, name, y),
  );
  return [
    ...spars.map((name) => clear(drawnPlaces, name, y, bay)),
    ...(bay
      ? ends(drawnPlaces, bay).flatMap((p) => [ribHeight(drawnPlaces, p, y), ...capNotes(drawnPlaces, p, y, findings)])
      : []),
    ...webs(drawnPlaces, y, bay),
    ...(bay ? protrusion(drawnPlaces, bay, y) : []),
  ];
}

const ends = (drawnPlaces: DrawnPlaces, bay: Bay): RibPlace[] =>
  drawnPlaces.skeleton.placesAt(bay.station.id).filter((p) => p.spec.ends === 'nests');
const units = (drawnPlaces: DrawnPlaces): 'mm' | 'in' => drawnPlaces.skeleton.model.units;
const number = (drawnPlaces: DrawnPlaces, mm: number): string =>
  formatLength(mm, units(drawnPlaces), { unitMark: false });

function within({ skeleton: { model } }: DrawnPlaces, name: SparName, y: number): boolean {
  const spar = model.spars[name];
  return spar !== undefined && y > Math.min(spar.from, spar.to) && y < Math.max(spar.from, spar.to);
}

/** A true size at y: at a station its own, between two a straight line from one to the other. */
function between(drawnPlaces: DrawnPlaces, y: number, bay: Bay | undefined, size: (b: Bay) => number): number {
  if (bay) return size(bay);
  const { bays } = drawnPlaces.skeleton;
  const after = bays.findIndex((b) => b.station.y >= y);
  const [p, q] = [
    bays[Math.max(after < 0 ? bays.length - 2 : after - 1, 0)],
    bays[after < 0 ? bays.length - 1 : after],
  ];
  if (!p || !q) return 0;
  const t = p === q ? 0 : Math.min(Math.max((y - p.station.y) / (q.station.y - p.station.y), 0), 1);
  return size(p) * (1 - t) + size(q) * t;
}

/** Which way the channel opens: where its free edges are, from the web's forward face. */
function opening(drawnPlaces: DrawnPlaces, name: SparName, y: number): { way: 1 | -1; cap: number } {
  const spar = drawnPlaces.skeleton.model.spars[name];
  return spar ? { way: spar.opens === 'aft' ? 1 : -1, cap: alongAt(spar.capWidth, y) } : { way: 1, cap: 0 };
}

function clear(drawnPlaces: DrawnPlaces, name: SparName, y: number, bay: Bay | undefined): CutSpan {
  const { way, cap } = opening(drawnPlaces, name, y);
  const at = (aft: number, side: 1 | -1): Vec3 =>
    onSpar(drawnPlaces, name, y, { aft, inside: capStack(drawnPlaces, name, y, side), side });
  const size = between(drawnPlaces, y, bay, (b) => best(clearHeight(drawnPlaces.skeleton, name, b.station)));
  const [foot, line] = [way * cap, way * (cap + STEP)];
  return {
    kind: 'span',
    id: `${name}-clear`,
    text: `${number(drawnPlaces, size)} clear`,
    feet: [at(foot, 1), at(foot, -1)],
    ends: [at(line, 1), at(line, -1)],
    at: 0.36,
  };
}

function ribHeight(drawnPlaces: DrawnPlaces, place: RibPlace, y: number): CutSpan {
  const frame = drawnPlaces.frames.get(place.rib.id);
  const { cap } = opening(drawnPlaces, place.spar, y);
  const inward = inwardOf(place.end);
  const [face, half] = [faceOf(drawnPlaces, place), halfHeight(drawnPlaces, place)];
  const local = y - place.bay.station.y;
  const at = (away: number, side: 1 | -1): Vec3 =>
    frame ? fromPart(frame, [face + inward * away, local, side * half]) : [0, y, 0];
  const size = drawnPlaces.skeleton.book.get(`${place.key}.height`).best;
  const [foot, line] = [cap * 0.7, cap + 2.4 * STEP];
  return {
    kind: 'span',
    id: `${place.key}-height`,
    text: `${number(drawnPlaces, size)} ${place.rib.id}`,
    feet: [at(foot, 1), at(foot, -1)],
    ends: [at(line, 1), at(line, -1)],
    at: 0.64,
  };
}

/** What is left, or wanting, over and under a rib end as it is held. */
function capNotes(drawnPlaces: DrawnPlaces, place: RibPlace, y: number, findings: readonly Finding[]): CutNote[] {
  const frame = drawnPlaces.frames.get(place.rib.id);
  const { top, bottom } = capSplitChains(drawnPlaces.skeleton, place);
  const verdict = findings.find((f) => f.check === 'cap-gap' && isAt(f.at, atEnd(place)))?.verdict;
  if (!frame || !verdict) return [];
  const { cap } = opening(drawnPlaces, place.spar, y);
  return (
    [
      [1, best(top)],
      [-1, best(bottom)],
    ] as const
  ).map(
    ([side, gap]): CutNote => ({
      kind: 'note',
      id: `${place.key}-gap${side}`,
      side,
      verdict,
      text:
        Math.abs(gap) < 0.005 ? 'just fits' : `${gap < 0 ? 'binds' : 'loose'} ${number(drawnPlaces, Math.abs(gap))}`,
      foot: fromPart(frame, [
        faceOf(drawnPlaces, place) + inwardOf(place.end) * cap * 0.45,
        y - place.bay.station.y,
        side * (halfHeight(drawnPlaces, place) + capped(drawnPlaces, place, side)),
      ]),
    }),
  );
}

/** A place on the mid line of the front spar's section, `aft` of its web and `up` of its middle. */
function onMiddle(drawnPlaces: DrawnPlaces, y: number, aft: number, up: number): Vec3 {
  const mid = onSpar(drawnPlaces, 'front', y, { aft, inside: 0, side: 0 });
  const high = onSpar(drawnPlaces, 'front', y, { aft, inside: 0, side: 1 });
  const tall = Math.hypot(high[0] - mid[0], high[2] - mid[2]) || 1;
  return [mid[0] + ((high[0] - mid[0]) / tall) * up, y, mid[2] + ((high[2] - mid[2]) / tall) * up];
}

const halfDepth = (drawnPlaces: DrawnPlaces, name: SparName, y: number): number =>
  alongAt(drawnPlaces.skeleton.model.spars[name]?.depth ?? 0, y) / 2;

function webs(drawnPlaces: DrawnPlaces, y: number, bay: Bay | undefined): CutSpan[] {
  if (!within(drawnPlaces, 'front', y) && !bay) return [];
  if (!drawnPlaces.skeleton.model.spars.rear || !within(drawnPlaces, 'rear', y)) return [];
  const under = -(halfDepth(drawnPlaces, 'front', y) + UNDER);
  const front = onSpar(drawnPlaces, 'front', y, { aft: 0, inside: 0, side: -1 });
  const rear = onSpar(drawnPlaces, 'rear', y, { aft: 0, inside: 0, side: -1 });
  const apart = Math.hypot(rear[0] - front[0], rear[2] - front[2]);
  const size = between(drawnPlaces, y, bay, (b) => drawnPlaces.skeleton.book.get(`webs@${b.station.id}`).best);
  return [
    {
      kind: 'span',
      id: 'webs',
      text: `${number(drawnPlaces, size)} web to web`,
      feet: [front, rear],
      ends: [onMiddle(drawnPlaces, y, 0, under), onMiddle(drawnPlaces, y, apart, under)],
      at: 0.5,
    },
  ];
}

function protrusion(drawnPlaces: DrawnPlaces, bay: Bay, y: number): CutSpan[] {
  const nose = nosesOf(drawnPlaces.skeleton, 'straight').find((n) => n.bay === bay);
  const drawn = nosesIn(drawnPlaces).find((n) => n.station === bay.station.id);
  if (!nose || !drawn?.frame) return [];
  const under = -(halfDepth(drawnPlaces, 'front', y) + UNDER);
  const front = onSpar(drawnPlaces, 'front', y, { aft: 0, inside: 0, side: -1 });
  const tip = fromPart(drawn.frame, [drawn.x, y - bay.station.y, 0]);
  const ahead = Math.hypot(tip[0] - onMiddle(drawnPlaces, y, 0, 0)[0], tip[2] - onMiddle(drawnPlaces, y, 0, 0)[2]);
  return [
    {
      kind: 'span',
      id: 'nose',
      text: `${number(drawnPlaces, best(nose.protrusion))} nose`,
      feet: [tip, front],
      ends: [onMiddle(drawnPlaces, y, -ahead, under), onMiddle(drawnPlaces, y, 0, under)],
      at: 0.5,
    },
  ];
}
