import { alongAt } from '../../src/model/along.ts';
import { outboardAt } from '../../src/model/hand.ts';
import { QUANTITIES, UPRIGHT } from '../../src/model/quantities.ts';
import type { Doubler, MainRib, Model, SparName, Station, TipRib } from '../../src/model/schema.ts';
import type { SizeEntry } from '../../src/model/sizeEntries.ts';
import { sizeEntries } from '../../src/model/sizes.ts';
import type { Draw } from '../random-panel.ts';

/*
 * A panel as it truly is: the size every part has, how each rib stands and what lies under each spar. A perfect instrument is
 * held to it, and what it reads is written down here once more, by hand, from where the parts are: it asks no chain of the
 * program, so that an act's list of what it moves can be held against metal that was moved.
 */

export interface Metal {
  /** The parts there are and how they are put together; its readings and drawing sizes are not looked at. */
  readonly model: Model;
  /** What each size of a part, a spar or a hole truly is, and how a rib stands. */
  readonly own: ReadonlyMap<string, number>;
  /** Packs under a spar: how far it is lifted at each station, mm. */
  readonly lifts: Readonly<Record<SparName, ReadonlyMap<string, number>>>;
}

/** Kinds that are read off where parts meet or stand, not off one part. */
const ROOMS: ReadonlySet<string> = new Set([
  'gap',
  'step',
  'clear',
  'protrusion',
  'heightOver',
  'level',
  'plumb',
  'diagonal',
]);

const isRoom = (e: SizeEntry): boolean => ROOMS.has(e.kind) && e.of.joint === undefined;

/** A panel's metal, every part within its drawing tolerance; what no drawing gives lies a little off nothing. */
export function metalOf(model: Model, d: Draw): Metal {
  const own = new Map<string, number>();
  for (const e of sizeEntries(model).values()) {
    if (isRoom(e)) continue;
    const off = e.tolerance ?? QUANTITIES[e.kind].tolerance;
    own.set(e.key, e.nominal === undefined ? d.between(-0.5, 0.5) : e.nominal + d.between(-off, off));
  }
  return { model, own, lifts: { front: new Map(), rear: new Map() } };
}

const sum = (all: readonly number[]): number => all.reduce((a, b) => a + b, 0);

/** Asks of metal, by hand. */
class Gauge {
  readonly #metal: Metal;

  constructor(metal: Metal) {
    this.#metal = metal;
  }

  own(key: string): number {
    return this.#metal.own.get(key) ?? 0;
  }

