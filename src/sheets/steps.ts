import { best } from '../chains/chain.ts';
import { CHECK_NAMES } from '../checks/answer.ts';
import { capSplitChains } from '../checks/capGap.ts';
import { checkAll } from '../checks/checkAll.ts';
import { chordGapChain } from '../checks/chordGap.ts';
import { askHole, type HoleAnswer } from '../checks/drill.ts';
import type { CheckId, Finding } from '../checks/finding.ts';
import { gatesOf } from '../checks/gates.ts';
import { layersOf } from '../checks/layers.ts';
import { packing } from '../checks/packing.ts';
import { earliestStage, opensAt } from '../checks/stages.ts';
import type { Vec3 } from '../geometry/vector.ts';
import { limitFor } from '../model/limits.ts';
import type { Doubler, Joint, Model, Rib } from '../model/schema.ts';
import { flangesPoint, holePlaces } from '../parts/holePlaces.ts';
import { type Bay, type RibPlace, type Skeleton, skeletonOf, sparOf, thickness } from '../parts/skeleton.ts';
import { PLACING, type Feel, type Standing, type Step, type StepNumber } from './step.ts';

/*
 * Who does what: the whole assembly as steps, one action each, in the order in which it can be done.
 *
 * A stage's parts come first, spars before what lies in them, from the middle of the panel outward, tip ribs last; what
 * lies between a rib end and its spar goes in before the rib. Pilots are drilled after the last of the stages that only
 * square and untwist, and only after the panel was squared and surveyed. A joint is opened at the stage that plans it, or
 * at the first at which every layer is in. Layers, sizes, limits and what is held back come from the checks.
 */

const FORWARD: Vec3 = [-1, 0, 0];
const AFT: Vec3 = [1, 0, 0];
const DOWN: Vec3 = [0, 0, -1];
const END_PLACES = { front: 'front', rear: 'rear', tail: 'tail' } as const;

/** A step before it has its number, its stage and the parts that are there. */
type Draft = Pick<Step, 'id' | 'kind' | 'title' | 'station' | 'chosen' | 'standing'> & Partial<Pick<Step, 'joint' | 'goes' | 'opens' | 'lines' | 'layers' | 'clamps' | 'holes' | 'check' | 'held' | 'done'>> & {
  /** The joint whose layers are named, those that are in by then. */
  readonly stack?: Joint | undefined;
};

/** What every part of the work asks of the panel. */
interface Work {
  readonly model: Model;
  readonly skeleton: Skeleton;
  readonly bad: readonly Finding[];
  /** Middle of the span: work goes outward from it. */
  readonly middle: number;
}

// --- words ----------------------------------------------------------------------------------------------------------

const RIB_WORDS = { main: 'rib', nose: 'nose rib', tip: 'tip rib' } as const;

/** What a doubler is called at the bench: on the drawing a doubler; added flat on a web a packer, on a cap a shim. */
export function doublerWord(d: Doubler): 'doubler' | 'packer' | 'shim' {
  if (d.form === 'channel' || (d.designed && d.on === 'web')) return 'doubler';
  return d.on === 'web' ? 'packer' : 'shim';
}

/** A part with its kind: `front spar`, `doubler D5`, `nose rib N5`. */
export function partName(skeleton: Skeleton, id: string): string {
  if (id === 'front' || id === 'rear') return `${id} spar`;
  const part = skeleton.part(id);
  if (!part) return id;
  if ('form' in part) return `${doublerWord(part)} ${id}`;
  return 'kind' in part ? `${RIB_WORDS[part.kind]} ${id}` : `bracket ${id}`;
}

/** Layers of a joint from the drill side, as the card says them. */
function layerLines(skeleton: Skeleton, joint: Joint, parts: readonly string[] = joint.layers): string[] {
  return layersOf(skeleton, joint).map((l) => l.part).filter((p) => parts.includes(p)).map((p) => {
    const part = skeleton.part(p);
    if (p === 'front' || p === 'rear') return `${p} spar web`;
    return part && 'kind' in part ? `${partName(skeleton, p)} flange` : partName(skeleton, p);
  });
}

const EDGES: Record<Standing, string> = {
  behind: 'The leading edge is away from you.',
  ahead: 'The leading edge is toward you.',
  'left end': 'The leading edge is to your left.',
  'right end': 'The leading edge is to your right.',
};

/** A direction along the span (+1 to the right, seen nose forward) for who stands there. */
function sideOf(standing: Standing, way: 1 | -1): string {
  if (standing === 'behind') return way === 1 ? 'to your right' : 'to your left';
  if (standing === 'ahead') return way === 1 ? 'to your left' : 'to your right';
  return (standing === 'left end') === (way === 1) ? 'away from you' : 'toward you';
}

