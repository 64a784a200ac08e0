import { alongAt } from '../model/along.ts';
import type { Doubler, Model } from '../model/schema.ts';
import { densityOf, gramsPerMm3 } from '../solidChecks/mass.ts';

/*
 * What does a piece weigh, about? Flat size times sheet, its holes not taken off: good enough to tell plans apart.
 * The solids weigh it exactly. Channel: developed width (h - 2(R + T)) + 2(f - (R + T)) + 2 BA, BA = 90 (0.01743 R +
 * 0.0078 T).
 */

/** Grams of a doubler, packer or shim; 0 where its part or sheet is not in the panel. */
function pieceGrams(model: Model, piece: Doubler): number {
  const rib = model.ribs.find((r) => r.id === piece.part);
  const sheet = model.sheets.find((s) => s.id === piece.sheet);
  if (!rib || !sheet) return 0;
  const t = sheet.thickness;
  const spar = model.spars[piece.end === 'rear' ? 'rear' : 'front'] ?? model.spars.front;
  const y = model.stations.find((s) => s.id === rib.station)?.y ?? 0;
  const clear = alongAt(spar.depth, y) - 2 * (model.sheets.find((s) => s.id === spar.sheet)?.thickness ?? 0);
  let across: number;
  if (piece.form === 'channel') {
    const r = piece.radius ?? 0;
    across = clear - 2 * (r + t) + 2 * ((piece.leg ?? rib.flange) - (r + t)) + 2 * 90 * (0.01743 * r + 0.0078 * t);
  } else across = piece.on === 'web' ? (piece.height ?? clear) : rib.flange;
  return Math.max(0, across) * piece.width * t * gramsPerMm3(densityOf(sheet.alloy));
}

/** Grams that pieces add from one model to the next; what was left out comes off. */
export function gramsAdded(before: Model, after: Model): number {
  const was = new Map(before.doublers.map((d) => [d.id, d]));
  let sum = 0;
  for (const d of after.doublers) {
    const old = was.get(d.id);
    if (old === d) {
      was.delete(d.id);
      continue;
    }
    sum += pieceGrams(after, d) - (old ? pieceGrams(before, old) : 0);
    was.delete(d.id);
  }
  for (const d of was.values()) sum -= pieceGrams(before, d);
  return sum;
}