  #thick(sheet: string): number {
    return this.own(`sheet.${sheet}`);
  }

  station(id: string | undefined): Station {
    const found = this.#metal.model.stations.find((s) => s.id === id);
    if (!found) throw new RangeError(`no station ${id}`);
    return found;
  }

  /** Thickness of all pieces at a rib end that lie on one of some faces; a channel lies on all three. */
  pieces(part: string, end: Doubler['end'], on: Doubler['on']): number {
    const here = this.#metal.model.doublers.filter((d) => d.part === part && d.end === end);
    return sum(here.filter((d) => d.form === 'channel' || d.on === on).map((d) => this.#thick(d.sheet)));
  }

  /** Between a spar's caps, mm. */
  clear(name: SparName, id: string): number {
    const spar = this.#metal.model.spars[name];
    if (!spar) return 0;
    const { y } = this.station(id);
    const strips = spar.strips.filter((s) => y >= s.from && y <= s.to);
    const taken = strips.map((s) => (s.caps === 'both' ? 2 : 1) * this.#thick(s.sheet));
    return this.own(`${name}.depth@${id}`) - 2 * this.#thick(spar.sheet) - sum(taken);
  }

  /** Daylight at the top and at the bottom of a rib end between the caps. */
  caps(part: string, end: Doubler['end'], id: string): { top: number; bottom: number } {
    const spar = end === 'rear' ? 'rear' : 'front';
    const key = `${part}.${end}`;
    const half =
      (this.clear(spar, id) - this.own(`${key}.height`) - this.own(`${spar}.droop@${id}`)) / 2 -
      this.own(`${key}.open`);
    const held = this.own(`${key}.bias`);
    return { top: half - held - this.pieces(part, end, 'top'), bottom: half + held - this.pieces(part, end, 'bottom') };
  }

  /** The contour at a rib end over the caps, both sides together. */
  steps(part: string, end: Doubler['end'], id: string): number {
    const spar = end === 'rear' ? 'rear' : 'front';
    const over = this.own(`${part}.${end}.height`) + 2 * this.own(`${part}.${end}.joggle`);
    return this.own(`${spar}.depth@${id}`) - over;
  }

  /** Left between a main rib and the webs. */
  chord(part: string, id: string): number {
    const { front } = this.#metal.model.spars;
    const webs = this.pieces(part, 'front', 'web') + this.pieces(part, 'rear', 'web');
    return this.own(`webs@${id}`) - this.#thick(front.sheet) - webs - this.own(`${part}.length`);
  }

  /** The nose forward of the front web. */
  nose(id: string): number {
    const here = this.#metal.model.ribs.filter((r) => r.station === id);
    const nose = here.find((r) => r.kind === 'nose');
    if (nose) return this.own(`${nose.id}.length`) + this.pieces(nose.id, 'tail', 'web');
    const tip = here.find((r) => r.kind === 'tip');
    if (tip?.kind !== 'tip') return 0;
    if (tip.registered === 'front' && tip.clip) return tip.clip.forward + this.own(`${tip.id}.clip`);
    return this.own(`${tip.id}.length`) + this.pieces(tip.id, 'rear', 'web') - this.own(`webs@${id}`);
  }

  lift(spar: SparName, id: string): number {
    return this.#metal.lifts[spar].get(id) ?? 0;
  }

  /** The chord's turn, nose up, by what lies under the spars, radians. */
  turn(id: string): number {
    return (this.lift('front', id) - this.lift('rear', id)) / this.own(`webs@${id}`);
  }

  /** How far packs bend a spar up off the straight line through its ends. */
  bent(spar: SparName, id: string): number {
    const ordered = [...this.#metal.model.stations].sort((a, b) => a.y - b.y);
    const [a, b] = [ordered[0]!, ordered.at(-1)!];
    const t = (this.station(id).y - a.y) / (b.y - a.y);
    return this.lift(spar, id) - (1 - t) * this.lift(spar, a.id) - t * this.lift(spar, b.id);
  }

  /** From the front web at one station to the rear web at another, whose rib stands skewed. */
  diagonal(from: string, to: string): number {
    const { model } = this.#metal;
    const [a, b] = [this.station(from), this.station(to)];
    const swung = outboardAt(model, b.y) * this.own(`skew@${to}`);
    return Math.hypot(b.y + swung - a.y, alongAt(model.webToWeb, b.y));
  }
}

/** How far a hole of a rib that leans and stands skewed has gone along the span, y positive: its height times the lean, at the rear the skew. */
function swungBy(metal: Metal, gauge: Gauge, { of }: SizeEntry): number {
  const { model } = metal;
  const joint = model.joints.find((j) => j.id === of.joint);
  const hole = joint?.holes.find((h) => h.id === of.hole);
  if (!joint || !hole || of.axis !== 'along' || of.layer === joint.guide) return 0;
  const rib = model.ribs.find((r): r is MainRib | TipRib => r.station === joint.station && r.kind !== 'nose');
  const turns = rib && (of.layer === rib.id || model.doublers.some((d) => d.id === of.layer && d.part === rib.id));
  if (!rib || !turns) return 0;
  const height = rib.kind === 'main' ? rib.front.height : rib.rear.height;
  const lean = (gauge.own(`lean@${joint.station}`) * hole.up) / height;
  const skew = joint.end === 'rear' ? gauge.own(`skew@${joint.station}`) : 0;
  return outboardAt(model, gauge.station(joint.station).y) * (lean + skew);
}

/** What a gap or steps read, by what of a part it is. */
function felt(gauge: Gauge, { key, kind, of, station }: SizeEntry): number {
  const { part = '', end, side } = of;
  const id = station ?? '';
  if (key.startsWith('chord.')) return gauge.chord(part, id);
  if (end === undefined) return 0;
  if (kind === 'step') return gauge.steps(part, end, id);
  const { top, bottom } = gauge.caps(part, end, id);
  if (side === undefined) return top + bottom;
  return side === 'top' ? top : bottom;
}

/** What a perfect instrument reads of a size, mm or degrees. */
export function readOff(metal: Metal, e: SizeEntry): number {
  const gauge = new Gauge(metal);
  const { station = '', spar = 'front', from = '', to = '' } = e.of;
  if (!isRoom(e)) {
    const own = gauge.own(e.key);
    if (e.kind === 'camber') return own + gauge.bent(spar, station);
    return e.kind === 'offset' ? own + swungBy(metal, gauge, e) : own;
  }
  switch (e.kind) {
    case 'clear':
      return gauge.clear(spar, station);
    case 'protrusion':
      return gauge.nose(station);
    case 'heightOver':
      return 60 + gauge.lift(spar, station);
    case 'level':
      return (gauge.turn(station) * 180) / Math.PI;
    case 'plumb':
      return gauge.turn(station) * UPRIGHT;
    case 'diagonal':
      return gauge.diagonal(from, to);
    default:
      return felt(gauge, e);
  }
}
