import { stageIndex } from '../../checks/holes/stages.ts';
import { askOnceTrue } from '../../drilling/drill.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { rowGate } from '../../drilling/rowGate.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { Joint } from '../../model/schema.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { holePlaces, isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Standing, StepNumber } from './step.ts';
import { AFT, DOWN, type Draft, FORWARD, heldBy, UP, type Work } from './stepDraft.ts';
import { clampSpots } from './stepFeeling.ts';
import { layerLines, listed, partName } from './stepWords.ts';

/*
 * Steps with the drill: pilots, opening to final, and what follows. Never a pilot and a final size in one step.
 */

export const stateOf = (joint: Joint, hole: number, part: string): 'none' | 'pilot' | 'final' =>
  joint.holes[hole]!.layers.find((l) => l.part === part)?.state ?? 'none';

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

/** The way the drill goes in: into a web from the side one stands at, into a cap from above or below. */
const wayIn = (joint: Joint, standing: Standing): Vec3 =>
  joint.on === 'top' ? DOWN : joint.on === 'bottom' ? UP : WAY_IN[standing === 'ahead' ? 'ahead' : 'behind'];

const WAY_IN: Record<'ahead' | 'behind', Vec3> = { ahead: AFT, behind: FORWARD };
const opposite = (s: Standing): Standing => (s === 'ahead' ? 'behind' : 'ahead');

/** Why a row may not be drilled yet, in few words: the item of its gate that stands in the way; undefined where the gate says yes. */
function gateHolds(skeleton: Skeleton, joint: Joint, id: 'pilots' | 'final'): string | undefined {
  const { answer, items } = rowGate(skeleton, joint, id, stageIndex(skeleton.model));
  return answer === 'yes' ? undefined : items.find((i) => i.answer === answer)?.says;
}

export function pilot(
  work: Work,
  joint: Joint,
  {
    fresh,
    layers,
    stage,
  }: { readonly fresh: readonly string[]; readonly layers: readonly string[]; readonly stage: string },
): Draft | undefined {
  const { skeleton } = work;
  if (joint.holes.length === 0) return undefined;
  // Where the guide already has its holes and the new layer lies over them, the drill goes in from the other side.
  const back = !fresh.includes(joint.guide) && layers.indexOf(fresh[0]!) < layers.indexOf(joint.guide);
  const standing = back ? opposite(drillSide(skeleton, joint)) : drillSide(skeleton, joint);
  const guide = partName(skeleton, joint.guide);
  return {
    id: `pilot:${joint.id}${stage ? `@${stage}` : ''}`,
    kind: 'pilot',
    joint: joint.id,
    station: joint.station,
    chosen: fresh.filter((p) => p !== 'front' && p !== 'rear'),
    standing,
    title:
      fresh.length < layers.length
        ? `Drill pilots in ${listed(fresh.map((p) => partName(skeleton, p)))} at ${joint.station}`
        : `Drill pilots in the ${placeOf(joint)} at ${joint.station}`,
    goes: wayIn(joint, standing),
    lines: [
      back ? `Through the holes that are in the ${guide}. Drill from this side.` : `The ${guide} guides the drill.`,
      'Square to the web. A temporary fastener in each hole as you go.',
    ],
    // Named from the side one drills from: the other way round where that is behind.
    layers: back ? layerLines(skeleton, joint, layers).reverse() : layerLines(skeleton, joint, layers),
    holes: holePlaces(skeleton, joint).map((h) => h.at),
    clamps: clampSpots(skeleton, [joint]),
    check: { kind: 'drill', diameter: joint.pilot, holes: joint.holes.length, pilot: true },
    ...heldBy(gateHolds(skeleton, joint, 'pilots')),
    done: joint.holes.every((_, i) => fresh.every((p) => stateOf(joint, i, p) !== 'none')),
  };
}

/** The panel as it will be when every layer of a joint is piloted: what opening to final is asked of. */
function asPiloted(joint: Joint): Joint {
  const piloted = (part: string, had: Joint['holes'][number]['layers'][number] | undefined) =>
    had && had.state !== 'none' ? had : { part, state: 'pilot' as const, size: joint.pilot };
  return {
    ...joint,
    holes: joint.holes.map((h) => ({
      ...h,
      layers: joint.layers.map((part) =>
        piloted(
          part,
          h.layers.find((l) => l.part === part),
        ),
      ),
    })),
  };
}

