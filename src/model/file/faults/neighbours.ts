import type { Model, Reading } from '../../schema.ts';
import { askedOf } from '../../sizes.ts';
import type { Fault } from './fault.ts';

/**
 * Of readings just taken into a panel, those that lie far off what their neighbours say: each a question, at its
 * place among them.
 */
export function neighbourFaults(model: Model, fresh: readonly Reading[]): Fault[] {
  const asked = askedOf(model);
  return fresh.flatMap((reading, i): Fault[] => {
    const found = asked.get(reading);
    if (!found) return [];
    return [
      {
        path: `readings[${i}].value`,
        sentence: `the ${found.reads} (${found.slip}); expected a reading like those beside it; correct the number or its unit, or mark the reading "sure": true if that is what it reads`,
        question: found.question,
      },
    ];
  });
}
