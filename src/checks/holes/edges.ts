import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { exact } from '../../chains/size.ts';
import { flangesPoint } from '../../model/hand.ts';
import { limitFor } from '../../model/limits.ts';
import type { Joint, Rib, RibEnd } from '../../model/schema.ts';
import { once } from '../../once.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { thickness } from '../../parts/layout/meeting.ts';
import { atJoint } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';

/*
 * Asks: is there metal enough round each row? Edge distance of every layer with a free edge beside the row, and the pitch
 * along it and from row to row (C13), in rivet diameters. The bend beside a row must leave the rivet's head flat.
 */

/** A place in a joint's plane: along the span from the row's line, and across (above the chord line; in a cap, from the web's face). */
export interface HoleSpot {
  readonly along: number;
  readonly up: number;
}

/** Which way along y a rib's flanges point from its web. */
function turned(skeleton: Skeleton, joint: Joint, rib: Rib): 1 | -1 {
  const y = skeleton.placesAt(joint.station)[0]?.bay.station.y ?? 0;
  return flangesPoint(skeleton.model, rib, y);
}

/** The end of a rib that a joint goes through. */
const placeOf = (skeleton: Skeleton, joint: Joint, part: string): RibPlace | undefined =>
  skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);

const inCap = (joint: Joint): boolean => joint.on === 'top' || joint.on === 'bottom';

/** The nearest of several edges. */
function nearest(...edges: readonly Chain[]): Chain | undefined {
  let least: Chain | undefined;
  for (const e of edges) if (!least || best(e) < best(least)) least = e;
  return least;
}

/**
 * Distance from a spot to the nearest free edge of a layer, mm: flange less row on a rib end, half width (or half height) on
 * a doubler, edge on a bracket, the cap's free edge in a cap; undefined where no edge is near.
 */
export function edgeAt(skeleton: Skeleton, joint: Joint, part: string, { along, up }: HoleSpot): Chain | undefined {
  const { book, model } = skeleton;
  const given = (name: string, mm: number): Chain =>
    chain([1, exact(`${part}.${name}`, `${name.replace('-', ' ')} of ${part}`, mm)]);
  const off = (mm: number): Chain =>
    mm === 0 ? [] : chain([-1, exact(`${joint.id}.${part}.off`, 'hole off the row', mm)]);
  const place = placeOf(skeleton, joint, part);
  if (place) {
    const out = turned(skeleton, joint, place.rib) * along;
    const width: Chain = inCap(joint) ? given('flange', place.rib.flange) : chain([1, book.get(`${place.key}.tab`)]);
    return combine([1, width], [-1, chain([1, book.get(`${place.key}.row`)])], [1, off(out)]);
  }
  if ((part === 'front' || part === 'rear') && inCap(joint))
    return combine([1, chain([1, book.get(`${part}.cap@${joint.station}`)])], [1, off(up)]);
  const piece = skeleton.part(part);
  if (piece && 'kind' in piece) return undefined;
  if (piece && 'edge' in piece)
    return nearest(given('edge', piece.edge), given('half-height', piece.height / 2 - Math.abs(up)));
  if (piece) {
    const sides = [given('half-width', piece.width / 2 - Math.abs(along))];
    if (piece.form === 'flat' && piece.height !== undefined && !inCap(joint))
      sides.push(given('half-height', piece.height / 2 - Math.abs(up)));
    return nearest(...sides);
  }
  const plate = [model.spars.front, model.spars.rear].flatMap((p) => p?.webDoublers ?? []).find((d) => d.id === part);
  return plate ? given('half-height', plate.height / 2 - Math.abs(up)) : undefined;
}

/** Edge distance of a layer at a joint's row, mm: as read where it was, else where the guide's holes fall on it; the nearest of its holes. */
export function edgeChain(skeleton: Skeleton, joint: Joint, part: string): Chain | undefined {
  const { book } = skeleton;
  const read = joint.holes.map((h) => book.find(`${joint.id}/${h.id}.${part}.edge`)).filter((s) => s !== undefined);
  if (read.length > 0) return chain([1, read.reduce((a, b) => (a.best <= b.best ? a : b))]);
  const spots = joint.holes.length > 0 ? joint.holes : [{ along: 0, up: 0 }];
  return nearest(...spots.map((h) => edgeAt(skeleton, joint, part, h)).filter((c) => c !== undefined));
}

/** Diameter of a rivet's manufactured head: as the file says, else twice the rivet (common practice for a round head). */
const headOf = (joint: Joint): number => joint.rivet.head ?? 2 * joint.rivet.diameter;

/**
 * Room between a rivet's head and the start of the bend beside it, mm (C13: row - (thickness + radius) - head/2), by which
 * the head sits flat and a tool gets in; undefined where no bend is near. Panel A at a tab: 7.2 - 0.635 - radius - 3.175.
 */
export function bendRoom(skeleton: Skeleton, joint: Joint, part: string, { along, up }: HoleSpot): number | undefined {
  const { book } = skeleton;
  const half = headOf(joint) / 2;
  const place = placeOf(skeleton, joint, part);
  if (place)
    return (
      book.get(`${place.key}.row`).best +
      turned(skeleton, joint, place.rib) * along -
      thickness(skeleton, place.rib.sheet).best -
      place.rib.radius -
      half
    );
  if (part !== 'front' && part !== 'rear') return undefined;
  const spar = skeleton.model.spars[part];
  if (!spar) return undefined;
  const bend = thickness(skeleton, spar.sheet).best + book.get(`${part}.radius`).best;
  return inCap(joint)
    ? up - bend - half
    : book.get(`${part}.depth@${joint.station}`).best / 2 - Math.abs(up) - bend - half;
}

