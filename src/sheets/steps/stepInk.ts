import type { Mesh } from '../../geometry/mesh.ts';
import type { Vec2, Vec3 } from '../../geometry/vector.ts';
import type { Fill, Ink, Stroke } from '../paper/page.ts';

/** Paper from the picture's plane: y down, the pane's upper left corner at the origin. */
export type Lay = (p: Vec2) => Vec2;

const n = (v: number): string => String(Math.round(v * 100) / 100 || 0);

function pathOf(lines: readonly (readonly Vec2[])[], lay: Lay, closed: boolean): string {
  return lines
    .map(
      (line) =>
        line
          .map((p, i) => {
            const [x, y] = lay(p);
            return `${i === 0 ? 'M' : 'L'} ${n(x)} ${n(y)}`;
          })
          .join(' ') + (closed ? ' Z' : ''),
    )
    .join(' ');
}

/** Lines or closed shapes as one path; nothing where there are none. */
export function path(
  lines: readonly (readonly Vec2[])[],
  lay: Lay,
  stroke: Stroke | null,
  fill: Fill,
  closed = fill !== 'none',
): Ink[] {
  return lines.length === 0 ? [] : [{ kind: 'path', d: pathOf(lines, lay, closed), stroke, fill }];
}

/** A part's surface and where it is. */
export interface PartMesh {
  readonly id: string;
  readonly mesh: Mesh;
}

export interface PictureBox {
  readonly width: number;
  readonly height: number;
}

/** What pictures and plans of steps are drawn for; where there is less room they are shown smaller. */
export const STEP_PICTURE: PictureBox = { width: 104, height: 60 };
export const STEP_PLAN: PictureBox = { width: 104, height: 25 };

/** The corners of a mesh, one after another, wing frame, mm. */
export function* cornersOf({ positions }: Mesh): Generator<Vec3> {
  for (let i = 0; i < positions.length; i += 3) yield [positions[i] ?? 0, positions[i + 1] ?? 0, positions[i + 2] ?? 0];
}
