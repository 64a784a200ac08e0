import type { Model, Reading } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';

/** Readings that several stations rest on and a station's own questions ask for. */
const SHARED = /^(?:sheet\.|front\.radius$|rear\.radius$)/;

/**
 * One station by itself: what stands there and the readings its own questions rest on. Asking it is quick, however long
 * the panel. Where a gap was felt, the sheets it moved are taken as they come out of all readings together.
 */
export function aloneAt(model: Model, station: string): Model {
  const ribs = model.ribs.filter((r) => r.station === station);
  const here = new Set(ribs.map((r) => r.id));
  const doublers = model.doublers.filter((d) => here.has(d.part));
  const joints = model.joints.filter((j) => j.station === station);
  const brackets = model.brackets.filter((b) => b.station === station);
  const raw = sizeBook(model);
  const { book } = skeletonOf(model);
  const shared = model.readings.filter((r) => SHARED.test(r.size));
  const settled = book === raw ? shared : settledSheets(model, shared);
  return {
    ...model,
    stations: model.stations.filter((s) => s.id === station),
    ribs,
    doublers,
    joints,
    brackets,
    stages: [],
    survey: { ...model.survey, supports: [] },
    readings: [...settled, ...raw.readingsAt(station)],
  };
}

function settledSheets(model: Model, shared: readonly Reading[]): Reading[] {
  const { book } = skeletonOf(model);
  const known = model.sheets.map((s): Reading => {
    const own = shared.filter((r) => r.size === `sheet.${s.id}`).at(-1);
    return {
      size: `sheet.${s.id}`,
      instrument: own?.instrument ?? 'micrometer',
      value: book.get(`sheet.${s.id}`).best,
    };
  });
  return [...known, ...shared.filter((r) => !r.size.startsWith('sheet.'))];
}