/** Least distance between two holes of a joint, mm; infinite with one hole. */
export const leastPitch = once((joint: Joint): number => {
  const pitches = joint.holes.flatMap((a, i) =>
    joint.holes.slice(i + 1).map((b) => Math.hypot(a.along - b.along, a.up - b.up)),
  );
  return Math.min(...pitches);
});

/** Least distance from one row of a joint to the next, mm: rows run up a web and along a cap; undefined with one row. */
export function rowToRow(joint: Joint): number | undefined {
  const lines = [...new Set(joint.holes.map((h) => (inCap(joint) ? h.up : h.along)))].sort((a, b) => a - b);
  const rows = lines.filter((line) => joint.holes.filter((h) => (inCap(joint) ? h.up : h.along) === line).length > 1);
  const [first, ...later] = rows;
  if (first === undefined || later.length === 0) return undefined;
  return Math.min(...later.map((line, i) => line - (later[i - 1] ?? first)));
}

/** Edge distance of a rib end's flange beyond its row, for a given end. Panel A: 14.0 - 7.2 = 6.8. */
export function flangeEdge(end: RibEnd): number {
  return end.tab - end.row;
}

/** A made head's width in rivet diameters: common proportion. */
const HEAD = 2;

/** Room between a rivet's head and the bend of a rib end beside it: row - (thickness + inside radius) - half the head (C13); undefined where the part has no bend there. */
export function bendSideChain(
  skeleton: Skeleton,
  joint: Joint,
  part: string,
  diameter = joint.rivet.diameter,
): Chain | undefined {
  const place = skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);
  if (!place) return undefined;
  return chain(
    [1, skeleton.book.get(`${place.key}.row`)],
    [-1, thickness(skeleton, place.rib.sheet)],
    [-1, exact(`${part}.bend`, `inside radius of ${part}`, place.rib.radius)],
    [-1, exact(`${joint.id}.head`, 'half the rivet head', (HEAD * diameter) / 2)],
  );
}

function* edgeFindings(skeleton: Skeleton, joint: Joint): Generator<Finding> {
  const { model } = skeleton;
  for (const part of joint.layers) {
    const edge = edgeChain(skeleton, joint, part);
    if (!edge) continue;
    const d = joint.rivet.diameter;
    const distance = best(edge);
    yield judge({
      check: 'edge-distance',
      at: { ...atJoint(joint), layer: part },
      place: `${joint.id} ${part}`,
      restsOn: edge.map((t) => ({ c: t.c / d, size: t.size })),
      limit: limitFor(model, 'edge-distance'),
      sense: (v) => (v < 2 ? 'too near the edge' : 'clear of the edge'),
      say: (j) =>
        sentence(
          model,
          j,
          `${part} at ${joint.id} has ${show(model, distance)} from hole centre to edge, ${show(model, j.value, 'D')}`,
          { todo: 'No larger rivet here: a wider flange or a new part.' },
        ),
    });
  }
}

function pitchFinding(skeleton: Skeleton, joint: Joint): Finding | undefined {
  const { model } = skeleton;
  const ups = joint.holes
    .map((h) => ({ id: h.id, along: h.along, up: h.up }))
    .sort((a, b) => a.up - b.up || a.along - b.along);
  let least = Number.POSITIVE_INFINITY;
  let pair = '';
  let most = 0;
  const oneRow = ups.every((h) => h.along === ups[0]?.along);
  for (const [i, b] of ups.entries()) {
    for (const [k, a] of ups.slice(0, i).entries()) {
      const pitch = Math.hypot(b.along - a.along, b.up - a.up);
      if (oneRow && k === i - 1) most = Math.max(most, pitch);
      if (pitch < least) {
        least = pitch;
        pair = `${a.id} and ${b.id}`;
      }
    }
  }
  if (!Number.isFinite(least)) return undefined;
  const d = joint.rivet.diameter;
  const limit = limitFor(model, 'pitch');
  const wide = limit.fits[1] !== null && most / d > limit.fits[1] && least / d >= (limit.fits[0] ?? 0);
  const judgedPitch = wide ? most : least;
  return judge({
    check: 'pitch',
    at: atJoint(joint),
    place: joint.id,
    restsOn: chain([1 / d, exact(`${joint.id}.pitch`, `pitch of ${joint.id}`, judgedPitch)]),
    limit,
    sense: (v) => {
      if (v < (limit.fits[0] ?? 0)) return 'close';
      return wide ? 'wide' : 'even';
    },
    say: (j) => {
      const which = wide ? 'holes' : `holes ${pair}`;
      const apart = `${show(model, judgedPitch)} apart, ${show(model, j.value, 'D')}`;
      return sentence(model, j, `${joint.id} has ${which} ${apart}`);
    },
  });
}

function rowsFinding(skeleton: Skeleton, joint: Joint): Finding | undefined {
  const { model } = skeleton;
  const apart = rowToRow(joint);
  if (apart === undefined) return undefined;
  const d = joint.rivet.diameter;
  return judge({
    check: 'rows',
    at: atJoint(joint),
    place: joint.id,
    restsOn: chain([1 / d, exact(`${joint.id}.rows`, `row to row at ${joint.id}`, apart)]),
    limit: limitFor(model, 'rows'),
    sense: (v) => (v < 2.5 ? 'close' : 'clear'),
    say: (j) =>
      sentence(model, j, `${joint.id} has rows ${show(model, apart)} apart, ${show(model, j.value, 'D')}`, {
        todo: 'Fewer rows, or a wider part.',
      }),
  });
}

export function* edges(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    yield* edgeFindings(skeleton, joint);
    const pitch = pitchFinding(skeleton, joint);
    if (pitch) yield pitch;
    const rows = rowsFinding(skeleton, joint);
    if (rows) yield rows;
  }
}
