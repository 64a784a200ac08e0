import { alongAt } from '../along.ts';
import { grainOf, onGrain, rearHigherOf, sheetName } from '../drawn.ts';
import { type JointRule, layJoints } from '../edits/jointsLaid.ts';
import { mirrorModel } from '../edits/mirror.ts';
import { suggestStages } from '../edits/stagesSuggested.ts';
import { rivetSize, rivetsOnHand } from '../rivetSizes.ts';
import type {
  Alloy,
  Along,
  Doubler,
  MainRib,
  Model,
  NoseRib,
  Profile,
  Rib,
  RibEnd,
  Sheet,
  Spar,
  TipRib,
} from '../schema.ts';

/*
 * A complete panel from a handful of plain sizes. Rib ends are cut to the room the drawing leaves them, so that on paper
 * everything fits: rib height = clear height - doublers - ease, rib length = web to web - front sheet - doubler - ease,
 * joggle = half of what the contour stands over the end, nose length = protrusion. mm and degrees; root first.
 */

/** A size at the root and at the tip, straight between. */
export type Taper = readonly [root: number, tip: number];

export interface SparPlan {
  readonly sheet: number;
  readonly depth: Taper;
  readonly cap: number;
  /** Inside bend radius; left out, an easy one for the alloy. */
  readonly radius?: number | undefined;
  readonly opens: Spar['opens'];
}

export interface PanelPlan {
  readonly name: string;
  readonly note: string;
  readonly hand: Model['hand'];
  readonly units: Model['units'];
  /** Letter of the station marks. */
  readonly letter: string;
  /** Places of the ribs along the span from one datum, in order. */
  readonly places: readonly number[];
  readonly alloy: Alloy;
  readonly front: SparPlan;
  readonly rear?: SparPlan | undefined;
  /** Front web's forward face to the rear web's; with one spar, to the ribs' rear ends. */
  readonly webs: Taper;
  readonly nose: Taper;
  readonly washout: Taper;
  /** A strip inside each front cap from the root on. */
  readonly strip?: { readonly sheet: number; readonly to: number } | undefined;
  readonly sheets: { readonly main: number; readonly nose: number; readonly tip: number; readonly skin: number };
  /** Ribs at both ends in one piece, nose to rear; else main and nose ribs there too. */
  readonly wholeEnds: boolean;
  readonly registered: 'rear' | 'front';
  /** Clip hole of a tip rib held on the front spar, forward of the web. */
  readonly clip: number;
  /** A channel doubler at the front end of every main rib. */
  readonly doubler?: number | undefined;
  readonly ease: { readonly height: number; readonly length: number };
  readonly tab: number;
  readonly row: number;
  readonly relief: number;
  readonly joints: JointRule;
  readonly profile: (chord: number) => Profile;
}

const tidy = (value: number): number => Math.round(value * 1e4) / 1e4;
/** To a ten-thousandth, never under: what is left of the room is never more than was asked. */
const cut = (value: number): number => Math.ceil(value * 1e4 - 1e-6) / 1e4;

const thicknesses = (plan: PanelPlan): number[] =>
  [plan.front.sheet, plan.rear?.sheet, plan.strip?.sheet, plan.doubler, ...Object.values(plan.sheets)].filter(
    (t) => t !== undefined,
  );

/** The name a plan's sheet of a thickness goes by; two that differ by less than a thousandth get a letter more. */
function named(plan: PanelPlan, thickness: number): string {
  const same = [...new Set(thicknesses(plan))]
    .filter((t) => sheetName(t) === sheetName(thickness))
    .sort((a, b) => a - b);
  const at = same.indexOf(thickness);
  return at <= 0 ? sheetName(thickness) : `${sheetName(thickness)}${String.fromCharCode(97 + at)}`;
}

/** An inside radius easy on the alloy, up to the next 64th: 2 sheets, 4 for 2024, 6 for 7075 (AC 43.13-1B table 4-6 asks for no more up to 1/8 in, 5 and 7 beyond). */
function easyRadius(alloy: Alloy, sheet: number): number {
  const times = alloy.startsWith('7075-T') ? 7 : alloy.startsWith('2024-T') ? 6 : 2;
  return tidy(Math.ceil((times * sheet) / (25.4 / 64) - 1e-9) * (25.4 / 64));
}

/** A taper at each place, on the drawing's grain; one number where it does not taper. */
function along(taper: Taper, places: readonly number[], grain: number): Along {
  const [a, b] = taper;
  if (a === b) return a;
  const [y0, y1] = [places[0]!, places[places.length - 1]!];
  return places.map((y): [number, number] => [y, onGrain(a + ((b - a) * (y - y0)) / (y1 - y0), grain)]);
}

