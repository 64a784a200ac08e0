import type { BasisWord } from '../../checks/basis.ts';
import type { CheckId, Finding, Verdict } from '../../checks/finding.ts';
import { severity } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { shownBasis } from '../../scene/marks.ts';
import { worst } from '../widgets/worst.ts';

/** One mark of a station's column: a check and its worst verdict there. */
export interface Cell {
  readonly name: string;
  readonly verdict: Verdict;
  /** What it rests on. */
  readonly basis: BasisWord;
}

/** The worst finding of each check at a station, in the question's order. */
export function cellsAt(
  skeleton: Skeleton,
  findings: readonly Finding[],
  station: string,
  checks: readonly CheckId[],
): Cell[] {
  const here = findings.filter((f) => f.station === station);
  return checks.flatMap((check) => {
    const f = worst(here.filter((g) => g.check === check));
    return f ? [{ name: checkName(check), verdict: f.verdict, basis: shownBasis(skeleton, f) }] : [];
  });
}

/**
 * As many cells as there is room for; where not all fit, the worst first, and a place left to say how many more there
 * are.
 */
export function fitting(cells: readonly Cell[], room: number): readonly Cell[] {
  if (cells.length <= room) return cells;
  return [...cells].sort((a, b) => severity(b.verdict) - severity(a.verdict)).slice(0, room - 1);
}
