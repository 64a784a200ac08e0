import type { Vec2 } from '../../geometry/vector.ts';
import type { DrillStrip } from '../../parts/flat/drillStrip.ts';
import { blockOutline } from '../../parts/flat/flatRib.ts';
import { polygonOf } from '../../parts/flat/flatShape.ts';
import type { Stroke } from '../paper/page.ts';
import { cross } from './dxf.ts';
import type { Piece } from './piece.ts';

/*
 * Pieces, forming blocks and drill strips as plain lines in their own millimetres, y up: what a full-size page shows
 * of them.
 */

export interface FlatLine {
  readonly points: readonly Vec2[];
  readonly stroke: Stroke;
}

/** A name written beside a place of the drawing. */
interface PlacedLabel {
  readonly at: Vec2;
  readonly text: string;
}

export interface FlatDrawing {
  readonly lines: readonly FlatLine[];
  readonly labels: readonly PlacedLabel[];
  /** Where writing may go: inside this, clear of the lines. */
  readonly inside: readonly Vec2[];
  readonly low: Vec2;
  readonly high: Vec2;
}

const closed = (points: readonly Vec2[]): Vec2[] => [...points, ...points.slice(0, 1)];

/** A circle as a closed line whose chords stand off by 0.01 mm at most. */
function circleLine([x, y]: Vec2, diameter: number): Vec2[] {
  const r = diameter / 2;
  const many = Math.max(12, Math.ceil(Math.PI / Math.acos(Math.max(1 - 0.01 / r, 0))));
  return Array.from(
    { length: many + 1 },
    (_, i): Vec2 => [x + r * Math.cos((2 * Math.PI * i) / many), y + r * Math.sin((2 * Math.PI * i) / many)],
  );
}

const crossed = (at: Vec2, diameter: number, stroke: Stroke = 'hairline'): FlatLine[] =>
  cross(at, diameter).map((points): FlatLine => ({ points, stroke }));

function drawing(
  lines: readonly FlatLine[],
  inside: readonly Vec2[],
  labels: readonly PlacedLabel[] = [],
): FlatDrawing {
  const all = lines.flatMap((l) => l.points);
  const [xs, ys] = [all.map((p) => p[0]), all.map((p) => p[1])];
  return { lines, labels, inside, low: [Math.min(...xs), Math.min(...ys)], high: [Math.max(...xs), Math.max(...ys)] };
}

/** The flat blank: cut line, bend tangent lines, what is drilled first, what is only marked. */
export function drawPiece({ pattern }: Piece): FlatDrawing {
  const outline = polygonOf(pattern.outline);
  return drawing(
    [
      { points: closed(outline), stroke: 'cut' },
      ...pattern.holes.flatMap((h): FlatLine[] => [
        { points: circleLine(h.at, h.diameter), stroke: 'cut' },
        ...crossed(h.at, 1),
      ]),
      ...pattern.corners.flatMap((c): FlatLine[] => [
        { points: circleLine(c.at, c.diameter), stroke: 'hairline' },
        ...crossed(c.at, c.diameter),
      ]),
      ...pattern.bends.flatMap((b): FlatLine[] => [
        { points: b.inner, stroke: 'bend' },
        { points: b.outer, stroke: 'bend' },
      ]),
      ...pattern.marks.flatMap((m): FlatLine[] => [
        { points: circleLine(m.at, m.diameter), stroke: 'hairline' },
        ...crossed(m.at, m.diameter),
      ]),
    ],
    outline,
  );
}

/** The forming block of a rib, with its web holes for the tooling pins' sake. */
export function drawBlock({ rib, pattern }: Piece): FlatDrawing | undefined {
  if (rib === undefined) return undefined;
  const outline = blockOutline(rib.shape);
  return drawing(
    [
      { points: closed(outline), stroke: 'cut' },
      ...pattern.holes
        .filter((h) => h.kind === 'web')
        .flatMap((h): FlatLine[] => [{ points: circleLine(h.at, h.diameter), stroke: 'hidden' }, ...crossed(h.at, 1)]),
    ],
    outline,
  );
}

/** Room kept beside a strip on a layer that goes on. */
const BESIDE = 12;

/** A strip with its own edge to cut along, the layer's edges, the row, the chord line and the holes. */
export function drawStrip(strip: DrillStrip): FlatDrawing {
  const { top, bottom, row, holes, pilot, from } = strip;
  const [left, right] = strip.edges ?? [
    Math.min(0, row - strip.spread) - BESIDE,
    Math.max(0, row + strip.spread) + BESIDE,
  ];
  const border: Vec2[] = [
    [left, bottom],
    [right, bottom],
    [right, top],
    [left, top],
  ];
  const lines: FlatLine[] = [
    { points: closed(border), stroke: 'cut' },
    {
      points: [
        [row, bottom],
        [row, top],
      ],
      stroke: 'centre',
    },
    {
      points: [
        [left, 0],
        [right, 0],
      ],
      stroke: 'centre',
    },
    ...(from === 'web face' && left < -0.01 && right > 0.01
      ? [
          {
            points: [
              [0, bottom],
              [0, top],
            ],
            stroke: 'outline',
          } as const,
        ]
      : []),
    ...holes.flatMap((h): FlatLine[] => [
      { points: circleLine([h.x, h.y], pilot), stroke: 'hairline' },
      ...crossed([h.x, h.y], pilot),
    ]),
  ];
  return drawing(
    lines,
    border,
    holes.map((h) => ({ at: [right + 1.5, h.y], text: h.name })),
  );
}
