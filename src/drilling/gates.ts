import { lookedAt } from '../checks/basis.ts';
import { checkAll } from '../checks/checkAll.ts';
import { missingOf, restsOn, type Want } from '../checks/evidence.ts';
import type { CheckId, Finding } from '../checks/finding.ts';
import { missingLayers, partsIn, stageIndex } from '../checks/holes/stages.ts';
import { checksWhere } from '../model/checkTable.ts';
import { stationTick } from '../model/edits/ticks.ts';
import { SKIN } from '../model/metal.ts';
import { keptWhole } from '../model/rested.ts';
import type { Joint, Model } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import { type Gate, type GateItem, item, mergedItem, NOTHING, QUESTIONS, together } from './gate.ts';
import { askItem, plainItem } from './items.ts';
import { type RowGate, rowGate } from './rowGate.ts';
import { countedTwists, twistItem } from './stationItems.ts';

/*
 * Ready gates: may I drill pilots, may I open to final, may I skin. The first two are asked row by row, and the panel's
 * answer is yes only when every row of the present stage is; the third is asked of the panel. Not a certificate: the
 * drawings, local rules and the inspector come first.
 */

const WORDS = {
  laid: { name: 'its rows are laid out', not: 'no row is laid out' },
  final: { name: 'every hole is at final size', not: 'not every hole is at final size' },
  deburred: { name: 'deburring is ticked at every station', not: 'deburring is not ticked' },
  made: { name: 'what was decided is made', not: 'something decided is not made yet' },
  read: { name: 'what was made is read', not: 'something made is not read yet' },
  noses: { name: 'no nose kinks', not: 'a nose kinks' },
  steps: { name: 'the skin will lie without a step', not: 'the skin would lie on a step' },
  under: { name: 'nothing under the skin is beyond its limit', not: 'something under the skin is beyond its limit' },
  asked: { name: 'the designer has answered', not: 'the designer was not asked' },
} as const;

/** Whether a row's holes go through the skin: those are asked after skinning. */
const throughSkin = (joint: Joint): boolean => joint.layers.includes(SKIN);

/** Rows that a gate is asked of at a stage: pilots, where two layers with the guide are in; final, where all are. */
function rowsAt(model: Model, id: 'pilots' | 'final', at: number): Joint[] {
  const isIn = partsIn(model, at);
  return model.joints.filter((j) => {
    if (id === 'final') return missingLayers(model, j, at).length === 0;
    return isIn(j.guide) && j.layers.filter(isIn).length >= 2;
  });
}

/** Items of several rows, those of one name as one, in the order the rows have them. */
function mergedItems(rows: readonly RowGate[]): GateItem[] {
  const byName = new Map<string, GateItem[]>();
  for (const row of rows)
    for (const it of row.items) {
      const list = byName.get(it.name);
      if (list) list.push(it);
      else byName.set(it.name, [it]);
    }
  return [...byName.values()].flatMap((list) => mergedItem(list) ?? []);
}

function rowsGate(skeleton: Skeleton, id: 'pilots' | 'final', at: number): Gate {
  const { model } = skeleton;
  const present = rowsAt(model, id, at);
  const asked = present.length > 0 ? present : model.joints;
  const rows = asked.map((joint) => rowGate(skeleton, joint, id, at));
  const yes = present.length > 0 ? rows.filter((r) => r.answer === 'yes').length : 0;
  const items =
    rows.length > 0 ? mergedItems(rows) : [plainItem(WORDS.laid, 'not asked', 'Lay rows out where parts meet.')];
  const answer = together(items.map((i) => i.answer));
  // With no row of the present stage nothing may be drilled, whatever its items say; a later stage is asked when it
  // is reached.
  const asks = present.length > 0 && at === stageIndex(model);
  const said = answer === 'yes' && !asks ? 'not asked' : answer;
  return { id, question: QUESTIONS[id], answer: said, rows: { yes, of: present.length }, items };
}

const nameOf = (joint: Joint, hole: string): string => `${joint.id} hole ${hole}`;

/** Every row of the skeleton at its final size through all its layers; the skin's own rows come after it. */
function finalItem(model: Model): GateItem {
  const rows = model.joints.filter((j) => !throughSkin(j));
  const holes = rows.flatMap((joint) => joint.holes.map((hole) => ({ joint, hole })));
  if (holes.length === 0) return plainItem(WORDS.final, 'not asked', 'No row is laid out yet.');
  const open = holes.filter(({ joint, hole }) => {
    const final = new Set(hole.layers.filter((l) => l.state === 'final').map((l) => l.part));
    return !joint.layers.every((part) => final.has(part));
  });
  const [first] = open;
  if (!first) return plainItem(WORDS.final, 'yes', '');
  const says = `${open.length} of ${holes.length} holes are not final yet, ${nameOf(first.joint, first.hole.id)} first.`;
  return plainItem(WORDS.final, 'no', says);
}

