import type { Vec2 } from '../../geometry/vector.ts';
import { flatBounds, flatSize } from '../../parts/flat/flatShape.ts';
import type { PressedShape } from '../../parts/shapes/pressed.ts';
import type { Box, Ink } from '../paper/page.ts';
import { line, shape } from '../paper/path.ts';
import type { Piece } from './piece.ts';

/*
 * A small picture of the piece as bent, seen from the side its flanges turn towards and from above: which way they go.
 * Not to scale with the page; true in its own proportions, bends drawn sharp.
 */

/** A flat face of the bent piece: its corners with height above the web, towards the eye. */
interface Face {
  readonly corners: readonly (readonly [x: number, y: number, z: number])[];
  /** Outward in the web's plane, for a flange; none for the web. */
  readonly out?: Vec2;
}

/** What a step towards the eye shows as: to the left and down. */
const TOWARDS: Vec2 = [-0.42, -0.5];

type Corner = Face['corners'][number];

/** A flat rectangle round the middle, at a height towards the eye. */
const plate = (w: number, h: number): readonly Corner[] => [
  [-w, -h, 0],
  [w, -h, 0],
  [w, h, 0],
  [-w, h, 0],
];

/** A flange over the line from p to q, so high. */
const flangeOver = ([px, py]: Vec2, [qx, qy]: Vec2, height: number): readonly Corner[] => [
  [px, py, 0],
  [qx, qy, 0],
  [qx, qy, height],
  [px, py, height],
];

function channelFaces(pattern: Piece['pattern'], { height, leg }: NonNullable<Piece['channel']>): Face[] {
  const [w, h] = [flatSize(pattern).width / 2, height / 2];
  return [
    { corners: plate(w, h) },
    { corners: flangeOver([-w, h], [w, h], leg), out: [0, 1] },
    { corners: flangeOver([-w, -h], [w, -h], leg), out: [0, -1] },
  ];
}

function ribFaces({ runs, tabs, flange }: PressedShape): Face[] {
  const all = runs.flatMap((r) => r.points);
  const middle = all.reduce((s, p) => s + p[0], 0) / all.length;
  const flanges = runs.flatMap(({ points }) =>
    points.slice(1).map((q, i): Face => {
      const p = points[i] ?? q;
      return { corners: flangeOver(p, q, flange), out: outwardOf(p, q, middle) };
    }),
  );
  const ends = tabs.map(
    (t): Face => ({
      corners: flangeOver([t.x, t.bottom + t.corner], [t.x, t.top - t.corner], t.width),
      out: [-t.inward, 0],
    }),
  );
  return [{ corners: all.map(([x, y]) => [x, y, 0] as const) }, ...flanges, ...ends];
}

/** The way a flange over p to q looks, away from the middle of the web. */
function outwardOf(p: Vec2, q: Vec2, middle: number): Vec2 {
  const long = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
  const [nx, ny]: Vec2 = [-(q[1] - p[1]) / long, (q[0] - p[0]) / long];
  const way = nx * (p[0] - middle) * 0.05 + ny * p[1] >= 0 ? 1 : -1;
  return [way * nx, way * ny];
}

function facesOf({ rib, channel, pattern }: Piece): Face[] {
  if (rib) return ribFaces(rib.shape);
  if (channel) return channelFaces(pattern, channel);
  const { width, height } = flatSize(pattern);
  return [{ corners: plate(width / 2, height / 2) }];
}

const seen = ([x, y, z]: Corner): Vec2 => [x + z * TOWARDS[0], y + z * TOWARDS[1]];

/** Whether a flange shows its outside: it then hides the web behind it. */
const showsOutside = ({ out }: Face): boolean => out !== undefined && out[0] * TOWARDS[0] + out[1] * TOWARDS[1] < 0;

/** The picture, as large as the box lets it be, at the box's left top. */
export function foldUp(piece: Piece, box: Box): Ink[] {
  const faces = facesOf(piece);
  const { low, high } = flatBounds(faces.flatMap((f) => f.corners.map(seen)));
  const scale = Math.min(box.width / (high[0] - low[0] || 1), box.height / (high[1] - low[1] || 1));
  const lay = (corner: Corner): Vec2 => {
    const [x, y] = seen(corner);
    return [box.x + (x - low[0]) * scale, box.y + (high[1] - y) * scale];
  };
  const web = faces.filter((f) => !f.out);
  const behind = faces.filter((f) => f.out && !showsOutside(f));
  const before = faces.filter(showsOutside);
  const ink = piece.rib ? facetInk : faceInk;
  return [...web, ...behind, ...before].flatMap((f) => ink(f, f.corners.map(lay)));
}

const faceInk = ({ out }: Face, at: readonly Vec2[]): Ink[] => [shape(at, 'hairline', out ? 'paper' : 'light')];

/** Round a nose the facets have no lines between them, only along the flange's foot and edge. */
function facetInk(face: Face, at: readonly Vec2[]): Ink[] {
  if (!face.out) return faceInk(face, at);
  return [shape(at, null, 'paper'), line(at.slice(0, 2)), line(at.slice(2, 4))];
}
