import type { Vec2 } from '../../geometry/vector.ts';
import { inWeb } from '../../model/edits/rows.ts';
import type { Model } from '../../model/schema.ts';
import { HANDBOOK_RULE } from '../../parts/flat/bend.ts';
import { sizesFor } from '../../parts/flat/drawnRibs.ts';
import { type DrillStrip, drillStrips } from '../../parts/flat/drillStrip.ts';
import { flatSize } from '../../parts/flat/flatShape.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatBoth, formatLength, formatMass, fractionName } from '../../units.ts';
import { areaOf, type Form, framed, type Job } from '../paper/frame.ts';
import { type Box, type Ink, type Sheet } from '../paper/page.ts';
import { arrowHead, line, rectangle } from '../paper/path.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import { drawBlock, drawPiece, drawStrip, type FlatDrawing } from './drawFlat.ts';
import { foldUp } from './foldUp.ts';
import { allowanceOf, cutPieces, marksOf, type Piece, ribPieces } from './pieces.ts';
import { roomFor, type Spot } from './room.ts';
import { clipped, quarterTurned, type Tile, type Tiling, tiled } from './tiles.ts';

/*
 * Full-size templates: flat patterns of what is cut, forming blocks, drill strips; 1:1, tiled where the paper is too small.
 */

/** Something laid on a page whole: its size and its ink from its top left corner. */
interface Block {
  readonly width: number;
  readonly height: number;
  readonly draw: (x: number, y: number) => Ink[];
  /** Starts a page of its own. */
  readonly fresh?: boolean;
}

const APART = 6;
/** Widths a caption beside a drawing is tried at, mm. */
const BESIDE = [64, 52];
/** Beside a strip. */
const NARROW = [46];
const PICTURE = { width: 46, height: 28 };
const TILE_HEAD = 8;

/** What is full size on one sheet, and what is said about it. */
interface Item {
  readonly drawing: FlatDrawing;
  readonly head: string;
  readonly lines: readonly string[];
  /** Written on it where there is room. */
  readonly name: string;
  readonly side: string;
  readonly up?: { readonly up: string; readonly right: string };
  readonly grain?: 'x' | 'y' | null;
  readonly picture?: (box: Box) => Ink[];
}

const BENDING = `Bend allowance (${HANDBOOK_RULE.radius} R + ${HANDBOOK_RULE.thickness} T) × 90, ${HANDBOOK_RULE.origin}. It is empirical: bend one from scrap first, measure it, and correct the allowance from what comes out.`;
const MARKS = 'Small circles with a cross are rivet holes: drill them through the mating part, not from here.';
const TILES = 'Tiles are joined crosses on crosses.';

/** Flat patterns of doublers, packers and shims, or of those named. Long plain strips are in the cut list only: they are cut to size. */
export function pieceTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'flat-patterns', title: 'Flat patterns, full size', fullSize: true };
  const pieces = cutPieces(job.model, named).filter((p) => p.kind !== 'cap strip' && p.kind !== 'web doubler');
  return laidOut(
    job,
    form,
    pieces.map((p) => pieceItem(job.model, p)),
    { intro: [BENDING, MARKS, 'Grain across the bends.', TILES], none: 'There is no doubler, packer or shim to cut.' },
  );
}

/** Flat blanks and forming blocks of the ribs as drawn, or of those named. */
export function ribTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'rib-templates', title: 'Rib blanks and forming blocks, full size', fullSize: true };
  const items = ribPieces(job.model, named).flatMap((p) => {
    const block = drawBlock(p);
    return [pieceItem(job.model, p), ...(block ? [blockItem(job.model, p, block)] : [])];
  });
  return laidOut(job, form, items, { intro: [BENDING, MARKS, TILES], none: 'There is no rib.' });
}