/** Aft or forward for who stands there. */
function chordSide(standing: Standing, way: 'aft' | 'forward'): string {
  if (standing === 'behind') return way === 'aft' ? 'toward you' : 'away from you';
  if (standing === 'ahead') return way === 'aft' ? 'away from you' : 'toward you';
  return (standing === 'left end') === (way === 'aft') ? 'to your right' : 'to your left';
}

// --- what holds a step back -----------------------------------------------------------------------------------------

/** Findings that a part must not be put in with. */
const BLOCKS: readonly CheckId[] = ['cap-gap', 'bend-ride', 'chord-gap', 'relief', 'bend-radius', 'nose-kink', 'nose-line', 'seating'];

const namesPart = (place: string, id: string): boolean => place.split(/[^A-Za-z0-9-]+/).includes(id);

/** Said without numbers: "between the caps: M2 front binds". */
const blockText = (f: Finding): string => `${CHECK_NAMES[f.check]}: ${f.place}${f.sense ? ` ${f.sense}` : ''}`;

function heldPart(work: Work, id: string): string | undefined {
  const f = work.bad.find((b) => BLOCKS.includes(b.check) && !b.echoOf && namesPart(b.place, id));
  return f && blockText(f);
}

const heldBy = (text: string | undefined): { held?: string } => (text === undefined ? {} : { held: text });

// --- parts going in -------------------------------------------------------------------------------------------------

function laySpar(work: Work, name: 'front' | 'rear'): Draft {
  const { opens } = sparOf(work.skeleton, name);
  const blocks = work.model.survey.supports;
  return {
    id: `lay:${name}`, kind: 'lay', title: `Lay the ${name} spar on its blocks`, station: null, chosen: [name], goes: DOWN, standing: 'behind',
    lines: [`Open side faces ${opens}, ${chordSide('behind', opens)}.`, `Ink mark up. ${work.skeleton.bays[0]!.station.id} is at your left.`, ...(blocks.length > 0 ? [`Blocks under ${listed(blocks)}.`] : [])],
  };
}

const listed = (names: readonly string[]): string => (names.length < 2 ? names.join('') : `${names.slice(0, -1).join(', ')} and ${names[names.length - 1]}`);

/** The way a piece at a rib end is pushed onto its spar: at a front end forward, at a rear end or a tail aft. */
const pushOf = (end: RibPlace['end']): Vec3 => (end === 'front' ? FORWARD : AFT);

function slip(work: Work, place: RibPlace, d: Doubler): Draft {
  const { skeleton } = work;
  const word = doublerWord(d);
  const { id: station } = place.bay.station;
  const standing: Standing = place.end === 'tail' ? 'ahead' : 'behind';
  const legs = place.end === 'front' ? 'aft' : 'forward';
  const where = d.form === 'channel' && place.spec.ends === 'nests' ? `into the ${place.spar} spar` : d.on === 'web' ? `on the ${place.spar} spar web` : `under the ${d.on} cap of the ${place.spar} spar`;
  const lines = d.form === 'channel'
    ? [`Flat back against the web. Legs point ${legs}, ${chordSide(standing, legs)}.`, 'Ink number and arrow up.']
    : d.on === 'web'
      ? ['Flat on the web, clear of the bends.', 'Ink number and arrow up.']
      : [`Flat on the inside of the ${d.on} cap, clear of the bend.`, `Ink arrow points ${legs === 'aft' ? 'forward' : 'aft'}, to the web.`];
  const under = place.doublers.slice(0, place.doublers.indexOf(d)).filter((o) => o.form === 'channel' || o.on === d.on);
  return {
    id: `slip:${d.id}`, kind: 'slip', title: `Slip ${word} ${d.id} ${where} at ${station}`, station, chosen: [d.id], goes: pushOf(place.end), standing, lines,
    layers: [d.on === 'web' ? `${place.spar} spar web` : `${d.on} cap`, ...under.map((o) => partName(skeleton, o.id)), `${word} ${d.id}`],
    check: { kind: 'sheet', thickness: thickness(skeleton, d.sheet).best },
    ...heldBy(heldPart(work, d.id)),
  };
}

/** Past which end of the panel a tip rib is put on. */
const tipEnd = (work: Work, bay: Bay): Standing => (bay.station.y < work.middle ? 'left end' : 'right end');

