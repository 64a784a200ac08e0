import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import { exact } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import type { Bracket, Doubler, Joint, RibEnd } from '../../model/schema.ts';
import { once } from '../../once.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { sparOf, thickness } from '../../parts/layout/meeting.ts';
import { atJoint } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { type HoleSpot, inCap, placeOf, rowOf, turned } from './rowPlace.ts';

/*
 * Asks: is there metal enough round each row? Edge distance of every layer with a free edge beside the row, and the
 * pitch along it and from row to row (C13), in rivet diameters. Bends are no edges: bendRoom asks them.
 */

/** The nearest of several edges. */
function nearest(...edges: readonly Chain[]): Chain | undefined {
  let least: Chain | undefined;
  for (const e of edges) if (!least || best(e) < best(least)) least = e;
  return least;
}

/** A drawing's size that has no reading. */
const given = (part: string, name: string, mm: number): Chain =>
  chain([1, exact(`${part}.${name}`, `${name.replace('-', ' ')} of ${part}`, mm)]);

const offRow = (joint: Joint, part: string, mm: number): Chain =>
  mm === 0 ? [] : chain([-1, exact(`${joint.id}.${part}.off`, 'hole off the row', mm)]);

/**
 * From a hole to the top or bottom of a rib end's flange, which stops where the rib's own flanges, or the spar's bend,
 * begin. Panel A, M2 front: 83.35/2 - 24 - (0.635 + 1.6).
 */
function tabTop(skeleton: Skeleton, joint: Joint, place: RibPlace, up: number): Chain {
  const { book } = skeleton;
  const [sheet, radius] = [thickness(skeleton, place.rib.sheet), book.get(`${place.rib.id}.radius`)];
  const spar = book.get(`${place.spar}.radius`);
  const corner = spar.best > sheet.best + radius.best ? chain([-1, spar]) : chain([-1, sheet], [-1, radius]);
  return combine(
    [0.5, chain([1, book.get(`${place.key}.height`)])],
    [1, corner],
    [1, offRow(joint, place.rib.id, Math.abs(up))],
  );
}

/** A rib end beside its row: the free edge of its flange, and where the flange stops at top and bottom. */
function ribEdge(skeleton: Skeleton, joint: Joint, place: RibPlace, { along, up }: HoleSpot): Chain {
  const { book } = skeleton;
  const out = turned(skeleton, joint, place.rib) * along;
  const width: Chain = inCap(joint)
    ? given(place.rib.id, 'flange', place.rib.flange)
    : chain([1, book.get(`${place.key}.tab`)]);
  const beside = combine(
    [1, width],
    [-1, chain([1, book.get(`${place.key}.row`)])],
    [1, offRow(joint, place.rib.id, out)],
  );
  return inCap(joint) ? beside : (nearest(beside, tabTop(skeleton, joint, place, up)) ?? beside);
}

/** From a hole to the nearer end of metal that runs from one place along the span to another. */
function endEdge(skeleton: Skeleton, joint: Joint, part: string, along: number, run: Run): Chain {
  const place = rowOf(skeleton, joint);
  const way = place ? turned(skeleton, joint, place.rib) : 0;
  const row: Chain = place ? chain([way, skeleton.book.get(`${place.key}.row`)]) : [];
  const y = skeleton.bayAt(joint.station).station.y + along;
  const toEnd = (end: string, mm: number): Chain =>
    chain([1, exact(`${part}.${end}-end`, `${end} end of ${part}`, mm)]);
  const left = combine([1, row], [1, toEnd('left', y - run.from)]);
  const right = combine([-1, row], [1, toEnd('right', run.to - y)]);
  return best(left) < best(right) ? left : right;
}

interface Run {
  readonly from: number;
  readonly to: number;
}

/** An end further off than this, mm, is not beside the row: picked, eight diameters of a 1/4 in rivet. */
const BESIDE = 50;

const beside = (end: Chain): Chain | undefined => (best(end) < BESIDE ? end : undefined);

/** A spar beside a row: its end, and in a cap the cap's free edge. A web's other edges are bends, asked by bendRoom. */
function sparEdge(skeleton: Skeleton, joint: Joint, { along, up }: HoleSpot): Chain | undefined {
  const part = joint.end;
  const end = beside(endEdge(skeleton, joint, part, along, sparOf(skeleton, part)));
  if (!inCap(joint)) return end;
  const free = combine(
    [1, chain([1, skeleton.book.get(`${part}.cap@${joint.station}`)])],
    [1, offRow(joint, part, up)],
  );
  return end ? nearest(end, free) : free;
}