/** Strips to drill the first layer of each joint by, or those for the parts named. */
export function stripTemplates(job: Job, named?: readonly string[]): Sheet {
  const form: Form = { id: 'drill-strips', title: 'Drill strips, full size', fullSize: true };
  const strips = drillStrips(sizesFor(skeletonOf(job.model), 0)).filter(
    (s) => named === undefined || s.serves.some((k) => named.includes(k.part)),
  );
  const caps = job.model.joints.some((j) => !inWeb(j))
    ? ['Rows in caps have no strip: lay them out from the web.']
    : [];
  return laidOut(
    job,
    form,
    strips.map((s) => stripItem(job.model, s)),
    {
      intro: [
        'Lay the level centre line on the chord line and the upright one on the row. Drill one layer of a joint by its strip, the other layers through that one.',
        ...caps,
      ],
      none: 'There is no row of holes.',
    },
  );
}

const list = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words[words.length - 1]}`;
const sentenceCase = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);
const both = (a: number, b: number, { units }: Model): string =>
  `${formatLength(a, units, { unitMark: false })} × ${formatLength(b, units)}`;
const named = (mm: number, { units }: Model): string =>
  `${formatLength(mm, units)}${fractionName(mm) ? ` (${fractionName(mm)})` : ''}`;

function pieceItem(model: Model, piece: Piece): Item {
  const { pattern, kind, parts, sheet, channel } = piece;
  const { width, height } = flatSize(pattern);
  const allowance = allowanceOf(piece);
  const [bend] = pattern.bends;
  const over = parts.filter((p) => p.over).map((p) => p.id);
  const asDrawn = parts.filter((p) => !p.over).map((p) => p.id);
  const corners = [...new Set(pattern.corners.map((c) => named(c.diameter, model)))];
  const reliefs = [...new Set(pattern.holes.filter((h) => h.kind === 'relief').map((h) => named(h.diameter, model)))];
  const lines = [
    `Sheet ${sheet.id}: ${formatBoth(pattern.thickness)} ${sheet.alloy}. Make ${parts.length}.`,
    piece.rib
      ? `Stations ${list(parts.map((p) => p.where))}.`
      : `${sentenceCase(list(parts.map((p) => (parts.length > 1 ? `${p.id} ${p.where}` : p.where))))}.`,
    ...(over.length > 0
      ? [
          asDrawn.length > 0
            ? `As drawn: ${list(asDrawn)}. Turn the template over for ${list(over)}.`
            : `Turn the template over for ${list(over)}.`,
        ]
      : []),
    `Flat ${both(width, height, model)}, ${formatMass(piece.mass)} each.`,
    ...(channel
      ? [
          `Bent: ${formatLength(channel.height, model.units)} over the legs, legs ${formatLength(channel.leg, model.units)} outside.`,
        ]
      : []),
    ...(bend && allowance !== undefined
      ? [
          `All bends 90°, towards you, ${named(bend.radius, model)} inside; bend allowance ${formatLength(allowance, model.units)}.`,
        ]
      : []),
    ...(corners.length > 0 ? [`Drill the corners ${list(corners)} first, then cut to them.`] : []),
    ...(reliefs.length > 0 ? [`Relief holes in the bends ${list(reliefs)}.`] : []),
    ...piece.notes,
  ];
  return {
    drawing: drawPiece(piece),
    head: `${marksOf(piece)}: ${kind}`,
    lines,
    name: marksOf(piece),
    side: pattern.bends.length > 0 ? 'this side up, bends towards you' : 'this side up',
    up: { up: 'up', right: piece.right },
    grain: pattern.grain,
    picture: (box) => foldUp(piece, box),
  };
}

function blockItem(model: Model, piece: Piece, drawing: FlatDrawing): Item {
  const radius = piece.pattern.bends[0]?.radius ?? 0;
  return {
    drawing,
    head: `${marksOf(piece)}: forming block`,
    name: `block ${marksOf(piece)}`,
    side: 'this side up: the web lies under it',
    lines: [
      `The inside of the flanges of ${marksOf(piece)}: the contour less one sheet of ${formatBoth(piece.pattern.thickness)}.`,
      `Round the edge where metal goes over it to ${named(radius, model)}, and slope it a little past 90°, for the metal springs back. Turn it over for the other hand.`,
      'Dashed circles are the web holes of the rib.',
    ],
    up: { up: 'up', right: 'aft' },
  };
}

function stripItem(model: Model, strip: DrillStrip): Item {
  const parts = strip.serves.map((s) => s.part);
  const spar = parts.every((p) => p === 'front' || p === 'rear');
  const at = list(strip.serves.map((s) => (spar ? s.station : `${s.part} (${s.joint})`)));
  const from = Math.abs(strip.row);
  const line =
    strip.from === 'station'
      ? ['The upright centre line is the station.']
      : strip.edges === null
        ? [
            `The full line is the rib's web face. The row is ${formatLength(from, model.units)} from it, on the tab's side.`,
          ]
        : [
            `Row ${formatLength(from, model.units)} from the rib's web face; ${formatLength(Math.abs((strip.tabSide === 1 ? strip.edges[1] : strip.edges[0]) - strip.row), model.units)} from the row to the free edge.`,
          ];
  return {
    drawing: drawStrip(strip),
    head: `Drill strip: ${strip.layer}`,
    name: '',
    side: '',
    lines: [
      `For ${at}. Seen from the drill side, looking ${strip.looking}.`,
      ...line,
      `Pilot ${formatBoth(strip.pilot)}; final ${formatBoth(strip.final)} only when the last layer is in.`,
    ],
  };
}

