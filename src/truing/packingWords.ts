import { show } from '../checks/describe.ts';
import { UNSEEN } from '../checks/slack.ts';
import type { Kind } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';
import { askedOf } from '../model/sizes.ts';
import type { PanelAttitude } from './attitude.ts';
import type { Pack, PackingPlan } from './packingPlan.ts';

type Unsaid = Omit<PackingPlan, 'sentences'>;

/**
 * What a plan does, one thing a sentence: the packs, the twist and the bend they leave, what is left to plane, how
 * sure it is.
 */
export function packingSentences(model: Model, plan: Unsaid): string[] {
  return [
    ...inDoubt(model),
    whatToPack(model, plan),
    twistThen(model, plan),
    ...bendThen(model, plan),
    ...plan.planing.map((p) => tooHigh(model, plan, p)),
    ...whatIsLeft(plan),
    'The bare skeleton is soft in twist: pack, read the heights again, and only then pin.',
    ...howSure(plan),
  ];
}

/** Kinds of reading that say where packs go. */
const SAYS_PACKS: ReadonlySet<Kind> = new Set<Kind>(['heightOver', 'bench']);

/** What is asked about the heights that a plan rests on. */
function inDoubt(model: Model): string[] {
  const asked = [...askedOf(model).values()].find((a) => SAYS_PACKS.has(a.entry.kind));
  return asked ? [`In doubt: ${asked.question} Settle that before anything is packed.`] : [];
}

function whatToPack(model: Model, { side, packs }: Unsaid): string {
  const put = packs.filter((p) => p.total > 0).map((p) => packWords(model, p));
  if (put.length === 0) return `No pack on hand under the ${side} spar betters it.`;
  return `Pack under the ${side} spar: ${put.join(', ')}.`;
}

/** `S7 2.20 mm (1.20 mm + 1.00 mm)`. */
function packWords(model: Model, { station, pieces, total }: Pack): string {
  const sum = pieces.map((t) => show(model, t)).join(' + ');
  return `${station} ${show(model, total)}${pieces.length > 1 ? ` (${sum})` : ''}`;
}

/** The place that is farthest off; undefined where none is off at all. */
function farthest(all: PanelAttitude['twist']): PanelAttitude['twist'][number] | undefined {
  let most: PanelAttitude['twist'][number] | undefined;
  for (const place of all) if (Math.abs(place.value) > Math.abs(most?.value ?? 0)) most = place;
  return most;
}

function twistThen(model: Model, { before, after }: Unsaid): string {
  const most = farthest(after.twist);
  const much = `${show(model, Math.abs(most?.value ?? 0), 'deg')}${most ? ` (${most.station})` : ''}`;
  const [then, now] = [noseWords(model, after.whole), noseWords(model, before.whole)];
  return `Then no station is twisted more than ${much}, end to end ${then}; before, ${now}.`;
}

/** A twist as a person says it: `0.11° nose down`, `level`. */
const noseWords = (model: Model, v: number): string =>
  Math.abs(v) < UNSEEN ? 'level' : `${show(model, Math.abs(v), 'deg')} nose ${v < 0 ? 'down' : 'up'}`;

function bendThen(model: Model, { side, after }: Unsaid): string[] {
  const bent = farthest(after.straight);
  if (!bent) return [];
  const way = bent.value < 0 ? 'under' : 'over';
  return [
    `The ${side} spar then lies ${show(model, Math.abs(bent.value))} ${way} its straight line at ${bent.station}.`,
  ];
}

function tooHigh(model: Model, { side }: Unsaid, { station, amount }: Unsaid['planing'][number]): string {
  const other = side === 'front' ? 'rear' : 'front';
  return `${station} stands ${show(model, amount)} too high: plane its ${side} block or pack its ${other}.`;
}

function whatIsLeft({ after, bound }: Unsaid): string[] {
  if (after.largest <= 1) return [];
  return [`Packs alone do not bring it inside its limits${bound > 1 ? ', of any thickness' : ''}.`];
}

function howSure({ proven, bound, after }: Unsaid): string[] {
  if (proven) return [];
  const [least, this_] = [(100 * bound).toFixed(0), (100 * after.largest).toFixed(0)];
  return [
    `Not every choice was tried; no choice could leave less than ${least} % of a limit, this one leaves ${this_} %.`,
  ];
}
