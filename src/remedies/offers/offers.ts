import type { CheckId, Finding } from '../../checks/finding.ts';
import type { Model } from '../../model/schema.ts';
import { askedOf, type Maker } from '../asked.ts';
import { isDisputed } from '../disputed.ts';
import type { Remedy } from '../remedy.ts';
import { bagThatGrips } from './bag.ts';
import { centred } from './bias.ts';
import { channels, channelsBehindTip } from './channel.ts';
import { bentClear, bentToTable } from './easier.ts';
import { ribFitted } from './fit.ts';
import { squareFlanges } from './flange.ts';
import { joggledDeeper } from './joggle.ts';
import { packersAtWebs, packersBehindNose } from './packer.ts';
import { jigPacked } from './packing.ts';
import { ribAgain, ribOfJointAgain } from './remake.ts';
import { thickerAtCaps, thinnerAtCaps, thinnerAtFrontWeb } from './resheet.ts';
import { shims } from './shim.ts';
import { ribAgainShorter } from './shorter.ts';
import { nextRivet } from './step.ts';
import { frontSparStraight } from './straight.ts';
import { stripMeasured } from './strip.ts';
import { ribExchanged } from './swap.ts';
import { tipShortened } from './trim.ts';
import { withoutAtCaps, withoutAtWebs } from './without.ts';

/*
 * Which remedies answer a finding? Those the trade knows for its check, one row a check.
 *
 * To add a remedy: a file here, named for its kind, with a function that returns the Remedy (its Edit, its cost,
 * whether the designer is asked, whether it changes layers) and a Maker that sizes it from a finding; its word in
 * `RemedyKind`; the Maker in the rows it answers below, and the remedy in `search/offered.ts` or `endOptions.ts`; a
 * row in
 * `tests/remedies/offers/tables.test.ts`. If it moves parts by a known amount, its Edit is `carrying`, so that felt
 * gaps and string readings move along. Its effect is never stored: `effectOf` applies the Edit and asks every check
 * again.
 *
 * Never offered: a slot, metal off a spar's cap or its strip, one kind of rivet for another, more packers in one
 * stack than the trade has, anything for an echo (put its source right), metal where readings disagree (measure
 * again).
 */

/** Makers for a finding under nothing (binding, tight, short, rib proud) and for one over it. */
interface Row {
  readonly under: readonly Maker[];
  readonly over: readonly Maker[];
}

const either = (...makers: readonly Maker[]): Row => ({ under: makers, over: makers });

const CAPS: Row = {
  under: [stripMeasured, withoutAtCaps, thinnerAtCaps, joggledDeeper, squareFlanges, ribExchanged, ribAgain, ribFitted],
  over: [centred, squareFlanges, shims, channels, thickerAtCaps, ribExchanged, ribAgain, ribFitted],
};

const WEBS: Row = {
  under: [ribAgainShorter, withoutAtWebs, thinnerAtFrontWeb, ribExchanged],
  over: [packersAtWebs, frontSparStraight, ribExchanged, ribAgain],
};

const NOSE: Row = {
  under: [packersBehindNose, channelsBehindTip, ribExchanged, ribAgain],
  over: [tipShortened, ribAgainShorter, ribExchanged],
};

const ROWS: Partial<Record<CheckId, Row>> = {
  'cap-gap': CAPS,
  'cap-split': CAPS,
  'bend-ride': either(bentClear),
  'bend-radius': either(bentToTable),
  'chord-gap': WEBS,
  seating: WEBS,
  'nose-line': NOSE,
  'nose-kink': NOSE,
  'skin-step': either(centred, ribAgain),
  relief: either(ribAgain, ribExchanged),
  twist: either(jigPacked),
  'twist-step': either(jigPacked),
  grip: either(bagThatGrips),
  'hole-cleanup': either(nextRivet, ribOfJointAgain),
};

/** Makers that answer a finding; none for an echo, and none while the readings it rests on disagree. */
function makersFor(model: Model, f: Finding): readonly Maker[] {
  const row = ROWS[f.check];
  if (!row || f.echoOf || isDisputed(model, f)) return [];
  return f.value < 0 ? row.under : row.over;
}

/** Remedies that answer a finding, untried; none for an echo, and none while the readings it rests on disagree. */
export function remediesFor(model: Model, f: Finding): Remedy[] {
  const asked = askedOf(model, f);
  return makersFor(model, f).flatMap((make) => make(asked));
}

/**
 * Those of them that are done at the finding's own station, sized by that station alone (`aloneAt`): no rib is
 * exchanged with another. They come at once, however long the panel.
 */
export function remediesHere(model: Model, f: Finding, alone: Model): Remedy[] {
  const here = makersFor(model, f).filter((make) => make !== ribExchanged);
  return here.length === 0 ? [] : here.flatMap((make) => make(askedOf(alone, f)));
}