function stand(work: Work, bay: Bay, rib: Rib): Draft {
  const { model, skeleton } = work;
  const { y, id: station } = bay.station;
  const word = RIB_WORDS[rib.kind];
  const ends = skeleton.placesAt(station).filter((p) => p.rib === rib);
  const standing: Standing = rib.kind === 'nose' ? 'ahead' : rib.kind === 'tip' ? tipEnd(work, bay) : 'behind';
  const points = flangesPoint(model, rib, y);
  const nested = ends.filter((p) => p.spec.ends === 'nests');
  const how = rib.kind === 'nose' ? (nested.length > 0 ? 'Push the tail between the caps of the front spar.' : 'Tail flange flat on the web of the front spar.')
    : rib.kind === 'tip' ? (rib.registered === 'rear' ? 'Rear end home against the web of the rear spar.' : 'Clip on the front spar first.')
      : nested.length > 1 ? 'Put it in a little askew, both ends between the caps. Swing it square to the mark.' : 'Set it down between the spars, on the mark.';
  const home = rib.kind === 'main' && model.stand !== 'clamped' && model.spars.rear ? [`Push it home against the ${model.stand} web.`] : [];
  const goes: Vec3 = rib.kind === 'nose' ? AFT : rib.kind === 'tip' ? [0, standing === 'left end' ? 1 : -1, 0] : nested.length > 1 ? [0, y < work.middle ? 1 : -1, 0] : DOWN;
  const joint = skeleton.jointsAt(station).find((j) => j.layers.includes(rib.id));
  return {
    id: `stand:${rib.id}`, kind: 'stand', title: `Stand ${word} ${rib.id} at station ${station}`, station, chosen: [rib.id], goes, standing, opens: points,
    lines: [`Flange points ${rib.turns}, ${sideOf(standing, points)}.`, 'Ink number at the top rear corner.', how, ...home],
    stack: joint, ...heldBy(heldPart(work, rib.id)),
  };
}

function fitBracket(work: Work, id: string): Draft | undefined {
  const bracket = work.model.brackets.find((b) => b.id === id);
  if (!bracket) return undefined;
  const opens = sparOf(work.skeleton, bracket.spar).opens;
  const standing: Standing = opens === 'aft' ? 'ahead' : 'behind';
  const joint = work.skeleton.jointsAt(bracket.station).find((j) => j.layers.includes(id));
  return {
    id: `fit:${id}`, kind: 'fit', title: `Fit bracket ${id} on the ${bracket.spar} spar at ${bracket.station}`, station: bracket.station, chosen: [id],
    goes: opens === 'aft' ? AFT : FORWARD, standing, lines: ['Flat foot on the web, centred on the row of holes.', 'Ink number up.', 'One clamp each side.'],
    stack: joint, ...heldBy(heldPart(work, id)),
  };
}

// --- clamps and feelers ---------------------------------------------------------------------------------------------

/** How far from a hole its clamp goes, rivet diameters, so that the drill still gets in. */
const CLAMP_OFF = 2.5;

function clampSpots(skeleton: Skeleton, joints: readonly Joint[]): Vec3[] {
  return joints.flatMap((joint) => holePlaces(skeleton, joint).map(({ at }, i): Vec3 => {
    const up = joint.holes[i]!.up >= 0 ? 1 : -1;
    return [at[0], at[1], at[2] + up * CLAMP_OFF * joint.rivet.diameter];
  }));
}

function clampRib(work: Work, bay: Bay, rib: Rib): Draft[] {
  const joints = work.skeleton.jointsAt(bay.station.id).filter((j) => j.layers.includes(rib.id));
  const own = joints.filter((j) => rib.kind !== 'nose' || j.end === 'front');
  const spots = clampSpots(work.skeleton, own);
  if (spots.length === 0) return [];
  const standing: Standing = rib.kind === 'nose' ? 'ahead' : rib.kind === 'tip' ? tipEnd(work, bay) : 'behind';
  return [{
    id: `clamp:${rib.id}`, kind: 'clamp', title: `Clamp ${RIB_WORDS[rib.kind]} ${rib.id} beside each hole`, station: bay.station.id, chosen: [rib.id], standing, opens: flangesPoint(work.model, rib, bay.station.y), clamps: spots,
    lines: ['Clamp beside each hole, not at the middle.', 'Light pressure. Do not pull a gap shut.'],
    stack: own[0],
    check: { kind: 'count', count: spots.length, what: spots.length === 1 ? 'clamp' : 'clamps' },
  }];
}

