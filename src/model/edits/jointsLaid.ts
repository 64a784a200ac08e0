import { alongAt } from '../along.ts';
import { sheetOfMetal } from '../metal.ts';
import { ribEndAt } from '../ribEnd.ts';
import { drillsFor, rivetFor } from '../rivetSizes.ts';
import type { Hole, Joint, Model, Rib, SparName } from '../schema.ts';
import type { Edit } from './edits.ts';
import { inWeb, mostHoles, rowPlaces } from './rows.ts';

/*
 * Joints laid by rule where parts meet at a spar web: which layers, in order from the drill side, which rivet, how many
 * holes how far apart. Every number can be changed afterwards.
 */

/**
 * How the rows on the webs are laid. Pitch and counts as the drawing has them; fewer holes where the end is too low.
 */
export interface JointRule {
  readonly rivet: number;
  readonly pitch: number;
  /** Holes wanted in a front and in a rear row. */
  readonly front: number;
  readonly rear: number;
}

/** Edge distance a row keeps at its ends, rivet diameters: laid out at 2.5 D (common practice). */
const LAY_OUT_EDGE = 2.5;

/**
 * Parts that meet at a station's front or rear web, from the drill side: nose rib or the bracket in its place, what
 * lies behind it, web, doublers, main or tip rib. A bracket on the rear web has a row of its own.
 */
export function layersAt(model: Model, station: string, end: SparName): string[] {
  if (!model.spars[end]) return [];
  const here = model.ribs.filter((r) => r.station === station);
  const [main, nose, tip] = (['main', 'nose', 'tip'] as const).map((kind) => here.find((r) => r.kind === kind));
  const onWeb = (part: string | undefined, at: string): string[] =>
    model.doublers
      .filter((d) => d.part === part && d.end === at && (d.form === 'channel' || d.on === 'web'))
      .map((d) => d.id);
  const bracket =
    end === 'front' ? model.brackets.find((b) => b.station === station && b.spar === 'front')?.id : undefined;
  const rib = end === 'rear' ? (main ?? tip) : main;
  const behind = rib ? [...onWeb(rib.id, end), rib.id] : [];
  const ahead = end === 'front' ? [bracket ?? nose?.id, ...onWeb(nose?.id, 'tail')] : [];
  const layers = [...ahead.filter((p) => p !== undefined), end, ...behind];
  return layers.length < 2 ? [] : layers;
}

/** Thickness of a part's sheet, mm. */
export function thicknessOf(model: Model, part: string): number {
  const sheet =
    sheetOfMetal(model, part) ??
    [...model.ribs, ...model.doublers, ...model.brackets].find((p) => p.id === part)?.sheet;
  return model.sheets.find((s) => s.id === sheet)?.thickness ?? 0;
}

/**
 * How far a rib end's flange stops short of its corners: the rib's own bends, or the spar's where that is larger, mm.
 *
 * @example T1 on panel A: 0.813 sheet and 2.4 inside leave 3.213; the spar's bend of 1.9 is smaller.
 */
function cornerOf(model: Model, rib: Rib, end: SparName): number {
  return Math.max(thicknessOf(model, rib.id) + rib.radius, model.spars[end]?.radius ?? 0);
}

/**
 * Height a layer leaves a row at a place along the span, between its bends: a rib's end, a spar's web, a bracket; any
 * height elsewhere.
 */
function heightOf(model: Model, part: string, end: SparName, y: number): number {
  const rib = model.ribs.find((r) => r.id === part);
  if (rib) return ribEndAt(rib, end).height - 2 * cornerOf(model, rib, end);
  const spar = part === 'front' || part === 'rear' ? model.spars[part] : undefined;
  if (spar) return alongAt(spar.depth, y) - 2 * (thicknessOf(model, part) + spar.radius);
  return model.brackets.find((b) => b.id === part)?.height ?? Number.POSITIVE_INFINITY;
}

/** Height a row may take: the lowest of the rib ends in the joint, the bracket and the web. */
export function rowRoom(model: Model, layers: readonly string[], end: SparName): number {
  const station = stationOf(model, layers);
  const y = model.stations.find((s) => s.id === station)?.y ?? 0;
  return Math.min(...layers.map((part) => heightOf(model, part, end, y)));
}

const stationOf = (model: Model, layers: readonly string[]): string | undefined =>
  model.ribs.find((r) => layers.includes(r.id))?.station;

/** A row of holes, none drilled yet. */
function freshHoles(layers: readonly string[], count: number, pitch: number, along = 0): Hole[] {
  return rowPlaces({ count, pitch, along }).map(
    (up, i): Hole => ({ id: `h${i + 1}`, along, up, layers: layers.map((part) => ({ part, state: 'none', size: 0 })) }),
  );
}

/**
 * The joint at a station's front or rear web by rule; undefined where nothing meets there. K with a bracket in it,
 * else F or R and the station's number.
 */
function jointAt(model: Model, station: string, end: SparName, rule: JointRule): Joint | undefined {
  const layers = layersAt(model, station, end);
  if (layers.length === 0) return undefined;
  const bracketed = model.brackets.some((b) => layers.includes(b.id));
  const letter = end === 'front' ? 'F' : 'R';
  const stack = layers.reduce((sum, part) => sum + thicknessOf(model, part), 0);
  const most = Math.max(1, mostHoles(rowRoom(model, layers, end), LAY_OUT_EDGE * rule.rivet, rule.pitch));
  return {
    id: `${bracketed ? 'K' : letter}${numberOf(station)}`,
    station,
    end,
    layers,
    guide: end,
    rivet: rivetFor(stack, rule.rivet, model.stock.rivets),
    ...drillsFor(rule.rivet),
    holes: freshHoles(layers, Math.min(rule[end], most), rule.pitch),
  };
}

