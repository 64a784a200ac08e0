import { edgesWant, lookedThrough, missingOf, restsOn } from '../checks/evidence.ts';
import { findingsOfRow } from '../checks/findingsOf.ts';
import { missingLayers, partsIn } from '../checks/holes/stages.ts';
import { door, kept, sameItems } from '../model/rested.ts';
import type { Joint, Model } from '../model/schema.ts';
import { jointOf, type Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type HoleFacts, rowFacts } from './facts.ts';
import { type GateAnswer, type GateItem, item, NOTHING, together } from './gate.ts';
import { askItem, plainItem } from './items.ts';
import { agreeItem, squareBeside, straightItem, togetherBeside, twistItem } from './stationItems.ts';

/*
 * The gate of one row: one joint's holes. Pilots: the parts are in, they fit, stand square and true, and there is
 * room to every edge. Final: the same, and every layer is in, the holes line up, the rivet fits. One function
 * decides; whatever says that a hole may be drilled asks it.
 */

export interface RowGate {
  readonly answer: GateAnswer;
  readonly items: readonly GateItem[];
}

const WORDS = {
  in: { name: 'its parts are in', not: 'its parts are not in yet' },
  layers: { name: 'every layer is in', not: 'a layer is not in yet' },
  edges: { name: 'the row has edge and pitch', not: 'the row lacks edge or pitch' },
  cleanup: { name: 'every hole cleans up', not: 'a hole does not clean up' },
  grip: { name: 'the rivet fits its layers', not: 'the rivet does not fit its layers' },
  early: { name: 'no hole was opened too soon', not: 'a hole was opened too soon' },
} as const;

/** Chances under this are too close to call. */
export const SURE = 0.9;

/** A row: its joint, its holes as they are, and the stage asked about. */
interface Row {
  readonly skeleton: Skeleton;
  readonly joint: Joint;
  readonly holes: readonly HoleFacts[];
  readonly at: number;
}

function partsItem({ skeleton, joint, at }: Row): GateItem {
  const isIn = partsIn(skeleton.model, at);
  const missing = joint.layers.filter((part) => !isIn(part));
  const enough = joint.layers.length - missing.length >= 2 && isIn(joint.guide);
  return plainItem(WORDS.in, enough ? 'yes' : 'no', `${joint.id} still wants ${missing.join(', ')}.`);
}

function layersItem({ skeleton, joint, at, holes }: Row): GateItem {
  const missing = missingLayers(skeleton.model, joint, at);
  const stage = skeleton.model.stages[at];
  const earliest = holes[0]?.earliest;
  const when = earliest ? `, in at “${earliest}”` : '';
  const now = stage ? ` The stage is “${stage.name}”.` : '';
  const first = `${joint.id} still wants ${missing.join(', ')}${when}.${now}`;
  return plainItem(WORDS.layers, missing.length === 0 ? 'yes' : 'no', first);
}

const edgesItem = (row: Row): GateItem =>
  askItem(WORDS.edges, {
    skeleton: row.skeleton,
    findings: findingsOfRow(row.skeleton.model, { item: 'edges', joint: row.joint.id }),
    wants: [edgesWant(row.joint.id)],
    unread: `No edge and no pitch is known at ${row.joint.id}: lay its row out.`,
  });

function gripItem({ skeleton, joint }: Row): GateItem {
  const unread = `No grip or length is given for the rivet of ${joint.id}: name the bag the drawing wants.`;
  return askItem(WORDS.grip, {
    skeleton,
    findings: findingsOfRow(skeleton.model, { item: 'grip', joint: joint.id }),
    unread,
  });
}

/** How sure it is that a hole cleans up at final size, on the better axis; undefined where nobody looked through it. */
const chanceOf = (h: HoleFacts): number | undefined =>
  h.bestChance === undefined ? undefined : Math.max(h.bestChance, h.followChance ?? 0);

