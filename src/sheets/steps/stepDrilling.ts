import { type BasisWord, basisOfHole, basisText, weakest } from '../../checks/basis.ts';
import { stageIndex } from '../../checks/holes/stages.ts';
import { askOnceTrue } from '../../drilling/drill.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { rowGate } from '../../drilling/rowGate.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Hole, Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { holePlaces, isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Standing, StepNumber } from './step.ts';
import { AFT, DOWN, type Draft, FORWARD, heldBy, UP, type Work } from './stepDraft.ts';
import { clampSpots } from './stepFeeling.ts';
import { layerLines, listed, partName } from './stepWords.ts';

/*
 * Steps with the drill: pilots, opening to final, and what follows. Never a pilot and a final size in one step.
 */

export const stateOf = ({ layers }: Hole, part: string): 'none' | 'pilot' | 'final' =>
  layers.find((l) => l.part === part)?.state ?? 'none';

/** The side a joint is drilled from: ahead of the front web or behind the rear one, unless a rib lies first. */
function drillSide(skeleton: Skeleton, joint: Joint): Standing {
  const first = joint.layers[0] ?? joint.end;
  const part = skeleton.part(first);
  if (isCapRow(joint)) return joint.end === 'front' ? 'ahead' : 'behind';
  const outside =
    first === joint.end || (part !== undefined && !('form' in part) && (!('kind' in part) || part.kind === 'nose'));
  return (joint.end === 'front') === outside ? 'ahead' : 'behind';
}

/** Where a joint's row is: the front web, the top cap of the front spar. */
const placeOf = (joint: Joint): string =>
  isCapRow(joint) ? `${joint.on} cap of the ${joint.end} spar` : `${joint.end} web`;

/**
 * The way the drill goes in: into a web from the side one stands at, into a cap from outside; from inside it where
 * the guide lies there.
 */
function wayIn(joint: Joint, standing: Standing, back = false): Vec3 {
  if (isCapRow(joint)) return (joint.on === 'top') === back ? UP : DOWN;
  return standing === 'ahead' ? AFT : FORWARD;
}

const opposite = (s: Standing): Standing => (s === 'ahead' ? 'behind' : 'ahead');

/**
 * Why a row may not be drilled yet, in few words: the item of its gate that stands in the way; undefined where the
 * gate says yes.
 */
function gateHolds(skeleton: Skeleton, joint: Joint, id: 'pilots' | 'final'): string | undefined {
  const { answer, items } = rowGate(skeleton, joint, id, stageIndex(skeleton.model));
  const item = items.find((i) => i.answer === answer);
  return answer === 'yes' || !item ? undefined : `${item.says} (${basisText(item.basis)})`;
}

/** A joint being piloted: the layers that are new, and all that are in by then. */
export interface Piloting {
  readonly fresh: readonly string[];
  readonly layers: readonly string[];
  /** Stage id; '' where the panel has none. */
  readonly stage: string;
}

/** Pilots in a joint; nothing where no hole is laid. Holes that every new layer has are not drilled again. */
export function pilot(work: Work, joint: Joint, { fresh, layers, stage }: Piloting): Draft[] {
  const { skeleton } = work;
  if (joint.holes.length === 0) return [];
  // Where the guide already has its holes and the new layer lies over them, the drill goes in from the other side.
  const over = layers.findIndex((p) => fresh.includes(p));
  const back = !fresh.includes(joint.guide) && over < layers.indexOf(joint.guide);
  const side = drillSide(skeleton, joint);
  const standing = back && !isCapRow(joint) ? opposite(side) : side;
  const guide = partName(skeleton, joint.guide);
  const named = listed(fresh.map((p) => partName(skeleton, p)));
  const where = fresh.length < layers.length ? named : `the ${placeOf(joint)}`;
  const fromTop = layerLines(skeleton, joint, layers);
  const bare = joint.holes.filter((hole) => fresh.some((p) => stateOf(hole, p) === 'none'));
  const holes = bare.length === 0 ? joint.holes : bare;
  const some = holes.length === joint.holes.length ? '' : ` (${listed(holes.map((h) => h.id))}, ringed)`;
  const places = holePlaces(skeleton, joint).filter((p) => holes.includes(p.hole));
  const loose = fresh.includes(joint.guide) ? [] : holes.filter((h) => sizeIn(h, joint.guide) > joint.pilot + LOOSE);
  return [
    {
      id: `pilot:${joint.id}${stage ? `@${stage}` : ''}`,
      kind: 'pilot',
      joint: joint.id,
      station: joint.station,
      chosen: fresh.filter(isNoSpar),
      standing,
      title: `Drill pilots in ${where} at ${joint.station}${some}`,
      goes: wayIn(joint, standing, back),
      lines: [
        back ? `Through the holes that are in the ${guide}. Drill from this side.` : `The ${guide} guides the drill.`,
        `${squareTo(joint)} A temporary fastener of this size in each hole as you go.`,
      ],
      // Named from the side one drills from: the other way round where that is behind.
      layers: back ? fromTop.reverse() : fromTop,
      holes: places.map((p) => p.at),
      clamps: clampSpots(skeleton, [joint]),
      check: { kind: 'drill', diameter: joint.pilot, holes: holes.length, pilot: true },
      ...heldBy(notGuided(guide, loose) ?? gateHolds(skeleton, joint, 'pilots')),
      done: bare.length === 0,
    },
  ];
}

