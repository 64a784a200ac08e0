import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { QUANTITIES } from '../model/quantities.ts';
import { keptWhole } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import { once } from '../once.ts';

const exactly = Object.fromEntries(Object.keys(QUANTITIES).map((kind) => [kind, 0]));

/** Rows as they are drawn: places and sizes to drill, nothing drilled yet. */
const undrilled = once((joints: Model['joints']) =>
  joints.map(({ stood: _, ...j }) => ({ ...j, holes: j.holes.map((h) => ({ ...h, layers: [] })) })),
);

const toTheFigure = once((sheets: Model['sheets']) => sheets.map((s) => ({ ...s, tolerance: 0 })));

/** The panel as its drawing has it to the last figure: nothing read, nothing drilled, nothing uncertain. */
const paperOf = (model: Model): Model => ({
  ...model,
  readings: [],
  joints: undrilled(model.joints),
  tolerances: exactly,
  sheets: toTheFigure(model.sheets),
});

/**
 * What the drawing says of itself: every check asked of the drawing's own sizes, taken as exact. A finding here that
 * does not fit is a fault of the drawing, or of its typing in, whatever the parts measure and whatever was drilled. A
 * strip drawn 65 mm too long under a rib made for none binds here by twice its thickness.
 */
export const onPaper: (model: Model) => readonly Finding[] = keptWhole((model) => checkAll(paperOf(model)));
