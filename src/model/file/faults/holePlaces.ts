import { alongAt } from '../../along.ts';
import { flangesPoint } from '../../hand.ts';
import type { Bracket, Doubler, Joint, Model, Rib, Spar, Strip } from '../../schema.ts';
import { endsOf } from './bodies.ts';
import { type Fault, type Faults, inMm } from './fault.ts';
import type { HoleSeen } from './holes.ts';

/*
 * Holes that lie outside the metal of a layer they are said to go through. A hole's place is that on the drawing:
 * along the span from the row, and up above the chord line, or in a cap from the web's face.
 */

/** What may be a layer, by name, looked up once for all joints. */
export interface Metal {
  readonly model: Model;
  readonly places: ReadonlyMap<string, number>;
  readonly ribs: ReadonlyMap<string, Rib>;
  readonly doublers: ReadonlyMap<string, Doubler>;
  readonly brackets: ReadonlyMap<string, Bracket>;
  readonly strips: ReadonlyMap<string, Strip>;
  readonly plates: ReadonlyMap<string, Spar['webDoublers'][number]>;
}

export function metalOf(model: Model): Metal {
  const spars = [model.spars.front, model.spars.rear].filter((s) => s !== undefined);
  const named = <T extends { readonly id?: string | undefined }>(list: readonly T[]): Map<string, T> =>
    new Map(list.flatMap((p) => (p.id === undefined ? [] : [[p.id, p] as const])));
  return {
    model,
    places: new Map(model.stations.map((s) => [s.id, s.y])),
    ribs: named(model.ribs),
    doublers: named(model.doublers),
    brackets: named(model.brackets),
    strips: named(spars.flatMap((s) => s.strips)),
    plates: named(spars.flatMap((s) => s.webDoublers)),
  };
}

/** One layer a hole is asked in, and where along the span its joint stands. */
interface Asked extends HoleSeen {
  readonly part: string;
  readonly y: number;
}

const isInCap = ({ on }: Joint): boolean => on === 'top' || on === 'bottom';

const offAcross = ({ joint, hole, path }: HoleSeen, what: string): Fault => ({
  path: `${path}.up`,
  sentence: `hole ${hole.id} of ${joint.id} lies ${inMm(Math.abs(hole.up))} from the chord line, outside ${what}; expected it in the metal; move it`,
});

const offAlong = ({ joint, hole, path }: HoleSeen, from: string, at: number, what: string): Fault => ({
  path: `${path}.along`,
  sentence: `hole ${hole.id} of ${joint.id} lies ${inMm(at)} ${from}, outside ${what}; expected it in the metal; move it`,
});

/**
 * A hole lies on the end flange of its rib. `along` is along the span, whichever way the flange points from the web.
 */
function* tabFaults(metal: Metal, seen: Asked, rib: Rib): Faults {
  const { joint, hole, path, y } = seen;
  const end = endsOf(rib)[rib.kind === 'nose' ? 'tail' : joint.end];
  if (!end) return;
  const up = Math.abs(hole.up);
  if (up > end.height / 2)
    yield {
      path: `${path}.up`,
      sentence: `hole ${hole.id} of ${joint.id} lies ${inMm(up)} from the chord line, outside the ${inMm(end.height)} end flange of ${rib.id}; expected it on the flange; move it`,
    };
  const off = end.row + flangesPoint(metal.model, rib, y) * hole.along;
  // A row that is itself off its flange is said once, of the rib.
  if (end.row < end.tab && (off < 0 || off > end.tab))
    yield {
      path: `${path}.along`,
      sentence: `hole ${hole.id} of ${joint.id} lies ${inMm(off)} from the web of ${rib.id}, outside its ${inMm(end.tab)} flange; expected it on the flange; move it`,
    };
}

