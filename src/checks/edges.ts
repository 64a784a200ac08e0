import { best, type Chain, chain } from '../chains/chain.ts';
import { exact } from '../chains/size.ts';
import { limitFor } from '../model/limits.ts';
import type { Joint, RibEnd } from '../model/schema.ts';
import { type Bay, type Skeleton, thickness } from '../parts/skeleton.ts';
import { sentence, show } from './describe.ts';
import { type Finding, judge } from './finding.ts';

/*
 * Asks: is there metal enough round each row? Edge distance of every layer with a free edge beside the row, and the pitch
 * along it (C13), in rivet diameters.
 */

/** Edge distance of a layer at a joint's row, mm: flange less row on a rib end, half width on a doubler, edge on a bracket; undefined where no edge is near. */
export function edgeChain(skeleton: Skeleton, joint: Joint, part: string): Chain | undefined {
  const { book } = skeleton;
  const read = joint.holes.map((h) => book.find(`${joint.id}/${h.id}.${part}.edge`)).filter((s) => s !== undefined);
  if (read.length > 0) return chain([1, read.reduce((a, b) => (a.best <= b.best ? a : b))]);
  const place = skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);
  if (place) return chain([1, book.get(`${place.key}.tab`)], [-1, book.get(`${place.key}.row`)]);
  const piece = skeleton.part(part);
  if (!piece || 'kind' in piece) return undefined;
  if ('edge' in piece) return chain([1, exact(`${part}.edge`, `edge of ${part}`, piece.edge)]);
  const reach = Math.max(0, ...joint.holes.map((h) => Math.abs(h.along)));
  return chain([1, exact(`${part}.half-width`, `half width of ${part}`, piece.width / 2 - reach)]);
}

/** Edge distance of a rib end's flange beyond its row, for a given end. Panel A: 14.0 - 7.2 = 6.8. */
export function flangeEdge(end: RibEnd): number {
  return end.tab - end.row;
}

/** A made head's width in rivet diameters: common proportion. */
const HEAD = 2;

/** Room between a rivet's head and the bend of a rib end beside it: row - (thickness + inside radius) - half the head (C13); undefined where the part has no bend there. */
export function bendSideChain(skeleton: Skeleton, joint: Joint, part: string, diameter = joint.rivet.diameter): Chain | undefined {
  const place = skeleton.placesAt(joint.station).find((p) => p.rib.id === part && p.spar === joint.end);
  if (!place) return undefined;
  return chain([1, skeleton.book.get(`${place.key}.row`)], [-1, thickness(skeleton, place.rib.sheet)], [-1, exact(`${part}.bend`, `inside radius of ${part}`, place.rib.radius)], [-1, exact(`${joint.id}.head`, 'half the rivet head', (HEAD * diameter) / 2)]);
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
      station: joint.station,
      place: `${joint.id} ${part}`,
      restsOn: edge.map((t) => ({ c: t.c / d, size: t.size })),
      limit: limitFor(model, 'edge-distance'),
      sense: (v) => (v < 2 ? 'too near the edge' : 'clear of the edge'),
      say: (j) => sentence(model, j, `${part} at ${joint.id} has ${show(model, distance)} from hole centre to edge, ${show(model, j.value, 'D')}`, { todo: 'No larger rivet here: a wider flange or a new part.' }),
    });
  }
}

function pitchFinding(skeleton: Skeleton, joint: Joint): Finding | undefined {
  const { model } = skeleton;
  const ups = joint.holes.map((h) => ({ id: h.id, along: h.along, up: h.up })).sort((a, b) => a.up - b.up || a.along - b.along);
  let least = Number.POSITIVE_INFINITY;
  let pair = '';
  let most = 0;
  const oneRow = ups.every((h) => h.along === ups[0]!.along);
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
    station: joint.station,
    place: joint.id,
    restsOn: chain([1 / d, exact(`${joint.id}.pitch`, `pitch of ${joint.id}`, judgedPitch)]),
    limit,
    sense: (v) => (v < (limit.fits[0] ?? 0) ? 'close' : wide ? 'wide' : 'even'),
    say: (j) => sentence(model, j, wide ? `${joint.id} has holes ${show(model, judgedPitch)} apart, ${show(model, j.value, 'D')}` : `${joint.id} has holes ${pair} ${show(model, judgedPitch)} apart, ${show(model, j.value, 'D')}`),
  });
}

export function* edges(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  for (const joint of skeleton.jointsAt(bay.station.id)) {
    yield* edgeFindings(skeleton, joint);
    const pitch = pitchFinding(skeleton, joint);
    if (pitch) yield pitch;
  }
}