/** The leaf that must not go in: of the pair of limits the first that the gap is expected to stay under. */
function leafFor(expected: number, [, fits]: readonly [number | null, number | null], [, act]: readonly [number | null, number | null]): number | undefined {
  if (fits !== null && expected <= fits) return fits;
  return act ?? undefined;
}

/** Feels each rib end at the caps; one step for a rib where one leaf does for all of it. */
function feelCaps(work: Work, rib: Rib): Draft[] {
  const limit = limitFor(work.model, 'cap-split');
  const ends = work.skeleton.placesAt(rib.station).filter((p) => p.rib === rib && p.spec.ends === 'nests').flatMap((place) => {
    const { top, bottom } = capSplitChains(work.skeleton, place);
    const [t, b] = [leafFor(best(top), limit.fits, limit.act), leafFor(best(bottom), limit.fits, limit.act)];
    if (t === undefined || b === undefined) return [];
    const feels: Feel[] = t === b ? [{ side: 'top and bottom', leaf: t }] : [{ side: 'top', leaf: t }, { side: 'bottom', leaf: b }];
    return [{ place, feels }];
  });
  const draft = (id: string, title: string, feels: readonly Feel[]): Draft => ({
    id, kind: 'feel', title, station: rib.station, chosen: [rib.id], opens: flangesPoint(work.model, rib, work.skeleton.bays.find((b) => b.station.id === rib.station)?.station.y ?? 0), standing: rib.kind === 'nose' ? 'ahead' : 'behind', check: { kind: 'feeler', feels },
    lines: ['Feel between the flange and the cap, at the bend.', 'Do not force the leaf.'], ...heldBy(heldPart(work, rib.id)),
  });
  const [first, second] = ends;
  if (first && second && first.feels.length === 1 && second.feels.length === 1 && first.feels[0]!.leaf === second.feels[0]!.leaf) {
    return [draft(`feel:${rib.id}`, `Feel both ends of ${rib.id} at the caps`, first.feels)];
  }
  return ends.map(({ place, feels }) => draft(`feel:${place.key}`, `Feel the ${END_PLACES[place.end]} end of ${rib.id} at the caps`, feels));
}

/** Feels the daylight at the free end of a main rib that stands home against the other web. */
function feelChord(work: Work, bay: Bay): Draft[] {
  const { main } = bay;
  if (!main || !work.model.spars.rear || work.model.stand === 'clamped') return [];
  const limit = limitFor(work.model, 'chord-gap');
  const leaf = leafFor(best(chordGapChain(work.skeleton, bay, main, 'straight')), limit.fits, limit.act);
  if (leaf === undefined) return [];
  const free = work.model.stand === 'rear' ? 'front' : 'rear';
  return [{
    id: `feel:${main.id}.chord`, kind: 'feel', title: `Feel the ${free} end of ${main.id} at the web`, station: bay.station.id, chosen: [main.id], standing: 'behind', opens: flangesPoint(work.model, main, bay.station.y),
    check: { kind: 'feeler', feels: [{ side: free, leaf }] }, lines: [`Hold the rib home against the ${work.model.stand} web.`, 'Feel before clamping.'],
    ...heldBy(heldPart(work, main.id)),
  }];
}

// --- a stage's parts in order ---------------------------------------------------------------------------------------

/** Stage by stage, the parts that arrive there first. What no stage brings comes with its rib, or at the start. */
function arrivals(work: Work): Map<string, number> {
  const { model, skeleton } = work;
  const at = new Map<string, number>();
  model.stages.forEach((s, i) => s.brings.forEach((part) => {
    if (!at.has(part)) at.set(part, i);
  }));
  const parts = ['front', ...(model.spars.rear ? ['rear'] : []), ...model.ribs.map((r) => r.id), ...model.brackets.map((b) => b.id)];
  for (const part of parts) if (!at.has(part)) at.set(part, 0);
  for (const d of model.doublers) if (!at.has(d.id)) at.set(d.id, skeleton.part(d.part) ? (at.get(d.part) ?? 0) : 0);
  return at;
}

function ribSteps(work: Work, bay: Bay, rib: Rib): Draft[] {
  return [stand(work, bay, rib), ...(rib.kind === 'main' ? feelChord(work, bay) : []), ...clampRib(work, bay, rib), ...feelCaps(work, rib)];
}

