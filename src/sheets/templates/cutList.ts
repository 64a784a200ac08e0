import { basisText } from '../../checks/basis.ts';
import type { Model } from '../../model/schema.ts';
import { flatBounds, flatSize, polygonOf } from '../../parts/flat/flatShape.ts';
import { fractionName } from '../../units/drills.ts';
import { formatLength, formatMass } from '../../units.ts';
import { flowed, table, words } from '../paper/flow.ts';
import { areaOf, type Form, type Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Cell } from '../paper/table.ts';
import { cutMass } from './cutMass.ts';
import { nestBlocks } from './nestDrawn.ts';
import { marksOf, type Piece } from './piece.ts';
import { cutPieces, ribPieces } from './pieces.ts';

/*
 * What to cut from sheet: every shim, doubler, packer and strip, ribs to be made again, and how they lie on the sheet
 * on hand.
 */

const FORM: Form = { id: 'cut-list', title: 'Shim and doubler cut list', lying: true, marks: true };

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
    words(massWords(model, pieces, remake)),
    words(
      'Arrow: write the number and arrows for up and outboard on each piece in ink; never scribe or stamp sheet that carries load.',
    ),
    ...sheets.flatMap((id) => {
      const own = pieces.filter((p) => p.sheet.id === id);
      return nestBlocks(model, own, areaOf(job, FORM, 0).width);
    }),
  ]);
}

const plain = (mm: number, { units }: Model): string => formatLength(mm, units, { unitMark: false });

function rowOf(model: Model, piece: Piece): Cell[] {
  const { pattern, parts, sheet } = piece;
  const isDecided = parts.some((p) => p.decided);
  const { width, height } = flatSize(pattern);
  return [
    { text: marksOf(piece), bold: true, ...(isDecided ? { basis: 'decided' } : {}) },
    isDecided ? `${piece.kind}, ${basisText('decided')}` : piece.kind,
    `${sheet.id}\n${plain(pattern.thickness, model)} ${sheet.alloy}`,
    { text: `${plain(width, model)} × ${plain(height, model)}`, basis: piece.basis },
    bendLines(model, piece),
    radiusText(model, piece),
    reliefText(model, piece),
    pattern.grain === null ? 'either' : 'across bends',
    String(parts.length),
    placesText(piece),
    piece.right === 'along the spar' ? 'outboard' : `up; ${piece.right} right`,
    formatMass(piece.mass),
    { tick: true },
  ];
}

function radiusText(model: Model, { pattern }: Piece): string {
  const [bend] = pattern.bends;
  if (!bend) return 'flat';
  const fraction = fractionName(bend.radius);
  return [plain(bend.radius, model), ...(fraction ? [fraction] : [])].join('\n');
}

/** How many relief holes of each size. */
function reliefText(model: Model, { pattern }: Piece): string {
  const holes = pattern.holes.filter((h) => h.kind === 'relief');
  const diameters = [...pattern.corners, ...holes].map((h) => h.diameter);
  const counted = [...new Set(diameters)].map((d) => {
    const many = diameters.filter((other) => other === d).length;
    return `${many} × ${fractionName(d) ?? formatLength(d, model.units)}`;
  });
  return counted.join('\n') || 'none';
}

/** Where the first few go, and how many more. */
const MOST_PLACES = 3;

function placesText({ parts }: Piece): string {
  const said = parts.slice(0, MOST_PLACES).map((p) => p.where);
  const more = parts.length - said.length;
  return more > 0 ? `${said.join('; ')} and ${more} more` : said.join('; ');
}

/** A channel's four bend tangent lines from its lower edge; a rib's are on its template. */
function bendLines(model: Model, { pattern }: Piece): string {
  if (pattern.bends.length === 0) return 'none';
  if (pattern.bends.some((b) => b.inner.length !== 2) || pattern.bends.length !== 2) return 'on the template';
  const low = flatBounds(polygonOf(pattern.outline)).low[1];
  const ys = pattern.bends.flatMap((b) => [b.inner[0]?.[1] ?? 0, b.outer[0]?.[1] ?? 0]).sort((a, b) => a - b);
  return ys.map((y) => plain(y - low, model)).join(', ');
}

function massWords(model: Model, pieces: readonly Piece[], remake: readonly string[]): string {
  const { total, added, addedOutboard, addedMoment } = cutMass(model, pieces);
  const moment = `${(addedMoment / 1e6).toFixed(3)} kg·m about the root`;
  const extra =
    added === 0
      ? 'Nothing was added to the drawing.'
      : `Added to the drawing ${formatMass(added)}, of it ${formatMass(addedOutboard)} in the outboard half of the span; ${moment}.`;
  const again = remake.length > 0 ? ` Made again in place of old ones, so adding nothing: ${remake.join(', ')}.` : '';
  return `All pieces together ${formatMass(total)}, rivet holes not taken out. ${extra}${again}`;
}