/** In a spar's web a hole lies between the caps; in a cap, between the web's bend and the free edge. */
function* sparFaults(seen: Asked, spar: Spar): Faults {
  const { joint, hole, path, part, y } = seen;
  if (!isInCap(joint)) {
    const depth = alongAt(spar.depth, y);
    if (Math.abs(hole.up) > depth / 2) yield offAcross(seen, `the ${inMm(depth)} web of the ${part} spar`);
    return;
  }
  const width = alongAt(spar.capWidth, y + hole.along);
  if (hole.up <= spar.radius || hole.up >= width)
    yield {
      path: `${path}.up`,
      sentence: `hole ${hole.id} of ${joint.id} lies ${inMm(hole.up)} from the web's face, off the flat of the ${joint.end} cap, which runs from ${inMm(spar.radius)} to ${inMm(width)}; expected it on the cap; move it`,
    };
}

/** A plate lies evenly about the row, so high and so wide. */
function* plateFaults(seen: Asked, width: number, height: number | undefined): Faults {
  const { joint, hole, part } = seen;
  if (height !== undefined && !isInCap(joint) && Math.abs(hole.up) > height / 2)
    yield offAcross(seen, `${part}, which is ${inMm(height)} high`);
  const along = Math.abs(hole.along);
  if (along > width / 2) yield offAlong(seen, 'from the row', along, `${part}, which is ${inMm(width)} wide`);
}

/** A strip or a plate on a spar runs from one place along the span to another. */
function* stretchFaults(seen: Asked, { from, to }: { readonly from: number; readonly to: number }): Faults {
  const { hole, part, y } = seen;
  const at = y + hole.along;
  if (at < from || at > to)
    yield offAlong(seen, 'along the span', at, `${part}, which runs from ${inMm(from)} to ${inMm(to)}`);
}

/** A hole in a plate on a spar's web. */
function* webPlateFaults(seen: Asked, plate: Spar['webDoublers'][number]): Faults {
  if (Math.abs(seen.hole.up) > plate.height / 2)
    yield offAcross(seen, `${seen.part}, which is ${inMm(plate.height)} high`);
  yield* stretchFaults(seen, plate);
}

/** A hole against one layer: what it lies outside of. The skin is everywhere. */
function layerFaults(metal: Metal, seen: Asked): Faults | readonly Fault[] {
  const { part, joint } = seen;
  const rib = metal.ribs.get(part);
  if (rib) return isInCap(joint) ? [] : tabFaults(metal, seen, rib);
  const spar = part === 'front' || part === 'rear' ? metal.model.spars[part] : undefined;
  if (spar) return sparFaults(seen, spar);
  const doubler = metal.doublers.get(part);
  if (doubler) return plateFaults(seen, doubler.width, doubler.form === 'flat' ? doubler.height : undefined);
  const bracket = metal.brackets.get(part);
  if (bracket) return plateFaults(seen, bracket.width, bracket.height);
  const plate = metal.plates.get(part);
  if (plate) return webPlateFaults(seen, plate);
  const strip = metal.strips.get(part);
  return strip ? stretchFaults(seen, strip) : [];
}

/** The order layers are asked in: main ribs first, for a row is laid out on their flanges. */
const mainFirst = (metal: Metal, layers: readonly string[]): string[] =>
  [...layers].sort((a, b) => Number(metal.ribs.get(b)?.kind === 'main') - Number(metal.ribs.get(a)?.kind === 'main'));

/**
 * A hole lies in the metal of every layer of its joint; of several it lies outside of, the first is named, once for
 * each way.
 */
export function* holePlaceFaults(metal: Metal, seen: HoleSeen): Faults {
  const y = metal.places.get(seen.joint.station);
  if (y === undefined) return;
  const said = new Set<string>();
  for (const part of mainFirst(metal, seen.joint.layers))
    for (const fault of layerFaults(metal, { ...seen, part, y })) {
      if (said.has(fault.path)) continue;
      said.add(fault.path);
      yield fault;
    }
}
