import { best, type Chain, chain, combine } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import type { Alloy } from '../../model/schema.ts';
import type { Bay, RibPlace, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain, sparOf, thickness, websBetween } from '../../parts/layout/meeting.ts';
import { type At, atEnd } from '../at.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { endName } from './capGap.ts';

/*
 * Asks: will any corner or bend start a crack? Relief holes clear of the cap edge (C16), and bends no tighter than the
 * alloy and thickness take (AC 43.13-1B table 4-6).
 */

/**
 * Daylight at a main rib's end as the ribs stand: against the rear web the free chord gap is all at the front, and the
 * other way round; clamped there is none. Never negative.
 */
function endGap(skeleton: Skeleton, place: RibPlace): Chain {
  const { model } = skeleton;
  const main = place.bay.main;
  const open = (place.end === 'front' && model.stand === 'rear') || (place.end === 'rear' && model.stand === 'front');
  if (!open || place.rib !== main || !model.spars.rear) return [];
  const k = chordGapChain(skeleton, place.bay, main, 'straight');
  return best(k) > 0 ? k : [];
}

/** C16 to the centre: cap-edge side of the relief hole, mm; positive clears. Panel A, M2: 0.813 + 0.635 + 0.05 + 14.4 - 16 = -0.10. */
export function reliefChain(skeleton: Skeleton, place: RibPlace): Chain {
  const { book } = skeleton;
  const links: [number, Size][] = [[1, thickness(skeleton, sparOf(skeleton, place.spar).sheet)]];
  for (const t of websBetween(skeleton, place.doublers)) links.push([1, t]);
  links.push([1, book.get(`${place.key}.relief`)], [-1, book.get(`${place.spar}.cap@${place.bay.station.id}`)]);
  return combine([1, chain(...links)], [1, endGap(skeleton, place)]);
}

function* reliefs(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  for (const place of skeleton.placesAt(bay.station.id)) {
    const relief = place.spec.relief;
    if (!relief || place.spec.ends !== 'nests') continue;
    const restsOn = reliefChain(skeleton, place);
    const centre = best(restsOn);
    const rim = centre - relief.diameter / 2;
    yield judge({
      check: 'relief',
      at: atEnd(place),
      place: endName(place),
      restsOn,
      value: model.reliefCounts === 'rim' ? rim : centre,
      limit: limitFor(model, 'relief'),
      sense: (v) => (v < 0 ? 'sits on the notch' : 'clear'),
      say: (j) => {
        const counted = model.reliefCounts;
        const way =
          j.value < 0
            ? `lies ${show(model, -j.value)} under the cap edge`
            : `clears the cap edge by ${show(model, j.value)}`;
        const [to, by] = counted === 'centre' ? ['rim', rim] : ['centre', centre];
        const other = `Counted to the ${to} it ${by < 0 ? `overlaps by ${show(model, -by)}` : `clears by ${show(model, by)}`}.`;
        return sentence(model, j, `The relief hole of ${endName(place)} end ${way}, counted to its ${counted}`, {
          note: j.verdict === 'fits' ? undefined : other,
          todo: 'The cap corner would sit on the notch and start a crack.',
        });
      },
    });
  }
}

/** AC 43.13-1B table 4-6: recommended inside radius of a 90 degree bend, in sheet thicknesses, least and most, by alloy and by sheet column. */
const COLUMNS_IN = [0.016, 0.032, 0.064, 0.128, 0.182, 0.258];
const RADII: Record<Alloy, readonly (readonly [number, number])[]> = {
  '2024-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '2024-T3': [
    [1.5, 3],
    [2, 4],
    [3, 5],
    [4, 6],
    [4, 6],
    [5, 7],
  ],
  '2024-T6': [
    [2, 4],
    [3, 5],
    [3, 5],
    [4, 6],
    [5, 7],
    [6, 10],
  ],
  '5052-0': [
    [0, 0],
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '5052-H32': [
    [0, 0],
    [0, 0],
    [0.5, 1],
    [0.5, 1.5],
    [0.5, 1.5],
    [0.5, 1.5],
  ],
  '5052-H34': [
    [0, 0],
    [0, 0],
    [0.5, 1.5],
    [1.5, 2.5],
    [1.5, 2.5],
    [2, 3],
  ],
  '5052-H36': [
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [2, 4],
  ],
  '5052-H38': [
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [3, 5],
    [4, 6],
  ],
  '6061-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
    [0, 1],
  ],
  '6061-T4': [
    [0, 1],
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2.5, 4],
  ],
  '6061-T6': [
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
    [2, 4],
    [3, 4],
  ],
  '7075-0': [
    [0, 0],
    [0, 1],
    [0, 1],
    [0.5, 1.5],
    [1, 2],
    [1.5, 3],
  ],
  '7075-T6': [
    [2, 4],
    [3, 5],
    [4, 6],
    [5, 7],
    [5, 7],
    [6, 10],
  ],
};

