import { NEAR } from '../../units/near.ts';
import { alongAt } from '../along.ts';
import { APART, SKIN } from '../metal.ts';
import type { Hole, Joint, Model, SparName } from '../schema.ts';
import type { Edit } from './edits.ts';

/** A row of holes along a tab, cap or web: how many, how far apart, and where its middle is. */
export interface RowRule {
  readonly count: number;
  /** Hole to hole, mm. */
  readonly pitch: number;
  /** Along the span from the row's own line, mm; a row in a cap runs along the span, evenly about this. */
  readonly along: number;
}

/** Places of a row's holes above the chord line, top first, evenly about the middle. Three at 24: 24, 0, -24. */
export function rowPlaces({ count, pitch }: RowRule): number[] {
  return Array.from({ length: count }, (_, i) => ((count - 1) / 2 - i) * pitch);
}

/**
 * Most holes of a pitch that a row of a length takes with an edge distance kept at both ends. 70 mm, 2.5D of 1/8 in,
 * 4D: 5.
 */
export function mostHoles(length: number, edge: number, pitch: number): number {
  return length < 2 * edge ? 0 : Math.floor((length - 2 * edge) / pitch + NEAR) + 1;
}

/** A row laid out from the edge distance kept at both ends of a length. */
export interface FromEdge {
  /** Of the tab, the web or the stretch of cap, mm. */
  readonly length: number;
  readonly edge: number;
}

/** As many holes of a pitch as go in, evenly about the middle. 70 mm, edge 8, pitch 13: 5 holes at 13. */
export function rowOfPitch({ length, edge }: FromEdge, pitch: number): RowRule | null {
  const count = mostHoles(length, edge, pitch);
  return count < 1 ? null : { count, pitch, along: 0 };
}

/** So many holes, the end ones at the edge distance, the pitch as it comes. 70 mm, edge 8, 4 holes: 18 apart. */
export function rowOfCount({ length, edge }: FromEdge, count: number): RowRule | null {
  if (count < 1 || length < 2 * edge) return null;
  return { count, pitch: count === 1 ? 0 : (length - 2 * edge) / (count - 1), along: 0 };
}

/** Lays a joint's row out anew; a row with a hole drilled in it is not moved: null says so. */
export function layRow(joint: Joint, rule: RowRule): Edit | null {
  if (joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'))) return null;
  const inCap = !inWeb(joint);
  const across = joint.holes[0]?.up ?? 0;
  const holes = rowPlaces(rule).map(
    (at, i): Hole => ({
      id: `h${i + 1}`,
      ...(inCap ? { along: at + rule.along, up: across } : { along: rule.along, up: at }),
      layers: joint.layers.map((part) => ({ part, state: 'none', size: 0 })),
    }),
  );
  return {
    name: `laid out ${rule.count} holes at ${joint.id}`,
    apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, holes } : j)) }),
  };
}

/** Whether a joint's row runs in a spar's web, and not in a cap. */
export const inWeb = ({ on }: Pick<Joint, 'on'>): boolean => on === undefined || on === 'web';

/**
 * What lies in a cap at a station from outside: skin, cap, strips that have a name, the legs of channels and shims at
 * the rib's end, the rib.
 */
export function capLayers(model: Model, station: string, end: SparName, on: 'top' | 'bottom'): string[] {
  const spar = model.spars[end];
  const y = model.stations.find((s) => s.id === station)?.y;
  if (!spar || y === undefined) return [];
  const strips = spar.strips
    .filter((s) => y >= s.from && y <= s.to && (s.caps === 'both' || s.caps === on))
    .flatMap((s) => s.id ?? []);
  const rib = model.ribs.find(
    (r) => r.station === station && (r.kind === 'main' || (r.kind === 'tip' && end === 'rear')),
  );
  const between = rib
    ? model.doublers
        .filter((d) => d.part === rib.id && d.end === end && (d.form === 'channel' || d.on === on))
        .map((d) => d.id)
    : [];
  return [...(model.skin ? [SKIN] : []), end, ...strips, ...between, ...(rib ? [rib.id] : [])];
}