/** All that is known once the spars are laid. */
interface Laid {
  readonly plan: PanelPlan;
  readonly spars: Model['spars'];
  readonly webToWeb: Along;
  readonly strips: (y: number) => number;
}

function sparOf(plan: PanelPlan, p: SparPlan, strips: Spar['strips']): Spar {
  const { places } = plan;
  return {
    sheet: named(plan, p.sheet),
    opens: p.opens,
    depth: along(p.depth, places, grainOf(plan.units)),
    capWidth: p.cap,
    radius: p.radius ?? easyRadius(plan.alloy, p.sheet),
    from: places[0]! - over(plan),
    to: places[places.length - 1]! + over(plan),
    strips,
    webDoublers: [],
  };
}

/** How far spars run past the tip ribs: not at all where those turn their flanges over them, else past a flange. */
const over = (plan: PanelPlan): number => (plan.wholeEnds ? 0 : plan.tab + 6);

/** A rib end in its channel, or against the flat side of its web: contour flush with the spar either way. */
function ribEnd({ plan, spars, strips }: Laid, y: number, at: 'front' | 'rear' | 'tail'): RibEnd {
  const name = at === 'rear' ? 'rear' : 'front';
  const [spar, drawn] = name === 'rear' ? [spars.rear, plan.rear] : [spars.front, plan.front];
  const shape = { tab: plan.tab, row: plan.row };
  if (!spar || !drawn)
    return {
      ends: 'butts',
      height: tidy(0.12 * alongAt(spars.front.depth, y)),
      joggle: 0,
      tab: plan.tab,
      row: plan.row,
    };
  const depth = alongAt(spar.depth, y);
  const nests = spar.opens === (at === 'front' ? 'aft' : 'forward');
  if (!nests) return { ends: 'butts', height: depth, joggle: 0, ...shape };
  const between = at === 'front' && plan.doubler ? 2 * plan.doubler : 0;
  const height = cut(depth - 2 * drawn.sheet - (name === 'front' ? strips(y) : 0) - between - plan.ease.height);
  const relief = plan.relief > 0 && at !== 'tail' ? { relief: { diameter: plan.relief, fromEnd: drawn.cap + 1 } } : {};
  return { ends: 'nests', height, joggle: tidy((depth - height) / 2), ...shape, ...relief };
}

function bent(
  plan: PanelPlan,
  sheet: number,
  station: string,
  turns: Rib['turns'],
): Pick<Rib, 'sheet' | 'station' | 'flange' | 'radius' | 'turns' | 'holes'> {
  return {
    sheet: named(plan, sheet),
    station,
    flange: plan.tab,
    radius: Math.min(easyRadius(plan.alloy, sheet), 3.2),
    turns,
    holes: [],
  };
}