/** The steps that bring a stage's parts in: spars, then ribs of one kind after the other from the middle outward, brackets last. */
function bringing(work: Work, isNew: (part: string) => boolean): Draft[] {
  const { skeleton, middle } = work;
  const drafts: Draft[] = (['front', 'rear'] as const).filter((n) => work.model.spars[n] && isNew(n)).map((n) => laySpar(work, n));
  const outward = [...skeleton.bays].sort((a, b) => Math.abs(a.station.y - middle) - Math.abs(b.station.y - middle) || a.station.y - b.station.y);
  const done = new Set<string>();
  for (const kind of ['main', 'nose', 'tip'] as const) {
    for (const bay of outward) {
      const rib = bay[kind];
      if (!rib) continue;
      for (const place of skeleton.placesAt(bay.station.id).filter((p) => p.rib === rib)) {
        for (const d of place.doublers) {
          if (!isNew(d.id)) continue;
          drafts.push(slip(work, place, d));
          done.add(d.id);
        }
      }
      if (isNew(rib.id)) drafts.push(...ribSteps(work, bay, rib));
    }
  }
  for (const b of work.model.brackets) if (isNew(b.id)) drafts.push(...[fitBracket(work, b.id)].filter((d) => d !== undefined));
  return drafts;
}

// --- truing ---------------------------------------------------------------------------------------------------------

/** More blocks than this and the search for packs is left to the packing plan. */
const MOST_BLOCKS = 12;

function truing(work: Work, all: readonly string[]): Draft[] {
  const { model } = work;
  const survey = (id: string, title: string): Draft => ({
    id, kind: 'survey', title, station: null, chosen: [], standing: 'behind',
    lines: ['At each station read the height of the front spar, then of the rear spar.', 'Write both on the twist sheet. Do not lean on the panel.'],
  });
  const drafts: Draft[] = [
    { id: 'square', kind: 'square', title: 'Square every rib from the bench', station: null, chosen: all.filter((p) => work.skeleton.part(p) && model.ribs.some((r) => r.id === p && r.kind === 'main')), standing: 'behind',
      lines: ['Stand the rafter square on the bench against the rib web.', 'Move the rib until no daylight shows. Clamp again.'] },
    survey('survey:twist', 'Survey the twist'),
  ];
  const plan = model.survey.supports.length > 0 && model.survey.supports.length <= MOST_BLOCKS ? packing(model) : undefined;
  const packs = (plan?.packs ?? []).filter((p) => p.total > 0);
  for (const p of packs) {
    drafts.push({
      id: `pack:${p.station}`, kind: 'pack', title: `Pack the ${plan!.side} block at ${p.station}`, station: p.station, chosen: [plan!.side], standing: plan!.side === 'front' ? 'ahead' : 'behind',
      lines: [`Between the block and the ${plan!.side} spar, under the web.`, 'Lift gently. Nothing is pinned yet.'], check: { kind: 'pack', total: p.total, pieces: p.pieces },
    });
  }
  if (packs.length > 0) drafts.push(survey('survey:twist-again', 'Survey the twist again'));
  drafts.push({ id: 'sight', kind: 'survey', title: 'Look along the rows of holes', station: null, chosen: [], standing: 'left end', lines: ['One eye, along the front row, then along the rear row.', 'Each row must look like one straight line.'] });
  drafts.push(askGate(model, 'pilots'));
  return drafts;
}

/** A gate: the builder must say yes. What the list says today is named, without numbers. */
function askGate(model: Model, id: 'pilots' | 'final' | 'skin', stage = ''): Draft {
  const gate = gatesOf(model).find((g) => g.id === id)!;
  const open = gate.items.filter((i) => i.answer !== 'yes').map((i) => `${i.answer === 'no' ? 'NO' : 'NOT SETTLED'}: ${i.name}`);
  const verb = id === 'pilots' ? 'drill pilots' : id === 'final' ? 'open to final' : 'skin';
  return {
    id: `ask:${id}${stage}`, kind: 'ask', title: `Ask the builder: may we ${verb}?`, station: null, chosen: [], standing: 'behind', lines: ['Wait for a yes. Then tick.'],
    ...(open.length > 0 ? { held: open.join('; ') } : {}),
  };
}

// --- drilling -------------------------------------------------------------------------------------------------------

const stateOf = (joint: Joint, hole: number, part: string): 'none' | 'pilot' | 'final' => joint.holes[hole]!.layers.find((l) => l.part === part)?.state ?? 'none';

/** The side a joint is drilled from: ahead of the front web or behind the rear one, unless a rib lies first. */
function drillSide(skeleton: Skeleton, joint: Joint): Standing {
  const first = joint.layers[0] ?? joint.end;
  const part = skeleton.part(first);
  const outside = first === joint.end || (part !== undefined && !('form' in part) && (!('kind' in part) || part.kind === 'nose'));
  return (joint.end === 'front') === outside ? 'ahead' : 'behind';
}