// --- blocks ---------------------------------------------------------------------------------------------------------

const HEAD = 13;

function caption(item: Item, width: number, pictured: boolean): Block {
  const picture =
    item.picture && pictured ? { width: Math.min(PICTURE.width, width), height: PICTURE.height } : undefined;
  const beside = picture !== undefined && width > 110;
  const textWide = beside ? width - picture.width - 4 : width;
  const head = wrap(item.head, textWide, { size: HEAD, bold: true });
  const lines = item.lines.flatMap((l) => wrap(l, textWide));
  const tall = linesHeight(head.length, HEAD) + 1.5 + linesHeight(lines.length);
  const under = picture && !beside ? 3 + picture.height : 0;
  return {
    width,
    height: Math.max(tall + under, beside ? picture.height + 2 : 0),
    draw: (x, y) => {
      const top = y + linesHeight(head.length, HEAD) + 1.5;
      const said: Ink[] = [
        ...head.map(
          (text, i): Ink => ({ kind: 'text', x, y: y + riseOf(HEAD) + i * leadOf(HEAD), text, size: HEAD, bold: true }),
        ),
        ...lines.map((text, i): Ink => ({ kind: 'text', x, y: top + riseOf() + i * leadOf(), text, size: LEAST_SIZE })),
      ];
      if (!item.picture || !picture) return said;
      return [
        ...said,
        ...item.picture(
          beside ? { x: x + width - picture.width, y: y + 1, ...picture } : { x, y: y + tall + 3, ...picture },
        ),
      ];
    },
  };
}

/** One way to lay a drawing and its caption on a page, and how many such blocks go on one. */
interface Choice {
  readonly block: Block;
  readonly many: number;
}

/**
 * Drawing and caption side by side, or one under the other, whichever puts most on a page; a drawing too large for the page
 * as tiles, then its caption.
 */
function blocksOf(item: Item, room: { readonly width: number; readonly height: number }): Block[] {
  // What has names beside its holes stays upright.
  const turns = item.drawing.labels.length > 0 ? [item.drawing] : [item.drawing, quarterTurned(item.drawing)];
  const choices = turns.flatMap((d, k) => [
    ...(d.labels.length > 0 ? NARROW : BESIDE).map((wide) => beside(item, d, { turned: k === 1, wide })),
    under(item, d, { turned: k === 1, room }),
  ]);
  const counted = choices.map(
    (block): Choice => ({
      block,
      many:
        Math.floor((room.width + APART) / (block.width + APART)) *
        Math.floor((room.height + APART) / (block.height + APART)),
    }),
  );
  const best = counted.reduce((a, b) => (b.many > a.many ? b : a));
  if (best.many > 0) return [best.block];
  const inside = { width: room.width, height: room.height - TILE_HEAD };
  const tilings = turns.map((d, k) => ({ d, turned: k === 1, tiling: tiled(d, inside) }));
  const fewest = tilings.reduce((a, b) => (b.tiling.tiles.length < a.tiling.tiles.length ? b : a));
  return [
    ...fewest.tiling.tiles.map((tile, index) =>
      tileBlock(item, fewest.d, { tiling: fewest.tiling, tile, index, turned: fewest.turned }),
    ),
    caption(item, room.width, true),
  ];
}

