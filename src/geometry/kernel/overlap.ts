import type { Manifold } from 'manifold-3d';
import { type Bounds, boxesApart } from '../boxes.ts';
import { lumpFaces } from '../lump.ts';
import type { Solid } from '../solids.ts';
import { subtract } from '../vector.ts';
import { heldBox } from './kernelBox.ts';
import type { Workshop } from './workshop.ts';

/**
 * One face of a shared lump: whose it is, its name, its area, and how deep the lump goes square to it at the deepest.
 */
interface LumpFace {
  readonly of: 'a' | 'b';
  readonly name: string;
  readonly area: number;
  readonly depth: number;
}

/**
 * One lump of metal that two solids share. `depth` is how far they bite: the least depth square to any face that has
 * a good share of the lump behind it. Exact for a plate, a wedge and a film, also one that runs on round a bend.
 */
export interface Lump extends Bounds {
  readonly volume: number;
  readonly depth: number;
  readonly faces: readonly LumpFace[];
}

/** What two solids share. Nothing at all, or a bare touch, has no lumps. */
export interface Overlap {
  /** mm³ */
  readonly volume: number;
  /** Greatest depth of any lump, mm. */
  readonly depth: number;
  /** Greatest first. */
  readonly lumps: readonly Lump[];
}

export const NO_OVERLAP: Overlap = { volume: 0, depth: 0, lumps: [] };

/** Below this a shared volume is a touch, mm³ (a film of a millionth over a square centimetre). */
const TOUCH = 1e-4;
/** A face with this share of a lump behind it tells how deep the lump is. */
const TELLING = 0.3;
/** A solid of fewer triangles, or no longer than this (mm), is not cut up. */
const FEW = 6000;
const SHORT = 80;

/** A solid and the box round it. */
export interface Boxed {
  readonly solid: Solid;
  readonly box: Bounds;
}

/** A part, or a length of one, with its box. */
interface Piece {
  readonly body: Manifold;
  readonly box: Bounds;
}

/** Asks what two solids share whose boxes meet. */
export function sharer(shop: Workshop, made: (solid: Solid) => Manifold): (a: Boxed, b: Boxed) => Overlap {
  /** The numbers of a solid's faces. */
  const idsOf = shop.whileHeld((solid): ReadonlySet<number> => new Set(made(solid).getMesh().runOriginalID));
  /**
   * A long part is cut across into short pieces once, so that a neighbour is set against the piece beside it, not the
   * whole.
   */
  const piecesOf = shop.whileHeld((solid): readonly Piece[] => {
    const body = made(solid);
    return shortened(shop, { body, box: heldBox(body) });
  });
  const near = (solid: Solid, box: Bounds): Piece[] => piecesOf(solid).filter((p) => boxesApart(p.box, box) <= 0);
  return (a, b) => {
    const [as, bs] = [near(a.solid, b.box), near(b.solid, a.box)];
    return shop.scratch(() => {
      const meeting = as.flatMap((p) => bs.filter((q) => boxesApart(p.box, q.box) <= 0).map((q) => [p, q] as const));
      const parts = meeting.map(([p, q]) => shop.own(p.body.intersect(q.body)));
      const [only] = parts;
      const shared = parts.length === 1 && only ? only : shop.own(shop.wasm.Manifold.union(parts));
      return lumpsOf(shop, shared, idsOf(a.solid));
    });
  };
}

const AXES = [
  { along: 0, way: [1, 0, 0] },
  { along: 1, way: [0, 1, 0] },
  { along: 2, way: [0, 0, 1] },
] as const;

/** A long body of many triangles cut across its longest way, and again, until its pieces are short. */
function shortened(shop: Workshop, piece: Piece): Piece[] {
  const { low, high } = piece.box;
  const [x, y, z] = subtract(high, low);
  const longest = Math.max(x, y, z);
  if (piece.body.numTri() < FEW || longest < SHORT) return [piece];
  const { way, along } = AXES.find((axis) => high[axis.along] - low[axis.along] === longest) ?? AXES[0];
  const halves = piece.body.splitByPlane([...way], (low[along] + high[along]) / 2).map((m) => shop.own(m));
  return halves.flatMap((m) => (m.isEmpty() ? [] : shortened(shop, { body: m, box: heldBox(m) })));
}

function lumpsOf(shop: Workshop, shared: Manifold, first: ReadonlySet<number>): Overlap {
  if (!(shared.volume() > TOUCH)) return NO_OVERLAP;
  const lumps = shared
    .decompose()
    .map((m) => shop.own(m))
    .filter((m) => m.volume() > TOUCH)
    .map((m) => lumpOf(shop, m, first));
  lumps.sort((p, q) => q.volume - p.volume);
  return { volume: shared.volume(), depth: Math.max(0, ...lumps.map((l) => l.depth)), lumps };
}

function lumpOf({ names }: Workshop, m: Manifold, first: ReadonlySet<number>): Lump {
  const mesh = m.getMesh();
  const box = heldBox(m);
  const faces = lumpFaces(
    mesh.vertProperties,
    mesh.triVerts,
    Array.from(mesh.runOriginalID, (id, run) => ({
      of: first.has(id) ? 'a' : 'b',
      name: names.get(id) ?? '',
      from: (mesh.runIndex[run] ?? 0) / 3,
      to: (mesh.runIndex[run + 1] ?? 0) / 3,
    })),
  );
  const volume = m.volume();
  // A face that has a good share of the lump behind it; a film that runs on where the two only touch has none.
  const telling = faces.filter((f) => f.area * f.depth >= TELLING * volume);
  // No lump is deeper than a pyramid of its volume on its largest face.
  const most = (3 * volume) / Math.max(...faces.map((f) => f.area));
  return {
    ...box,
    volume,
    depth: Math.min(most, ...subtract(box.high, box.low), ...telling.map((f) => f.depth)),
    faces,
  };
}
