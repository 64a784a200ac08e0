import type { Vec2 } from '../../geometry/vector.ts';
import { outboardAt } from '../../model/hand.ts';
import type { Blank, Model } from '../../model/schema.ts';
import { boundsOf, flatSize, outlineArea, polygonOf } from '../../parts/flat/flatShape.ts';
import { formatBoth, formatLength, formatMass, formatPercent, fractionName } from '../../units.ts';
import { type Block, flowed, heading, picture, pour, table, words } from '../paper/flow.ts';
import { areaOf, type Form, type Job } from '../paper/frame.ts';
import { type Box, type Ink, type Sheet } from '../paper/page.ts';
import { arrowHead, line, rectangle, shape } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { LEAST_SIZE, leadOf, linesHeight, riseOf, textWidth, wrap } from '../paper/type.ts';
import { fitsOn, type NestBlank, type Nesting, type NestPiece, nested, type UsedBlank } from './nest.ts';
import { cutPieces, marksOf, type Piece, ribPieces } from './pieces.ts';

/*
 * What to cut from sheet: every shim, doubler, packer and strip, ribs to be made again, and how they lie on the sheet on hand.
 */

const FORM: Form = { id: 'cut-list', title: 'Shim and doubler cut list', lying: true };

/** Between two pieces on a sheet: a saw or a shear and a file, mm. Picked. */
export const GAP = 3;

/** Sizes a blank is taken to have where none is on hand, the first that holds every piece: 12 × 24, 12 × 48, 24 × 48, 24 × 72, 48 × 144 in. Picked. */
const ASSUMED: readonly Pick<NestBlank, 'width' | 'height'>[] = [
  [24, 12],
  [48, 12],
  [48, 24],
  [72, 24],
  [144, 48],
].map(([w = 0, h = 0]) => ({ width: w * 25.4, height: h * 25.4 }));

/** Ribs named in `remake` are cut too. */
export function cutListSheet(job: Job, remake: readonly string[] = []): Sheet {
  const { model } = job;
  const pieces = [...cutPieces(model), ...(remake.length > 0 ? ribPieces(model, remake) : [])];
  if (pieces.length === 0)
    return flowed(job, FORM, [
      words('There is nothing to cut: no doubler, packer, shim or strip, and no rib to make again.'),
    ]);
  const sheets = [...new Set(pieces.map((p) => p.sheet.id))];
  return flowed(job, FORM, [
    table({
      columns: [
        { head: 'Piece', breaks: true },
        { head: 'Kind', breaks: true },
        { head: 'Sheet', breaks: true },
        { head: `Flat, ${model.units}` },
        { head: `Bend lines from the lower edge, ${model.units}`, breaks: true },
        { head: 'Radius' },
        { head: 'Relief' },
        { head: 'Grain' },
        { head: 'Make', align: 'end' },
        { head: 'Goes to', breaks: true },
        { head: 'Arrow', breaks: true },
        { head: 'Each', align: 'end' },
        { head: 'Cut' },
      ],
      rows: pieces.map((p) => rowOf(model, p)),
    }),
    ...massWords(model, pieces, remake).map((t) => words(t)),
    words(
      'Arrow: write the number and arrows for up and outboard on each piece in ink; never scribe or stamp sheet that carries load.',
    ),
    ...sheets.flatMap((id) =>
      sheetBlocks(
        job,
        pieces.filter((p) => p.sheet.id === id),
      ),
    ),
  ]);
}

const plain = (mm: number, { units }: Model): string => formatLength(mm, units, { unitMark: false });

function rowOf(model: Model, piece: Piece): Cell[] {
  const { pattern, parts, sheet } = piece;
  const { width, height } = flatSize(pattern);
  const [bend] = pattern.bends;
  const reliefs = new Map<number, number>();
  for (const d of [
    ...pattern.corners.map((c) => c.diameter),
    ...pattern.holes.filter((h) => h.kind === 'relief').map((h) => h.diameter),
  ])
    reliefs.set(d, (reliefs.get(d) ?? 0) + 1);
  return [
    { text: marksOf(piece), bold: true },
    piece.kind,
    `${sheet.id}\n${plain(pattern.thickness, model)} ${sheet.alloy}`,
    `${plain(width, model)} × ${plain(height, model)}`,
    bendLines(model, piece),
    bend ? `${plain(bend.radius, model)}${fractionName(bend.radius) ? `\n${fractionName(bend.radius)}` : ''}` : 'flat',
    [...reliefs].map(([d, n]) => `${n} × ${fractionName(d) ?? formatLength(d, model.units)}`).join('\n') || 'none',
    pattern.grain === null ? 'either' : 'across bends',
    String(parts.length),
    parts.length > 3
      ? `${parts
          .slice(0, 3)
          .map((p) => p.where)
          .join('; ')} and ${parts.length - 3} more`
      : parts.map((p) => p.where).join('; '),
    piece.right === 'along the spar' ? 'outboard' : `up; ${piece.right} right`,
    formatMass(piece.mass),
    { tick: true },
  ];
}

