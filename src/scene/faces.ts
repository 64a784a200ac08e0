import { type Finding, severity } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import type { RibPlace } from '../parts/layout/layout.ts';
import { faceOf, fromPart, halfHeight, inwardOf, type Stand } from './drawnPlaces.ts';
import type { SceneBox, SceneFace, SceneOptions } from './shown.ts';

interface Spot {
  readonly part: string;
  readonly face: string;
  readonly within?: SceneBox;
}

/** How much of a flange is coloured at an end, mm from its face. */
const END = 26;

/**
 * The faces the present question is about, the worst verdict where two share one. What fits stays plain metal, but for the
 * chosen station and the chosen finding, where it is shown to fit.
 */
export function facesOf(stand: Stand, findings: readonly Finding[], options: SceneOptions): SceneFace[] {
  if (options.question === 'build' && options.finding === undefined) return [];
  const asked = new Set(checksOf(options.question));
  const worst = new Map<string, SceneFace>();
  for (const f of findings) {
    const chosen = f.id === options.finding;
    if (
      !chosen &&
      (!asked.has(f.check) ||
        (f.verdict === 'fits' && (f.station === null || f.station !== options.station)) ||
        f.echoOf !== undefined)
    )
      continue;
    if (options.question === 'measure' && !chosen && f.verdict !== 'unsettled') continue;
    // A ride is said by its gap; the bend itself is coloured where one looks at it.
    if (f.check === 'bend-ride' && !chosen && f.station !== options.station) continue;
    for (const spot of spotsOf(stand, f)) {
      const key = `${spot.part} ${spot.face} ${spot.within ? spot.within.low[0].toFixed(1) : ''}`;
      const before = worst.get(key);
      if (!before || severity(f.verdict) > severity(before.verdict))
        worst.set(key, { ...spot, verdict: f.verdict, findingId: f.id, station: f.station });
    }
  }
  return [...worst.values()];
}

function spotsOf(stand: Stand, f: Finding): Spot[] {
  const { model } = stand.skeleton;
  const [part = '', word = ''] = f.place.split(' ');
  const places = f.station === null ? [] : stand.skeleton.placesAt(f.station).filter((p) => p.rib.id === part);
  const place = places.find((p) => p.end === word) ?? places[0];
  switch (f.check) {
    case 'cap-gap':
    case 'cap-split':
    case 'skin-step': {
      if (!place) return [];
      const within = endBox(stand, place);
      const legs = place.doublers
        .filter((d) => d.form === 'channel')
        .flatMap((d): Spot[] => [
          { part: d.id, face: 'top leg' },
          { part: d.id, face: 'bottom leg' },
        ]);
      const flanges = ['top flange', 'bottom flange'].map(
        (face): Spot => ({ part, face, ...(within ? { within } : {}) }),
      );
      return f.check === 'skin-step' ? flanges : [...flanges, ...legs];
    }
    case 'chord-gap':
    case 'seating': {
      const ends =
        f.check === 'seating'
          ? ['front']
          : model.stand === 'rear'
            ? ['front']
            : model.stand === 'front'
              ? ['rear']
              : ['front', 'rear'];
      return ends.flatMap((end): Spot[] => [
        { part, face: `${end} tab` },
        { part, face: `${end} tab inside` },
      ]);
    }
    case 'nose-line':
    case 'nose-kink':
      return [
        { part, face: 'top flange' },
        { part, face: 'bottom flange' },
      ];
    case 'bend-ride':
    case 'bend-radius':
      return [{ part, face: 'bend' }];
    case 'relief': {
      const within = place && endBox(stand, place);
      return [{ part, face: 'relief hole', ...(within ? { within } : {}) }];
    }
    case 'lean':
    case 'skew':
      return [
        { part, face: 'web' },
        { part, face: 'web inside' },
      ];
    case 'edge-distance': {
      const joint = model.joints.find((j) => j.id === part);
      const rib = stand.skeleton.places.find(
        (p) => p.rib.id === word && joint && (p.spar === 'rear') === (joint.end === 'rear'),
      );
      return rib
        ? [
            { part: word, face: `${rib.end} tab` },
            { part: word, face: `${rib.end} tab inside` },
          ]
        : [];
    }
    default:
      return [];
  }
}

/** The stretch of a rib near one end, in the wing frame. */
function endBox(stand: Stand, place: RibPlace): SceneBox | undefined {
  const frame = stand.frames.get(place.rib.id);
  if (!frame) return undefined;
  const face = faceOf(stand, place);
  const [a, b] = [
    fromPart(frame, [face - 2 * inwardOf(place.end), 0, 0])[0],
    fromPart(frame, [face + END * inwardOf(place.end), 0, 0])[0],
  ];
  const y = place.bay.station.y;
  const tall = 3 * halfHeight(stand, place) + 50;
  return {
    low: [Math.min(a, b), y - 100, frame.origin[2] - tall],
    high: [Math.max(a, b), y + 100, frame.origin[2] + tall],
  };
}