function beside(
  item: Item,
  d: FlatDrawing,
  { turned, wide }: { readonly turned: boolean; readonly wide: number },
): Block {
  const [w, h] = [d.high[0] - d.low[0] + labelRoom(d), d.high[1] - d.low[1]];
  const words = caption(item, wide, true);
  const ink = inkOf(item, d, { turned });
  return {
    width: w + APART + wide,
    height: Math.max(h, words.height),
    draw: (x, y) => [...ink(x, y), ...words.draw(x + w + APART, y)],
  };
}

/** The words over the drawing across the whole page, the picture beside the drawing where it goes. */
function under(
  item: Item,
  d: FlatDrawing,
  { turned, room }: { readonly turned: boolean; readonly room: { readonly width: number } },
): Block {
  const [w, h] = [d.high[0] - d.low[0] + labelRoom(d), d.high[1] - d.low[1]];
  const pictureBeside = item.picture !== undefined && w + 2 * APART + PICTURE.width <= room.width;
  const words = caption(item, room.width, !pictureBeside);
  const ink = inkOf(item, d, { turned });
  const top = words.height + 4;
  return {
    width: Math.max(w, room.width),
    height: top + Math.max(h, pictureBeside ? PICTURE.height : 0),
    draw: (x, y) => [
      ...words.draw(x, y),
      ...ink(x, y + top),
      ...(pictureBeside && item.picture ? item.picture({ x: x + w + 2 * APART, y: y + top, ...PICTURE }) : []),
    ],
  };
}

const labelRoom = (d: FlatDrawing): number =>
  Math.max(0, ...d.labels.map((l) => l.at[0] + textWidth(l.text) - d.high[0]));

/** A closed line drawn whole or a stretch of one, in the page's mm. */
const onPage =
  (d: Pick<Tile, 'low' | 'high'>, x: number, y: number) =>
  ([px, py]: Vec2): Vec2 => [x + px - d.low[0], y + d.high[1] - py];

function inkOf(item: Item, d: FlatDrawing, { turned }: { readonly turned: boolean }): (x: number, y: number) => Ink[] {
  return (x, y) => {
    const written = writing(item, d, { low: d.low, high: d.high }, turned);
    const at = onPage(d, x, y);
    return [
      ...d.lines.map((l) => line(l.points.map(at), l.stroke)),
      ...d.labels.map((l): Ink => {
        const [tx, ty] = at(l.at);
        return { kind: 'text', x: tx, y: ty + riseOf() / 2, text: l.text, size: LEAST_SIZE };
      }),
      ...written(at),
    ];
  };
}

/** The name, "this side up", the arrows up and to the right, the grain: each where there is room. */
function writing(item: Item, d: FlatDrawing, tile: Spot, turned: boolean): (at: (p: Vec2) => Vec2) => Ink[] {
  const taken: Spot[] = [];
  const put: ((at: (p: Vec2) => Vec2) => Ink[])[] = [];
  const place = (size: readonly [number, number]): Spot | undefined => {
    const spot = roomFor(d, size, { tile, taken });
    if (spot) taken.push(spot);
    return spot;
  };
  const text = (words: readonly string[], size: number, bold: boolean): boolean => {
    const wide = Math.max(...words.map((w) => textWidth(w, { size, bold })));
    const tall = linesHeight(words.length, size);
    for (const turn of [0, 90]) {
      const spot = place(turn === 0 ? [wide, tall] : [tall, wide]);
      if (!spot) continue;
      put.push((at) => {
        const [x, y] = at([spot.low[0], spot.high[1]]);
        return words.map(
          (t, i): Ink =>
            turn === 0
              ? {
                  kind: 'text',
                  x: x + wide / 2,
                  y: y + riseOf(size) + i * leadOf(size),
                  text: t,
                  size,
                  bold,
                  align: 'middle',
                }
              : {
                  kind: 'text',
                  x: x + riseOf(size) + i * leadOf(size),
                  y: y + wide / 2,
                  text: t,
                  size,
                  bold,
                  align: 'middle',
                  turn: 90,
                },
        );
      });
      return true;
    }
    return false;
  };
  if (item.up) {
    const [along, across] = turned ? [item.up.right, item.up.up] : [item.up.up, item.up.right];
    const wide = Math.max(ARROW + 3, textWidth(across), 2.5 + textWidth(along));
    const spot = place([wide, ARROW + 6]);
    // Turned a quarter anticlockwise, what was up goes to the left and what was right goes up.
    if (spot)
      put.push((at) => arrows(at([turned ? spot.high[0] : spot.low[0], spot.low[1]]), { along, across, left: turned }));
  }
  if (item.name !== '')
    void (text([item.name], 14, true) || text(wrap(item.name, 24, { bold: true }), LEAST_SIZE, true));
  if (item.side !== '')
    void (
      text([item.side], LEAST_SIZE, false) ||
      text(wrap(item.side, 32), LEAST_SIZE, false) ||
      text(wrap(item.side, 22), LEAST_SIZE, false)
    );
  if (item.grain) {
    const upright = (item.grain === 'y') !== turned;
    const spot = place(upright ? [6, 20] : [20, 6]);
    if (spot) put.push((at) => grainArrow(at([spot.low[0], spot.high[1]]), upright));
  }
  return (at) => put.flatMap((p) => p(at));
}