const numberOf = (station: string): string => station.replace(/^\D+/, '') || station;
/** Two holes beside the rib's row, clear of it by four rivet diameters. */
const BESIDE = -4;

/** The rows of the brackets on the rear web at a station, through bracket and web. */
function rearBrackets(model: Model, station: string, rule: JointRule): Joint[] {
  const taken = model.brackets.some((b) => b.station === station && b.spar === 'front');
  return model.brackets
    .filter((b) => b.station === station && b.spar === 'rear' && model.spars.rear)
    .map((b, i): Joint => {
      const layers = [b.id, 'rear'];
      const stack = layers.reduce((sum, part) => sum + thicknessOf(model, part), 0);
      const count = Math.min(2, Math.max(1, mostHoles(b.height, LAY_OUT_EDGE * rule.rivet, rule.pitch)));
      return {
        id: `K${numberOf(station)}${'rstuvw'.slice(0, (taken ? 1 : 0) + i).slice(-1)}`,
        station,
        end: 'rear',
        layers,
        guide: 'rear',
        rivet: rivetFor(stack, rule.rivet, model.stock.rivets),
        ...drillsFor(rule.rivet),
        holes: freshHoles(layers, count, rule.pitch, BESIDE * rule.rivet),
      };
    });
}

/** Every joint of a panel by rule, in station order, front before rear. */
export function layJoints(model: Model, rule: JointRule): Joint[] {
  return model.stations.flatMap((s) => [
    ...(['front', 'rear'] as const).flatMap((end) => jointAt(model, s.id, end, rule) ?? []),
    ...rearBrackets(model, s.id, rule),
  ]);
}

/** Whether a joint is a rear bracket's own row. */
const ofBracket = (model: Model, j: Joint): boolean =>
  j.end === 'rear' && model.brackets.some((b) => j.layers.includes(b.id));

/**
 * The rule a panel's joints follow, as far as they do: its commonest rivet, pitch and counts; the usual ones where it
 * has none.
 */
export function ruleOf(model: Model): JointRule {
  const common = (values: readonly number[], usual: number): number => {
    const counts = new Map<number, number>();
    for (const v of values) counts.set(v, (counts.get(v) ?? 0) + 1);
    return [...counts].sort((a, b) => b[1] - a[1])[0]?.[0] ?? usual;
  };
  const rivet = common(
    model.joints.map((j) => j.rivet.diameter),
    3.175,
  );
  const pitches = model.joints
    .filter(inWeb)
    .flatMap((j) =>
      j.holes[0] && j.holes[1] ? [Math.round(1e4 * Math.abs(j.holes[0].up - j.holes[1].up)) / 1e4] : [],
    );
  const count = (end: SparName) =>
    common(
      model.joints.filter((j) => j.end === end && inWeb(j)).map((j) => j.holes.length),
      end === 'front' ? 4 : 3,
    );
  return { rivet, pitch: common(pitches, 20), front: count('front'), rear: count('rear') };
}

/** Whether any hole of a joint has been drilled in any layer. */
const drilledAt = (joint: Joint): boolean => joint.holes.some((h) => h.layers.some((l) => l.state !== 'none'));

/**
 * Lays joints on the webs by rule at every place without one, and anew where nothing has been drilled; a joint with a
 * hole in it is kept as it is. Stages go on opening the joints whose names stay, and forget the others.
 */
export function layAnew(
  model: Model,
  rule: JointRule = ruleOf(model),
  at?: { readonly station: string; readonly end: SparName },
): Edit {
  const here = (j: { station: string; end: string }): boolean =>
    at === undefined || (j.station === at.station && j.end === at.end);
  const kept = model.joints.filter((j) => !inWeb(j) || !here(j) || drilledAt(j));
  const fresh = layJoints(model, rule).filter(
    (j) =>
      here(j) &&
      !kept.some(
        (k) =>
          k.id === j.id ||
          (inWeb(k) && k.station === j.station && k.end === j.end && ofBracket(model, k) === ofBracket(model, j)),
      ),
  );
  const order = new Map(model.stations.map((s, i) => [s.id, 2 * i]));
  const place = (j: Joint): number => (order.get(j.station) ?? 0) + (j.end === 'front' ? 0 : 1);
  const joints = [...kept, ...fresh].sort((a, b) => place(a) - place(b));
  const ids = new Set(joints.map((j) => j.id));
  const took = new Map(
    model.joints
      .filter((j) => !ids.has(j.id))
      .map((j) => [
        j.id,
        fresh.find((f) => f.station === j.station && f.end === j.end && ofBracket(model, f) === ofBracket(model, j))
          ?.id,
      ]),
  );
  const stages = model.stages.map((s) => ({
    ...s,
    opens: [...new Set(s.opens.flatMap((id) => (ids.has(id) ? [id] : (took.get(id) ?? []))))],
  }));
  return {
    name: at ? `laid the joint at ${at.station}, ${at.end}` : `laid ${fresh.length} joints by rule`,
    apply: (m) => ({ ...m, joints, stages }),
  };
}

/** Records a pilot in every hole through every layer that is in at the present stage; what is drilled already stays. */
export function pilotLayers(model: Model, isIn: (part: string) => boolean, only?: ReadonlySet<string>): Edit {
  const joints = model.joints.map((j) =>
    only && !only.has(j.id)
      ? j
      : {
          ...j,
          holes: j.holes.map((h) => ({
            ...h,
            layers: h.layers.map((l) =>
              l.state === 'none' && isIn(l.part) ? { ...l, state: 'pilot' as const, size: j.pilot } : l,
            ),
          })),
        },
  );
  return { name: 'drilled pilots through every layer that is in', apply: (m) => ({ ...m, joints }) };
}