/** Inside radii for a 90 degree bend, mm: tighter than `least` cracks, `most` and over is easy. */
export interface BendBand {
  readonly least: number;
  readonly most: number;
  /** Table column used, inches. The table gives no interpolation, so the next thicker one is taken and said. */
  readonly column: number;
  readonly exact: boolean;
}

/** AC 43.13-1B table 4-6 for an alloy and sheet, mm; undefined when thicker than the table. 2024-T3 at 0.032 in: 0.064 to 0.128 in. */
export function bendBand(alloy: Alloy, sheet: number): BendBand | undefined {
  const inches = sheet / 25.4;
  const at = COLUMNS_IN.findIndex((c) => c >= inches - 1e-4);
  const column = COLUMNS_IN[at];
  const band = RADII[alloy][at];
  if (column === undefined || !band) return undefined;
  return { least: band[0] * sheet, most: band[1] * sheet, column, exact: Math.abs(column - inches) < 1e-3 };
}

function bendFinding(skeleton: Skeleton, mark: string, at: At, radius: Chain, sheetId: string): Finding | undefined {
  const { model } = skeleton;
  const sheet = model.sheets.find((s) => s.id === sheetId);
  const band = sheet && bendBand(sheet.alloy, thickness(skeleton, sheetId).best);
  if (!sheet || !band) return undefined;
  const column = band.exact ? '' : `; the ${band.column} in column is taken, the next thicker`;
  return judge({
    check: 'bend-radius',
    at,
    place: mark,
    restsOn: radius,
    limit: {
      check: 'bend-radius',
      unit: 'mm',
      fits: [band.least, null],
      act: [band.least, null],
      origin: `AC 43.13-1B table 4-6, ${sheet.alloy}${column}`,
    },
    sense: (v) => (v < band.least ? 'tight' : 'easy'),
    say: (j) =>
      sentence(
        model,
        j,
        `${at.station === undefined ? `The ${mark}` : mark} is bent at ${show(model, j.value)} inside; ${sheet.alloy} of this sheet takes ${show(model, band.least)} to ${show(model, band.most)} and over`,
        {
          todo: 'Bend it easier, and look for cracks with a magnifier.',
        },
      ),
  });
}

/** Bends of the spars. */
export function* sparBends(skeleton: Skeleton): Generator<Finding> {
  const { model, book } = skeleton;
  for (const name of ['front', 'rear'] as const) {
    const spar = model.spars[name];
    const f =
      spar && bendFinding(skeleton, `${name} spar`, { spar: name }, chain([1, book.get(`${name}.radius`)]), spar.sheet);
    if (f) yield f;
  }
}

/** Relief holes of the rib ends at a station, and the bends of the channel doublers there. */
export function* corners(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  yield* reliefs(skeleton, bay);
  for (const place of skeleton.placesAt(bay.station.id)) {
    for (const d of place.doublers) {
      if (d.form !== 'channel' || d.radius === undefined) continue;
      const f = bendFinding(
        skeleton,
        d.id,
        { ...atEnd(place), doubler: d.id },
        chain([1, skeleton.book.get(`${d.id}.radius`)]),
        d.sheet,
      );
      if (f) yield f;
    }
  }
}