const ARROW = 8;

/** Two arrows from a corner: one up the page, one across, each with its word. */
function arrows(
  [x, y]: Vec2,
  { along, across, left }: { readonly along: string; readonly across: string; readonly left: boolean },
): Ink[] {
  const way = left ? -1 : 1;
  const [cx, cy] = [x + way * 0.8, y - 4.6];
  const align = left ? 'end' : 'start';
  return [
    line(
      [
        [cx, cy],
        [cx, cy - ARROW + 1],
      ],
      'outline',
    ),
    arrowHead(cx, cy - ARROW, 0, -1),
    line(
      [
        [cx, cy],
        [cx + way * (ARROW - 1), cy],
      ],
      'outline',
    ),
    arrowHead(cx + way * ARROW, cy, way, 0),
    { kind: 'text', x: cx + way * 1.4, y: cy - ARROW + 2.6, text: along, size: LEAST_SIZE, align },
    { kind: 'text', x, y: y - 0.8, text: across, size: LEAST_SIZE, align },
  ];
}

function grainArrow([x, y]: Vec2, upright: boolean): Ink[] {
  const [ax, ay] = upright ? [x + 5, y + 1] : [x + 1, y + 5];
  const [bx, by] = upright ? [x + 5, y + 19] : [x + 19, y + 5];
  const [dx, dy] = upright ? [0, 1] : [1, 0];
  return [
    line(
      [
        [ax, ay],
        [bx, by],
      ],
      'outline',
    ),
    arrowHead(ax, ay, -dx, -dy),
    arrowHead(bx, by, dx, dy),
    upright
      ? { kind: 'text', x: x + 3.6, y: y + 10, text: 'grain', size: LEAST_SIZE, turn: 90, align: 'middle' }
      : { kind: 'text', x: x + 10, y: y + 3.8, text: 'grain', size: LEAST_SIZE, align: 'middle' },
  ];
}

// --- tiles ----------------------------------------------------------------------------------------------------------

interface OneTile {
  readonly tiling: Tiling;
  readonly tile: Tile;
  readonly index: number;
  readonly turned: boolean;
}

const letter = (k: number): string => String.fromCharCode(65 + (k % 26)) + (k >= 26 ? String(Math.floor(k / 26)) : '');