/** A channel's four bend tangent lines from its lower edge; a rib's are on its template. */
function bendLines(model: Model, { pattern }: Piece): string {
  if (pattern.bends.length === 0) return 'none';
  if (pattern.bends.some((b) => b.inner.length !== 2) || pattern.bends.length !== 2) return 'on the template';
  const low = boundsOf(polygonOf(pattern.outline)).low[1];
  const ys = pattern.bends.flatMap((b) => [b.inner[0]?.[1] ?? 0, b.outer[0]?.[1] ?? 0]).sort((a, b) => a - b);
  return ys.map((y) => plain(y - low, model)).join(', ');
}

/** What all pieces weigh, what of it was added to the drawing, and where along the span. */
export interface CutMass {
  readonly total: number;
  readonly added: number;
  /** Added in the outboard half of the span. */
  readonly addedOutboard: number;
  /** Of what was added, about the root, g·mm, outboard positive. */
  readonly addedMoment: number;
}

/** Masses of the pieces, g. A rib made again takes an old one's place, so it adds nothing. */
export function cutMass(model: Model, pieces: readonly Piece[]): CutMass {
  const out = (y: number): 1 | -1 => outboardAt(model, y);
  const ys = model.stations.map((s) => s.y);
  const root = model.hand === 'both' ? 0 : out(0) === 1 ? Math.min(...ys) : Math.max(...ys);
  const off = (y: number): number => (y - root) * out(y);
  const half = Math.max(...ys.map(off)) / 2;
  const each = pieces.flatMap((p) =>
    p.parts.map((part) => ({ mass: p.mass, added: !part.designed, off: off(part.y) })),
  );
  const sum = (list: typeof each, of: (e: (typeof each)[number]) => number = (e) => e.mass): number =>
    list.reduce((s, e) => s + of(e), 0);
  const added = each.filter((e) => e.added);
  return {
    total: sum(each),
    added: sum(added),
    addedOutboard: sum(added.filter((e) => e.off > half)),
    addedMoment: sum(added, (e) => e.mass * e.off),
  };
}

function massWords(model: Model, pieces: readonly Piece[], remake: readonly string[]): string[] {
  const { total, added, addedOutboard, addedMoment } = cutMass(model, pieces);
  const extra =
    added === 0
      ? 'Nothing was added to the drawing.'
      : `Added to the drawing ${formatMass(added)}, of it ${formatMass(addedOutboard)} in the outboard half of the span; ${(addedMoment / 1e6).toFixed(3)} kg·m about the root.`;
  return [
    `All pieces together ${formatMass(total)}, rivet holes not taken out. ${extra}${remake.length > 0 ? ` Made again in place of old ones, so adding nothing: ${remake.join(', ')}.` : ''}`,
  ];
}

// --- on the sheet ---------------------------------------------------------------------------------------------------

interface Outlined extends NestPiece {
  readonly source: Piece;
}

/** Every single piece as a rectangle with its grain. */
function rectangles(pieces: readonly Piece[]): Outlined[] {
  return pieces.flatMap((source) => {
    const { width, height } = flatSize(source.pattern);
    const [along, across] = source.pattern.grain === 'y' ? [height, width] : [width, height];
    return source.parts.map(
      (part): Outlined => ({ id: part.id, along, across, turns: source.pattern.grain === null, source }),
    );
  });
}

/** The blanks of one sheet: those on hand, or one size assumed, as many as it takes. */
export function blanksFor(
  model: Pick<Model, 'stock'>,
  sheet: string,
  pieces: readonly NestPiece[],
): { readonly blanks: readonly NestBlank[]; readonly assumed: boolean } {
  const own = (model.stock.blanks ?? []).filter((b: Blank) => b.sheet === sheet);
  if (own.length > 0) return { blanks: own, assumed: false };
  const size = ASSUMED.find((b) => pieces.every((p) => fitsOn(p, b))) ?? ASSUMED[ASSUMED.length - 1];
  return { blanks: size ? [{ ...size, count: pieces.length }] : [], assumed: true };
}

/** How the pieces of one sheet lie on what there is of it. */
export function nestOn(model: Model, sheet: string, pieces: readonly Piece[]): Nesting & { readonly assumed: boolean } {
  const all = rectangles(pieces);
  const { blanks, assumed } = blanksFor(model, sheet, all);
  return { ...nested(all, blanks, GAP), assumed };
}