function ribsAt(laid: Laid, i: number): Rib[] {
  const { plan, spars, webToWeb } = laid;
  const [y, last] = [plan.places[i]!, plan.places.length - 1];
  const station = `${plan.letter}${i + 1}`;
  const grain = grainOf(plan.units);
  const protrusion = alongAt(along(plan.nose, plan.places, grain), y);
  const web = alongAt(webToWeb, y);
  const profile = plan.profile(tidy(protrusion + web));
  // A section goes on between the spars; where it does not reach the rear one, ribs are straight.
  const between = profile.kind !== 'ellipse' && profile.chord >= protrusion + web ? { contour: profile } : {};
  if (plan.wholeEnds && (i === 0 || i === last)) {
    // A tip rib turns its flanges over the spars, whichever way is outboard.
    const inward = plan.hand === 'both' && i === 0 ? 'inboard' : i === 0 ? 'outboard' : 'inboard';
    const { relief: _, ...rear } = ribEnd(laid, y, 'rear');
    const clip =
      plan.registered === 'front' ? { clip: { forward: plan.clip, noseToHole: tidy(protrusion - plan.clip) } } : {};
    const tip: TipRib = {
      id: `T${i + 1}`,
      kind: 'tip',
      ...bent(plan, plan.sheets.tip, station, inward),
      length: tidy(web + protrusion),
      registered: plan.registered,
      ...clip,
      rear,
      height: alongAt(spars.front.depth, y),
      profile,
      ...between,
    };
    return [tip];
  }
  const turns = i === 0 && plan.hand !== 'both' ? 'inboard' : i === last ? 'inboard' : 'outboard';
  const rear = plan.rear
    ? plan.front.sheet + (plan.doubler ?? 0) + plan.ease.length
    : plan.front.sheet + (plan.doubler ?? 0);
  const main: MainRib = {
    id: `M${i + 1}`,
    kind: 'main',
    ...bent(plan, plan.sheets.main, station, turns),
    length: cut(web - rear),
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

function doublersOf(plan: PanelPlan, ribs: readonly Rib[], spar: Spar): Doubler[] {
  const { doubler } = plan;
  if (!doubler) return [];
  return ribs
    .filter((r) => r.kind === 'main')
    .map(
      (r): Doubler => ({
        id: `D${r.id.slice(1)}`,
        form: 'channel',
        on: 'web',
        sheet: named(plan, doubler),
        part: r.id,
        end: 'front',
        radius: Math.max(spar.radius, easyRadius(plan.alloy, doubler)),
        leg: plan.tab,
        width: 2 * plan.tab,
        designed: true,
      }),
    );
}

function sheetsOf(plan: PanelPlan): Sheet[] {
  return [...new Set(thicknesses(plan))]
    .sort((a, b) => a - b)
    .map((thickness) => ({ id: named(plan, thickness), alloy: plan.alloy, thickness }));
}

/** The whole panel from its plan. On paper every finding fits; a left panel is laid as a right one and mirrored. */
export function layPanel(plan: PanelPlan): Model {
  const { places } = plan;
  const grain = grainOf(plan.units);
  const last = places.length - 1;
  const strips: Spar['strips'] = plan.strip
    ? [{ sheet: named(plan, plan.strip.sheet), from: places[0]!, to: plan.strip.to, caps: 'both' }]
    : [];
  const spars: Model['spars'] = {
    front: sparOf(plan, plan.front, strips),
    ...(plan.rear ? { rear: sparOf(plan, plan.rear, []) } : {}),
  };
  const webToWeb = along(plan.webs, places, grain);
  const laid: Laid = {
    plan,
    spars,
    webToWeb,
    strips: (y) => (plan.strip && y <= plan.strip.to ? 2 * plan.strip.sheet : 0),
  };
  const nose = along(plan.nose, places, grain);
  const washout = (y: number): number =>
    onGrain(
      plan.washout[0] + ((plan.washout[1] - plan.washout[0]) * (y - places[0]!)) / (places[last]! - places[0]!),
      0.01,
    );
  const stations = places.map((y, i) => ({
    id: `${plan.letter}${i + 1}`,
    y,
    nose: alongAt(nose, y),
    washout: washout(y),
  }));
  const ribs = places.flatMap((_, i) => ribsAt(laid, i));
  const { size, next } = rivetSize(plan.joints.rivet);
  const sheets = sheetsOf(plan);
  const onHand = [plan.sheets.main, plan.sheets.nose].map((t) => named(plan, t));
  const bare: Model = {
    format: 'ribtrue-panel',
    version: 1,
    name: plan.name,
    revision: '1',
    hand: plan.hand === 'both' ? 'both' : 'right',
    units: plan.units,
    note: plan.note,
    sheets,
    stations,
    spars,
    webToWeb,
    ribs,
    doublers: doublersOf(plan, ribs, spars.front),
    brackets: [],
    skin: { sheet: named(plan, plan.sheets.skin) },
    joints: [],
    stages: [],
    stand: plan.rear ? 'rear' : 'front',
    reliefCounts: 'centre',
    tolerances: {},
    survey: {
      touch: 'spar-bottom',
      rearHigher: 0,
      supports: stations.filter((_, i) => i === 0 || i === last || (i % 2 === 0 && i < last - 1)).map((s) => s.id),
    },
    instruments: [],
    readings: [],
    limits: [],
    stock: {
      sheets: [...new Set(onHand)],
      shims: [0.254, 0.3048, 0.381, 0.508, 0.635],
      packs: [0.1, 0.2, 0.3, 0.5, 1, 2],
      drills: [...new Set([size.pilot, size.final, ...(next ? [next.final] : [])])],
      rivets: rivetsOnHand(plan.joints.rivet),
    },
  };
  const surveyed: Model = { ...bare, survey: { ...bare.survey, rearHigher: rearHigherOf(bare) } };
  const joined: Model = { ...surveyed, joints: layJoints(surveyed, plan.joints) };
  const staged: Model = { ...joined, stages: suggestStages(joined), now: 'dry-fit' };
  return plan.hand === 'left' ? mirrorModel(staged) : staged;
}
