import type { Model } from '../schema.ts';
import { bendFaults } from './faults/bends.ts';
import { bodyFaults } from './faults/bodies.ts';
import { decisionFaults } from './faults/decisions.ts';
import { exchangedFaults } from './faults/exchanged.ts';
import type { Fault, Faults } from './faults/fault.ts';
import { jointFaults } from './faults/joints.ts';
import { kindFaults, limitFaults } from './faults/limits.ts';
import { nameFaults } from './faults/names.ts';
import { bracketFaults, doublerFaults } from './faults/pieces.ts';
import { alongFaults, stationFaults, surveyFaults } from './faults/places.ts';
import { readingFaults } from './faults/readings.ts';
import { ribFaults } from './faults/ribs.ts';
import { sheetFaults } from './faults/sheets.ts';
import { sparFaults } from './faults/spars.ts';
import { stageFaults } from './faults/stages.ts';

/** Bends are asked about only where every part has some length. */
function* metalFaults(model: Model): Faults {
  const bodies = [...bodyFaults(model)];
  yield* bodies;
  if (bodies.length === 0) yield* bendFaults(model);
}

/** Faults of the parts a panel is made of, in the order a person would look them up. */
function* partFaults(model: Model): Faults {
  yield* nameFaults(model);
  yield* stationFaults(model);
  yield* sparFaults(model);
  yield* sheetFaults(model);
  yield* ribFaults(model);
  yield* alongFaults('webToWeb', model.webToWeb);
  yield* alongFaults('survey.rearHigher', model.survey.rearHigher);
  yield* metalFaults(model);
  yield* doublerFaults(model);
  yield* bracketFaults(model);
}

/** Units are asked about where each part is right by itself; while they are in question no hole is held to its part. */
function panelFaults(model: Model): Fault[] {
  const parts = [...partFaults(model)];
  const units = parts.length > 0 ? [] : [...exchangedFaults(model)];
  const joints = units.length > 0 ? [] : [...jointFaults(model)];
  return [...parts, ...units, ...joints, ...stageFaults(model)];
}

/**
 * Every fault of a file that has the right form but says something that cannot be: all at once, each with its path.
 * Readings are asked about only where the panel itself is right, for they are held against its sizes.
 */
export function meaningFaults(model: Model): Fault[] {
  const panel = panelFaults(model);
  return [
    ...panel,
    ...(panel.length === 0 ? readingFaults(model) : []),
    ...kindFaults(model),
    ...limitFaults(model),
    ...surveyFaults(model),
    ...decisionFaults(model),
  ];
}
