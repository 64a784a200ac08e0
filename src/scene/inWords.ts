import { type Finding, severity } from '../checks/finding.ts';
import type { HoleState } from '../drilling/hole.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { formatLength } from '../units.ts';
import { markWords, shownBasis } from './marks.ts';
import type { Scene } from './shown.ts';

/*
 * The bench in words: what the picture shows, station by station, for whoever cannot see it. The same gaps, holes and
 * labels that are drawn, with the same numbers; nothing is worked out anew.
 */

/** What is said at one station. */
export interface StationWords {
  readonly station: string;
  readonly words: string;
}

type Shown = Pick<Scene, 'gaps' | 'holes' | 'labels'>;

const STATES: readonly HoleState[] = ['now', 'in doubt', 'not yet', 'not asked', 'never', 'done'];
const HOLE: Readonly<Record<HoleState, string>> = {
  now: 'drill now',
  'not yet': 'not yet',
  'not asked': 'not asked',
  'in doubt': 'in doubt',
  never: 'never at this size',
  done: 'done',
};

function holeWords(holes: Scene['holes']): string {
  const counts = STATES.map((s) => [holes.filter((h) => h.state === s).length, HOLE[s]] as const).filter(
    ([n]) => n > 0,
  );
  if (counts.length === 0) return '';
  return `Holes: ${counts.map(([n, word]) => `${n} ${word}`).join(', ')}.`;
}

/** Labels that say something of a finding, then the gaps drawn that no label speaks of. */
function placesIn({ gaps, labels }: Shown, station: string | null): string[] {
  const said = labels
    .filter((l) => l.station === station)
    .flatMap((l) => (l.verdict ? [{ ...l, verdict: l.verdict }] : []));
  const spoken = new Set(said.map((l) => l.findingId));
  const silent =
    station === null ? [] : gaps.filter((g) => g.shown && g.station === station && !spoken.has(g.findingId));
  return [
    ...said.map((l) => `${l.text}, ${markWords(l.verdict, l.basis)}`),
    ...silent.map((g) => `${g.part} ${g.kind} ${g.text}, ${g.verdict}`),
  ];
}

/**
 * Everything drawn, one line a station: what stands there, what is off and by how much, its holes where holes are
 * shown. Example, panel A: "S2 at 250.00 mm: M2, N2. M2 front binds 0.32 mm, act."
 */
export function benchInWords(skeleton: Skeleton, shown: Shown, holes: boolean): StationWords[] {
  const { units } = skeleton.model;
  const lines = skeleton.bays.map(({ station, tip, main, nose }) => {
    const parts = [tip?.id, main?.id, nose?.id].filter((p) => p !== undefined).join(', ');
    const places = placesIn(shown, station.id);
    const own = holes ? holeWords(shown.holes.filter((h) => h.station === station.id)) : '';
    return {
      station: station.id,
      words: [
        `${station.id} at ${formatLength(station.y, units, { signed: true })}: ${parts}.`,
        places.length > 0 ? `${places.join('; ')}.` : '',
        own,
      ]
        .filter(Boolean)
        .join(' '),
    };
  });
  const whole = placesIn(shown, null);
  return whole.length > 0 ? [...lines, { station: '', words: `Along the whole span: ${whole.join('; ')}.` }] : lines;
}

/** What the plan shows: each station with its worst verdict for the question. */
export function planInWords(skeleton: Skeleton, asked: readonly Finding[]): StationWords[] {
  const { units } = skeleton.model;
  return skeleton.bays.map(({ station, tip, main, nose }) => {
    const worst = asked
      .filter((f) => f.station === station.id)
      .reduce<Finding | undefined>((a, f) => (a && severity(a.verdict) >= severity(f.verdict) ? a : f), undefined);
    const parts = [tip?.id, main?.id, nose?.id].filter((p) => p !== undefined).join(', ');
    return {
      station: station.id,
      words: `${station.id} at ${formatLength(station.y, units, { signed: true })}: ${parts}.${worst ? ` ${worst.place}: ${markWords(worst.verdict, shownBasis(skeleton, worst))}.` : ''}`,
    };
  });
}
