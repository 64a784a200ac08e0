import { pieceOf } from '../checks/at.ts';
import { type CheckId, type Finding, severity } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import type { EndName, RibPlace } from '../parts/layout/layout.ts';
import { type DrawnPlaces, faceOf, fromPart, halfHeight, inwardOf } from './drawnPlaces.ts';
import type { SceneBox, SceneFace, SceneOptions } from './shown.ts';

interface Spot {
  readonly part: string;
  readonly face: string;
  readonly within?: SceneBox;
}

/** How much of a flange is coloured at an end, mm from its face. */
const END = 26;

/**
 * The faces the present question is about, the worst verdict where two share one. What fits stays plain metal, but
 * for the chosen station and the chosen finding, where it is shown to fit.
 */
export function facesOf(drawnPlaces: DrawnPlaces, findings: readonly Finding[], options: SceneOptions): SceneFace[] {
  if (options.question === 'build' && options.finding === undefined) return [];
  const asked = new Set(checksOf(options.question));
  const worst = new Map<string, SceneFace>();
  for (const f of findings) {
    const spots = spotsShown(drawnPlaces, f, asked, options);
    for (const spot of spots) {
      const key = `${spot.part} ${spot.face} ${spot.within ? spot.within.low[0].toFixed(1) : ''}`;
      const before = worst.get(key);
      if (!before || severity(f.verdict) > severity(before.verdict))
        worst.set(key, { ...spot, verdict: f.verdict, findingId: f.id, station: f.station });
    }
  }
  return [...worst.values()];
}

/** The faces that a finding colours, as it is asked. */
function spotsShown(
  drawnPlaces: DrawnPlaces,
  f: Finding,
  asked: ReadonlySet<CheckId>,
  options: SceneOptions,
): readonly Spot[] {
  if (isFarSeen(f, options)) return wholeParts(drawnPlaces, f);
  const isShown = f.id === options.finding || isColoured(f, asked, options);
  return isShown ? spotsOf(drawnPlaces, f) : [];
}

/** Whether a finding that was not chosen by itself is coloured. */
function isColoured(f: Finding, asked: ReadonlySet<CheckId>, { question, station }: SceneOptions): boolean {
  if (!asked.has(f.check) || f.echoOf !== undefined) return false;
  const isNear = f.station !== null && f.station === station;
  if (f.verdict === 'fits' && !isNear) return false;
  if (question === 'measure' && f.verdict !== 'unsettled') return false;
  if (question === 'tonight' && !isNear) return false;
  // A ride is said by its gap; the bend itself is coloured where one looks at it.
  return f.check !== 'bend-ride' || f.station === station;
}

/** What a rib shows of itself from across the shop. */
const WHOLE = ['web', 'web inside', 'top flange', 'bottom flange'] as const;

/**
 * Whole parts that must be put right, seen from two metres: what a finding at act names, else what stands at its
 * station.
 */
function wholeParts({ skeleton }: DrawnPlaces, f: Finding): readonly Spot[] {
  const named = pieceOf(f.at) ?? f.at.part;
  const rib = skeleton.model.doublers.find((d) => d.id === named)?.part ?? named;
  const bay = skeleton.bays.find((b) => b.station.id === f.station);
  const standing = [bay?.main, bay?.tip, bay?.nose].find((r) => r !== undefined)?.id;
  const isRib = skeleton.model.ribs.some((r) => r.id === rib);
  return facesNamed(isRib ? rib : standing, WHOLE);
}

/** Whether a finding is seen from two metres: it is at act, no echo, and nothing was chosen to be looked at. */
const isFarSeen = (f: Finding, { question, station, finding }: SceneOptions): boolean =>
  question === 'tonight' && station === null && finding === undefined && f.verdict === 'act' && f.echoOf === undefined;

/** The faces of a kind of check, given its finding. */
type Spots = (drawnPlaces: DrawnPlaces, f: Finding) => readonly Spot[];

