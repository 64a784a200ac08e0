import { pieceOf } from '../../checks/at.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';
import type { Vec3 } from '../../geometry/vector.ts';
import type { EndName } from '../../parts/layout/layout.ts';
import { formatLength } from '../../units.ts';
import type { DrawnPlaces } from '../drawnPlaces.ts';
import type { SceneGap } from '../shown.ts';

/** A gap as drawn, before it is known whether the present question shows it. */
export type DrawnGap = Omit<SceneGap, 'shown'>;

/** One face of a gap: four corners in a ring. */
export type Ring = readonly [Vec3, Vec3, Vec3, Vec3];

/** Below this a gap is a touch and is not drawn, mm of the drawing. */
export const SEEN = 0.01;

/** Findings by check and piece, for the one a gap shows. */
export class Answers {
  readonly #byPiece = new Map<string, Finding[]>();

  constructor(findings: readonly Finding[]) {
    for (const f of findings) {
      const key = `${f.check} ${pieceOf(f.at)}`;
      const list = this.#byPiece.get(key);
      if (list) list.push(f);
      else this.#byPiece.set(key, [f]);
    }
  }

  /** The answer about a piece, at one of its ends where an end is named. */
  of(check: CheckId, piece: string, end?: EndName): Finding | undefined {
    const list = this.#byPiece.get(`${check} ${piece}`);
    return end === undefined ? list?.[0] : list?.find((f) => f.at.end === end);
  }
}

/** Where a gap is: its station, the part drawn, and which of that part's gaps it is. */
interface GapPlace {
  readonly station: string;
  readonly part: string;
  readonly at: string;
}

/**
 * A gap between two faces with its finding's number; metal in the same place where the number is negative, unless
 * told otherwise.
 */
export function drawnGap(
  { skeleton: { model } }: DrawnPlaces,
  finding: Finding,
  { station, part, at }: GapPlace,
  [near, far]: readonly [Ring, Ring],
  kind: SceneGap['kind'] = finding.value < 0 ? 'interference' : 'daylight',
): DrawnGap {
  return {
    id: `${finding.id}/${at}`,
    kind,
    corners: [...near, ...far],
    text: formatLength(Math.abs(finding.value), model.units),
    verdict: finding.verdict,
    findingId: finding.id,
    station,
    part,
  };
}