const WAY_IN: Record<'ahead' | 'behind', Vec3> = { ahead: AFT, behind: FORWARD };
const opposite = (s: Standing): Standing => (s === 'ahead' ? 'behind' : 'ahead');

function pilot(work: Work, joint: Joint, fresh: readonly string[], layers: readonly string[], stage: string): Draft | undefined {
  const { skeleton } = work;
  if (joint.holes.length === 0) return undefined;
  // Where the guide already has its holes and the new layer lies over them, the drill goes in from the other side.
  const back = !fresh.includes(joint.guide) && layers.indexOf(fresh[0]!) < layers.indexOf(joint.guide);
  const standing = back ? opposite(drillSide(skeleton, joint)) : drillSide(skeleton, joint);
  const guide = partName(skeleton, joint.guide);
  return {
    id: `pilot:${joint.id}${stage ? `@${stage}` : ''}`, kind: 'pilot', joint: joint.id, station: joint.station, chosen: fresh.filter((p) => p !== 'front' && p !== 'rear'), standing,
    title: fresh.length < layers.length ? `Drill pilots in ${listed(fresh.map((p) => partName(skeleton, p)))} at ${joint.station}` : `Drill pilots in the ${joint.end} web at ${joint.station}`,
    goes: WAY_IN[standing === 'ahead' ? 'ahead' : 'behind'],
    lines: [back ? `Through the holes that are in the ${guide}. Drill from this side.` : `Follow the ${guide}.`, 'Square to the web. A temporary fastener in each hole as you go.'],
    layers: layerLines(skeleton, joint, layers), holes: holePlaces(skeleton, joint).map((h) => h.at), clamps: clampSpots(skeleton, [joint]),
    check: { kind: 'drill', diameter: joint.pilot, holes: joint.holes.length, pilot: true },
    done: joint.holes.every((_, i) => fresh.every((p) => stateOf(joint, i, p) !== 'none')),
  };
}

/** The panel as it will be when every layer of a joint is piloted: what opening to final is asked of. */
function asPiloted(joint: Joint): Joint {
  const piloted = (part: string, had: Joint['holes'][number]['layers'][number] | undefined) => (had && had.state !== 'none' ? had : { part, state: 'pilot' as const, size: joint.pilot });
  return { ...joint, holes: joint.holes.map((h) => ({ ...h, layers: joint.layers.map((part) => piloted(part, h.layers.find((l) => l.part === part))) })) };
}

/** Opening one joint: holes that follow the guide, those that want a bushing, and those that must not be opened, each a step. */
function open(work: Work, before: Joint, stage: string): Draft[] {
  const { skeleton } = work;
  const joint = asPiloted(before);
  if (joint.holes.length === 0) return [];
  const places = holePlaces(skeleton, joint);
  const answers = joint.holes.map((h) => askHole(skeleton, joint, h, stage || undefined, undefined));
  const standing = drillSide(skeleton, joint);
  const at = (which: (a: HoleAnswer) => boolean): number[] => answers.flatMap((a, i) => (which(a) ? [i] : []));
  const same = { station: joint.station, joint: joint.id, chosen: joint.layers.filter((p) => p !== 'front' && p !== 'rear'), standing, goes: WAY_IN[standing === 'ahead' ? 'ahead' : 'behind'], layers: layerLines(skeleton, joint) };
  const finals = (indices: readonly number[]): StepNumber => ({ kind: 'drill', diameter: joint.final, holes: indices.length, pilot: false });
  const isDone = (indices: readonly number[]): boolean => indices.every((i) => before.layers.every((p) => stateOf(before, i, p) === 'final'));
  const rest = at((a) => a.state === 'never');
  const midway = at((a) => a.how === 'bushing set midway');
  const follow = at((a) => a.state !== 'never' && a.how !== 'bushing set midway');
  const doubtful = follow.filter((i) => answers[i]!.how === 'wait').map((i) => joint.holes[i]!.id);
  const bracket = joint.layers.find((p) => work.model.brackets.some((b) => b.id === p));
  const which = bracket ? `holes of bracket ${bracket}` : `${joint.end} holes`;
  const named = (indices: readonly number[]): string => (indices.length === joint.holes.length ? '' : ` (${listed(indices.map((i) => joint.holes[i]!.id))}, ringed)`);
  const drafts: Draft[] = [];
  const push = (id: string, title: string, indices: readonly number[], more: Partial<Draft>): void => {
    if (indices.length > 0) drafts.push({ id, kind: 'open', title, ...same, holes: indices.map((i) => places[i]!.at), done: isDone(indices), ...more });
  };
  push(`open:${joint.id}`, `Open the ${which} at ${joint.station} to final${named(follow)}`, follow, { lines: [`Follow the ${partName(skeleton, joint.guide)}, through every layer.`, 'Fasteners in the neighbours. Square to the web.'], check: finals(follow), ...(doubtful.length > 0 ? { held: `clean-up of ${listed(doubtful)} is too close to call: measure the offset first` } : {}) });
  push(`open:${joint.id}-bushing`, `Open the ${which} at ${joint.station} through a bushing${named(midway)}`, midway, { lines: ['Ask the builder to set the drill bushing. It sits midway between the layers.', 'Through every layer, square to the web.'], check: finals(midway) });
  push(`open:${joint.id}-stop`, `Do not open the ${which} at ${joint.station}${named(rest)}`, rest, { kind: 'ask', lines: ['These holes stay as they are. Call the builder.'], held: `${listed(rest.map((i) => joint.holes[i]!.id))} will not clean up at this size` });
  return drafts;
}

