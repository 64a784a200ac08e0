import { alongAt } from '../along.ts';
import { grainOf, onGrain, rearHigherOf } from '../drawn.ts';
import { layJoints } from '../edits/jointsLaid.ts';
import { mirrorModel } from '../edits/mirror.ts';
import { suggestStages } from '../edits/stagesSuggested.ts';
import { rivetSize, rivetsOnHand } from '../rivetSizes.ts';
import type { Model, Station } from '../schema.ts';
import type { PanelPlan } from './plan.ts';
import { layDoublers, layRibs } from './ribsLaid.ts';
import { laySpars, namedSheet, sheetsOf, taperAt, tapered } from './sparsLaid.ts';

/*
 * A complete panel from a handful of plain sizes. Rib ends are cut to the room the drawing leaves them, so that on
 * paper everything fits: rib height = clear height - doublers - ease, rib length = web to web - front sheet - doubler
 * - ease, joggle = half of what the contour stands over the end, nose length = protrusion. mm and degrees; root
 * first.
 */

function stationsOf(plan: PanelPlan): Station[] {
  const { places } = plan;
  const nose = tapered(plan.nose, places, grainOf(plan.units));
  return places.map((y, i) => ({
    id: `${plan.letter}${i + 1}`,
    y,
    nose: alongAt(nose, y),
    washout: onGrain(taperAt(plan.washout, places, y), 0.01),
  }));
}

/** Jig blocks under the ends and every other station between. */
function supportsOf(stations: readonly Station[]): string[] {
  const last = stations.length - 1;
  return stations.filter((_, i) => i === 0 || i === last || (i % 2 === 0 && i < last - 1)).map((s) => s.id);
}

/** What a builder has at hand: sheet, shims and packs of the usual thicknesses, drills and rivets of the plan. */
function stockOf(plan: PanelPlan): Model['stock'] {
  const { size, next } = rivetSize(plan.joints.rivet);
  const sheets = [plan.sheets.main, plan.sheets.nose].map((t) => namedSheet(plan, t));
  return {
    sheets: [...new Set(sheets)],
    shims: [0.254, 0.3048, 0.381, 0.508, 0.635],
    packs: [0.1, 0.2, 0.3, 0.5, 1, 2],
    drills: [...new Set([size.pilot, size.final, ...(next ? [next.final] : [])])],
    rivets: rivetsOnHand(plan.joints.rivet),
  };
}

/** The panel of a plan without its joints and stages, which are laid by rule from it. */
function bareModel(plan: PanelPlan): Model {
  const laid = laySpars(plan);
  const stations = stationsOf(plan);
  const ribs = layRibs(laid);
  return {
    format: 'ribtrue-panel',
    version: 2,
    name: plan.name,
    revision: '1',
    hand: plan.hand === 'both' ? 'both' : 'right',
    units: plan.units,
    note: plan.note,
    sheets: sheetsOf(plan),
    stations,
    spars: laid.spars,
    webToWeb: laid.webToWeb,
    ribs,
    doublers: layDoublers(plan, ribs, laid.spars.front),
    brackets: [],
    skin: { sheet: namedSheet(plan, plan.sheets.skin) },
    joints: [],
    stages: [],
    stand: plan.rear ? 'rear' : 'front',
    reliefCounts: 'centre',
    tolerances: {},
    survey: {
      touch: 'spar-bottom',
      rearHigher: rearHigherOf({ spars: laid.spars, stations }),
      supports: supportsOf(stations),
    },
    instruments: [],
    readings: [],
    limits: [],
    stock: stockOf(plan),
  };
}

/** The whole panel from its plan. On paper every finding fits; a left panel is laid as a right one and mirrored. */
export function layPanel(plan: PanelPlan): Model {
  const bare = bareModel(plan);
  const joined: Model = { ...bare, joints: layJoints(bare, plan.joints) };
  const staged: Model = { ...joined, stages: suggestStages(joined), now: 'dry-fit' };
  return plan.hand === 'left' ? mirrorModel(staged) : staged;
}
