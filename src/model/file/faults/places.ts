import type { Along, Model, Station } from '../../schema.ts';
import { type Faults, inMm, someOf } from './fault.ts';

/** Points along the span stand in order, each at a place of its own. */
export function* alongFaults(path: string, along: Along): Faults {
  if (typeof along === 'number') return;
  let before: number | undefined;
  for (const [i, [y]] of along.entries()) {
    if (before !== undefined && y <= before)
      yield {
        path: `${path}[${i}]`,
        sentence: `the place ${inMm(y)} does not come after ${inMm(before)}; expected places in order along the span; put them in order`,
      };
    before = y;
  }
}

/** Nearer than this two stations are one, mm: picked; less than a pencil line and a rule's mark. */
const APART = 1;

/** What is wrong with where a station stands after the one before it. */
function placeFault(a: Station, b: Station): string | undefined {
  if (b.y === a.y)
    return `station ${b.id} stands at ${inMm(b.y)}, the same place as ${a.id}; expected a place of its own; move one or remove it`;
  if (b.y < a.y)
    return `station ${b.id} at ${inMm(b.y)} comes before ${a.id} at ${inMm(a.y)}: the stations are crossed; expected them in order along the span; put them in order or correct the place`;
  if (b.y - a.y < APART)
    return `station ${b.id} at ${inMm(b.y)} stands within ${inMm(APART)} of ${a.id}; expected a place of its own; move one or remove it`;
  return undefined;
}

/** Stations stand in order along the span, each at a place of its own. */
export function* stationFaults({ stations }: Model): Faults {
  for (const [i, b] of stations.entries()) {
    const a = stations[i - 1];
    const sentence = a && placeFault(a, b);
    if (sentence) yield { path: `stations[${i}].y`, sentence };
  }
}

/** Jig blocks and the twist's reference name stations there are. */
export function* surveyFaults({ stations, survey }: Model): Faults {
  const known = new Set(stations.map((s) => s.id));
  for (const [i, s] of survey.supports.entries())
    if (!known.has(s))
      yield {
        path: `survey.supports[${i}]`,
        sentence: `a jig block is named at "${s}", which is not a station; expected one of ${someOf([...known])}; correct it`,
      };
  if (survey.reference !== undefined && !known.has(survey.reference))
    yield {
      path: 'survey.reference',
      sentence: `the twist reference "${survey.reference}" is not a station; expected one of ${someOf([...known])}; correct it`,
    };
}
