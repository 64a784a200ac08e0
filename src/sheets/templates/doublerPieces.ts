import { type BasisWord, basisOfSize } from '../../checks/basis.ts';
import { bendBand } from '../../checks/fit/bendRadius.ts';
import { leastRadius, nextBlock } from '../../checks/fit/bendRide.ts';
import { outboardAt } from '../../model/hand.ts';
import type { Doubler, Sheet as SheetMetal } from '../../model/schema.ts';
import { doublerFlat, doublerMarks, laidDoublers } from '../../parts/flat/cutDoublers.ts';
import type { HoleMark } from '../../parts/flat/flatPattern.ts';
import type { RibPlace } from '../../parts/layout/layout.ts';
import { type Build, sheetOf } from '../../parts/placed/build.ts';
import type { ChannelDoublerShape, PackerShape, ShimShape } from '../../parts/shapes/doubler.ts';
import { fractionName } from '../../units/drills.ts';
import { formatLength } from '../../units.ts';
import { metalOf, type PieceKind, type Single } from './piece.ts';

/* Doublers, packers and shims at a rib end, as they are cut and bent. */

/**
 * In the order they lie from the web: each channel is bent to clear the bend it lies in, the spar's or the one before
 * it.
 */
export function doublerPieces(b: Build, place: RibPlace): Single[] {
  let inside = place.spec.ends === 'nests' ? b.skeleton.book.get(`${place.spar}.radius`).best : 0;
  return laidDoublers(b, place).flatMap(({ d, shape }): Single[] => {
    const sheet = metalOf(b.model, d.sheet);
    if (!sheet) return [];
    const marks = doublerMarks(b, place, d);
    const base = baseOf(b, place, d, sheet);
    if (shape.form !== 'channel') return [{ ...base, ...flatOf(b, shape, marks) }];
    const bend = blockFor(b, { d, sheet, inside });
    inside = bend.radius;
    return [{ ...base, ...channelOf(b, place, shape, { marks, bend }) }];
  });
}

type Base = Pick<Single, 'kind' | 'sheet' | 'right' | 'part'>;

function baseOf({ model }: Build, { rib, end, bay }: RibPlace, d: Doubler, sheet: SheetMetal): Base {
  const { y } = bay.station;
  const outboardRight = (end === 'front') === (outboardAt(model, y) === 1);
  const on = d.on === 'web' ? '' : `, ${d.on} cap`;
  return {
    kind: kindOf(d),
    sheet,
    right: outboardRight ? 'outboard' : 'inboard',
    part: { id: d.id, where: `${end} of ${rib.id} at ${rib.station}${on}`, over: false, designed: d.designed, y },
  };
}

function kindOf(d: Doubler): PieceKind {
  if (d.form === 'channel') return 'channel doubler';
  if (d.on !== 'web') return 'shim';
  return d.designed ? 'flat doubler' : 'packer';
}

type Cut = Pick<Single, 'pattern' | 'notes' | 'channel' | 'basis'>;

/** A packer or a shim; of a shim, where along the cap it lies. */
function flatOf({ model }: Build, shape: PackerShape | ShimShape, marks: readonly HoleMark[]): Cut {
  const pattern = doublerFlat(shape, marks);
  if (shape.form === 'packer') return { notes: [], pattern, basis: 'drawing' };
  const say = (mm: number): string => formatLength(mm, model.units);
  const start = shape.start ?? 0;
  const lies = `Lies from ${say(start)} to ${say(start + shape.length)} from the web's face.`;
  return { notes: [lies], pattern, basis: 'drawing' };
}

/** The radius a channel is bent at, and what is said where that is not the file's. */
interface BendBlock {
  readonly radius: number;
  readonly notes: readonly string[];
}

/** To which height of its rib end a channel is made, by what is known of it. */
const MADE_TO: { readonly drawing: string } & Partial<Record<BasisWord, string>> = {
  measured: 'Made to the rib end’s measured height.',
  stale: 'Made to the rib end’s height as it was read before something moved it: read it again before this is cut.',
  predicted: 'Made to the rib end’s height as worked out, not read: read it before this is cut.',
  drawing: 'Made to the rib end’s drawing height: it was not measured.',
};

function channelOf(
  { skeleton }: Build,
  { key }: RibPlace,
  shape: ChannelDoublerShape,
  { marks, bend }: { readonly marks: readonly HoleMark[]; readonly bend: BendBlock },
): Cut {
  const height = skeleton.book.find(`${key}.height`);
  const basis = height ? basisOfSize(height) : 'drawing';
  return {
    basis,
    notes: [...bend.notes, MADE_TO[basis] ?? MADE_TO.drawing],
    pattern: doublerFlat(shape, marks, bend.radius),
    channel: { height: shape.height, leg: Math.max(shape.leg, shape.thickness + bend.radius + 1) },
  };
}

/**
 * The radius a channel doubler is bent at: the drawing's, or the next block that clears the bend it lies in and that
 * its metal takes.
 */
function blockFor(
  b: Build,
  { d, sheet, inside }: { readonly d: Doubler; readonly sheet: SheetMetal; readonly inside: number },
): BendBlock {
  const thickness = sheetOf(b, d.sheet);
  const drawn = d.radius ?? 0;
  const least = Math.max(leastRadius(inside, thickness), bendBand(sheet.alloy, thickness)?.least ?? 0);
  if (drawn >= least - 1e-6) return { radius: drawn, notes: [] };
  const radius = nextBlock(least);
  const named = (mm: number): string => {
    const fraction = fractionName(mm);
    return `${formatLength(mm, b.model.units)}${fraction ? ` (${fraction})` : ''}`;
  };
  return {
    radius,
    notes: [`The file says ${named(drawn)} inside; laid out for ${named(radius)}, which clears the bend it lies in.`],
  };
}
