import { best } from '../../chains/chain.ts';
import { show } from '../../checks/describe.ts';
import { alongAt } from '../../model/along.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import type { Fault } from '../../model/file/faults/fault.ts';
import { drawnClear } from '../../model/rooms.ts';
import type { Joint, Model, Reading, SparName, Station } from '../../model/schema.ts';
import { clearHeight } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatAngle } from '../../units.ts';
import { carrying } from '../carried.ts';
import { type Change, changesBetween } from '../effect.ts';
import { FREE, type Remedy } from '../remedy.ts';

/*
 * A rib moved along the span: the whole station goes, with its ribs, doublers and brackets. In a tapered panel the room
 * there is another one, so the parts are wanted in other sizes; the spars' holes stay where they were drilled.
 */

const SPARS = ['front', 'rear'] as const;

/** How much each reading taken at a station would read more at another place, the spars being what they are: by their taper and their strips. */
function carried(m: Model, station: Station, to: number): (size: string) => number {
  const by = new Map<string, number>([
    [`webs@${station.id}`, alongAt(m.webToWeb, to) - alongAt(m.webToWeb, station.y)],
  ]);
  for (const name of SPARS) {
    const spar = m.spars[name];
    if (!spar) continue;
    by.set(`${name}.depth@${station.id}`, alongAt(spar.depth, to) - alongAt(spar.depth, station.y));
    by.set(`${name}.clear@${station.id}`, drawnClear(m, name, to) - drawnClear(m, name, station.y));
    by.set(`${name}.cap@${station.id}`, alongAt(spar.capWidth, to) - alongAt(spar.capWidth, station.y));
  }
  return (size) => by.get(size) ?? 0;
}

const isSpar = (part: string): part is SparName => part === 'front' || part === 'rear';

/** Holes that stay behind, drilled in a spar at the old place. */
function leftBehind(model: Model, station: string): number {
  return model.joints
    .filter((j) => j.station === station)
    .flatMap((j) => j.holes)
    .filter((h) => h.layers.some((l) => isSpar(l.part) && l.state !== 'none')).length;
}

/** A joint at its new place: the spar is not drilled there yet, and the drill follows what is. */
function afresh(j: Joint): Joint {
  if (!j.holes.some((h) => h.layers.some((l) => isSpar(l.part) && l.state !== 'none'))) return j;
  const holes = j.holes.map((h) => ({
    ...h,
    layers: h.layers.map((l) => (isSpar(l.part) ? { ...l, state: 'none' as const, size: 0 } : l)),
  }));
  const lead = j.layers.find((part) => holes.some((h) => h.layers.some((l) => l.part === part && l.state !== 'none')));
  return { ...j, holes, guide: isSpar(j.guide) && lead !== undefined ? lead : j.guide };
}

/**
 * Hole readings of a joint at its new place. What was read of the spar's holes stays with them; offsets that counted from a
 * spar's hole count from the layer that leads now.
 */
function offsetsAfresh(j: Joint, readings: readonly Reading[]): Reading[] {
  const lead = afresh(j).guide;
  const own = (r: Reading): RegExpExecArray | null =>
    r.size.startsWith(`${j.id}/`) ? /^[^/]+\/([^.]+)\.([^.]+)\.(\w+)$/.exec(r.size) : null;
  const led = new Map(
    readings.flatMap((r): [string, number][] => {
      const m = own(r);
      return m && m[2] === lead && lead !== j.guide ? [[`${m[1]} ${m[3]}`, r.value]] : [];
    }),
  );
  return readings.flatMap((r) => {
    const m = own(r);
    if (!m) return [r];
    const [, hole, part, what] = m;
    if (isSpar(part!) || (what !== 'edge' && part === lead)) return [];
    return what === 'edge' ? [r] : [{ ...r, value: r.value - (led.get(`${hole} ${what}`) ?? 0) }];
  });
}