function apart(work: Work, station: string, parts: readonly string[]): Draft[] {
  const ribs = parts.filter((p) => p !== 'front' && p !== 'rear');
  const holes = work.skeleton.jointsAt(station).reduce((sum, j) => sum + j.holes.length, 0);
  const joint = work.skeleton.jointsAt(station)[0];
  const standing: Standing = 'behind';
  return [
    { id: `apart:${station}`, kind: 'apart', title: `Take station ${station} apart and deburr`, station, chosen: ribs, standing, lines: ['Both sides of every hole. Take off the burr, no more.', 'Keep the pieces together, ink numbers up.', 'Brush out every chip.'], check: { kind: 'count', count: holes, what: holes === 1 ? 'hole through every layer' : 'holes through every layer' } },
    { id: `together:${station}`, kind: 'together', title: `Put station ${station} back together`, station, chosen: ribs, standing, lines: ['Same pieces, same way up, in this order.', 'A temporary fastener in every hole.'], stack: joint },
  ];
}

// --- the whole ------------------------------------------------------------------------------------------------------

/** Stages that only square and untwist come before the pilots of what was brought: the last of such a run, or the stage itself. */
function pilotStage(model: Model, i: number): number {
  let at = i;
  while (at + 1 < model.stages.length && model.stages[at + 1]!.brings.length === 0 && model.stages[at + 1]!.opens.length === 0) at++;
  return at;
}

/** Joints by the stage that opens them: the planned one, else the first at which every layer is in. */
function openings(work: Work, at: ReadonlyMap<string, number>): Map<Joint, number> {
  const { model } = work;
  return new Map(model.joints.map((joint): [Joint, number] => {
    const lastIn = Math.max(0, ...joint.layers.map((p) => at.get(p) ?? 0));
    const early = model.stages.findIndex((s) => s === earliestStage(model, joint));
    return [joint, Math.max(opensAt(model, joint) ?? Math.max(early, 0), lastIn, 0)];
  }));
}

/** Every step of a panel, in order. The same panel, whatever is ticked, gives the same steps. */
export function stepsOf(model: Model): readonly Step[] {
  const had = made.get(model.ribs);
  if (had && GROUPS.every((k) => had.model[k] === model[k])) return had.steps;
  const steps = assemble(model);
  made.set(model.ribs, { model, steps });
  return steps;
}

const made = new WeakMap<object, { readonly model: Model; readonly steps: readonly Step[] }>();
/** All that steps rest on; ticks and the journal are not among it. */
const GROUPS = ['sheets', 'stations', 'spars', 'webToWeb', 'ribs', 'doublers', 'brackets', 'skin', 'joints', 'stages', 'stand', 'hand', 'tolerances', 'survey', 'instruments', 'readings', 'limits', 'stock', 'reliefCounts', 'units', 'now'] as const satisfies readonly (keyof Model)[];

