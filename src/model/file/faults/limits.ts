import type { Band } from '../../checkRow.ts';
import { STARTING_LIMITS } from '../../limits.ts';
import { QUANTITIES } from '../../quantities.ts';
import type { LimitEntry, Model } from '../../schema.ts';
import type { Faults } from './fault.ts';

function* kindsNamed(path: string, kinds: Readonly<Record<string, unknown>>): Faults {
  for (const kind of Object.keys(kinds)) {
    const said = kind.slice(0, 40);
    if (!Object.hasOwn(QUANTITIES, kind))
      yield {
        path: `${path}.${said}`,
        sentence: `"${said}" is not a kind of size; expected one of ${Object.keys(QUANTITIES).join(', ')}; correct it`,
      };
  }
}

/** Tolerances and uncertainties are given for kinds of size there are. */
export function* kindFaults(model: Model): Faults {
  yield* kindsNamed('tolerances', model.tolerances);
  for (const [i, instrument] of model.instruments.entries()) yield* kindsNamed(`instruments[${i}].u`, instrument.u);
}

const backwards = ([low, high]: Band): boolean => low !== null && high !== null && low > high;

/** Whether act begins before fits ends, at either side. */
const actInside = ([f1, f2]: Band, [a1, a2]: Band): boolean =>
  (a1 !== null && (f1 === null || a1 > f1)) || (a2 !== null && (f2 === null || a2 < f2));

function* bandFaults(l: LimitEntry, path: string): Faults {
  if (backwards(l.fits) || backwards(l.act))
    yield {
      path,
      sentence: `a band of ${l.check} ends below where it starts; expected the lower bound first; exchange them`,
    };
  else if (actInside(l.fits, l.act))
    yield {
      path,
      sentence: `the act threshold of ${l.check} lies inside its fits threshold; expected it at the same place or beyond; correct one of them`,
    };
}

/** A file's own limits: one a check, of checks there are, act at or beyond fits. */
export function* limitFaults({ limits }: Model): Faults {
  for (const [i, l] of limits.entries()) {
    const path = `limits[${i}]`;
    const twin = limits.findIndex((o) => o.check === l.check);
    if (twin < i)
      yield {
        path: `${path}.check`,
        sentence: `a limit for "${l.check}" is already given at limits[${twin}]; expected one; remove one of them`,
      };
    if (!STARTING_LIMITS.some((s) => s.check === l.check))
      yield {
        path: `${path}.check`,
        sentence: `there is no limit for "${l.check}"; expected one of ${STARTING_LIMITS.map((s) => s.check).join(', ')}; correct it`,
      };
    yield* bandFaults(l, path);
  }
}