/** One tile: what of the drawing it shows, the lines to join it along with their crosses, and which tile it is. */
function tileBlock(item: Item, d: FlatDrawing, { tiling, tile, index, turned }: OneTile): Block {
  const [w, h] = [tile.high[0] - tile.low[0], tile.high[1] - tile.low[1]];
  const head = TILE_HEAD - 1;
  const seams = seamsOf(tiling, tile);
  const crosses = seams.map((s) => ({
    low: [s.at[0] - 4, s.at[1] - 4] as Vec2,
    high: [s.at[0] + 8, s.at[1] + 6] as Vec2,
  }));
  const spot: Spot = {
    low: [tile.low[0] + (tile.column > 0 ? 16 : 0), tile.low[1]],
    high: [tile.high[0] - (tile.column < tiling.columns - 1 ? 16 : 0), tile.high[1]],
  };
  const written =
    index === 0
      ? writing(
          item,
          {
            ...d,
            lines: [...d.lines, ...crosses.map((c) => ({ stroke: 'hairline' as const, points: [c.low, c.high] }))],
          },
          spot,
          turned,
        )
      : () => [];
  return {
    width: w,
    height: h + head,
    draw: (x, y) => {
      const at = onPage(tile, x, y + head);
      const title = `${item.head}, tile ${index + 1} of ${tiling.tiles.length}`;
      const key = keyMap(tiling, index, { x: x + Math.max(textWidth(title, { bold: true }) + 4, 0), y });
      return [
        { kind: 'text', x, y: y + riseOf(), text: title, size: LEAST_SIZE, bold: true },
        ...key,
        ...d.lines.flatMap((l) => clipped(l, tile)).map((l) => line(l.points.map(at), l.stroke)),
        ...seams.flatMap((s): Ink[] => {
          const [px, py] = at(s.at);
          return [
            line(
              [
                [px - 3, py],
                [px + 3, py],
              ],
              'outline',
            ),
            line(
              [
                [px, py - 3],
                [px, py + 3],
              ],
              'outline',
            ),
            { kind: 'text', x: px + 1.2, y: py - 1.2, text: s.name, size: LEAST_SIZE, bold: true },
          ];
        }),
        ...seamLines(tiling, tile).map((l) => line(l.map(at), 'hidden')),
        ...written(at),
      ];
    },
  };
}

/** Two crosses on the middle of every overlap, named alike on both tiles. */
function seamsOf({ columns, rows, tiles }: Tiling, tile: Tile): { readonly at: Vec2; readonly name: string }[] {
  const first = tiles[0];
  if (first === undefined) return [];
  const [w, h] = [first.high[0] - first.low[0], first.high[1] - first.low[1]];
  const overX = columns > 1 ? (first.high[0] - (tiles[1]?.low[0] ?? 0)) / 2 : 0;
  const overY = rows > 1 ? ((tiles[columns]?.high[1] ?? 0) - first.low[1]) / 2 : 0;
  const found: { at: Vec2; name: string }[] = [];
  const pair = (k: number, points: readonly Vec2[]): void =>
    points.forEach((at, i) => found.push({ at, name: `${letter(k)}${i + 1}` }));
  const upright = (column: number, row: number): void => {
    const x = (tiles[column]?.high[0] ?? 0) - overX;
    pair(row * (columns - 1) + column, [
      [x, tile.high[1] - 6],
      [x, tile.low[1] + 6],
    ]);
  };
  const level = (column: number, row: number): void => {
    const y = (tiles[row * columns]?.low[1] ?? 0) + overY;
    pair(rows * (columns - 1) + row * columns + column, [
      [tile.low[0] + 0.2 * w, y],
      [tile.high[0] - 0.2 * w, y],
    ]);
  };
  void h;
  if (tile.column > 0) upright(tile.column - 1, tile.row);
  if (tile.column < columns - 1) upright(tile.column, tile.row);
  if (tile.row > 0) level(tile.column, tile.row - 1);
  if (tile.row < rows - 1) level(tile.column, tile.row);
  return found;
}

/** The lines tiles are joined along: the middle of each overlap. */
function seamLines({ columns, rows, tiles }: Tiling, tile: Tile): Vec2[][] {
  const overX = columns > 1 ? ((tiles[0]?.high[0] ?? 0) - (tiles[1]?.low[0] ?? 0)) / 2 : 0;
  const overY = rows > 1 ? ((tiles[columns]?.high[1] ?? 0) - (tiles[0]?.low[1] ?? 0)) / 2 : 0;
  const { low, high } = tile;
  const upright = (x: number): Vec2[] => [
    [x, low[1]],
    [x, high[1]],
  ];
  const level = (y: number): Vec2[] => [
    [low[0], y],
    [high[0], y],
  ];
  return [
    ...(tile.column > 0 ? [upright(low[0] + overX)] : []),
    ...(tile.column < columns - 1 ? [upright(high[0] - overX)] : []),
    ...(tile.row > 0 ? [level(high[1] - overY)] : []),
    ...(tile.row < rows - 1 ? [level(low[1] + overY)] : []),
  ];
}

