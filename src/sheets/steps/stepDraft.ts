import { pieceOf } from '../../checks/at.ts';
import { basisOfFinding, basisText } from '../../checks/basis.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkName } from '../../checks/questions.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import { checkRow } from '../../model/checkTable.ts';
import type { Joint, Model, Rib } from '../../model/schema.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import type { Standing, Step } from './step.ts';

/*
 * A step before it has its place in the order, what it is made from, and what holds it back.
 */

export const FORWARD: Vec3 = [-1, 0, 0];
export const AFT: Vec3 = [1, 0, 0];
export const DOWN: Vec3 = [0, 0, -1];
export const UP: Vec3 = [0, 0, 1];

/** A step before it has its number, its stage and the parts that are there. */
export type Draft = Pick<Step, 'id' | 'kind' | 'title' | 'station' | 'chosen' | 'standing'> &
  Partial<
    Pick<
      Step,
      | 'joint'
      | 'added'
      | 'goes'
      | 'opens'
      | 'lines'
      | 'layers'
      | 'clamps'
      | 'holes'
      | 'feels'
      | 'check'
      | 'held'
      | 'done'
    >
  > & {
    /** The joint whose layers are named, those that are in by then. */
    readonly stack?: Joint | undefined;
  };

/** What every part of the work asks of the panel. */
export interface Work {
  readonly model: Model;
  readonly skeleton: Skeleton;
  readonly bad: readonly Finding[];
  /** Middle of the span: work goes outward from it. */
  readonly middle: number;
}

/** Said without numbers: "between the caps: M2 front binds (measured)". */
const blockText = (f: Finding): string => `${checkName(f.check)}: ${f.place}${f.sense ? ` ${f.sense}` : ''}`;

export function heldPart(work: Work, id: string): string | undefined {
  const f = work.bad.find((b) => checkRow(b.check).blocks && !b.echoOf && pieceOf(b.at) === id);
  return f && `${blockText(f)} (${basisText(basisOfFinding(work.skeleton, f))})`;
}

export const heldBy = (text: string | undefined): { held?: string } => (text === undefined ? {} : { held: text });

/** Past which end of the panel a tip rib is put on. */
const tipEnd = (work: Work, bay: Bay): Standing => (bay.station.y < work.middle ? 'left end' : 'right end');

/** Where one stands to put a rib in and hold it: ahead of a nose rib, past the end of a tip rib, else behind. */
export function standingAt(work: Work, bay: Bay, rib: Rib): Standing {
  if (rib.kind === 'nose') return 'ahead';
  return rib.kind === 'tip' ? tipEnd(work, bay) : 'behind';
}
