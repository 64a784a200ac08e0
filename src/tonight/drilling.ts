import { stageIndex } from '../checks/holes/stages.ts';
import { askHoles } from '../drilling/drill.ts';
import type { Gate, GateItem } from '../drilling/gate.ts';
import { namesOf } from '../drilling/hold.ts';
import type { HoleAnswer } from '../drilling/hole.ts';
import { rowTick, stationTick, tickOf } from '../model/edits/ticks.ts';
import { type ActKind, type Draft, draft } from './act.ts';
import { minutesOf } from './minutes.ts';
import { onlyNow } from './order.ts';
import { fromRootOut, type Scope } from './scope.ts';
import { counted, listed, opening } from './words.ts';

/*
 * Acts at the holes. Nothing is drilled before its gate says yes: what may be drilled is what `askHoles` says is now,
 * and nothing else.
 */

const stationsOf = (holes: readonly HoleAnswer[]): string[] => holes.map((h) => h.joint.station);

interface Drilling {
  readonly kind: ActKind;
  readonly verb: string;
  readonly tool: string;
}

/** How a hole is taken on, by how `askHoles` wants it done. */
const WAYS: Partial<Record<HoleAnswer['how'], Drilling>> = {
  pilot: { kind: 'drill', verb: 'drill the pilots of', tool: 'drill, pilot size' },
  'follow the guide': { kind: 'open', verb: 'open to final, following the guide,', tool: 'drill, final size' },
  'bushing set midway': {
    kind: 'open',
    verb: 'open to final through a clamped drill block',
    tool: 'drill block, final size',
  },
  'step up': { kind: 'open', verb: 'open to the next size', tool: 'drill, next size' },
};

/** What may be drilled now, one act a way, with the clamping before it. */
export function drillActs(scope: Scope): Draft[] {
  const now = onlyNow(askHoles(scope.skeleton));
  const acts = [...new Set(now.map((h) => h.how))].flatMap((how): Draft[] => {
    const way = WAYS[how];
    const holes = now.filter((h) => h.how === how);
    if (!way) return [];
    return [
      draft({
        key: `drill:${how}`,
        kind: way.kind,
        phase: 'drill',
        what: opening(`${way.verb} ${namesOf(holes)}: ${counted(holes.length, 'hole')}`),
        why: 'their gates say yes, row by row',
        brief: `${way.kind} ${counted(holes.length, 'hole')}`,
        once: `${namesOf(holes)} ${holes.length > 1 ? 'are' : 'is'} drilled`,
        tool: way.tool,
        minutes: minutesOf('drill', holes.length),
        parts: [...new Set(holes.flatMap((h) => h.joint.layers))],
        stations: fromRootOut(scope, stationsOf(holes)),
        holes: holes.map((h) => h.id),
        rests: ['clamp'],
      }),
    ];
  });
  return acts.length === 0 ? [] : [clampAct(scope, now), ...acts];
}

function clampAct(scope: Scope, now: readonly HoleAnswer[]): Draft {
  const joints = [...new Set(now.map((h) => h.joint.id))];
  return draft({
    key: 'clamp',
    kind: 'clamp',
    phase: 'clamp',
    what: `Clamp beside each hole of ${listed(joints)}, lightly, the rib in the middle`,
    why: 'thin flanges wander from a drill that is not held beside them',
    brief: 'clamp the rows',
    once: 'the rows are clamped',
    tool: 'side-grip clamps',
    minutes: minutesOf('clamp', joints.length),
    stations: fromRootOut(scope, stationsOf(now)),
    holes: [],
  });
}

/**
 * Rows that may be taken on at this stage, once they are looked through: the others wait for a layer or for the plan.
 */
const isPresent = (h: HoleAnswer): boolean =>
  h.state !== 'done' && h.because !== 'plan' && h.because !== 'layer' && h.because !== 'then';

