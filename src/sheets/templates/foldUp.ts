import type { Vec2 } from '../../geometry/vector.ts';
import { flatSize } from '../../parts/flat/flatShape.ts';
import type { PressedShape } from '../../parts/shapes/pressed.ts';
import type { Box, Ink } from '../paper/page.ts';
import { shape } from '../paper/path.ts';
import type { Piece } from './pieces.ts';

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

function channelFaces({ channel, pattern }: Piece): Face[] {
  if (channel === undefined) return [];
  const [w, h] = [flatSize(pattern).width / 2, channel.height / 2];
  const leg = channel.leg;
  return [
    {
      corners: [
        [-w, -h, 0],
        [w, -h, 0],
        [w, h, 0],
        [-w, h, 0],
      ],
    },
    {
      corners: [
        [-w, h, 0],
        [w, h, 0],
        [w, h, leg],
        [-w, h, leg],
      ],
      out: [0, 1],
    },
    {
      corners: [
        [-w, -h, 0],
        [w, -h, 0],
        [w, -h, leg],
        [-w, -h, leg],
      ],
      out: [0, -1],
    },
  ];
}

function ribFaces({ runs, tabs, flange }: PressedShape): Face[] {
  const all = runs.flatMap((r) => r.points);
  const middle = all.reduce((s, p) => s + p[0], 0) / all.length;
  const flanges = runs.flatMap((run) =>
    run.points.slice(1).map((q, i): Face => {
      const p = run.points[i] ?? q;
      const long = Math.hypot(q[0] - p[0], q[1] - p[1]) || 1;
      const n: Vec2 = [-(q[1] - p[1]) / long, (q[0] - p[0]) / long];
      // Away from the middle of the web.
      const way = n[0] * (p[0] - middle) * 0.05 + n[1] * p[1] >= 0 ? 1 : -1;
      return {
        corners: [
          [p[0], p[1], 0],
          [q[0], q[1], 0],
          [q[0], q[1], flange],
          [p[0], p[1], flange],
        ],
        out: [way * n[0], way * n[1]],
      };
    }),
  );
  const ends = tabs.map(
    (t): Face => ({
      corners: [
        [t.x, t.bottom + t.corner, 0],
        [t.x, t.top - t.corner, 0],
        [t.x, t.top - t.corner, t.width],
        [t.x, t.bottom + t.corner, t.width],
      ],
      out: [-t.inward, 0],
    }),
  );
  return [{ corners: all.map(([x, y]) => [x, y, 0] as const) }, ...flanges, ...ends];
}

function plateFaces({ pattern }: Piece): Face[] {
  const { width, height } = flatSize(pattern);
  return [
    {
      corners: [
        [-width / 2, -height / 2, 0],
        [width / 2, -height / 2, 0],
        [width / 2, height / 2, 0],
        [-width / 2, height / 2, 0],
      ],
    },
  ];
}

/** The picture, as large as the box lets it be, at the box's left top. */
export function foldUp(piece: Piece, box: Box): Ink[] {
  const faces = piece.rib ? ribFaces(piece.rib.shape) : piece.channel ? channelFaces(piece) : plateFaces(piece);
  const flat = ([x, y, z]: readonly [number, number, number]): Vec2 => [x + z * TOWARDS[0], y + z * TOWARDS[1]];
  const all = faces.flatMap((f) => f.corners.map(flat));
  const [xs, ys] = [all.map((p) => p[0]), all.map((p) => p[1])];
  const [left, right, low, high] = [Math.min(...xs), Math.max(...xs), Math.min(...ys), Math.max(...ys)];
  const scale = Math.min(box.width / (right - left || 1), box.height / (high - low || 1));
  // What shows its outside hides the web behind it, so it is drawn last.
  const shows = (f: Face): boolean => f.out !== undefined && f.out[0] * TOWARDS[0] + f.out[1] * TOWARDS[1] < 0;
  const ordered = [...faces.filter((f) => !f.out), ...faces.filter((f) => f.out && !shows(f)), ...faces.filter(shows)];
  const curved = piece.rib !== undefined;
  const ink: Ink[] = [];
  for (const f of ordered) {
    const at = f.corners.map(flat).map(([x, y]): Vec2 => [box.x + (x - left) * scale, box.y + (high - y) * scale]);
    const fill = f.out === undefined ? 'light' : 'paper';
    // Round a nose the facets have no lines between them.
    ink.push(shape(at, curved && f.out ? null : 'hairline', fill));
    if (curved && f.out)
      for (const k of [0, 2])
        ink.push({
          kind: 'path',
          d: `M${at
            .slice(k, k + 2)
            .map(([x, y]) => `${x.toFixed(3)} ${y.toFixed(3)}`)
            .join('L')}`,
          stroke: 'hairline',
          fill: 'none',
        });
  }
  return ink;
}
