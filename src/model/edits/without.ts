import type { Hole, Joint, Model } from '../schema.ts';
import { sizeEntries } from '../sizes.ts';

/*
 * What is left of a panel when parts are taken out of it: no joint, hole, stage or reading names them any more. The
 * one way to take a part out, for the tables and for the cures alike.
 */

type Layer = Hole['layers'][number];

/**
 * What a layer's hole was drilled through once some layers are gone: what the lost one was drilled through in its turn,
 * for the drill followed that. Nothing where it comes to the guide.
 */
function throughOf(layer: Layer, hole: Hole, gone: ReadonlySet<string>): string | undefined {
  let at = layer.through;
  for (let i = 0; at !== undefined && gone.has(at) && i <= hole.layers.length; i++)
    at = hole.layers.find((l) => l.part === at)?.through;
  return at === undefined || gone.has(at) || at === layer.part ? undefined : at;
}

function holeWithout(hole: Hole, gone: ReadonlySet<string>): Hole {
  const layers = hole.layers
    .filter((l) => !gone.has(l.part))
    .map((l): Layer => {
      if (l.through === undefined || !gone.has(l.through)) return l;
      const { through: _, ...rest } = l;
      const through = throughOf(l, hole, gone);
      return through === undefined ? rest : { ...rest, through };
    });
  return { ...hole, layers };
}

/**
 * The joint without some of its layers. Where the guide was one of them, the first layer that is drilled leads, else
 * a spar, else the first.
 */
function jointWithout(j: Joint, gone: ReadonlySet<string>): Joint {
  if (!j.layers.some((l) => gone.has(l))) return j;
  const layers = j.layers.filter((l) => !gone.has(l));
  const holes = j.holes.map((h) => holeWithout(h, gone));
  const drilled = (part: string): boolean =>
    holes.some((h) => h.layers.some((l) => l.part === part && l.state !== 'none'));
  const guide = layers.includes(j.guide)
    ? j.guide
    : (layers.find(drilled) ?? layers.find((l) => l === j.end) ?? layers[0] ?? j.guide);
  return { ...j, layers, holes, guide };
}

/**
 * Offsets at joints that have another guide than they had: they count from the hole of the one that leads now, whose
 * own are none.
 */
function offsetsFrom(before: Model, after: readonly Joint[], readings: Model['readings']): Model['readings'] {
  const entries = sizeEntries(before);
  const led = new Map(
    after.flatMap((j): [string, string][] =>
      before.joints.find((b) => b.id === j.id)?.guide === j.guide ? [] : [[j.id, j.guide]],
    ),
  );
  if (led.size === 0) return readings;
  const own = (size: string): { readonly leads: boolean; readonly offset: string } | undefined => {
    const { joint = '', hole, layer, axis } = entries.get(size)?.of ?? {};
    if (axis === undefined || !led.has(joint)) return undefined;
    return { leads: led.get(joint) === layer, offset: `${joint}/${hole} ${axis}` };
  };
  const first = new Map<string, number>();
  for (const r of readings) {
    const at = own(r.size);
    if (at?.leads && !first.has(at.offset)) first.set(at.offset, r.value);
  }
  return readings.flatMap((r) => {
    const at = own(r.size);
    if (!at) return [r];
    return at.leads ? [] : [{ ...r, value: r.value - (first.get(at.offset) ?? 0) }];
  });
}

/** Drops the readings of sizes that a panel had before and has no more: of its lost parts, joints, stations. */
export function readingsLeft(before: Model, after: Model): Model {
  const [had, has] = [sizeEntries(before), sizeEntries(after)];
  const readings = after.readings.filter((r) => has.has(r.size) || !had.has(r.size));
  return readings.length === after.readings.length ? after : { ...after, readings };
}

/**
 * The panel without some parts or joints, and without the doublers of lost ribs. A joint left with one layer goes
 * too. A nose read from the string goes with the rib that had it.
 */
export function withoutPart(m: Model, ids: ReadonlySet<string>): Model {
  const gone = new Set([...ids, ...m.doublers.filter((d) => ids.has(d.part)).map((d) => d.id)]);
  const joints = m.joints
    .filter((j) => !gone.has(j.id))
    .map((j) => jointWithout(j, gone))
    .filter((j) => j.layers.length > 1);
  const kept = new Set(joints.map((j) => j.id));
  const lost = new Set(m.joints.filter((j) => !kept.has(j.id)).map((j) => j.id));
  const noses = new Set(m.ribs.filter((r) => gone.has(r.id) && r.kind !== 'main').map((r) => `nose@${r.station}`));
  const stages = m.stages.map((s) => ({
    ...s,
    brings: s.brings.filter((p) => !gone.has(p)),
    opens: s.opens.filter((j) => !lost.has(j)),
    ...(s.takes ? { takes: s.takes.filter((p) => !gone.has(p)) } : {}),
  }));
  const left: Model = {
    ...m,
    joints,
    stages,
    ribs: m.ribs.filter((r) => !gone.has(r.id)),
    doublers: m.doublers.filter((d) => !gone.has(d.id)),
    brackets: m.brackets.filter((b) => !gone.has(b.id)),
    readings: offsetsFrom(
      m,
      joints,
      m.readings.filter((r) => !noses.has(r.size)),
    ),
  };
  return readingsLeft(m, left);
}
