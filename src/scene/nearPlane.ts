import { boxCorners } from '../geometry/boxes.ts';
import { across, cylinder, difference, type Loft, placed, type Solid, union } from '../geometry/solids.ts';
import { dot, type Vec3 } from '../geometry/vector.ts';

/*
 * The part of a recipe that a plane square to the span can meet. Cutting a whole spar with a thousand holes to see its
 * section at one place is slow; the lofts' rings and the holes near the plane give the same section at once.
 */

/** Place along the span of a point in a part's own axes: `way` · p + `from`. */
interface Along {
  readonly way: Vec3;
  readonly from: number;
}

type Range = readonly [least: number, most: number];

const SPAN: Along = { way: [0, 1, 0], from: 0 };
/** How far beyond the plane metal is kept, mm. */
const MARGIN = 0.5;

const inFrame = ({ way, from }: Along, solid: Solid & { kind: 'placed' }): Along => {
  const {
    origin,
    axes: [x, y, z],
  } = solid.frame;
  return { way: [dot(way, x), dot(way, y), dot(way, z)], from: dot(way, origin) + from };
};

function rangeOf(points: readonly Vec3[], { way, from }: Along): Range {
  let [least, most] = [Infinity, -Infinity];
  for (const p of points) {
    const y = dot(way, p) + from;
    if (y < least) least = y;
    if (y > most) most = y;
  }
  return [least, most];
}

/** Least and most place along the span that a recipe's metal can reach; cutters do not count. */
export function nearReach(solid: Solid, along: Along = SPAN): Range {
  switch (solid.kind) {
    case 'placed':
      return nearReach(solid.of, inFrame(along, solid));
    case 'difference':
      return nearReach(solid.from, along);
    case 'union': {
      const all = solid.of.map((s) => nearReach(s, along));
      return [Math.min(...all.map((r) => r[0])), Math.max(...all.map((r) => r[1]))];
    }
    case 'loft':
      return rangeOf(solid.rings.flat(), along);
    case 'extrusion': {
      const at = across[solid.axis];
      const ends = solid.outline.flatMap((p) => [at(p, solid.from), at(p, solid.to)]);
      return rangeOf(ends, along);
    }
    case 'box':
      return rangeOf(boxCorners(solid), along);
    case 'cylinder': {
      const [a, b] = rangeOf([solid.from, solid.to], along);
      const r = Math.max(solid.radius, solid.radiusTo);
      return [a - r, b + r];
    }
  }
}

const meets = ([least, most]: Range, y: number): boolean => least <= y + MARGIN && most >= y - MARGIN;

/** A recipe with the same section at y, as short as can be; undefined where the plane meets no metal of it. */
export function nearPlane(solid: Solid, y: number, along: Along = SPAN): Solid | undefined {
  switch (solid.kind) {
    case 'placed': {
      const of = nearPlane(solid.of, y, inFrame(along, solid));
      return of && placed(of, solid.frame);
    }
    case 'difference': {
      const from = nearPlane(solid.from, y, along);
      return (
        from &&
        difference(
          from,
          solid.less.flatMap((s) => nearPlane(s, y, along) ?? []),
        )
      );
    }
    case 'union': {
      const of = solid.of.flatMap((s) => nearPlane(s, y, along) ?? []);
      return of.length > 0 ? union(of) : undefined;
    }
    case 'loft':
      return shortLoft(solid, y, along);
    case 'cylinder':
      return meets(nearReach(solid, along), y) ? cylinder(solid.from, solid.to, solid.radius, solid) : undefined;
    default:
      return meets(nearReach(solid, along), y) ? solid : undefined;
  }
}

/** Only the stretch between rings that the plane can meet: the rings left at its ends are clear of the plane. */
function shortLoft(solid: Loft, y: number, along: Along): Loft | undefined {
  const ranges = solid.rings.map((ring) => rangeOf(ring, along));
  const met = ranges.slice(1).flatMap((b, r) => {
    const a = ranges[r] ?? b;
    const belt: Range = [Math.min(a[0], b[0]), Math.max(a[1], b[1])];
    return meets(belt, y) ? [r] : [];
  });
  const [first, last] = [met[0], met.at(-1)];
  if (first === undefined || last === undefined) return undefined;
  if (first === 0 && last === ranges.length - 2) return solid;
  return { ...solid, rings: solid.rings.slice(first, last + 2), belts: solid.belts.slice(first, last + 1) };
}