function cleanupItem({ skeleton, joint, holes }: Row): GateItem {
  const wants = holes.flatMap((h) => lookedThrough(joint, h.hole.id));
  const rests = restsOn(skeleton, wants);
  const name = (h: HoleFacts): string => `${joint.id} hole ${h.hole.id}`;
  if (holes.length === 0) return item(WORDS.cleanup, 'not asked', `No hole is laid out at ${joint.id}.`, rests);
  const undrilled = holes.find((h) => h.circles.length < 2);
  if (undrilled) return item(WORDS.cleanup, 'not asked', `${name(undrilled)} is not piloted yet.`, rests);
  const never = holes.find((h) => (chanceOf(h) ?? 1) < 1 - SURE);
  if (never) return item(WORDS.cleanup, 'no', `${name(never)} does not clean up at its final size.`, rests);
  const doubt = holes.find((h) => (chanceOf(h) ?? 1) < SURE);
  if (doubt) return item(WORDS.cleanup, 'unsettled', `${name(doubt)}: read its offsets.`, rests);
  const unseen = holes.find((h) => !h.looked);
  if (unseen)
    return item(
      WORDS.cleanup,
      'not asked',
      `Look through the holes of ${joint.id}, and tick that they line up.`,
      rests,
      { asks: missingOf(skeleton, wants) },
    );
  return item(WORDS.cleanup, 'yes', '', rests);
}

/** A hole opened in some layers is answered while the layers that lack it are not drilled: they follow it. */
function earlyItem({ joint, holes }: Row): GateItem {
  const early = holes.find(
    (h) => h.layers.some((l) => l.state === 'opened early') && h.layers.some((l) => l.state === 'pilot'),
  );
  const first = `${joint.id} hole ${early?.hole.id} is final in some layers and pilot size in others: read its offsets.`;
  return plainItem(WORDS.early, early ? 'no' : 'yes', first, NOTHING);
}

type RowGateId = 'pilots' | 'final';

/** A row's gate that is asked for, at a stage (its place in the order). */
interface Asked {
  readonly joint: string;
  readonly id: RowGateId;
  readonly at: number;
}

const name = ({ joint, id, at }: Asked): string => `${joint} ${id} ${at}`;

/** What is asked of the row itself. */
const ownItems = kept(
  (model, { joint: named, id, at }: Asked): readonly GateItem[] => {
    const skeleton = skeletonOf(model);
    const joint = jointOf(model, named);
    if (!joint) return [];
    const row: Row = { skeleton, joint, at, holes: rowFacts(skeleton, joint, at) };
    return id === 'pilots'
      ? [partsItem(row), edgesItem(row)]
      : [layersItem(row), cleanupItem(row), edgesItem(row), gripItem(row), earlyItem(row)];
  },
  { name, same: sameItems },
);

/** What is asked of where a row stands: of the panel, and of its station with the two beside it. */
const standing = (model: Model, station: string): GateItem[] =>
  [
    agreeItem(model),
    togetherBeside(model, station),
    straightItem(model),
    squareBeside(model, station),
    twistItem(model),
  ].filter((x) => x !== undefined);

const gateAt = kept(
  (model, asked: Asked): RowGate => {
    const station = jointOf(model, asked.joint)?.station;
    const place = station === undefined ? [] : standing(model, station);
    const items = [...place, ...ownItems(model, asked)];
    return { answer: together(items.map((i) => i.answer)), items };
  },
  { name, same: (a, b) => sameItems(a.items, b.items) },
);

/**
 * What a row's gate says at a stage (its place in the order), item by item; items that nothing at its place can be
 * asked for are left out.
 */
export const rowGate = (skeleton: Skeleton, joint: Joint, id: RowGateId, at: number): RowGate =>
  gateAt(skeleton.model, { joint: joint.id, id, at });

/** What a row's gate says, and the first item that says so. */
export interface Decided {
  readonly answer: GateAnswer;
  readonly item: GateItem | undefined;
}

/** The same in short: who rests on it rests on the item that decides, whatever becomes of the others. */
export const rowDecided = door(
  (model, asked: Asked): Decided => {
    const { answer, items } = gateAt(model, asked);
    return { answer, item: items.find((i) => i.answer === answer) };
  },
  { name, same: (a, b) => a.answer === b.answer && a.item === b.item },
);