/** Deburring is a tick of its own at every station that has a row. */
function deburredItem(skeleton: Skeleton): GateItem {
  const { model } = skeleton;
  const stations = [...new Set(model.joints.filter((j) => !throughSkin(j)).map((j) => j.station))];
  const wants = stations.map(
    (s): Want => ({ name: `deburring at ${s}`, keys: [], tick: stationTick('deburred', s), lasting: true }),
  );
  const rests = restsOn(skeleton, wants);
  const [missing] = rests.missing;
  if (wants.length === 0) return item(WORDS.deburred, 'not asked', 'No row is laid out yet.', rests);
  if (missing === undefined) return item(WORDS.deburred, 'yes', '', rests);
  return item(WORDS.deburred, 'not asked', `Tick ${missing} once it is done.`, rests, {
    asks: missingOf(skeleton, wants),
  });
}

/** No remedy decided and not made. */
function madeItem(model: Model): GateItem {
  const open = model.decisions?.find((d) => d.kind === 'taken' && d.made === undefined);
  return plainItem(WORDS.made, open ? 'no' : 'yes', `Make it and tick it, or take the decision back: ${open?.what}.`);
}

/** Nothing made and not read since: no size that something rests on is only worked out. */
function readItem(skeleton: Skeleton, findings: readonly Finding[]): GateItem {
  const worked = findings.find((f) => lookedAt(skeleton, f).basis === 'predicted');
  const key = worked?.restsOn.find((t) => t.size.aged === 'predicted')?.size.name;
  const first = `Read the ${key ?? worked?.place}: it is worked out, not read since it was made.`;
  return plainItem(WORDS.read, worked ? 'unsettled' : 'yes', first);
}

/** Whoever must be asked before a remedy was asked, and what they said stands in the file. */
function designerItem(model: Model): GateItem {
  const open = model.decisions?.find((d) => d.ask.length > 0 && d.asked.trim() === '');
  return plainItem(WORDS.asked, open ? 'not asked' : 'yes', `Ask ${open?.ask.join(' and ')}: ${open?.what}.`);
}

const NOSES: readonly CheckId[] = checksWhere((row) => row.gate === 'noses');
const STEPS: readonly CheckId[] = checksWhere((row) => row.gate === 'steps');
const TWISTS: ReadonlySet<CheckId> = new Set(checksWhere((row) => row.gate === 'twist'));

/**
 * What speaks against closing the panel, whatever it is asked of; a twist counts as it does where the twist is asked.
 */
function openUnder(findings: readonly Finding[]): Finding[] {
  const twists = findings.filter((f) => TWISTS.has(f.check));
  const counted = [...findings.filter((f) => !TWISTS.has(f.check)), ...countedTwists(twists)];
  return counted.filter((f) => f.verdict === 'act' || f.verdict === 'unsettled');
}

function skinGate(skeleton: Skeleton): Gate {
  const { model } = skeleton;
  const findings = checkAll(model);
  const of = (checks: readonly CheckId[]): Finding[] => findings.filter((f) => checks.includes(f.check));
  const noses = of(NOSES);
  const steps = of(STEPS);
  const worst = openUnder(findings);
  const under = worst.length > 0 ? askItem(WORDS.under, { skeleton, findings: worst, unread: '' }) : undefined;
  const items: GateItem[] = [
    finalItem(model),
    deburredItem(skeleton),
    madeItem(model),
    readItem(skeleton, findings),
    twistItem(model),
    ...(noses.length > 0
      ? [askItem(WORDS.noses, { skeleton, findings: noses, unread: 'Read each nose against a string.' })]
      : []),
    ...(steps.length > 0
      ? [askItem(WORDS.steps, { skeleton, findings: steps, unread: 'Feel the steps with a finger and a leaf.' })]
      : []),
    under ?? item(WORDS.under, findings.length > 0 ? 'yes' : 'not asked', 'Nothing was asked yet.', NOTHING),
    designerItem(model),
  ];
  const answer = together(items.map((i) => i.answer));
  return { id: 'skin', question: QUESTIONS.skin, answer, rows: { yes: answer === 'yes' ? 1 : 0, of: 1 }, items };
}

const gatesAt = keptWhole(
  (model, at: number): readonly [Gate, Gate, Gate] => {
    const skeleton = skeletonOf(model);
    return [rowsGate(skeleton, 'pilots', at), rowsGate(skeleton, 'final', at), skinGate(skeleton)];
  },
  { name: String },
);

/** The three gates of a panel at a stage, the present one unless told. */
export const gatesOf = (model: Model, stage?: string): readonly [Gate, Gate, Gate] =>
  gatesAt(model, stageIndex(model, stage));