/**
 * A new row in a cap at a station, with the rivet and drills of a joint that is there already; two holes beside the
 * rib's row line, one pitch of 5D apart.
 */
export function capRow(model: Model, like: Joint, on: 'top' | 'bottom'): Edit | null {
  const spar = model.spars[like.end];
  const y = model.stations.find((s) => s.id === like.station)?.y;
  const layers = capLayers(model, like.station, like.end, on);
  if (!spar || y === undefined || layers.length < 2) return null;
  const taken = new Set(
    [...model.joints, ...model.ribs, ...model.doublers, ...model.brackets, ...model.stations].map((p) => p.id),
  );
  const name = `${on === 'top' ? 'U' : 'L'}${like.end === 'front' ? 'f' : 'r'}-${like.station}`;
  let id = name;
  for (let i = 2; taken.has(id); i++) id = `${name}-${i}`;
  const sheet = model.sheets.find((s) => s.id === spar.sheet)?.thickness ?? 0;
  const up = (alongAt(spar.capWidth, y) + sheet + spar.radius) / 2;
  const { stood: _, ...rest } = like;
  const bare: Joint = {
    ...rest,
    id,
    on,
    layers,
    guide: like.end,
    holes: [{ id: 'h1', along: 0, up, layers: layers.map((part) => ({ part, state: 'none', size: 0 })) }],
  };
  return {
    name: `laid a row in the ${on} cap of the ${like.end} spar at ${like.station}`,
    apply: (m) => ({ ...m, joints: [...m.joints, bare] }),
  };
}

/** How the layers of a hole were drilled. */
export interface Drilling {
  readonly parts: readonly string[];
  readonly state: 'pilot' | 'final';
  /** Marked and drilled by itself, not through the guide. */
  readonly apart?: boolean;
  /** How the rib stood, kept with the joint for its first pilots: squaring it afterwards moves them. */
  readonly stood?: Joint['stood'];
}

/** Records that several layers of a hole were drilled in one go; one step for undo. */
export function drilledThrough(joint: Joint, hole: string, { parts, state, apart = false, stood }: Drilling): Edit {
  const steps = parts.map((part) => layerDrilled(joint, hole, part, state));
  const marked = (m: Model): Model => ({
    ...m,
    joints: m.joints.map((j) =>
      j.id !== joint.id
        ? j
        : {
            ...j,
            ...(stood && !j.stood && state === 'pilot' ? { stood } : {}),
            holes: j.holes.map((h) =>
              h.id !== hole || !apart
                ? h
                : { ...h, layers: h.layers.map((l) => (parts.includes(l.part) ? { ...l, through: APART } : l)) },
            ),
          },
    ),
  });
  return {
    name: `drilled ${joint.id} ${hole} ${state} in ${parts.join(', ')}`,
    apply: (m) => marked(steps.reduce((now, step) => step.apply(now), m)),
  };
}

/** Records that one layer of a hole was drilled: pilot or final, at the joint's size. */
export function layerDrilled(joint: Joint, hole: string, part: string, state: 'pilot' | 'final'): Edit {
  const size = state === 'pilot' ? joint.pilot : joint.final;
  const mark = (h: Hole): Hole => {
    if (h.id !== hole) return h;
    const has = h.layers.some((l) => l.part === part);
    return {
      ...h,
      layers: has
        ? h.layers.map((l) => (l.part === part ? { ...l, state, size } : l))
        : [...h.layers, { part, state, size }],
    };
  };
  return {
    name: `drilled ${joint.id} ${hole} ${state} in ${part}`,
    apply: (m) => ({ ...m, joints: m.joints.map((j) => (j.id === joint.id ? { ...j, holes: j.holes.map(mark) } : j)) }),
  };
}
