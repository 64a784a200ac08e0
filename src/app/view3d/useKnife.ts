import { useLayoutEffect, useState } from 'react';
import { type OrthographicCamera, Plane, Vector3 } from 'three';

/** The plane that what is nearer the viewer is cut away at. */
export interface Knife {
  /** For the materials: the plane, or nothing where nothing is cut. */
  readonly clip: Plane[];
  /** Whether a place along the span is cut away. */
  gone(y: number): boolean;
  /** Turns what is cut away to the viewer's side; seen edge on, it stays as it was. */
  turn(camera: OrthographicCamera): void;
}

const UNCUT: Plane[] = [];
/** What lies this near the plane is not cut away, mm. */
const NEAR = 1;
/** Seen flatter than this, the sine of the angle, the plane is edge on. */
const EDGE_ON = 0.05;

/** A plane square to the span that can be moved along it without being made anew. */
function forge() {
  const plane = new Plane(new Vector3(0, 1, 0), 0);
  let at: number | null = null;
  const set = (): void => {
    if (at !== null) plane.constant = -plane.normal.y * at;
  };
  return {
    clip: [plane],
    put: (y: number | null): void => {
      at = y;
      set();
    },
    gone: (y: number): boolean => at !== null && (y - at) * plane.normal.y < -NEAR,
    turn: ({ matrixWorld }: OrthographicCamera): void => {
      const side = matrixWorld.elements[9] ?? 0;
      if (at === null || Math.abs(side) <= EDGE_ON) return;
      plane.normal.y = side < 0 ? 1 : -1;
      set();
    },
  };
}

/** The knife at a place along the span, mm; null leaves all whole. */
export function useKnife(y: number | null): Knife {
  const [knife] = useState(forge);
  useLayoutEffect(() => knife.put(y), [knife, y]);
  return { clip: y === null ? UNCUT : knife.clip, gone: knife.gone, turn: knife.turn };
}
