import { checkAll } from '../checks/checkAll.ts';
import type { Finding } from '../checks/finding.ts';
import { QUANTITIES } from '../model/quantities.ts';
import type { Model } from '../model/schema.ts';

const exactly = Object.fromEntries(Object.keys(QUANTITIES).map((kind) => [kind, 0]));
const papers = new WeakMap<Model, Model>();

/** Rows as they are drawn: places and sizes to drill, nothing drilled yet. */
const undrilled = (joints: Model['joints']): Model['joints'] =>
  joints.map(({ stood: _, ...j }) => ({ ...j, holes: j.holes.map((h) => ({ ...h, layers: [] })) }));

/** The panel as its drawing has it to the last figure: nothing read, nothing drilled, nothing uncertain. */
function paperOf(model: Model): Model {
  let paper = papers.get(model);
  if (!paper) {
    paper = {
      ...model,
      readings: [],
      joints: undrilled(model.joints),
      tolerances: exactly,
      sheets: model.sheets.map((s) => ({ ...s, tolerance: 0 })),
    };
    papers.set(model, paper);
  }
  return paper;
}

/**
 * What the drawing says of itself: every check asked of the drawing's own sizes, taken as exact. A finding here that does
 * not fit is a fault of the drawing, or of its typing in, whatever the parts measure and whatever was drilled. A strip drawn 65 mm too long under a
 * rib made for none binds here by twice its thickness.
 */
export const onPaper = (model: Model): readonly Finding[] => checkAll(paperOf(model));
