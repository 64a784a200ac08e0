import type { CheckId, Finding } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import type { DrawnPlaces } from './drawnPlaces.ts';
import { capGaps } from './gaps/capGaps.ts';
import { chordGaps } from './gaps/chordGaps.ts';
import { Answers, type DrawnGap } from './gaps/gap.ts';
import { noseGaps } from './gaps/noseGaps.ts';
import { rideGaps } from './gaps/rideGaps.ts';
import type { SceneGap, SceneOptions } from './shown.ts';

/**
 * Every gap that has a finding: between caps at both sides, between webs, noses off their line, doublers riding on a
 * bend.
 */
export function gapsOf(drawnPlaces: DrawnPlaces, findings: readonly Finding[], options: SceneOptions): SceneGap[] {
  const answers = new Answers(findings);
  const places = drawnPlaces.skeleton.places.filter((place) => drawnPlaces.frames.has(place.rib.id));
  const atRibs = places.flatMap((place): DrawnGap[] => [
    ...capGaps(drawnPlaces, place, answers),
    ...chordGaps(drawnPlaces, place, answers),
    ...rideGaps(drawnPlaces, place, answers, options.station),
  ]);
  const checkOf = new Map(findings.map((f) => [f.id, f.check]));
  const isShown = showing(checkOf, options);
  return [...atRibs, ...noseGaps(drawnPlaces, answers)].map((gap) => ({ ...gap, shown: isShown(gap) }));
}

/** Whether the present question asks for a gap. */
function showing(
  checkOf: ReadonlyMap<string, CheckId>,
  { question, station, finding, apart = false }: SceneOptions,
): (gap: DrawnGap) => boolean {
  if (apart) return () => false;
  const asked = new Set<CheckId | undefined>(question === 'build' ? [] : checksOf(question));
  const isWanted = ({ verdict, station: own }: DrawnGap): boolean =>
    question === 'measure' ? verdict === 'unsettled' : own === station || verdict !== 'fits';
  return (gap) => gap.findingId === finding || (isWanted(gap) && asked.has(checkOf.get(gap.findingId)));
}