/** Opening one joint: holes that follow the guide, those that want a bushing, and those that must not be opened, each a step. */
export function open(work: Work, before: Joint, stage: string): Draft[] {
  const { skeleton } = work;
  const joint = asPiloted(before);
  if (joint.holes.length === 0) return [];
  const places = holePlaces(skeleton, joint);
  const answers = joint.holes.map((h) => askOnceTrue(skeleton, joint, h, stage || undefined));
  const standing = drillSide(skeleton, joint);
  const at = (which: (a: HoleAnswer) => boolean): number[] => answers.flatMap((a, i) => (which(a) ? [i] : []));
  const same = {
    station: joint.station,
    joint: joint.id,
    chosen: joint.layers.filter((p) => p !== 'front' && p !== 'rear'),
    standing,
    goes: wayIn(joint, standing),
    layers: layerLines(skeleton, joint),
  };
  const finals = (indices: readonly number[]): StepNumber => ({
    kind: 'drill',
    diameter: joint.final,
    holes: indices.length,
    pilot: false,
  });
  const isDone = (indices: readonly number[]): boolean =>
    indices.every((i) => before.layers.every((p) => stateOf(before, i, p) === 'final'));
  // As measured it does not clean up, even where the readings leave some doubt: not a card for a helper.
  const lost = (a: HoleAnswer): boolean =>
    a.state === 'never' || (a.how === 'wait' && a.need !== undefined && a.need.bestAxis > joint.final);
  const rest = at(lost);
  const midway = at((a) => a.how === 'bushing set midway');
  const follow = at((a) => !lost(a) && a.how !== 'bushing set midway');
  const doubtful = follow.filter((i) => answers[i]!.how === 'wait').map((i) => joint.holes[i]!.id);
  const tooClose =
    doubtful.length > 0 ? `clean-up of ${listed(doubtful)} is too close to call: measure the offset first` : undefined;
  const bracket = joint.layers.find((p) => work.model.brackets.some((b) => b.id === p));
  const which = bracket
    ? `holes of bracket ${bracket}`
    : isCapRow(joint)
      ? `holes in the ${placeOf(joint)}`
      : `${joint.end} holes`;
  const named = (indices: readonly number[]): string =>
    indices.length === joint.holes.length ? '' : ` (${listed(indices.map((i) => joint.holes[i]!.id))}, ringed)`;
  const drafts: Draft[] = [];
  const push = (id: string, title: string, indices: readonly number[], more: Partial<Draft>): void => {
    if (indices.length > 0)
      drafts.push({
        id,
        kind: 'open',
        title,
        ...same,
        holes: indices.map((i) => places[i]!.at),
        done: isDone(indices),
        ...more,
      });
  };
  push(`open:${joint.id}`, `Open the ${which} at ${joint.station} to final${named(follow)}`, follow, {
    lines: [
      `The ${partName(skeleton, joint.guide)} guides the drill. Go through every layer.`,
      'A temporary fastener in the holes on either side. Square to the web.',
    ],
    check: finals(follow),
    ...heldBy(tooClose ?? gateHolds(skeleton, before, 'final')),
  });
  push(`open:${joint.id}-bushing`, `Open the ${which} at ${joint.station} through a bushing${named(midway)}`, midway, {
    lines: [
      'Ask the builder to set the drill bushing. It sits midway between the layers.',
      'Through every layer, square to the web.',
    ],
    check: finals(midway),
    ...heldBy(gateHolds(skeleton, before, 'final')),
  });
  push(`open:${joint.id}-stop`, `Do not open the ${which} at ${joint.station}${named(rest)}`, rest, {
    kind: 'ask',
    lines: ['These holes stay as they are. Call the builder.'],
    held: `${listed(rest.map((i) => joint.holes[i]!.id))} will not clean up at this size`,
  });
  return drafts;
}

export function apart(work: Work, station: string, parts: readonly string[]): Draft[] {
  const ribs = parts.filter((p) => p !== 'front' && p !== 'rear');
  const holes = work.skeleton.jointsAt(station).reduce((sum, j) => sum + j.holes.length, 0);
  const joint = work.skeleton.jointsAt(station)[0];
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
      lines: ['Same pieces, same way up, in this order.', 'A temporary fastener in every hole.'],
      stack: joint,
    },
  ];
}
