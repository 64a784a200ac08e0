import { best } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import type { Model, SparName } from '../../model/schema.ts';
import type { Bay, EndName } from '../../parts/layout/layout.ts';
import { clearHeight } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatAngle } from '../../units.ts';
import { changesBetween, type FindingChange } from '../effect.ts';
import type { Remedy } from '../remedy.ts';
import { heightWanted, lengthWanted, noseLengthWanted, tailHeightWanted, type WantedSize } from '../wantedThere.ts';
import { BOTH_SPARS, leftBehind, moveStation } from './move.ts';

/*
 * What does moving a rib along the span ask of the parts, the spars and the readings, and what becomes of the parts
 * as they are?
 */

/** One thing a move asks for: what it is, as it is and as it would be, and the whole of it in a sentence. */
export interface MoveAsk {
  readonly what: string;
  readonly before: string;
  readonly after: string;
  readonly sentence: string;
}

/** What a move asks of everything else; or why it cannot be made. */
export type MoveAnswer =
  | {
      readonly ok: true;
      readonly remedy: Remedy;
      readonly model: Model;
      readonly asks: readonly MoveAsk[];
      readonly changes: readonly FindingChange[];
    }
  | { readonly ok: false; readonly faults: readonly Fault[] };

/** A panel before and after, and what stands at the station that moves. */
interface Move {
  readonly model: Model;
  readonly after: Model;
  readonly id: string;
  readonly bay: Bay;
  readonly there: Bay;
}

/** Smaller than this, mm or degrees, nothing is asked. */
const LEAST = 0.005;

const by = (model: Model, more: number, [up, down]: readonly [string, string]): string =>
  `${show(model, Math.abs(more))} ${more < 0 ? down : up}`;

/** `There M5 wants 139.47 mm at the front: 0.79 mm lower than it is.` */
function wantsThere(
  model: Model,
  { wanted, now }: WantedSize,
  part: string,
  where: string,
  words: readonly [string, string],
): string {
  const how = Math.abs(wanted - now) < LEAST ? 'as it is' : `${by(model, wanted - now, words)} than it is`;
  return `There ${part} wants ${show(model, wanted)} ${where}: ${how}.`;
}

/** One row: a size of the place before and after, in its own words; none where it stays. */
function asked(model: Model, what: string, [was, is]: readonly [number, number], say: () => string): MoveAsk[] {
  if (Math.abs(is - was) < LEAST) return [];
  return [{ what, before: show(model, was), after: show(model, is), sentence: say() }];
}

/** The rib that nests at a spar there: at the front the main rib alone, for a nose or tip rib butts. */
function nestsAt({ bay }: Move, spar: SparName): { id: string; end: EndName } | undefined {
  if (bay.main) return { id: bay.main.id, end: spar };
  return bay.tip && spar === 'rear' ? { id: bay.tip.id, end: spar } : undefined;
}

function capRooms(move: Move): MoveAsk[] {
  const { model, after, bay, there } = move;
  return BOTH_SPARS.filter((spar) => model.spars[spar]).flatMap((spar) => {
    const was = best(clearHeight(skeletonOf(model), spar, bay.station));
    const is = best(clearHeight(skeletonOf(after), spar, there.station));
    return asked(model, `room between the ${spar} caps`, [was, is], () => {
      const rib = nestsAt(move, spar);
      const wanted = rib && heightWanted(model, after, rib.id, rib.end);
      return rib && wanted
        ? wantsThere(model, wanted, rib.id, `at the ${spar}`, ['higher', 'lower'])
        : `The room at the ${spar} spar is ${by(model, is - was, ['higher', 'lower'])}.`;
    });
  });
}

function websRoom({ model, after, id, bay }: Move): MoveAsk[] {
  const rib = bay.main ?? bay.tip;
  if (!model.spars.rear || !rib) return [];
  const webs = (m: Model): number => skeletonOf(m).book.get(`webs@${id}`).best;
  const [was, is] = [webs(model), webs(after)];
  return asked(model, 'web to web', [was, is], () => {
    const wanted = bay.main ? lengthWanted(model, after, id) : noseLengthWanted(after, id);
    return wanted
      ? wantsThere(model, wanted, rib.id, 'of length', ['longer', 'shorter'])
      : `The room between the webs is ${by(model, is - was, ['longer', 'shorter'])}.`;
  });
}

function nosePlace({ model, after, id, bay, there }: Move): MoveAsk[] {
  const rib = bay.nose ?? bay.tip;
  const [was, is] = [bay.station.nose, there.station.nose];
  return asked(model, 'nose before the front web', [was, is], () => {
    const wanted = noseLengthWanted(after, id);
    return rib && wanted
      ? wantsThere(model, wanted, rib.id, 'of length to its nose', ['longer', 'shorter'])
      : `The nose there stands ${by(model, is - was, ['further out', 'further in'])}.`;
  });
}

function sparDepth({ model, after, id, bay }: Move): MoveAsk[] {
  const { nose } = bay;
  if (!nose) return [];
  const depth = (m: Model): number => skeletonOf(m).book.get(`front.depth@${id}`).best;
  const [was, is] = [depth(model), depth(after)];
  return asked(model, 'front spar depth', [was, is], () => {
    const wanted = tailHeightWanted(model, after, id) ?? heightWanted(model, after, nose.id, 'tail');
    return wanted
      ? wantsThere(model, wanted, nose.id, 'at its tail, and the contour with it', ['higher', 'lower'])
      : `The spar there is ${by(model, is - was, ['deeper', 'shallower'])}.`;
  });
}