/** What is said of one sheet and its first blank on one page together, then the other blanks. */
function sheetBlocks(job: Job, pieces: readonly Piece[]): Block[] {
  const { model } = job;
  const sheet = pieces[0]?.sheet;
  if (sheet === undefined) return [];
  const { used, left, least, assumed } = nestOn(model, sheet.id, pieces);
  const placed = used.flatMap((u) => u.placed);
  const metal = placed.reduce((s, p) => s + outlineArea((p.piece as Outlined).source.pattern.outline), 0);
  const begun = used.reduce((s, u) => s + u.blank.width * u.blank.height, 0);
  const sizes = [
    ...new Set(
      used.map(
        (u) =>
          `${formatLength(u.blank.width, model.units, { unitMark: false })} × ${formatLength(u.blank.height, model.units)}`,
      ),
    ),
  ];
  const lines = [
    used.length === 0
      ? 'Nothing fits on what is on hand.'
      : `${placed.length} ${placed.length === 1 ? 'piece' : 'pieces'} on ${used.length} ${used.length === 1 ? 'blank' : 'blanks'} of ${sizes.join(' and ')}${assumed ? ', a size assumed: the file lists no blank of this sheet on hand' : ''}. ` +
        `${formatPercent(metal / begun)} of the sheet begun becomes pieces, ${formatPercent(1 - metal / begun)} is offcut. ` +
        `${used.length === least ? 'No packing does with fewer blanks.' : `By area alone ${least} would be the fewest.`} Laid as rectangles, ${formatLength(GAP, model.units)} apart; by hand you may do better.`,
    ...(left.length > 0 ? [`No room on what is on hand for ${left.map((p) => p.id).join(', ')}.`] : []),
  ];
  const head = `Sheet ${sheet.id}, ${formatBoth(sheet.thickness)} ${sheet.alloy}`;
  const { width } = areaOf(job, FORM, 0);
  const [first, ...rest] = used.map((u) => blankPicture(u, width));
  if (first === undefined) return [heading(head), ...lines.map((t) => words(t))];
  const said = [heading(head), ...lines.map((t) => words(t)), first];
  const tall =
    linesHeight(1, 12) + 4 + lines.reduce((sum, t) => sum + wrap(t, width).length * leadOf() + 2, 0) + first.height;
  return [{ kind: 'gap', height: 2 }, picture(tall, (box) => pour(said, () => box).flat()), ...rest];
}

const TALLEST = 46;

/** One blank to scale, its pieces in their outlines; grain runs along it. */
function blankPicture(used: UsedBlank, width: number): Extract<Block, { kind: 'picture' }> {
  const { blank } = used;
  const scale = Math.min(width / blank.width, TALLEST / blank.height);
  return { kind: 'picture', height: blank.height * scale + 6, draw: (box) => blankInk(used, box, scale) };
}

function blankInk({ blank, placed }: UsedBlank, box: Box, scale: number): Ink[] {
  const [w, h] = [blank.width * scale, blank.height * scale];
  return [
    rectangle(box.x, box.y, w, h, 'outline'),
    ...placed.flatMap((p): Ink[] => {
      const corner: Vec2 = [box.x + p.x * scale, box.y + p.y * scale];
      const [pw, ph] = [p.width * scale, p.height * scale];
      const outline = outlineAt(p.piece as Outlined, p.turned).map(
        ([x, y]): Vec2 => [corner[0] + x * scale, corner[1] + y * scale],
      );
      const label = p.piece.id;
      const wide = textWidth(label);
      const flat = wide + 1 <= pw && ph >= 4;
      const upright = wide + 1 <= ph && pw >= 4;
      const rise = riseOf() / 2;
      return [
        shape(outline, 'hairline', 'light'),
        ...(flat
          ? [
              {
                kind: 'text',
                x: corner[0] + pw / 2,
                y: corner[1] + ph / 2 + rise,
                text: label,
                size: LEAST_SIZE,
                align: 'middle',
              } as const,
            ]
          : upright
            ? [
                {
                  kind: 'text',
                  x: corner[0] + pw / 2 + rise,
                  y: corner[1] + ph / 2,
                  text: label,
                  size: LEAST_SIZE,
                  align: 'middle',
                  turn: 90,
                } as const,
              ]
            : []),
      ];
    }),
    line([
      [box.x + 2, box.y + h + 3.6],
      [box.x + 20, box.y + h + 3.6],
    ]),
    arrowHead(box.x + 21, box.y + h + 3.6, 1, 0),
    arrowHead(box.x + 1, box.y + h + 3.6, -1, 0),
    {
      kind: 'text',
      x: box.x + 23,
      y: box.y + h + 3.6 + riseOf() / 2,
      text: `grain; drawn 1 : ${(1 / scale).toFixed(1)}`,
      size: LEAST_SIZE,
    },
  ];
}

/** A piece's outline as it lies, its rectangle's top left corner at the origin, y down. */
function outlineAt({ source }: Outlined, turned: boolean): Vec2[] {
  const points = polygonOf(source.pattern.outline, 0.2);
  const { low, high } = boundsOf(points);
  const quarter = (source.pattern.grain === 'y') !== turned;
  return points.map(([x, y]): Vec2 => (quarter ? [y - low[1], x - low[0]] : [x - low[0], high[1] - y]));
}