/** A small map of the tiles, this one dark. */
function keyMap({ columns, rows }: Tiling, index: number, { x, y }: { readonly x: number; readonly y: number }): Ink[] {
  const size = Math.min(5, 6 / rows);
  return Array.from({ length: columns * rows }, (_, i) =>
    rectangle(
      x + (i % columns) * size,
      y + Math.floor(i / columns) * size,
      size,
      size,
      'hairline',
      i === index ? 'dark' : 'none',
    ),
  );
}

// --- pages ----------------------------------------------------------------------------------------------------------

const LEGEND: readonly (readonly [Parameters<typeof line>[1], string])[] = [
  ['cut', 'cut'],
  ['bend', 'bend tangent line'],
  ['centre', 'centre line'],
  ['hidden', 'behind, or join tiles here'],
  ['hairline', 'thin: drill, or mark only'],
];

function legend(width: number, intro: readonly string[]): Block {
  const said = wrap(intro.join(' '), width);
  // The names wrap to a second line where the page is narrow.
  let [cx, row] = [0, 0];
  const keys = LEGEND.map(([stroke, name]) => {
    const wide = 14 + 1.5 + textWidth(name) + 5;
    if (cx + wide > width) [cx, row] = [0, row + 1];
    const at = { stroke, name, x: cx, row };
    cx += wide;
    return at;
  });
  const top = (row + 1) * 5;
  return {
    width,
    height: top + linesHeight(said.length) + 1,
    draw: (x, y) => [
      ...keys.flatMap((k): Ink[] => [
        line(
          [
            [x + k.x, y + k.row * 5 + 1.8],
            [x + k.x + 14, y + k.row * 5 + 1.8],
          ],
          k.stroke,
        ),
        { kind: 'text', x: x + k.x + 15.5, y: y + k.row * 5 + riseOf(), text: k.name, size: LEAST_SIZE },
      ]),
      ...said.map(
        (text, i): Ink => ({ kind: 'text', x, y: y + top + riseOf() + i * leadOf(), text, size: LEAST_SIZE }),
      ),
    ],
  };
}

function laidOut(
  job: Job,
  form: Form,
  items: readonly Item[],
  { intro, none }: { readonly intro: readonly string[]; readonly none: string },
): Sheet {
  // The first page has the legend and the whole caution: what is too tall for the rest of it goes on the next.
  const room = areaOf(job, form, 1);
  if (items.length === 0) {
    const said: Block = {
      width: room.width,
      height: linesHeight(1),
      draw: (x, y) => [{ kind: 'text', x, y: y + riseOf(), text: none, size: LEAST_SIZE }],
    };
    return framed(
      job,
      form,
      packed([said], (page) => areaOf(job, form, page)),
    );
  }
  return framed(
    job,
    form,
    packed([legend(room.width, intro), ...items.flatMap((i) => blocksOf(i, room))], (page) => areaOf(job, form, page)),
  );
}

/** Blocks side by side in rows, rows one under another, page after page, in their order. */
function packed(blocks: readonly Block[], boxOf: (page: number) => Box): Ink[][] {
  const pages: Ink[][] = [[]];
  let box = boxOf(0);
  let [x, y, tall] = [box.x, box.y, 0];
  for (const b of blocks) {
    if (x > box.x && x + b.width > box.x + box.width + 1e-6) [x, y, tall] = [box.x, y + tall + APART, 0];
    if (y > box.y && y + b.height > box.y + box.height + 1e-6) {
      box = boxOf(pages.length);
      pages.push([]);
      [x, y, tall] = [box.x, box.y, 0];
    }
    pages[pages.length - 1]?.push(...b.draw(x, y));
    x += b.width + APART;
    tall = Math.max(tall, b.height);
  }
  return pages;
}