/** Moves a station s mm along the span, toward the last station (greater y); what the drawing wants there moves with it. */
export function moveStation(model: Model, id: string, s: number): Remedy {
  return {
    id: `move:${id}:${s}`,
    kind: 'move',
    name: `move station ${id} by ${show(model, s, 'mm')}`,
    station: id,
    part: id,
    cost: { ...FREE, moved: 1, holesLost: leftBehind(model, id) },
    askDesigner: true,
    layers: true,
    note: 'The skin rows, the brackets and whatever runs through the rib move with it.',
    edit: {
      name: `moved station ${id}`,
      apply: carrying((m) => {
        const ordered = [...m.stations].sort((a, b) => a.y - b.y);
        const line = (of: (st: Station) => number, y: number): number =>
          alongAt(
            ordered.map((st): [number, number] => [st.y, of(st)]),
            y,
          );
        const here = m.stations.find((st) => st.id === id);
        if (!here) return m;
        const more = carried(m, here, here.y + s);
        const drilled = m.joints.filter((j) => j.station === id && afresh(j) !== j);
        const offsets = drilled.reduce((list, j) => offsetsAfresh(j, list), [...m.readings]);
        return {
          ...m,
          stations: m.stations.map((st) =>
            st.id === id
              ? { ...st, y: st.y + s, nose: line((x) => x.nose, st.y + s), washout: line((x) => x.washout, st.y + s) }
              : st,
          ),
          joints: m.joints.map((j) => (drilled.includes(j) ? afresh(j) : j)),
          readings: offsets.map((r) => (more(r.size) === 0 ? r : { ...r, value: r.value + more(r.size) })),
        };
      }),
    },
  };
}

/** One thing a move asks for: what it is, as it is and as it would be, and the whole of it in a sentence. */
export interface Asked {
  readonly what: string;
  readonly before: string;
  readonly after: string;
  readonly sentence: string;
}

/** What a move asks of the parts, the spars and the readings; or why it cannot be made. */
export type MoveAnswer =
  | {
      readonly ok: true;
      readonly remedy: Remedy;
      readonly model: Model;
      readonly asks: readonly Asked[];
      readonly changes: readonly Change[];
    }
  | { readonly ok: false; readonly faults: readonly Fault[] };

const more = (model: Model, by: number, up: string, down: string): string =>
  `${show(model, Math.abs(by))} ${by < 0 ? down : up}`;

/** Rooms that change: between the caps, between the webs. */
function rooms(model: Model, after: Model, id: string): Asked[] {
  const asks: Asked[] = [];
  const at = (m: Model) => skeletonOf(m).bays.find((b) => b.station.id === id)!;
  const bay = at(model);
  const rib = bay.main ?? bay.tip;
  for (const spar of SPARS) {
    if (!model.spars[spar]) continue;
    const room = (m: Model): number => best(clearHeight(skeletonOf(m), spar, at(m).station));
    const by = room(after) - room(model);
    if (Math.abs(by) < 0.005) continue;
    const whose = spar === 'front' && bay.main === undefined ? undefined : rib?.id;
    asks.push({
      what: `room between the ${spar} caps`,
      before: show(model, room(model)),
      after: show(model, room(after)),
      sentence: whose
        ? `${whose} wants its ${spar} end ${more(model, by, 'higher', 'lower')} to fit as it does now.`
        : `The room at the ${spar} spar is ${more(model, by, 'higher', 'lower')}.`,
    });
  }
  if (model.spars.rear) {
    const webs = (m: Model): number => skeletonOf(m).book.get(`webs@${id}`).best;
    const by = webs(after) - webs(model);
    if (Math.abs(by) >= 0.005 && rib)
      asks.push({
        what: 'web to web',
        before: show(model, webs(model)),
        after: show(model, webs(after)),
        sentence: `${rib.id} wants to be ${more(model, by, 'longer', 'shorter')}.`,
      });
  }
  const nose = at(after).station.nose - bay.station.nose;
  const front = bay.nose ?? bay.tip;
  if (Math.abs(nose) >= 0.005)
    asks.push({
      what: 'nose before the front web',
      before: show(model, bay.station.nose),
      after: show(model, at(after).station.nose),
      sentence: front
        ? `${front.id} wants its nose ${more(model, nose, 'longer', 'shorter')}.`
        : `The nose there stands ${more(model, nose, 'further out', 'further in')}.`,
    });
  if (bay.nose) {
    const depth = (m: Model): number => skeletonOf(m).book.get(`front.depth@${id}`).best;
    const by = depth(after) - depth(model);
    if (Math.abs(by) >= 0.005)
      asks.push({
        what: 'front spar depth',
        before: show(model, depth(model)),
        after: show(model, depth(after)),
        sentence: `${bay.nose.id} wants its tail, and the contour with it, ${more(model, by, 'higher', 'lower')}.`,
      });
  }
  const angle = (deg: number): string => formatAngle((deg * Math.PI) / 180);
  const twist = at(after).station.washout - bay.station.washout;
  if (Math.abs(twist) >= 0.005)
    asks.push({
      what: 'washout wanted',
      before: angle(bay.station.washout),
      after: angle(at(after).station.washout),
      sentence: `The drawing wants it ${angle(Math.abs(twist))} more nose ${twist < 0 ? 'down' : 'up'} there.`,
    });
  return asks;
}