/** A drill is led by a hole no more than so much larger than itself, mm: picked. */
const LOOSE = 0.1;

/** The hole that a layer has by now, mm; 0 where it has none. */
const sizeIn = ({ layers }: Hole, part: string): number => {
  const layer = layers.find((l) => l.part === part);
  return layer && layer.state !== 'none' ? layer.size : 0;
};

/** Why a row is not piloted through its guide: holes there are larger than the drill, and would not lead it. */
function notGuided(guide: string, loose: readonly Hole[]): string | undefined {
  if (loose.length === 0) return undefined;
  return `${listed(loose.map((h) => h.id))} of the ${guide} is larger than this drill and does not guide it: use a drill block`;
}

const squareTo = (joint: Joint): string => `Square to the ${isCapRow(joint) ? 'cap' : 'web'}.`;

const isNoSpar = (part: string): boolean => part !== 'front' && part !== 'rear';

/** The panel as it will be when every layer of a joint is piloted: what opening to final is asked of. */
function asPiloted(joint: Joint): Joint {
  const piloted = ({ layers }: Hole, part: string): Hole['layers'][number] => {
    const had = layers.find((l) => l.part === part);
    return had && had.state !== 'none' ? had : { part, state: 'pilot', size: joint.pilot };
  };
  return {
    ...joint,
    holes: joint.holes.map((h) => ({ ...h, layers: joint.layers.map((part) => piloted(h, part)) })),
  };
}

/**
 * A hole of a joint as it will be when it is opened: as the file has it, where it is, and what is then to be done
 * with it.
 */
interface Opened {
  readonly before: Hole;
  readonly at: Vec3;
  readonly answer: HoleAnswer;
}

function openedOf(skeleton: Skeleton, before: Joint, stage: string): Opened[] {
  const joint = asPiloted(before);
  const places = holePlaces(skeleton, joint);
  return before.holes.flatMap((hole) => {
    const place = places.find((p) => p.id === hole.id);
    if (!place) return [];
    return [{ before: hole, at: place.at, answer: askOnceTrue(skeleton, joint, place.hole, stage || undefined) }];
  });
}

/** As measured it does not clean up, even where the readings leave some doubt: not a card for a helper. */
const isLost = ({ state, how, need }: HoleAnswer, final: number): boolean =>
  state === 'never' || (how === 'wait' && need !== undefined && need.bestAxis > final);

const namesOf = (holes: readonly Opened[]): string => listed(holes.map((h) => h.before.id));

/** What a joint's holes are called: those of its bracket, those in a cap, front or rear ones. */
function holesCalled(work: Work, joint: Joint): string {
  const bracket = joint.layers.find((p) => work.model.brackets.some((b) => b.id === p));
  if (bracket) return `holes of bracket ${bracket}`;
  return isCapRow(joint) ? `holes in the ${placeOf(joint)}` : `${joint.end} holes`;
}

/**
 * Opening one joint: holes that follow the guide, those that want a bushing, and those that must not be opened, each
 * a step.
 */