/** Rows to be looked through, or whose edges are to be gauged: one tick a row. */
export function lookActs(scope: Scope, items: readonly GateItem[]): Draft[] {
  const wanted = new Set(items.flatMap((i) => i.asks.flatMap((w) => w.tick ?? [])));
  const present = new Set(
    askHoles(scope.skeleton)
      .filter(isPresent)
      .map((h) => h.joint),
  );
  const looks = [
    { tick: 'through', what: 'look through the holes of', brief: 'look through', tool: 'pin and magnifier' },
    { tick: 'edges', what: 'gauge the edges in every layer of', brief: 'gauge the edges of', tool: 'rule' },
  ] as const;
  return looks.flatMap(({ tick, what, brief, tool }) => {
    const rows = [...present].filter((j) => wanted.has(rowTick(tick, j.id)));
    if (rows.length === 0) return [];
    const names = rows.map((j) => j.id);
    return [
      draft({
        key: `look:${tick}`,
        kind: 'read',
        phase: 'look',
        what: opening(`${what} ${listed(names)}, and tick each row`),
        why: 'nobody looked yet',
        brief: `${brief} ${counted(rows.length, 'row')}`,
        once: `${listed(names)} ${rows.length > 1 ? 'are' : 'is'} looked at`,
        tool,
        minutes: minutesOf('through', rows.length),
        parts: names,
        stations: fromRootOut(
          scope,
          rows.map((j) => j.station),
        ),
        ticks: names.map((id) => rowTick(tick, id)),
      }),
    ];
  });
}

/** Stations whose holes are final and not deburred, and steps to be felt, as the skin's gate asks. */
export function deburrActs(scope: Scope, skin: Gate): Draft[] {
  const [final] = skin.items;
  if (final?.answer !== 'yes') return [];
  const wanted = new Set(skin.items.flatMap((i) => i.asks.flatMap((w) => w.tick ?? [])));
  const kinds = [
    { tick: 'deburred', kind: 'deburr', what: 'take it apart and deburr every hole at', tool: 'deburring tool' },
    { tick: 'steps', kind: 'read', what: 'feel the skin steps at', tool: 'finger and leaf' },
  ] as const;
  return kinds.flatMap(({ tick, kind, what, tool }) => {
    const at = fromRootOut(
      scope,
      scope.model.stations.map((s) => s.id),
    ).filter((s) => wanted.has(stationTick(tick, s)));
    if (at.length === 0) return [];
    return [
      draft({
        key: `tick:${tick}`,
        kind,
        phase: 'deburr',
        what: opening(`${what} ${listed(at)}, and tick each station`),
        why: kind === 'deburr' ? 'every hole is at final size' : 'nobody felt them yet',
        brief: kind === 'deburr' ? `deburr ${counted(at.length, 'station')}` : 'feel the skin steps',
        once: kind === 'deburr' ? 'it is deburred' : 'the steps are felt',
        tool,
        minutes: minutesOf('deburr', at.length),
        stations: at,
        ticks: at.map((s) => stationTick(tick, s)),
      }),
    ];
  });
}

/** The next parts, where nothing is left to do with those that stand: the next stage of assembly. */
export function bringActs(scope: Scope): Draft[] {
  const { model } = scope;
  const next = model.stages[stageIndex(model) + 1];
  if (!next) return [];
  const off = next.takes && next.takes.length > 0 ? `take ${listed(next.takes)} off; then ` : '';
  const on = next.brings.length > 0 ? `bring ${listed(next.brings)} in` : next.name;
  return [
    draft({
      key: `stage:${next.id}`,
      kind: 'dry-fit',
      phase: 'bring',
      what: opening(`${off}${on}`),
      why: `nothing is left to do before “${next.name}”`,
      brief: `begin “${next.name}”`,
      once: `“${next.name}” has begun`,
      minutes: minutesOf('bring', next.brings.length),
      parts: next.brings,
      stage: next.id,
    }),
  ];
}

/** What is left once the skin may go on, each ticked once: primed between the layers, riveted from the bags. */
export function closeActs({ model }: Scope, skin: Gate): Draft[] {
  if (skin.answer !== 'yes' || model.joints.length === 0) return [];
  const holes = model.joints.reduce((n, j) => n + j.holes.length, 0);
  const prime = draft({
    key: 'prime',
    kind: 'prime',
    phase: 'close',
    what: 'Prime between the layers, and put it back on temporary fasteners',
    why: 'it is deburred and proven',
    brief: 'prime it',
    once: 'it is primed',
    tool: 'brush and primer',
    minutes: minutesOf('prime', model.stations.length),
    ticks: ['prime'],
  });
  const rivet = draft({
    key: 'rivet',
    kind: 'rivet',
    phase: 'close',
    what: 'Rivet from the bags, from the centre outward',
    why: 'every gate says yes',
    brief: 'rivet it',
    once: 'it is riveted',
    tool: 'rivet puller or set',
    minutes: minutesOf('rivet', holes),
    ticks: ['rivet'],
    rests: ['prime', 'show'],
  });
  return [prime, rivet].filter((d) => d.ticks.every((t) => !tickOf(model, t)));
}
