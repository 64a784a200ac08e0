import {
  ellipseFront,
  frontPart,
  nacaDigits,
  nacaProfile,
  profileOf,
  type AirfoilProfile as Section,
} from '../../geometry/airfoil.ts';
import type { Vec2 } from '../../geometry/vector.ts';
import type { Contour, Profile } from '../../model/schema.ts';

/**
 * The outside of a nose rib's flange: from the top of its tail at x = 0 round the nose point at x = −length to the
 * bottom of its tail, mm. The drawing's profile is cut where the drawing has the tail (`cut` behind the nose), then
 * stretched to this rib's own length and to its height at the tail, which lies even about z = 0. Where the cut misses
 * the profile, an ellipse stands in.
 */
export function noseOutline(
  profile: Profile,
  size: { readonly length: number; readonly height: number; readonly cut: number },
): Vec2[] {
  const { length, height, cut } = size;
  const front = frontOf(profile, cut);
  const top = front?.[0];
  const bottom = front?.[front.length - 1];
  const tall = top && bottom ? top[1] - bottom[1] : 0;
  if (!front || !top || !bottom || !(tall > 0))
    return ellipseFront({ length, height, count: 49 }).map(([x, z]): Vec2 => [x - length, z]);
  const middle = (top[1] + bottom[1]) / 2;
  const ahead = Math.min(...front.map(([x]) => x));
  return front.map(([x, z], i): Vec2 => {
    const end = i === 0 || i === front.length - 1;
    return [end ? 0 : ((x - top[0]) * length) / (top[0] - ahead), ((z - middle) * height) / tall];
  });
}

function frontOf(profile: Profile, cut: number): Vec2[] | undefined {
  if (profile.kind === 'ellipse') return undefined;
  const section = sectionOf(profile);
  if (section === undefined) return undefined;
  const nose = section.points[section.nose]?.[0] ?? 0;
  const found = frontPart(section, nose + cut / profile.chord);
  return found && withoutRepeats(found.map(([x, z]): Vec2 => [(x - nose) * profile.chord, z * profile.chord]));
}

/**
 * Of chord one. Points of a profile are in any unit, trailing edge round the nose to trailing edge; their own length
 * is the chord. `count` points a surface of one by formula.
 */
export function sectionOf(profile: Contour, count = 61): Section | undefined {
  if (profile.kind === 'naca4') {
    const digits = nacaDigits(profile.name);
    return digits && nacaProfile(digits, { count, trailingEdge: 'open' });
  }
  const xs = profile.points.map(([x]) => x);
  const long = Math.max(...xs) - Math.min(...xs);
  return long > 0 ? profileOf(profile.points.map(([x, z]): Vec2 => [x / long, z / long])) : undefined;
}

function withoutRepeats(points: readonly Vec2[]): Vec2[] {
  return points.filter((p, i) => {
    const before = points[i - 1];
    return before === undefined || Math.hypot(p[0] - before[0], p[1] - before[1]) > 1e-6;
  });
}