export function open(work: Work, joint: Joint, stage: string): Draft[] {
  const { skeleton } = work;
  const all = openedOf(skeleton, joint, stage);
  const isMidway = (h: Opened): boolean => h.answer.how === 'bushing set midway';
  const lost = all.filter((h) => isLost(h.answer, joint.final));
  const midway = all.filter(isMidway);
  const follow = all.filter((h) => !isMidway(h) && !lost.includes(h));
  const which = holesCalled(work, joint);
  const standing = drillSide(skeleton, joint);
  const step = (id: string, title: string, holes: readonly Opened[], more: Partial<Draft>): Draft[] => {
    if (holes.length === 0) return [];
    const some = holes.length === all.length ? '' : ` (${namesOf(holes)}, ringed)`;
    const draft: Draft = {
      id,
      kind: 'open',
      title: `${title}${some}`,
      station: joint.station,
      joint: joint.id,
      chosen: joint.layers.filter(isNoSpar),
      standing,
      goes: wayIn(joint, standing),
      layers: layerLines(skeleton, joint),
      holes: holes.map((h) => h.at),
      done: holes.every((h) => joint.layers.every((p) => stateOf(h.before, p) === 'final')),
      ...more,
    };
    return [draft];
  };
  const finals = ({ length }: readonly Opened[]): StepNumber => ({
    kind: 'drill',
    diameter: joint.final,
    holes: length,
    pilot: false,
  });
  const held = gateHolds(skeleton, joint, 'final');
  return [
    ...step(`open:${joint.id}`, `Open the ${which} at ${joint.station} to final`, follow, {
      lines: [
        `The ${partName(skeleton, joint.guide)} guides the drill. Go through every layer.`,
        `A temporary fastener in the holes on either side. ${squareTo(joint)}`,
      ],
      check: finals(follow),
      ...heldBy(tooLarge(skeleton, joint, follow) ?? tooClose(skeleton, joint, follow) ?? held),
    }),
    ...step(`open:${joint.id}-bushing`, `Open the ${which} at ${joint.station} through a bushing`, midway, {
      lines: [
        'Ask the builder to set the drill bushing. It sits midway between the layers.',
        `Through every layer. ${squareTo(joint)}`,
      ],
      check: finals(midway),
      ...heldBy(tooLarge(skeleton, joint, midway) ?? held),
    }),
    ...step(`open:${joint.id}-stop`, `Do not open the ${which} at ${joint.station}`, lost, {
      kind: 'ask',
      lines: ['These holes stay as they are. Call the builder.'],
      held: `${namesOf(lost)} will not clean up at this size (${basisText(basisOf(skeleton, joint, lost))})`,
    }),
  ];
}

/** What the clean-up of some holes rests on. */
const basisOf = (skeleton: Skeleton, joint: Joint, holes: readonly Opened[]): BasisWord =>
  weakest(holes.map((h) => basisOfHole(skeleton, joint.id, h.before.id)));

/** Why holes that follow the guide wait: the clean-up of some is too close to call. */
function tooClose(skeleton: Skeleton, joint: Joint, holes: readonly Opened[]): string | undefined {
  const doubtful = holes.filter((h) => h.answer.how === 'wait');
  if (doubtful.length === 0) return undefined;
  const basis = basisText(basisOf(skeleton, joint, doubtful));
  return `clean-up of ${namesOf(doubtful)} is too close to call (${basis}): measure the offset first`;
}

/** Why holes are not opened: a layer's hole is larger than this drill already. */
function tooLarge(skeleton: Skeleton, joint: Joint, holes: readonly Opened[]): string | undefined {
  for (const part of joint.layers) {
    const large = holes.filter((h) => sizeIn(h.before, part) > joint.final + LOOSE);
    if (large.length > 0) return `${namesOf(large)} of ${partName(skeleton, part)} is larger than this drill already`;
  }
  return undefined;
}

export function apart(work: Work, station: string, parts: readonly string[]): Draft[] {
  const ribs = parts.filter(isNoSpar);
  const holes = work.skeleton.jointsAt(station).reduce((sum, j) => sum + j.holes.length, 0);
  const rows = work.skeleton.jointsAt(station).filter((j) => j.holes.length > 0);
  const standing: Standing = 'behind';
  return [
    {
      id: `apart:${station}`,
      kind: 'apart',
      title: `Take station ${station} apart and deburr`,
      station,
      chosen: ribs,
      standing,
      lines: [
        'Both sides of every hole. Take off the burr, no more.',
        'Keep the pieces together, ink numbers up.',
        'Brush out every chip.',
      ],
      check: {
        kind: 'count',
        count: holes,
        what: holes === 1 ? 'hole through every layer' : 'holes through every layer',
      },
    },
    {
      id: `together:${station}`,
      kind: 'together',
      title: `Put station ${station} back together`,
      station,
      chosen: ribs,
      standing,
      lines: [
        'Primer between the layers first, where the drawing calls for it.',
        'Same pieces, same way up, in this order.',
        'A temporary fastener in every hole.',
      ],
      layers: rows.flatMap((j) => rowLayers(work.skeleton, j, rows.length > 1)),
    },
  ];
}

/** Layers of a row from the drill side; with the row's place before them where a station has several. */
function rowLayers(skeleton: Skeleton, joint: Joint, several: boolean): string[] {
  const place = isCapRow(joint) ? `${joint.end} ${joint.on} cap` : joint.end;
  return layerLines(skeleton, joint).map((layer) => (several ? `${place}: ${layer}` : layer));
}
