import type { Decision, Model } from '../../schema.ts';
import type { Faults } from './fault.ts';

function* whatFaults(d: Decision, path: string): Faults {
  if (d.kind === 'taken' && d.remedies.length === 0)
    yield {
      path: `${path}.remedies`,
      sentence: `decision ${d.id} says that something was taken and names nothing; expected what was taken, or the kind "accepted" or "left-open"; correct one of them`,
    };
  if (d.kind !== 'taken' && d.findings.length === 0)
    yield {
      path: `${path}.findings`,
      sentence: `decision ${d.id} leaves something as it is and names no finding; expected the finding that was left; name it`,
    };
}

function* lineFaults(d: Decision, path: string): Faults {
  for (const [k, line] of d.lines.entries())
    if (!line.before && !line.after)
      yield {
        path: `${path}.lines[${k}]`,
        sentence: `the line about ${line.finding} has neither a before nor an after; expected at least one; add it or remove the line`,
      };
}

/** A decision has a name of its own, says what it is about, and each of its lines has a before or an after. */
export function* decisionFaults({ decisions = [] }: Model): Faults {
  for (const [i, d] of decisions.entries()) {
    const path = `decisions[${i}]`;
    const twin = decisions.findIndex((o) => o.id === d.id);
    if (twin < i)
      yield {
        path: `${path}.id`,
        sentence: `the decision name "${d.id}" is already used at decisions[${twin}]; expected a name each; rename one of them`,
      };
    yield* whatFaults(d, path);
    yield* lineFaults(d, path);
  }
}