/** Distances to the next ribs either side. */
function bays(model: Model, after: Model, id: string): Asked[] {
  const all = skeletonOf(model).bays;
  const at = all.findIndex((b) => b.station.id === id);
  const y = after.stations.find((s) => s.id === id)!.y;
  return [all[at - 1], all[at + 1]].flatMap((next) => {
    if (!next) return [];
    const [was, is] = [Math.abs(next.station.y - all[at]!.station.y), Math.abs(next.station.y - y)];
    return [
      {
        what: `bay to ${next.station.id}`,
        before: show(model, was),
        after: show(model, is),
        sentence: `The skin between ${id} and ${next.station.id} is held over ${more(model, is - was, 'more', 'less')}; its rows and the rows of the ribs are laid out anew.`,
      },
    ];
  });
}

/** Ends of strips and web doublers near the old place and the new. */
function ends(model: Model, from: number, to: number): Asked[] {
  return SPARS.flatMap((name) => {
    const spar = model.spars[name];
    if (!spar) return [];
    const pieces = [
      ...spar.strips.map((s) => ({ ...s, what: 'cap strip' })),
      ...spar.webDoublers.map((s) => ({ ...s, what: 'web doubler' })),
    ];
    return pieces.flatMap((p): Asked[] => {
      const under = (y: number): boolean => y >= p.from && y <= p.to;
      const end = Math.abs(p.to - from) < Math.abs(p.from - from) ? p.to : p.from;
      const far = (y: number): string =>
        `${show(model, Math.abs(end - y))} ${under(y) ? 'inside its end' : 'clear of its end'}`;
      if (under(from) === under(to) && Math.min(Math.abs(end - from), Math.abs(end - to)) > 100) return [];
      const sentence =
        under(from) === under(to)
          ? `It stays ${under(to) ? 'on' : 'clear of'} the ${name} spar’s ${p.what}.`
          : `It ${under(to) ? 'comes onto' : 'comes clear of'} the ${name} spar’s ${p.what}, which ends at ${show(model, end)}.`;
      return [{ what: `${name} ${p.what}`, before: far(from), after: far(to), sentence }];
    });
  });
}

/** Rows, brackets, blocks and readings that belong to the old place. */
function leftHere(model: Model, id: string): Asked[] {
  const asks: Asked[] = [];
  const holes = leftBehind(model, id);
  if (holes > 0)
    asks.push({
      what: 'rows in the spars',
      before: `${holes} drilled`,
      after: `${holes} left open`,
      sentence: `${holes} holes stay behind in the spars, and new rows are drilled: ask the designer what becomes of the old ones.`,
    });
  for (const b of model.brackets.filter((x) => x.station === id))
    asks.push({
      what: `bracket ${b.id}`,
      before: `at ${id}`,
      after: 'moves too',
      sentence: `Bracket ${b.id} sits here: what hangs on it, a hinge or a strut, would have to move too. Ask the designer first.`,
    });
  if (model.survey.supports.includes(id))
    asks.push({
      what: 'jig block',
      before: `under ${id}`,
      after: 'moves too',
      sentence: `A jig block stands under ${id}; it moves with it, and the twist is read again.`,
    });
  const read = model.readings.filter((r) => r.size.endsWith(`@${id}`));
  if (read.length > 0)
    asks.push({
      what: 'readings',
      before: `${read.length} at the old place`,
      after: 'read again',
      sentence: `${read.length} readings were taken at the old place. Depth, room and chord follow the spars’ taper here; read them again when it stands.`,
    });
  return asks;
}

/** What moving a station s mm toward the last station asks of everything else, and what becomes of the parts as they are. */
export function askMove(model: Model, id: string, s: number): MoveAnswer {
  const remedy = moveStation(model, id, s);
  const done = applyEdit(model, remedy.edit);
  if (!done.ok) return done;
  const from = model.stations.find((st) => st.id === id)!.y;
  const asks = [
    ...rooms(model, done.model, id),
    ...ends(model, from, from + s),
    ...bays(model, done.model, id),
    ...leftHere(model, id),
  ];
  return { ok: true, remedy, model: done.model, asks, changes: changesBetween(model, done.model) };
}
