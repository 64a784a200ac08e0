import { best, type Chain, chain, combine, uncertainty } from '../../chains/chain.ts';
import { exact, type Size } from '../../chains/size.ts';
import { outboardAt } from '../../model/hand.ts';
import { APART } from '../../model/metal.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { putBack, stageIndex } from './stages.ts';

/*
 * Where one layer's hole lies off the guide's, and from what (C12):
 * e = marking + sighting + drill wander + shift since the pilot + lean and skew times their arms; or as read with pins.
 * Along is along the span, y positive; up is across the row, above the chord line (in a cap: toward its free edge). mm.
 *
 * A layer drilled through another starts from that one's hole and wanders. One drilled apart was marked and drilled
 * square by itself: it carries its own mark and the guide's, the sighting when the two were lined up, and all of the
 * rib's lean and skew. One drilled through another has moved only by what the rib was turned since (`stood` says how
 * it stood then).
 */

/** Hand drilling wander through a guide hole, one standard uncertainty, mm: picked, no source. */
export const WANDER = 0.1;
/** A centre scribed from the web with a rule and punched: picked, as a rule reads. */
export const MARKING = 0.25;
/** Two holes brought over each other by eye: as a pin and magnifier read them. */
export const SIGHTING = 0.1;
/** A part taken off and put in again on its fasteners lies where it lay, but for their play in a pilot hole: picked. */
export const PUT_BACK = 0.05;

/** A layer's offset from the guide, along the row's two axes. */
export interface OffsetChains {
  readonly along: Chain;
  readonly up: Chain;
}

const ZERO: OffsetChains = { along: [], up: [] };
const doubt = (key: string, name: string, u: number): Size => ({
  key,
  name,
  best: 0,
  u,
  tolerance: 2 * u,
  origin: 'drawing',
});

/** The parts that turn when the rib of a station is squared: the rib and the pieces fixed to its ends. */
export function turningParts(skeleton: Skeleton, station: string): ReadonlySet<string> {
  const rib = skeleton
    .placesAt(station)
    .map((p) => p.rib)
    .find((r) => r.kind !== 'nose');
  if (!rib) return new Set();
  const ends = rib.kind === 'main' ? (['front', 'rear'] as const) : (['rear'] as const);
  return new Set([rib.id, ...ends.flatMap((end) => skeleton.doublersAt(rib.id, end).map((d) => d.id))]);
}

/** Arms of a hole: mm it goes along the span for a lean of 1 (over 1), and for 1 mm of skew at the rear end. */
export function armsOf(skeleton: Skeleton, joint: Joint, hole: Hole): { readonly lean: number; readonly skew: number } {
  const rear = joint.end === 'rear';
  if (joint.on === undefined || joint.on === 'web') return { lean: hole.up, skew: rear ? 1 : 0 };
  const { book } = skeleton;
  const half = book.get(`${joint.end}.depth@${joint.station}`).best / 2;
  const chord = book.get(`webs@${joint.station}`).best;
  return { lean: joint.on === 'top' ? half : -half, skew: rear ? 1 - hole.up / chord : hole.up / chord };
}

/** How the rib of a station stands by what was read; height is what the lean was read over. */
export function stanceAt(
  skeleton: Skeleton,
  station: string,
): {
  readonly lean: Size | undefined;
  readonly height: number;
  readonly skew: Size | undefined;
  readonly out: 1 | -1;
  readonly rib: string;
} {
  const { book, model } = skeleton;
  const bay = skeleton.placesAt(station)[0]?.bay;
  const height =
    book.readingsOf(`lean@${station}`).at(-1)?.over ?? bay?.main?.front.height ?? bay?.tip?.rear.height ?? 100;
  return {
    lean: book.find(`lean@${station}`),
    height,
    skew: book.find(`skew@${station}`),
    out: outboardAt(model, bay?.station.y ?? 0),
    rib: bay?.main?.id ?? bay?.tip?.id ?? station,
  };
}

/**
 * How far a rib's hole stands off from where it would be with the rib square, along the span: lean and skew times
 * their arms.
 */
export function leaning(skeleton: Skeleton, joint: Joint, hole: Hole): Chain {
  const { lean, height, skew, out } = stanceAt(skeleton, joint.station);
  if (!lean && !skew) return [];
  const arm = armsOf(skeleton, joint, hole);
  return chain(
    ...(lean ? [[(out * arm.lean) / height, lean] as const] : []),
    ...(skew ? [[out * arm.skew, skew] as const] : []),
  );
}

interface Asked {
  readonly skeleton: Skeleton;
  readonly joint: Joint;
  readonly hole: Hole;
  /** Parts that turn with the rib. */
  readonly turning: ReadonlySet<string>;
  readonly back: (part: string) => boolean;
  /** Parts whose hole went to final together with the guide's: one drill made both. */
  readonly together: ReadonlySet<string>;
}

