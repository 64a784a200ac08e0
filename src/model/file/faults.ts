import type { Model } from '../schema.ts';
import { bendFaults } from './faults/bends.ts';
import { bodyFaults } from './faults/bodies.ts';
import { decisionFaults } from './faults/decisions.ts';
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

/** Faults of what the panel is made of, in the order a person would look them up. */
function* panelFaults(model: Model): Faults {
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
  yield* jointFaults(model);
  yield* stageFaults(model);
}

/**
 * Every fault of a file that has the right form but says something that cannot be: all at once, each with its path.
 * Readings are asked about only where the panel itself is right, for they are held against its sizes.
 */
export function meaningFaults(model: Model): Fault[] {
  const panel = [...panelFaults(model)];
  return [
    ...panel,
    ...(panel.length === 0 ? readingFaults(model) : []),
    ...kindFaults(model),
    ...limitFaults(model),
    ...surveyFaults(model),
    ...decisionFaults(model),
  ];
}