function assemble(model: Model): Step[] {
  const skeleton = skeletonOf(model);
  const ys = skeleton.bays.map((b) => b.station.y);
  const work: Work = { model, skeleton, bad: checkAll(model).filter((f) => f.verdict === 'act'), middle: (ys[0]! + ys[ys.length - 1]!) / 2 };
  const at = arrivals(work);
  const opensIn = openings(work, at);
  const ordered = [...model.joints].sort((a, b) => Math.abs(yOf(skeleton, a) - work.middle) - Math.abs(yOf(skeleton, b) - work.middle) || model.joints.indexOf(a) - model.joints.indexOf(b));
  const steps: Step[] = [];
  const there: string[] = [];
  const piloted = new Map<string, Set<string>>();
  let trued = false;
  const stages = model.stages.length > 0 ? model.stages : [{ id: '', name: '', brings: [], opens: [] }];
  let waiting = false;
  stages.forEach((stage, i) => {
    const add = (drafts: readonly Draft[]): void => {
      for (const d of drafts) {
        const { check, held, goes, joint, stack, ...rest } = d;
        steps.push({
          lines: [], layers: stack ? layerLines(skeleton, stack, [...there, ...d.chosen]) : [], clamps: [], holes: [], done: false, ...rest, number: steps.length + 1, stage: stage.id, stageName: stage.name, edge: EDGES[d.standing],
          there: there.filter((p) => !d.chosen.includes(p)), ...(check ? { check } : {}), ...(held ? { held } : {}), ...(goes ? { goes } : {}), ...(joint ? { joint } : {}), ...placeOf(skeleton, d.station),
        });
        if (PLACING.includes(d.kind)) there.push(...d.chosen);
      }
    };
    const fresh = bringing(work, (part) => at.get(part) === i);
    add(fresh);
    if (fresh.length > 0) waiting = true;
    if (waiting && pilotStage(model, i) === i) {
      waiting = false;
      const pilots = ordered.flatMap((joint) => {
        const isIn = joint.layers.filter((p) => there.includes(p));
        const had = piloted.get(joint.id) ?? new Set<string>();
        const news = isIn.filter((p) => !had.has(p));
        if (isIn.length < 2 || news.length === 0) return [];
        piloted.set(joint.id, new Set(isIn));
        // Of layers that come together, those whose holes the file already knows guide the rest.
        const holed = news.filter((p) => joint.holes.every((_, k) => stateOf(joint, k, p) !== 'none'));
        return [pilot(work, joint, holed.length === news.length ? news : news.filter((p) => !holed.includes(p)), isIn, stage.id)].filter((d) => d !== undefined);
      });
      if (pilots.length > 0) {
        if (!trued) add(truing(work, there));
        else if (fresh.some((d) => d.chosen.some((p) => model.ribs.some((r) => r.id === p && r.kind === 'nose')))) add([noseSurvey()]);
        trued = true;
        add(pilots);
        add([{ id: `clear${stage.id ? `@${stage.id}` : ''}`, kind: 'clear', title: 'Clear the chips', station: null, chosen: [], standing: 'behind', lines: ['One station at a time: loosen, brush between the layers, clamp again.', 'A chip between layers is a false gap.'] }]);
      }
    }
    const opened = ordered.filter((j) => opensIn.get(j) === i).flatMap((j) => open(work, j, stage.id));
    if (opened.length > 0) add([askGate(model, 'final', stage.id ? `@${stage.id}` : ''), ...opened]);
    const finished = [...new Set(ordered.map((j) => j.station))].filter((s) => {
      const own = model.joints.filter((j) => j.station === s && j.holes.length > 0);
      return own.length > 0 && Math.max(...own.map((j) => opensIn.get(j) ?? 0)) === i;
    });
    for (const station of finished) add(apart(work, station, there.filter((p) => stationOf(skeleton, p) === station)));
  });
  add2();
  return steps;

  /** The last step of all. */
  function add2(): void {
    const last = stages[stages.length - 1]!;
    const d = askGate(model, 'skin');
    steps.push({ lines: [], layers: [], clamps: [], holes: [], done: false, ...d, number: steps.length + 1, stage: last.id, stageName: last.name, edge: EDGES.behind, there: [...there] });
  }
}

function noseSurvey(): Draft {
  return { id: 'survey:noses', kind: 'survey', title: 'Read every nose against the string line', station: null, chosen: [], standing: 'ahead', lines: ['String from tip to tip, held off by two equal blocks.', 'Write each reading on the leading edge sheet.'] };
}

const placeOf = (skeleton: Skeleton, station: string | null): { at?: number } => {
  const y = skeleton.bays.find((b) => b.station.id === station)?.station.y;
  return y === undefined ? {} : { at: y };
};

const yOf = (skeleton: Skeleton, joint: Joint): number => skeleton.bays.find((b) => b.station.id === joint.station)?.station.y ?? 0;

function stationOf(skeleton: Skeleton, id: string): string | undefined {
  const part = skeleton.part(id);
  if (!part) return undefined;
  if (!('form' in part)) return part.station;
  const rib = skeleton.part(part.part);
  return rib && 'station' in rib ? rib.station : undefined;
}

