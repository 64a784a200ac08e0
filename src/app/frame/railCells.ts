import type { CheckId, Finding, Verdict } from '../../checks/finding.ts';
import { severity } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import { worst } from '../widgets/worst.ts';

/** One mark of a station's column: a check and its worst verdict there. */
export interface Cell {
  readonly name: string;
  readonly verdict: Verdict;
  /** It rests on the drawing only. */
  readonly drawing: boolean;
}

/** The worst finding of each check at a station, in the question's order. */
export function cellsAt(findings: readonly Finding[], station: string, checks: readonly CheckId[]): Cell[] {
  const here = findings.filter((f) => f.station === station);
  return checks.flatMap((check) => {
    const f = worst(here.filter((g) => g.check === check));
    return f ? [{ name: checkName(check), verdict: f.verdict, drawing: f.basis === 'drawing' }] : [];
  });
}

/** As many cells as there is room for; where not all fit, the worst first, and a place left to say how many more there are. */
export function fitting(cells: readonly Cell[], room: number): readonly Cell[] {
  if (cells.length <= room) return cells;
  return [...cells].sort((a, b) => severity(b.verdict) - severity(a.verdict)).slice(0, room - 1);
}