/** What a part's hole went along the span since it was drilled. */
function shifted({ skeleton, joint, hole, turning }: Asked, part: string, apart: boolean): Chain {
  if (!turning.has(part)) return [];
  if (apart) return leaning(skeleton, joint, hole);
  if (!joint.stood) return [];
  const now = leaning(skeleton, joint, hole);
  if (now.length === 0) return [];
  const arm = armsOf(skeleton, joint, hole);
  const { out } = stanceAt(skeleton, joint.station);
  const then = out * ((joint.stood.lean / 100) * arm.lean + joint.stood.skew * arm.skew);
  return combine(
    [1, now],
    [-1, chain([1, exact(`${joint.id}/${hole.id}.${part}.stood`, 'stood when the pilots were drilled', then)])],
  );
}

const throughOf = ({ joint, hole }: Asked, part: string): string =>
  hole.layers.find((l) => l.part === part)?.through ?? joint.guide;

const pair = (key: string, what: string, name: string, u: number): OffsetChains => ({
  along: chain([1, doubt(`${key}.along${what}`, name, u)]),
  up: chain([1, doubt(`${key}.up${what}`, name, u)]),
});
const sum = (...parts: readonly (readonly [number, OffsetChains])[]): OffsetChains => ({
  along: combine(...parts.map(([c, p]) => [c, p.along] as const)),
  up: combine(...parts.map(([c, p]) => [c, p.up] as const)),
});
const slid = (...parts: readonly (readonly [number, Chain])[]): OffsetChains => ({ along: combine(...parts), up: [] });

/** As read with pins, axis by axis; what was not read is reckoned from how the hole was made. */
function terms(asked: Asked, part: string, depth = 0): OffsetChains {
  const { skeleton, joint, hole, together } = asked;
  if (part === joint.guide || together.has(part)) return ZERO;
  const key = `${joint.id}/${hole.id}.${part}`;
  const [along, up] = [skeleton.book.find(`${key}.along`), skeleton.book.find(`${key}.up`)];
  const reckoned = along && up ? ZERO : reckon(asked, part, depth);
  return { along: along ? chain([1, along]) : reckoned.along, up: up ? chain([1, up]) : reckoned.up };
}

function reckon(asked: Asked, part: string, depth: number): OffsetChains {
  const { joint, hole, back } = asked;
  const [key, guide] = [`${joint.id}/${hole.id}.${part}`, `${joint.id}/${hole.id}.${joint.guide}`];
  const through = throughOf(asked, part);
  const again = back(part) ? pair(key, '.put-back', `${part} put back`, PUT_BACK) : ZERO;
  if (through === APART) {
    const [mine, theirs, sight] = [
      pair(key, '.marking', `marking of ${part}`, MARKING),
      pair(guide, '.marking', `marking of ${joint.guide}`, MARKING),
      pair(key, '.sighting', `sighting of ${part}`, SIGHTING),
    ];
    const turned = slid(
      [1, shifted(asked, part, true)],
      [-1, shifted(asked, joint.guide, throughOf(asked, joint.guide) === APART)],
    );
    return sum([1, mine], [-1, theirs], [1, sight], [1, again], [1, turned]);
  }
  const before = depth > joint.layers.length ? ZERO : terms(asked, through, depth + 1);
  const drift = pair(key, '', 'drill wander', WANDER);
  // Drilled as the two lay together; since then each has moved by what it was turned.
  const turned = slid([1, shifted(asked, part, false)], [-1, shifted(asked, through, false)]);
  return sum([1, before], [1, drift], [1, again], [1, turned]);
}

/** Offset chains of a layer's hole from the guide's, at a stage, the present one unless told. */
export function offsetsOf(
  skeleton: Skeleton,
  joint: Joint,
  hole: Hole,
  at: number = stageIndex(skeleton.model),
): (part: string) => OffsetChains {
  const guideFinal = hole.layers.some((l) => l.part === joint.guide && l.state === 'final');
  const together = new Set(
    guideFinal ? hole.layers.filter((l) => l.state === 'final' && l.through !== APART).map((l) => l.part) : [],
  );
  const asked: Asked = {
    skeleton,
    joint,
    hole,
    together,
    turning: turningParts(skeleton, joint.station),
    back: putBack(skeleton.model, at),
  };
  return (part) => terms(asked, part);
}

/** A chain as one Size: itself where it is one, else the sum. */
export function asSize(f: Chain, key: string, name: string): Size {
  const [only, ...more] = f;
  if (!only) return exact(key, name, 0);
  if (more.length === 0 && only.c === 1) return only.size;
  const u = uncertainty(f);
  return {
    key,
    name,
    best: best(f),
    u,
    tolerance: 2 * u,
    origin: f.some((t) => t.size.origin === 'measured') ? 'measured' : 'drawing',
  };
}
