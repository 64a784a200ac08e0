import type { BasisWord } from '../checks/basis.ts';
import type { Verdict } from '../checks/finding.ts';
import type { Question } from '../checks/questions.ts';
import type { HoleState } from '../drilling/hole.ts';
import type { Frame } from '../geometry/frame.ts';
import type { Vec3 } from '../geometry/vector.ts';

/* What a scene is made of: plain data, wing frame, mm. */

/**
 * A named face of a part that carries a verdict; `within` says which stretch of it, where the face runs on past the
 * place.
 */
export interface SceneFace {
  readonly part: string;
  readonly face: string;
  readonly verdict: Verdict;
  readonly findingId: string;
  readonly station: string | null;
  readonly within?: SceneBox;
}

/** Room between two faces that should meet (daylight), or metal that both want (interference). */
export interface SceneGap {
  readonly id: string;
  readonly kind: 'daylight' | 'interference';
  /** Eight corners: four of one face in a ring, then the four of the other face opposite them. */
  readonly corners: readonly [Vec3, Vec3, Vec3, Vec3, Vec3, Vec3, Vec3, Vec3];
  /** The true size, never negative, as "0.32 mm". */
  readonly text: string;
  readonly verdict: Verdict;
  readonly findingId: string;
  readonly station: string;
  readonly part: string;
  /**
   * Which state of the spars is drawn, where it is not the one the number is for: "drawn as the spar lies, 1.35 mm".
   */
  readonly state?: string;
  /** Drawn paler: one of many alike, which must not drown what asks more. */
  readonly faint?: boolean;
  /** Whether the present question asks for it: what fits is left out, but for the chosen station and finding. */
  readonly shown: boolean;
}

export interface SceneLine {
  readonly id: string;
  /**
   * nose-line: where the noses should be. noses: where they are. chord: front to rear edge at a station. level: the
   * same untwisted.
   */
  readonly kind: 'nose-line' | 'noses' | 'chord' | 'level';
  readonly points: readonly Vec3[];
  readonly verdict?: Verdict;
  readonly station?: string;
}

export interface SceneHole {
  readonly id: string;
  readonly at: Vec3;
  /** Along the hole, length one, aft. */
  readonly axis: Vec3;
  readonly radius: number;
  /** As it is called: `F6 h2`. */
  readonly name: string;
  readonly state: HoleState;
  /** It waits because it may not clean up. */
  readonly doubt: boolean;
  /** The word and why, for whoever points at it. */
  readonly why: string;
  readonly verdict: Verdict | null;
  readonly findingId: string | null;
  readonly station: string;
  readonly joint: string;
}

export interface SceneLabel {
  readonly id: string;
  readonly text: string;
  readonly anchor: Vec3;
  /** null for a plain part mark. */
  readonly verdict: Verdict | null;
  /** What the verdict rests on; of a plain part mark nothing. */
  readonly basis?: BasisWord;
  readonly findingId: string | null;
  readonly station: string | null;
  readonly part: string | null;
  /** Beside a part's mark: which way its flange points, length one. */
  readonly points?: Vec3;
}

export interface SceneBox {
  readonly low: Vec3;
  readonly high: Vec3;
}

export interface Scene {
  readonly gaps: readonly SceneGap[];
  readonly faces: readonly SceneFace[];
  readonly lines: readonly SceneLine[];
  readonly holes: readonly SceneHole[];
  readonly labels: readonly SceneLabel[];
  /** The bench top's height and reach, and the blocks the spars rest on. */
  readonly bench: {
    readonly z: number;
    readonly low: readonly [x: number, y: number];
    readonly high: readonly [x: number, y: number];
    readonly blocks: readonly SceneBox[];
  };
  readonly bounds: SceneBox;
}

export interface SceneOptions {
  /** 1 draws deviations true; 20 draws them twenty times as large. */
  readonly magnify: number;
  readonly question: Question;
  readonly station: string | null;
  readonly finding?: string;
  /** The parts stand apart: only their marks are written, and no gaps are shown. */
  readonly apart?: boolean;
  /** Holes as at this stage, looking ahead; the present one where it is not given. */
  readonly stage?: string | null;
  /** Frames of the solids as drawn, by part id; worked out from the recipes where they are not given. */
  readonly frames?: ReadonlyMap<string, Frame>;
}
