import type { Model, Reading } from '../../model/schema.ts';
import { sizeBook } from '../../model/sizes.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';

/**
 * Readings that several stations rest on and a station's own questions ask for: of sheets, and of the bends of spars.
 */
function sharedReadings(model: Model): Reading[] {
  const { entries } = sizeBook(model);
  return model.readings.filter(({ size }) => {
    const entry = entries.get(size);
    return entry?.of.sheet !== undefined || (entry?.kind === 'radius' && entry.of.spar !== undefined);
  });
}

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
  const shared = sharedReadings(model);
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

/** Shared readings, with each sheet as thick as all readings together make it. */
function settledSheets(model: Model, shared: readonly Reading[]): Reading[] {
  const { book } = skeletonOf(model);
  const sheets = model.sheets.map(({ id }): Reading => {
    const size = `sheet.${id}`;
    const own = shared.filter((r) => r.size === size).at(-1);
    return { size, instrument: own?.instrument ?? 'micrometer', value: book.get(size).best };
  });
  const settled = new Set(sheets.map((r) => r.size));
  return [...sheets, ...shared.filter((r) => !settled.has(r.size))];
}
