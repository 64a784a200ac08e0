import { alongAt } from '../along.ts';
import { grainOf } from '../drawn.ts';
import type { RibEndName } from '../ribEnd.ts';
import type { Doubler, MainRib, NoseRib, Profile, Rib, RibEnd, Spar, TipRib } from '../schema.ts';
import type { PanelPlan } from './plan.ts';
import { easyRadius, type LaidSpars, namedSheet, tapered, tidied } from './sparsLaid.ts';

/*
 * The ribs of a plan, each cut to the room the drawing leaves it, and the doublers at their front ends, mm.
 */

/** To a ten-thousandth, never under: what is left of the room is never more than was asked. */
const cut = (value: number): number => Math.ceil(value * 1e4 - 1e-6) / 1e4;

/** A rib end in its channel, or against the flat side of its web: contour flush with the spar either way. */
function ribEnd({ plan, spars, strips }: LaidSpars, y: number, at: RibEndName): RibEnd {
  const name = at === 'rear' ? 'rear' : 'front';
  const [spar, drawn] = name === 'rear' ? [spars.rear, plan.rear] : [spars.front, plan.front];
  const shape = { tab: plan.tab, row: plan.row };
  if (!spar || !drawn)
    return { ends: 'butts', height: tidied(0.12 * alongAt(spars.front.depth, y)), joggle: 0, ...shape };
  const depth = alongAt(spar.depth, y);
  const nests = spar.opens === (at === 'front' ? 'aft' : 'forward');
  if (!nests) return { ends: 'butts', height: depth, joggle: 0, ...shape };
  const between = at === 'front' && plan.doubler ? 2 * plan.doubler : 0;
  const height = cut(depth - 2 * drawn.sheet - (name === 'front' ? strips(y) : 0) - between - plan.ease.height);
  const relief = plan.relief > 0 && at !== 'tail' ? { relief: { diameter: plan.relief, fromEnd: drawn.cap + 1 } } : {};
  return { ends: 'nests', height, joggle: tidied((depth - height) / 2), ...shape, ...relief };
}

type Bent = Pick<Rib, 'sheet' | 'station' | 'flange' | 'radius' | 'turns' | 'holes'>;

function bent(plan: PanelPlan, sheet: number, station: string, turns: Rib['turns']): Bent {
  return {
    sheet: namedSheet(plan, sheet),
    station,
    flange: plan.tab,
    radius: Math.min(easyRadius(plan.alloy, sheet), 3.2),
    turns,
    holes: [],
  };
}

/** The place of a rib: which of the stations, and what the drawing says there. */
interface RibSpot {
  readonly laid: LaidSpars;
  readonly i: number;
  readonly y: number;
  readonly station: string;
  readonly protrusion: number;
  /** Web to web here. */
  readonly web: number;
  readonly profile: Profile;
  /** The section's contour behind the front spar; where the section does not reach the rear one, ribs are straight. */
  readonly between: Pick<MainRib, 'contour'>;
}

function spotAt(laid: LaidSpars, y: number, i: number): RibSpot {
  const { plan, webToWeb } = laid;
  const protrusion = alongAt(tapered(plan.nose, plan.places, grainOf(plan.units)), y);
  const web = alongAt(webToWeb, y);
  const profile = plan.profile(tidied(protrusion + web));
  const between = profile.kind !== 'ellipse' && profile.chord >= protrusion + web ? { contour: profile } : {};
  return { laid, i, y, station: `${plan.letter}${i + 1}`, protrusion, web, profile, between };
}

const isFirst = ({ i }: RibSpot): boolean => i === 0;
const isLast = ({ i, laid }: RibSpot): boolean => i === laid.plan.places.length - 1;

/** A tip rib turns its flanges over the spars, whichever way is outboard. */
function tipRib(spot: RibSpot): TipRib {
  const { laid, i, y, station, protrusion, web, profile, between } = spot;
  const { plan, spars } = laid;
  const turns = isFirst(spot) && plan.hand !== 'both' ? 'outboard' : 'inboard';
  const { relief: _, ...rear } = ribEnd(laid, y, 'rear');
  const clip = { forward: plan.clip, noseToHole: tidied(protrusion - plan.clip) };
  return {
    id: `T${i + 1}`,
    kind: 'tip',
    ...bent(plan, plan.sheets.tip, station, turns),
    length: tidied(web + protrusion),
    registered: plan.registered,
    ...(plan.registered === 'front' ? { clip } : {}),
    rear,
    height: alongAt(spars.front.depth, y),
    profile,
    ...between,
  };
}

function mainAndNose(spot: RibSpot): [MainRib, NoseRib] {
  const { laid, i, y, station, protrusion, web, profile, between } = spot;
  const { plan } = laid;
  const turns = (isFirst(spot) && plan.hand !== 'both') || isLast(spot) ? 'inboard' : 'outboard';
  const ease = plan.rear ? plan.ease.length : 0;
  const main: MainRib = {
    id: `M${i + 1}`,
    kind: 'main',
    ...bent(plan, plan.sheets.main, station, turns),
    length: cut(web - (plan.front.sheet + (plan.doubler ?? 0) + ease)),
    front: ribEnd(laid, y, 'front'),
    rear: ribEnd(laid, y, 'rear'),
    ...between,
  };
  const nose: NoseRib = {
    id: `N${i + 1}`,
    kind: 'nose',
    ...bent(plan, plan.sheets.nose, station, turns),
    length: protrusion,
    tail: ribEnd(laid, y, 'tail'),
    profile,
  };
  return [main, nose];
}

/**
 * What stands at every place of a plan: one rib in one piece at its ends where it says so, else a main rib and a nose
 * rib.
 */
export function layRibs(laid: LaidSpars): Rib[] {
  return laid.plan.places.flatMap((y, i): Rib[] => {
    const spot = spotAt(laid, y, i);
    return laid.plan.wholeEnds && (isFirst(spot) || isLast(spot)) ? [tipRib(spot)] : mainAndNose(spot);
  });
}

/** A channel doubler at the front end of every main rib, where a plan has them. */
export function layDoublers(plan: PanelPlan, ribs: readonly Rib[], spar: Spar): Doubler[] {
  const { doubler } = plan;
  if (!doubler) return [];
  return ribs
    .filter((r) => r.kind === 'main')
    .map(
      (r): Doubler => ({
        id: `D${r.id.slice(1)}`,
        form: 'channel',
        on: 'web',
        sheet: namedSheet(plan, doubler),
        part: r.id,
        end: 'front',
        radius: Math.max(spar.radius, easyRadius(plan.alloy, doubler)),
        leg: plan.tab,
        width: 2 * plan.tab,
        designed: true,
      }),
    );
}