const caps: Spots = (drawnPlaces, f) => {
  const place = placeOf(drawnPlaces, f);
  const legs = place?.doublers.filter((d) => d.form === 'channel') ?? [];
  return [...flanges(drawnPlaces, f), ...legs.flatMap((d) => facesNamed(d.id, ['top leg', 'bottom leg']))];
};

const flanges: Spots = (drawnPlaces, f) => {
  const place = placeOf(drawnPlaces, f);
  return place ? facesNamed(place.rib.id, ['top flange', 'bottom flange'], endBox(drawnPlaces, place)) : [];
};

const noses: Spots = (_, { at }) => facesNamed(at.part, ['top flange', 'bottom flange']);
const bend: Spots = (_, { at }) => facesNamed(pieceOf(at) ?? at.spar, ['bend']);
const web: Spots = (_, { at }) => facesNamed(at.part, ['web', 'web inside']);
const frontTab: Spots = (_, { at }) => tabs(at.part, ['front']);
/** The end that is not held, where the daylight between the webs is. */
const freeTabs: Spots = ({ skeleton: { model } }, { at }) => tabs(at.part, FREE_ENDS[model.stand]);
const FREE_ENDS = { rear: ['front'], front: ['rear'], clamped: ['front', 'rear'] } as const;

const relief: Spots = (drawnPlaces, f) => {
  const place = placeOf(drawnPlaces, f);
  return facesNamed(f.at.part, ['relief hole'], place && endBox(drawnPlaces, place));
};

const layerTab: Spots = (drawnPlaces, { at: { layer, spar } }) => {
  const place = drawnPlaces.skeleton.places.find(
    (p) => p.rib.id === layer && (p.spar === 'rear') === (spar === 'rear'),
  );
  return place ? tabs(layer, [place.end]) : [];
};

const SPOTS: Partial<Record<CheckId, Spots>> = {
  'cap-gap': caps,
  'cap-split': caps,
  'skin-step': flanges,
  'chord-gap': freeTabs,
  seating: frontTab,
  'nose-line': noses,
  'nose-kink': noses,
  'bend-ride': bend,
  'bend-radius': bend,
  relief,
  lean: web,
  skew: web,
  'edge-distance': layerTab,
};

const spotsOf: Spots = (drawnPlaces, f) => SPOTS[f.check]?.(drawnPlaces, f) ?? [];

const facesNamed = (part: string | undefined, faces: readonly string[], within?: SceneBox): Spot[] =>
  part === undefined ? [] : faces.map((face): Spot => ({ part, face, ...(within ? { within } : {}) }));

const tabs = (part: string | undefined, ends: readonly EndName[]): Spot[] =>
  ends.flatMap((end) => facesNamed(part, [`${end} tab`, `${end} tab inside`]));

/** The rib end a finding is about; where it names none, the rib's first. */
function placeOf({ skeleton }: DrawnPlaces, { station, at }: Finding): RibPlace | undefined {
  if (station === null) return undefined;
  const places = skeleton.placesAt(station).filter((p) => p.rib.id === at.part);
  return places.find((p) => p.end === at.end) ?? places[0];
}

/** The stretch of a rib near one end, in the wing frame. */
function endBox(drawnPlaces: DrawnPlaces, place: RibPlace): SceneBox | undefined {
  const frame = drawnPlaces.frames.get(place.rib.id);
  if (!frame) return undefined;
  const face = faceOf(drawnPlaces, place);
  const [a, b] = [
    fromPart(frame, [face - 2 * inwardOf(place.end), 0, 0])[0],
    fromPart(frame, [face + END * inwardOf(place.end), 0, 0])[0],
  ];
  const y = place.bay.station.y;
  const tall = 3 * halfHeight(drawnPlaces, place) + 50;
  return {
    low: [Math.min(a, b), y - 100, frame.origin[2] - tall],
    high: [Math.max(a, b), y + 100, frame.origin[2] + tall],
  };
}
