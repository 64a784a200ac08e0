import Drawing from 'dxf-writer';
import type { Vec2 } from '../../geometry/vector.ts';
import type { FlatPattern } from '../../parts/flat/flatPattern.ts';
import { flatSize, sideArc } from '../../parts/flat/flatShape.ts';
import { plainText } from '../paper/characters.ts';
import { marksOf, type Piece } from './piece.ts';

/*
 * A flat piece for someone with a cutter: DXF and SVG in millimetres, true size, y up in DXF.
 *
 * Layers: CUT is what the cutter follows, all of it closed: the outline and the holes of the blank. BEND is the bend
 * tangent lines. MARK is only to look at: holes that are drilled through the mating part, grain, name.
 */

const TEXT = 4;

/** The piece's name and what it is cut from, one line. */
function titleOf(piece: Piece): string {
  const over = piece.parts.filter((p) => p.over).map((p) => p.id);
  const side = over.length === 0 ? 'this side up' : `this side up, turned over for ${over.join(', ')}`;
  return plainText(
    `${marksOf(piece)} ${piece.kind}, ${piece.pattern.thickness.toFixed(3)} mm ${piece.sheet.alloy}, ${side}`,
  );
}

/** One DXF drawing of a piece. */
export function pieceDxf(piece: Piece): string {
  const { pattern } = piece;
  const d = new Drawing();
  d.setUnits('Millimeters');
  // Metric: linetypes and hatches of readers follow it.
  d.header('MEASUREMENT', [[70, 1]]);
  d.addLayer('CUT', Drawing.ACI.RED, 'CONTINUOUS')
    .addLayer('BEND', Drawing.ACI.BLUE, 'DASHED')
    .addLayer('MARK', Drawing.ACI.GREEN, 'CONTINUOUS');
  d.setActiveLayer('CUT');
  // The writer takes a third number as the bulge of the side to the next corner.
  d.drawPolyline(
    pattern.outline.map(({ at: [x, y], bulge }) => [x, y, bulge ?? 0] as unknown as [number, number]),
    true,
  );
  for (const {
    at: [x, y],
    diameter,
  } of pattern.holes)
    d.drawCircle(x, y, diameter / 2);
  d.setActiveLayer('BEND');
  for (const bend of pattern.bends) {
    for (const line of [bend.inner, bend.outer]) {
      if (line.length === 2 && line[0] && line[1]) d.drawLine(line[0][0], line[0][1], line[1][0], line[1][1]);
      else
        d.drawPolyline(
          line.map(([x, y]) => [x, y]),
          false,
        );
    }
  }
  d.setActiveLayer('MARK');
  for (const {
    at: [x, y],
    diameter,
  } of pattern.marks) {
    d.drawCircle(x, y, diameter / 2);
    for (const [a, b] of cross([x, y], diameter)) d.drawLine(a[0], a[1], b[0], b[1]);
  }
  for (const [a, b] of grainLines(pattern)) d.drawLine(a[0], a[1], b[0], b[1]);
  const { low } = lowOf(pattern);
  d.drawText(low[0], low[1] - 2 * TEXT, TEXT, 0, titleOf(piece).replace(/[^\x20-\x7e]/g, '-'));
  return d.toDxfString();
}

/** The same as SVG in mm: layers are groups of those names. */
export function pieceSvg(piece: Piece): string {
  const { pattern } = piece;
  const { width, height } = flatSize(pattern);
  const { low } = lowOf(pattern);
  const pad = 3 * TEXT;
  const n = (v: number): string => String(Math.round(v * 1e5) / 1e5 || 0);
  const at = ([x, y]: Vec2): string => `${n(x - low[0] + pad)} ${n(height - (y - low[1]) + pad)}`;
  const circle = (p: Vec2, diameter: number): string => {
    const [x, y] = at(p).split(' ');
    return `<circle cx="${x}" cy="${y}" r="${n(diameter / 2)}"/>`;
  };
  const line = (points: readonly Vec2[]): string => `<path d="M${points.map(at).join('L')}"/>`;
  const round = pattern.outline.map(({ at: p, bulge }, i): string => {
    const q = (pattern.outline[i + 1] ?? pattern.outline[0])?.at ?? p;
    if (!bulge) return `L${at(q)}`;
    const { radius, turn } = sideArc(p, q, bulge);
    return `A${n(radius)} ${n(radius)} 0 ${Math.abs(turn) > Math.PI ? 1 : 0} ${turn > 0 ? 0 : 1} ${at(q)}`;
  });
  const first = pattern.outline[0]?.at ?? [0, 0];
  const group = (id: string, rest: string, inside: readonly string[]): string =>
    `<g id="${id}" fill="none" stroke-width="0.1" ${rest}>\n${inside.join('\n')}\n</g>`;
  const [w, h] = [width + 2 * pad, height + 2 * pad];
  return [
    `<svg xmlns="http://www.w3.org/2000/svg" width="${n(w)}mm" height="${n(h)}mm" viewBox="0 0 ${n(w)} ${n(h)}">`,
    `<title>${titleOf(piece).replace(/&/g, '&amp;').replace(/</g, '&lt;')}</title>`,
    group('CUT', 'stroke="#f00"', [
      `<path d="M${at(first)}${round.join('')}Z"/>`,
      ...pattern.holes.map((o) => circle(o.at, o.diameter)),
    ]),
    group(
      'BEND',
      'stroke="#00f" stroke-dasharray="3 1.5"',
      pattern.bends.flatMap((b) => [line(b.inner), line(b.outer)]),
    ),
    group('MARK', 'stroke="#080"', [
      ...pattern.marks.flatMap((m) => [circle(m.at, m.diameter), ...cross(m.at, m.diameter).map(line)]),
      ...grainLines(pattern).map(line),
    ]),
    '</svg>',
    '',
  ].join('\n');
}

/** A cross a little larger than the hole. */
export function cross([x, y]: Vec2, diameter: number): [Vec2, Vec2][] {
  const r = diameter / 2 + 1.2;
  return [
    [
      [x - r, y],
      [x + r, y],
    ],
    [
      [x, y - r],
      [x, y + r],
    ],
  ];
}

const lowOf = ({ outline }: FlatPattern): { low: Vec2 } => ({
  low: [Math.min(...outline.map((p) => p.at[0])), Math.min(...outline.map((p) => p.at[1]))],
});

/** An arrow with two heads along the grain, in the middle of the piece. */
function grainLines({ grain, outline }: FlatPattern): [Vec2, Vec2][] {
  if (grain === null) return [];
  const xs = outline.map((p) => p.at[0]);
  const middle = (Math.min(...xs) + Math.max(...xs)) / 2;
  const off = (Math.max(...xs) - middle) / 2;
  const [a, b, wing] = [-8, 8, 1.5];
  const turned = ([x, y]: Vec2): Vec2 => (grain === 'y' ? [middle + off + x, y] : [y, x]);
  return (
    [
      [
        [0, a],
        [0, b],
      ],
      [
        [0, b],
        [-wing, b - 3],
      ],
      [
        [0, b],
        [wing, b - 3],
      ],
      [
        [0, a],
        [-wing, a + 3],
      ],
      [
        [0, a],
        [wing, a + 3],
      ],
    ] as [Vec2, Vec2][]
  ).map(([p, q]) => [turned(p), turned(q)]);
}
