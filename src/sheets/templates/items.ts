import type { Model } from '../../model/schema.ts';
import type { DrillStrip } from '../../parts/flat/drillStrip.ts';
import { flatSize } from '../../parts/flat/flatShape.ts';
import { drillName, fractionName } from '../../units/drills.ts';
import { formatBoth, formatLength, formatMass } from '../../units.ts';
import type { Box, Ink } from '../paper/page.ts';
import { drawPiece, drawStrip, type FlatDrawing } from './drawFlat.ts';
import { foldUp } from './foldUp.ts';
import { allowanceOf, marksOf, type Piece } from './piece.ts';

/*
 * What is drawn full size on a sheet, and what is said about it: pieces, forming blocks, drill strips.
 */

export interface Item {
  readonly drawing: FlatDrawing;
  readonly head: string;
  readonly lines: readonly string[];
  /** Written on it where there is room. */
  readonly name: string;
  readonly side: string;
  /** What is up when it is read, and what is to the right. */
  readonly up?: { readonly up: string; readonly right: string };
  /** Along which of its own axes the grain runs. */
  readonly grain?: 'x' | 'y' | null;
  readonly picture?: (box: Box) => Ink[];
}

const listed = (words: readonly string[]): string =>
  words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
const sentenceCase = (words: string): string => words.charAt(0).toUpperCase() + words.slice(1);

/** `4.76 mm (3/16 in)`; the fraction where there is one. */
function named(mm: number, { units }: Model): string {
  const fraction = fractionName(mm);
  return `${formatLength(mm, units)}${fraction ? ` (${fraction})` : ''}`;
}

const unlike = (diameters: readonly number[], model: Model): string[] => [
  ...new Set(diameters.map((d) => named(d, model))),
];

export function pieceItem(model: Model, piece: Piece): Item {
  const { pattern, kind } = piece;
  return {
    drawing: drawPiece(piece),
    head: `${marksOf(piece)}: ${kind}`,
    lines: [...makeLines(model, piece), ...bendLines(model, piece), ...reliefLines(model, piece), ...piece.notes],
    name: marksOf(piece),
    side: pattern.bends.length > 0 ? 'this side up, bends towards you' : 'this side up',
    up: { up: 'up', right: piece.right },
    grain: pattern.grain,
    picture: (box) => foldUp(piece, box),
  };
}

/** From which sheet, how many, where they go and which way over, how large and heavy. */
function makeLines(model: Model, piece: Piece): string[] {
  const { pattern, parts, sheet } = piece;
  const { width, height } = flatSize(pattern);
  const size = `${formatLength(width, model.units, { unitMark: false })} × ${formatLength(height, model.units)}`;
  return [
    `Sheet ${sheet.id}: ${formatBoth(pattern.thickness)} ${sheet.alloy}. Make ${parts.length}.`,
    placesLine(piece),
    ...overLines(piece),
    `Flat ${size}, ${formatMass(piece.mass)} each.`,
  ];
}

function placesLine({ rib, parts }: Piece): string {
  if (rib) return `Stations ${listed(parts.map((p) => p.where))}.`;
  return `${sentenceCase(listed(parts.map((p) => (parts.length > 1 ? `${p.id} ${p.where}` : p.where))))}.`;
}

function overLines({ parts }: Piece): string[] {
  const over = parts.filter((p) => p.over).map((p) => p.id);
  const asDrawn = parts.filter((p) => !p.over).map((p) => p.id);
  if (over.length === 0) return [];
  const turn = `Turn the template over for ${listed(over)}.`;
  return [asDrawn.length > 0 ? `As drawn: ${listed(asDrawn)}. ${turn}` : turn];
}

function bendLines(model: Model, piece: Piece): string[] {
  const { pattern, channel } = piece;
  const allowance = allowanceOf(piece);
  const [bend] = pattern.bends;
  const say = (mm: number): string => formatLength(mm, model.units);
  return [
    ...(channel ? [`Bent: ${say(channel.height)} over the legs, legs ${say(channel.leg)} outside.`] : []),
    ...(bend && allowance !== undefined
      ? [`All bends 90°, towards you, ${named(bend.radius, model)} inside; bend allowance ${say(allowance)}.`]
      : []),
  ];
}

function reliefLines(model: Model, { pattern }: Piece): string[] {
  const corners = unlike(
    pattern.corners.map((c) => c.diameter),
    model,
  );
  const reliefs = unlike(
    pattern.holes.filter((h) => h.kind === 'relief').map((h) => h.diameter),
    model,
  );
  return [
    ...(corners.length > 0 ? [`Drill the corners ${listed(corners)} first, then cut to them.`] : []),
    ...(reliefs.length > 0 ? [`Relief holes in the bends ${listed(reliefs)}.`] : []),
  ];
}

export function blockItem(model: Model, piece: Piece, drawing: FlatDrawing): Item {
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

export function stripItem(model: Model, strip: DrillStrip): Item {
  const onSpar = strip.serves.every((s) => s.part === 'front' || s.part === 'rear');
  const at = listed(strip.serves.map((s) => (onSpar ? s.station : `${s.part} (${s.joint})`)));
  return {
    drawing: drawStrip(strip),
    head: `Drill strip: ${strip.layer}`,
    name: '',
    side: '',
    lines: [
      `For ${at}. Seen from the drill side, looking ${strip.looking}.`,
      rowLine(model, strip),
      `Pilot ${drillText(strip.pilot)}; final ${drillText(strip.final)} only when the last layer is in.`,
    ],
  };
}

/** A drill by its number first: `#40 (0.0980 in), 2.49 mm`; one without a number by its size. */
function drillText(mm: number): string {
  const name = drillName(mm);
  if (!name) return formatBoth(mm);
  return `${name} (${formatLength(mm, 'in', { digits: 4 })}), ${formatLength(mm, 'mm')}`;
}

/** Where the row stands on the layer. */
function rowLine({ units }: Model, { from, row, edges, tabSide }: DrillStrip): string {
  if (from === 'station') return 'The upright centre line is the station.';
  const off = formatLength(Math.abs(row), units);
  if (edges === null) return `The full line is the rib's web face. The row is ${off} from it, on the tab's side.`;
  const free = tabSide === 1 ? edges[1] : edges[0];
  const toEdge = formatLength(Math.abs(free - row), units);
  return `Row ${off} from the rib's web face; ${toEdge} from the row to the free edge.`;
}
