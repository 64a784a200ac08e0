import { useMemo } from 'react';
import type { Cut } from '../../scene/cut.ts';
import { flangePlane } from '../../scene/cutPlace.ts';
import { type CutSize, cutSizes } from '../../scene/cutSizes.ts';
import { useCut } from '../workers/useCut.ts';
import type { ViewName } from './camera.ts';
import { type Section, sectionOf } from './section.ts';
import { type Knife, useKnife } from './useKnife.ts';
import type { Shown } from './useShown.ts';

/** How the skeleton is asked to be opened. */
export interface AskedToOpen {
  readonly view: ViewName;
  readonly station: string | null;
  /** Where along the span the skeleton is cut open; null for whole. */
  readonly cut: number | null;
  readonly apart: number;
  readonly skin: boolean;
}

/** The skeleton cut open. */
export interface Opened {
  /** Where the plane of the cut stands along the span, mm; null where nothing is cut. */
  readonly plane: number | null;
  /** The faces of the cut, as soon as they are there. */
  readonly faces: Cut | null;
  readonly knife: Knife;
  readonly sizes: readonly CutSize[];
  readonly section: Section;
}

const NO_SIZES: readonly CutSize[] = [];
/** Faces of a cut this near the plane are still shown on it, mm: they follow when the worker has cut again. */
const FOLLOWS = 2.5;

/**
 * Where it is cut: as asked; looking along the span, through the chosen station. Parts that stand apart are not cut.
 */
function planeOf({ skeleton }: Shown, { view, station, cut, apart }: AskedToOpen): number | null {
  if (apart > 0) return null;
  const bay = view === 'along' ? skeleton.bays.find((b) => b.station.id === station) : undefined;
  return cut ?? (bay ? flangePlane(skeleton, bay) : null);
}

/** The faces of the cut at a plane, cut by the worker from what is on the screen. */
function useFaces({ model, magnify, parts }: Shown, plane: number | null, skin: boolean): Cut | null {
  const answer = useCut(plane === null || parts.length === 0 ? null : { model, magnify, y: plane, skin });
  if (plane === null || answer?.model !== model || answer.cut.magnify !== magnify) return null;
  return Math.abs(answer.cut.y - plane) < FOLLOWS ? answer.cut : null;
}

/** The skeleton opened as asked, with the sizes written on the cut. */
export function useOpened(shown: Shown, asked: AskedToOpen): Opened {
  const { skeleton, drawnPlaces, findings, parts, scene, points } = shown;
  const { view, station, cut, skin } = asked;
  const plane = planeOf(shown, asked);
  const faces = useFaces(shown, plane, skin);
  const knife = useKnife(plane);
  const drawn = parts.length > 0;
  const sizes = useMemo(
    () => (plane === null || !drawn ? NO_SIZES : cutSizes(drawnPlaces, findings, plane)),
    [plane, drawn, drawnPlaces, findings],
  );
  const section = useMemo(
    () => sectionOf(skeleton, { scene, points, station, cut: view === 'along' ? cut : null }),
    [skeleton, scene, points, station, view, cut],
  );
  return { plane, faces, knife, sizes, section };
}
