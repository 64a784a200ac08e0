import type { Model } from '../model/schema.ts';
import { type Skeleton, skeletonOf } from '../parts/skeleton.ts';
import { bendRide } from './bendRide.ts';
import { capGap } from './capGap.ts';
import { chordGap } from './chordGap.ts';
import { corners } from './corners.ts';
import { edges } from './edges.ts';
import { type Finding, severity, type Verdict } from './finding.ts';
import { grip } from './grip.ts';
import { holes } from './holes.ts';
import { noseLine } from './noseLine.ts';
import { seating } from './seating.ts';
import { skinStep } from './skinStep.ts';
import { square } from './square.ts';
import { straight } from './straight.ts';
import { twist } from './twist.ts';

/** Every question, in the order of the job. A new check is one file and one line here. */
const CHECKS: readonly ((skeleton: Skeleton) => Iterable<Finding>)[] = [
  capGap, bendRide, chordGap, seating, noseLine, skinStep, square, straight, twist, corners, grip, edges, holes,
];

const answered = new WeakMap<Model, readonly Finding[]>();

/** All findings of a panel, in the order of the job; made once for each model and remembered with it. */
export function checkAll(model: Model): readonly Finding[] {
  let all = answered.get(model);
  if (!all) {
    const skeleton = skeletonOf(model);
    all = CHECKS.flatMap((check) => [...check(skeleton)]);
    answered.set(model, all);
  }
  return all;
}

/** Worst first: act, unsettled, watch, fits; within one verdict by chance of lying beyond the act threshold; echoes after their source. */
export function worstFirst(findings: readonly Finding[]): Finding[] {
  return [...findings].sort((a, b) => severity(b.verdict) - severity(a.verdict) || Number(!!a.echoOf) - Number(!!b.echoOf) || b.chance - a.chance || a.id.localeCompare(b.id));
}

/** How many findings have each verdict. */
export function countVerdicts(findings: readonly Finding[]): Record<Verdict, number> {
  const counts: Record<Verdict, number> = { fits: 0, watch: 0, act: 0, unsettled: 0 };
  for (const f of findings) counts[f.verdict]++;
  return counts;
}