/** A doubler, packer or shim: half its width, and half the height of a flat one on a web. */
function doublerEdge(joint: Joint, d: Doubler, { along, up }: HoleSpot): Chain | undefined {
  const sides = [given(d.id, 'half-width', d.width / 2 - Math.abs(along))];
  if (d.form === 'flat' && d.height !== undefined && !inCap(joint))
    sides.push(given(d.id, 'half-height', d.height / 2 - Math.abs(up)));
  return nearest(...sides);
}

/** A bracket: its foot along the span and up, and the free edge of its standing leg. */
function bracketEdge(b: Bracket, { along, up }: HoleSpot): Chain | undefined {
  return nearest(
    given(b.id, 'edge', b.edge),
    given(b.id, 'half-width', b.width / 2 - Math.abs(along)),
    given(b.id, 'half-height', b.height / 2 - Math.abs(up)),
  );
}

/** A plate on a spar's web, or a strip in its caps, that has a name. */
function namedEdge(skeleton: Skeleton, joint: Joint, part: string, { along, up }: HoleSpot): Chain | undefined {
  const { front, rear } = skeleton.model.spars;
  const isIt = ({ id }: { readonly id?: string | undefined }): boolean => id === part;
  const plate = [front, rear].flatMap((s) => s?.webDoublers ?? []).find(isIt);
  const strip = [front, rear].flatMap((s) => s?.strips ?? []).find(isIt);
  if (plate)
    return nearest(
      endEdge(skeleton, joint, part, along, plate),
      given(part, 'half-height', plate.height / 2 - Math.abs(up)),
    );
  return strip && beside(endEdge(skeleton, joint, part, along, strip));
}

/**
 * Distance from a spot to the nearest real edge of a layer, mm: flange less row on a rib end, or where the flange
 * stops; the spar's end; half width (or half height) on a doubler; a bracket's foot and leg; the cap's free edge in a
 * cap; undefined where no edge is near.
 */
export function edgeAt(skeleton: Skeleton, joint: Joint, part: string, spot: HoleSpot): Chain | undefined {
  const place = placeOf(skeleton, joint, part);
  if (place) return ribEdge(skeleton, joint, place, spot);
  if (part === joint.end) return sparEdge(skeleton, joint, spot);
  const piece = skeleton.part(part);
  if (piece === undefined) return namedEdge(skeleton, joint, part, spot);
  if ('kind' in piece) return undefined;
  return 'edge' in piece ? bracketEdge(piece, spot) : doublerEdge(joint, piece, spot);
}

/**
 * Edge distance of a layer at a joint's row, mm: as read where it was, else where the guide's holes fall on it; the
 * nearest of its holes.
 */
export function edgeChain(skeleton: Skeleton, joint: Joint, part: string): Chain | undefined {
  const { book } = skeleton;
  const read = joint.holes.map((h) => book.find(`${joint.id}/${h.id}.${part}.edge`)).filter((s) => s !== undefined);
  if (read.length > 0) return chain([1, read.reduce((a, b) => (a.best <= b.best ? a : b))]);
  const spots = joint.holes.length > 0 ? joint.holes : [{ along: 0, up: 0 }];
  return nearest(...spots.map((h) => edgeAt(skeleton, joint, part, h)).filter((c) => c !== undefined));
}

/** Least distance between two holes of a joint, mm; infinite with one hole. */
export const leastPitch = once((joint: Joint): number => {
  const pitches = joint.holes.flatMap((a, i) =>
    joint.holes.slice(i + 1).map((b) => Math.hypot(a.along - b.along, a.up - b.up)),
  );
  return Math.min(...pitches);
});

/**
 * Least distance from one row of a joint to the next, mm: rows run up a web and along a cap; undefined with one row.
 */
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

const layerName = (joint: Joint, part: string): string => (part === joint.end ? `The ${part} spar` : part);

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
          `${layerName(joint, part)} at ${joint.id} has ${show(model, distance)} from hole centre to edge, ${show(model, j.value, 'D')}`,
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