function washout({ bay, there }: Move): MoveAsk[] {
  const angle = (deg: number): string => formatAngle((deg * Math.PI) / 180);
  const [was, is] = [bay.station.washout, there.station.washout];
  if (Math.abs(is - was) < LEAST) return [];
  const sentence = `The drawing wants it ${angle(Math.abs(is - was))} more nose ${is < was ? 'down' : 'up'} there.`;
  return [{ what: 'washout wanted', before: angle(was), after: angle(is), sentence }];
}

/** Distances to the next ribs either side. */
function bays({ model, id, bay, there }: Move): MoveAsk[] {
  const all = skeletonOf(model).bays;
  return [all[bay.index - 1], all[bay.index + 1]].flatMap((next) => {
    if (!next) return [];
    const [was, is] = [bay, there].map((b) => Math.abs(next.station.y - b.station.y));
    if (was === undefined || is === undefined) return [];
    return [
      {
        what: `bay to ${next.station.id}`,
        before: show(model, was),
        after: show(model, is),
        sentence: `The skin between ${id} and ${next.station.id} is held over ${by(model, is - was, ['more', 'less'])}; its rows and the rows of the ribs are laid out anew.`,
      },
    ];
  });
}

/** A strip or a doubler of a spar's web: where it starts and ends along the span, mm. */
interface Along {
  readonly what: 'cap strip' | 'web doubler';
  readonly from: number;
  readonly to: number;
}

/** How a place lies to a piece whose end is near: under it and how far inside its end, or clear of it. */
function endAsked(model: Model, spar: SparName, piece: Along, [from, to]: readonly [number, number]): MoveAsk[] {
  const under = (y: number): boolean => y >= piece.from && y <= piece.to;
  const end = Math.abs(piece.to - from) < Math.abs(piece.from - from) ? piece.to : piece.from;
  const far = (y: number): string =>
    `${show(model, Math.abs(end - y))} ${under(y) ? 'inside its end' : 'clear of its end'}`;
  const stays = under(from) === under(to);
  if (stays && Math.min(Math.abs(end - from), Math.abs(end - to)) > 100) return [];
  const name = `the ${spar} spar’s ${piece.what}`;
  const moves = under(to) ? 'comes onto' : 'comes clear of';
  const sentence = stays
    ? `It stays ${under(to) ? 'on' : 'clear of'} ${name}.`
    : `It ${moves} ${name}, which ends at ${show(model, end)}.`;
  return [{ what: `${spar} ${piece.what}`, before: far(from), after: far(to), sentence }];
}

/** Ends of strips and web doublers near the old place and the new. */
function ends({ model, bay, there }: Move): MoveAsk[] {
  return BOTH_SPARS.flatMap((name) => {
    const spar = model.spars[name];
    const pieces: Along[] = [
      ...(spar?.strips ?? []).map((s): Along => ({ ...s, what: 'cap strip' })),
      ...(spar?.webDoublers ?? []).map((s): Along => ({ ...s, what: 'web doubler' })),
    ];
    return pieces.flatMap((p) => endAsked(model, name, p, [bay.station.y, there.station.y]));
  });
}

function holesLeft({ model, id }: Move): MoveAsk[] {
  const holes = leftBehind(model, id);
  if (holes === 0) return [];
  return [
    {
      what: 'rows in the spars',
      before: `${holes} drilled`,
      after: `${holes} left open`,
      sentence: `${holes} holes stay behind in the spars, and new rows are drilled: ask the designer what becomes of the old ones.`,
    },
  ];
}

function brackets({ model, id }: Move): MoveAsk[] {
  return model.brackets
    .filter((b) => b.station === id)
    .map((b) => ({
      what: `bracket ${b.id}`,
      before: `at ${id}`,
      after: 'moves too',
      sentence: `Bracket ${b.id} sits here: what hangs on it, a hinge or a strut, would have to move too. Ask the designer first.`,
    }));
}

function jigBlock({ model, id }: Move): MoveAsk[] {
  if (!model.survey.supports.includes(id)) return [];
  return [
    {
      what: 'jig block',
      before: `under ${id}`,
      after: 'moves too',
      sentence: `A jig block stands under ${id}; it moves with it, and the twist is read again.`,
    },
  ];
}

function readings({ model, id }: Move): MoveAsk[] {
  const read = model.readings.filter((r) => r.size.endsWith(`@${id}`)).length;
  if (read === 0) return [];
  return [
    {
      what: 'readings',
      before: `${read} at the old place`,
      after: 'read again',
      sentence: `${read} readings were taken at the old place. Depth, room and chord follow the spars’ taper here; read them again when it stands.`,
    },
  ];
}

const ASKS: readonly ((move: Move) => MoveAsk[])[] = [
  capRooms,
  websRoom,
  nosePlace,
  sparDepth,
  washout,
  ends,
  bays,
  holesLeft,
  brackets,
  jigBlock,
  readings,
];

/**
 * What moving a station s mm toward the last station asks of everything else, and what becomes of the parts as they
 * are.
 */
export function askMove(model: Model, id: string, s: number): MoveAnswer {
  const remedy = moveStation(model, id, s);
  const done = applyEdit(model, remedy.edit);
  if (!done.ok) return done;
  const after = done.model;
  const here = (m: Model): Bay | undefined => skeletonOf(m).bays.find((b) => b.station.id === id);
  const [bay, there] = [here(model), here(after)];
  if (!bay || !there) throw new RangeError(`no station is called "${id}"`);
  const move: Move = { model, after, id, bay, there };
  return {
    ok: true,
    remedy,
    model: after,
    asks: ASKS.flatMap((ask) => ask(move)),
    changes: changesBetween(model, after),
  };
}
