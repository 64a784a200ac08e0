import type { Model } from '../../schema.ts';
import { type Faults, someOf } from './fault.ts';

/** Where a file names a sheet, and which. */
type Named = readonly [path: string, sheet: string];

function* namedOnSpars({ spars }: Model): Generator<Named> {
  for (const name of ['front', 'rear'] as const) {
    const spar = spars[name];
    if (!spar) continue;
    yield [`spars.${name}.sheet`, spar.sheet];
    for (const [i, s] of spar.strips.entries()) yield [`spars.${name}.strips[${i}].sheet`, s.sheet];
    for (const [i, d] of spar.webDoublers.entries()) yield [`spars.${name}.webDoublers[${i}].sheet`, d.sheet];
  }
}

function* namedInStock({ stock }: Model): Generator<Named> {
  for (const [i, s] of stock.sheets.entries()) yield [`stock.sheets[${i}]`, s];
  for (const [i, blank] of (stock.blanks ?? []).entries()) yield [`stock.blanks[${i}].sheet`, blank.sheet];
}

function* namedSheets(model: Model): Generator<Named> {
  yield* namedOnSpars(model);
  for (const group of ['ribs', 'doublers', 'brackets'] as const)
    for (const [i, part] of model[group].entries()) yield [`${group}[${i}].sheet`, part.sheet];
  if (model.skin) yield ['skin.sheet', model.skin.sheet];
  yield* namedInStock(model);
}

/** Every sheet that is named is in the list of sheets. */
export function* sheetFaults(model: Model): Faults {
  const known = new Set(model.sheets.map((s) => s.id));
  for (const [path, sheet] of namedSheets(model))
    if (!known.has(sheet))
      yield {
        path,
        sentence: `the sheet "${sheet}" is not in the list of sheets; expected one of ${someOf([...known])}; correct it or add the sheet`,
      };
}
