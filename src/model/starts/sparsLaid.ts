import { NEAR } from '../../units/near.ts';
import { grainOf, onGrain, sheetName } from '../drawn.ts';
import type { Alloy, Along, Model, Sheet, Spar } from '../schema.ts';
import type { PanelPlan, SparPlan, Taper } from './plan.ts';

/* The sheets and spars of a plan, as a drawing would have them, mm. */

/** All that is known once the spars are laid. */
export interface LaidSpars {
  readonly plan: PanelPlan;
  readonly spars: Model['spars'];
  readonly webToWeb: Along;
  /** What the strips take of the room between the front caps at a place, both caps together. */
  readonly strips: (y: number) => number;
}

/** To a ten-thousandth, the finest a drawing here has. */
export const tidied = (value: number): number => Math.round(value * 1e4) / 1e4;

const thicknesses = (plan: PanelPlan): number[] =>
  [plan.front.sheet, plan.rear?.sheet, plan.strip?.sheet, plan.doubler, ...Object.values(plan.sheets)].filter(
    (t) => t !== undefined,
  );

/** The name a plan's sheet of a thickness goes by; two that differ by less than a thousandth get a letter more. */
export function namedSheet(plan: PanelPlan, thickness: number): string {
  const same = [...new Set(thicknesses(plan))]
    .filter((t) => sheetName(t) === sheetName(thickness))
    .sort((a, b) => a - b);
  const at = same.indexOf(thickness);
  return at <= 0 ? sheetName(thickness) : `${sheetName(thickness)}${String.fromCharCode(97 + at)}`;
}

/**
 * An inside radius easy on the alloy, up to the next 64th: 2 sheets, 4 for 2024, 6 for 7075 (AC 43.13-1B table 4-6
 * asks for no more up to 1/8 in, 5 and 7 beyond).
 */
export function easyRadius(alloy: Alloy, sheet: number): number {
  const SIXTY_FOURTH = 25.4 / 64;
  return tidied(Math.ceil((sheetsOfRadius(alloy) * sheet) / SIXTY_FOURTH - NEAR) * SIXTY_FOURTH);
}

function sheetsOfRadius(alloy: Alloy): number {
  if (alloy.startsWith('7075-T')) return 7;
  return alloy.startsWith('2024-T') ? 6 : 2;
}

/** A taper's value at a place: root at the first, tip at the last, straight between. */
export function taperAt([root, tip]: Taper, places: readonly number[], y: number): number {
  const [y0 = 0] = places;
  const y1 = places.at(-1) ?? y0;
  return root + ((tip - root) * (y - y0)) / (y1 - y0);
}

/** A taper at each place, on the drawing's grain; one number where it does not taper. */
export function tapered(taper: Taper, places: readonly number[], grain: number): Along {
  const [root, tip] = taper;
  return root === tip ? root : places.map((y): [number, number] => [y, onGrain(taperAt(taper, places, y), grain)]);
}

/** How far spars run past the tip ribs: not at all where those turn their flanges over them, else past a flange. */
const over = (plan: PanelPlan): number => (plan.wholeEnds ? 0 : plan.tab + 6);

function sparOf(plan: PanelPlan, p: SparPlan, strips: Spar['strips']): Spar {
  const { places } = plan;
  const [first = 0] = places;
  return {
    sheet: namedSheet(plan, p.sheet),
    opens: p.opens,
    depth: tapered(p.depth, places, grainOf(plan.units)),
    capWidth: p.cap,
    radius: p.radius ?? easyRadius(plan.alloy, p.sheet),
    from: first - over(plan),
    to: (places.at(-1) ?? first) + over(plan),
    strips,
    webDoublers: [],
  };
}

/** Every sheet of a plan once, thinnest first. */
export function sheetsOf(plan: PanelPlan): Sheet[] {
  return [...new Set(thicknesses(plan))]
    .sort((a, b) => a - b)
    .map((thickness) => ({ id: namedSheet(plan, thickness), alloy: plan.alloy, thickness }));
}

/** The spars of a plan with the strips in their caps, and how far apart their webs are. */
export function laySpars(plan: PanelPlan): LaidSpars {
  const { strip, rear } = plan;
  const [first = 0] = plan.places;
  const strips: Spar['strips'] = strip
    ? [{ sheet: namedSheet(plan, strip.sheet), from: first, to: strip.to, caps: 'both' }]
    : [];
  return {
    plan,
    spars: { front: sparOf(plan, plan.front, strips), ...(rear ? { rear: sparOf(plan, rear, []) } : {}) },
    webToWeb: tapered(plan.webs, plan.places, grainOf(plan.units)),
    strips: (y) => (strip && y <= strip.to ? 2 * strip.sheet : 0),
  };
}
