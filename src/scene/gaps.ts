import { best } from '../chains/chain.ts';
import { type Finding, severity } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import type { Vec3 } from '../geometry/vector.ts';
import type { RibPlace } from '../parts/layout/layout.ts';
import { chordGapChain } from '../parts/layout/meeting.ts';
import { setback } from '../parts/shapes/pressed.ts';
import { formatLength } from '../units.ts';
import {
  capped,
  capStack,
  faceOf,
  fromPart,
  halfHeight,
  inwardOf,
  onSpar,
  packed,
  type Stand,
  sheetOf,
  turnsOf,
} from './drawnPlaces.ts';
import { nosesIn } from './noses.ts';
import type { SceneGap, SceneOptions } from './shown.ts';

type Corners = SceneGap['corners'];
type Drawn = Omit<SceneGap, 'shown'>;

/** Below this a gap is a touch and is not drawn, mm of the drawing. */
const SEEN = 0.01;

/** Share of a riding doubler's width that its ride is drawn over, but at the chosen station: a ride asks less than a rib that binds. */
const RIDE_SHARE = 0.2;

/** Findings by check and place, for the one a gap shows. */
class Answers {
  readonly #byId: ReadonlyMap<string, Finding>;
  constructor(findings: readonly Finding[]) {
    this.#byId = new Map(findings.map((f) => [f.id, f]));
  }
  of(check: string, place: string): Finding | undefined {
    return this.#byId.get(`${check}:${place.replaceAll(' ', '-')}`);
  }
}

/** Every gap that has a finding: between caps at both sides, between webs, noses off their line, doublers riding on a bend. */
export function gapsOf(stand: Stand, findings: readonly Finding[], options: SceneOptions): SceneGap[] {
  const answers = new Answers(findings);
  const out: Drawn[] = [];
  for (const place of stand.skeleton.places) {
    if (!stand.frames.has(place.rib.id)) continue;
    out.push(
      ...capGaps(stand, place, answers),
      ...chordGaps(stand, place, answers),
      ...rides(stand, place, answers, options.station),
    );
  }
  out.push(...noseGaps(stand, answers));
  if (options.apart) return out.map((g) => ({ ...g, shown: false }));
  const asked = new Set<string>(options.question === 'build' ? [] : checksOf(options.question));
  return out.map((g) => {
    const near = g.station === options.station;
    const wanted = options.question === 'measure' ? g.verdict === 'unsettled' : near || g.verdict !== 'fits';
    return { ...g, shown: g.findingId === options.finding || (wanted && asked.has(g.findingId.split(':')[0] ?? '')) };
  });
}

function gap(
  stand: Stand,
  finding: Finding,
  place: { station: string; part: string; at: string },
  corners: Corners,
  kind?: SceneGap['kind'],
): Drawn {
  return {
    id: `${finding.id}/${place.at}`,
    kind: kind ?? (finding.value < 0 ? 'interference' : 'daylight'),
    corners,
    text: formatLength(Math.abs(finding.value), stand.skeleton.model.units),
    verdict: finding.verdict,
    findingId: finding.id,
    station: place.station,
    part: place.part,
  };
}

/** From a rib end's flange, or the doubler over it, to the cap above or below. */
function capGaps(stand: Stand, place: RibPlace, answers: Answers): Drawn[] {
  const finding = place.spec.ends === 'nests' ? answers.of('cap-gap', `${place.rib.id} ${place.end}`) : undefined;
  const frame = stand.frames.get(place.rib.id);
  const spar = stand.skeleton.model.spars[place.spar];
  if (!finding || !frame || !spar) return [];
  const turns = turnsOf(stand, place);
  const sheet = sheetOf(stand, place.rib.sheet);
  const inward = inwardOf(place.end);
  const face = faceOf(stand, place);
  const bends = place.doublers.map((d) => d.radius ?? 0);
  const back = setback(Math.max(spar.radius, ...bends), sheet, place.rib.radius);
  const y0 = place.bay.station.y + turns * (sheet + place.rib.radius);
  const y1 = place.bay.station.y + turns * place.rib.flange;
  const ring = stand.rings[place.spar];
  const cap = ring?.find((r) => r.y === place.bay.station.y)?.capWidth ?? 0;
  const web = sheetOf(stand, spar.sheet);
  // How far the cap reaches over the rib, from the rib's face: cap less web, packers and the daylight at this end.
  const across = onSpar(stand, place.spar, place.bay.station.y, {
    aft: place.end === 'front' ? web : 0,
    inside: 0,
    side: 0,
  });
  const here = fromPart(frame, [face, 0, 0]);
  const free = Math.max((here[0] - across[0]) * inward - packed(stand, place), 0);
  const reach = Math.max(cap - web - packed(stand, place) - free, back + 4);
  const out: Drawn[] = [];
  for (const side of [1, -1] as const) {
    const inner = halfHeight(stand, place) + capped(stand, place, side);
    const ribPoint = (d: number, y: number): Vec3 =>
      fromPart(frame, [face + inward * d, y - place.bay.station.y, side * inner]);
    const capPoint = (d: number, y: number): Vec3 => {
      const under = ribPoint(d, y);
      const datum = onSpar(stand, place.spar, y, { aft: 0, inside: 0, side: 0 });
      return onSpar(stand, place.spar, y, {
        aft: under[0] - datum[0],
        inside: capStack(stand, place.spar, y, side),
        side,
      });
    };
    const ring4 = (f: (d: number, y: number) => Vec3): [Vec3, Vec3, Vec3, Vec3] => [
      f(back, y0),
      f(reach, y0),
      f(reach, y1),
      f(back, y1),
    ];
    const [near, far] = [ring4(ribPoint), ring4(capPoint)];
    if (Math.abs(near[0][2] - far[0][2]) < SEEN) continue;
    out.push(
      gap(stand, finding, { station: place.bay.station.id, part: place.rib.id, at: side === 1 ? 'top' : 'bottom' }, [
        ...near,
        ...far,
      ]),
    );
  }
  return out;
}

/**
 * From a main rib's end flange to the web, or the doubler on it, as both are drawn: the spar as it lies, bow and all. The
 * number is the finding's, with the spars held straight; where that is another, the gap says what is drawn.
 */
function chordGaps(stand: Stand, place: RibPlace, answers: Answers): Drawn[] {
  const { model } = stand.skeleton;
  const free = model.stand === 'rear' ? 'front' : model.stand === 'front' ? 'rear' : undefined;
  const frame = stand.frames.get(place.rib.id);
  const spar = model.spars[place.spar];
  if (place.rib.kind !== 'main' || place.end !== free || !frame || !spar) return [];
  const finding = answers.of('chord-gap', place.rib.id);
  if (!finding) return [];
  const turns = turnsOf(stand, place);
  const sheet = sheetOf(stand, place.rib.sheet);
  const { y, id } = place.bay.station;
  const [y0, y1] = [
    y + turns * (sheet + place.rib.radius),
    y + turns * Math.max(stand.drawn(`${place.rib.id}.${place.end}.tab`) ?? place.spec.tab, 4),
  ];
  const back = setback(Math.max(spar.radius, ...place.doublers.map((d) => d.radius ?? 0)), sheet, place.rib.radius);
  const half = halfHeight(stand, place) - back;
  const face = faceOf(stand, place);
  const plates = spar.webDoublers
    .filter((d) => y >= d.from && y <= d.to)
    .reduce((sum, d) => sum + sheetOf(stand, d.sheet), 0);
  const out =
    place.end === 'front' ? sheetOf(stand, spar.sheet) + plates + packed(stand, place) : -plates - packed(stand, place);
  const rib = (yy: number, z: number): Vec3 => fromPart(frame, [face, yy - y, z]);
  const web = (yy: number, z: number): Vec3 => {
    const [dx, dz] = direction(stand, place, yy);
    const at = onSpar(stand, place.spar, yy, { aft: out, inside: 0, side: 0 });
    return [at[0] + dx * z, yy, at[2] + dz * z];
  };
  const ring4 = (f: (yy: number, z: number) => Vec3): [Vec3, Vec3, Vec3, Vec3] => [
    f(y0, -half),
    f(y1, -half),
    f(y1, half),
    f(y0, half),
  ];
  const [near, far] = [ring4(rib), ring4(web)];
  const open = (near[0][0] - far[0][0] + near[1][0] - far[1][0]) * inwardOf(place.end) * 0.5;
  if (Math.abs(open) < SEEN) return [];
  const bowed = best(chordGapChain(stand.skeleton, place.bay, place.rib, 'bowed'));
  const made = gap(
    stand,
    finding,
    { station: id, part: place.rib.id, at: place.end },
    [...near, ...far],
    open > 0 ? 'daylight' : 'interference',
  );
  return [
    Math.abs(bowed - finding.value) < 0.005
      ? made
      : {
          ...made,
          state: `spars held straight; drawn as the spar lies, ${formatLength(Math.abs(bowed), model.units)} ${bowed < 0 ? 'long' : 'short'}`,
        },
  ];
}

/** Which way is up in a spar's section at y. */
function direction(stand: Stand, place: RibPlace, y: number): [number, number] {
  const up = onSpar(stand, place.spar, y, { aft: 0, inside: 0, side: 1 });
  const mid = onSpar(stand, place.spar, y, { aft: 0, inside: 0, side: 0 });
  const d = Math.hypot(up[0] - mid[0], up[2] - mid[2]) || 1;
  return [(up[0] - mid[0]) / d, (up[2] - mid[2]) / d];
}

/** A doubler's corner in the spar's bend: as far off each cap (a channel) or off the web (a flat piece) as it must stand. */
function rides(stand: Stand, place: RibPlace, answers: Answers, chosen: string | null): Drawn[] {
  const spar = stand.skeleton.model.spars[place.spar];
  if (!spar || place.spec.ends !== 'nests') return [];
  const out: Drawn[] = [];
  const web = sheetOf(stand, spar.sheet);
  const way = spar.opens === 'aft' ? 1 : -1;
  const from = spar.opens === 'aft' ? web : 0;
  for (const d of place.doublers) {
    const finding = answers.of('bend-ride', d.id);
    const frame = stand.frames.get(d.id);
    if (!finding || !frame || finding.value <= 0) continue;
    const off = finding.value * stand.magnify;
    const half = (chosen === place.bay.station.id ? 1 : RIDE_SHARE) * (d.width / 2);
    const [y0, y1] = [frame.origin[1] - half, frame.origin[1] + half];
    for (const side of [1, -1] as const) {
      const stack = (y: number) => capStack(stand, place.spar, y, side);
      const at = (aft: number, deep: number, y: number): Vec3 =>
        onSpar(stand, place.spar, y, { aft: from + way * aft, inside: stack(y) + deep, side });
      const height = d.height ?? place.spec.height;
      const low = d.form === 'channel' ? 0 : Math.max(halfOf(stand, place, y0) - height / 2, 0);
      const [a, b, deep] = d.form === 'channel' ? [0, spar.radius, off] : [0, off, low + spar.radius];
      const ring4 = (z: number): [Vec3, Vec3, Vec3, Vec3] => [at(a, z, y0), at(b, z, y0), at(b, z, y1), at(a, z, y1)];
      const ride = gap(
        stand,
        finding,
        { station: place.bay.station.id, part: d.id, at: side === 1 ? 'top' : 'bottom' },
        [...ring4(low), ...ring4(deep)],
        'interference',
      );
      out.push(chosen === place.bay.station.id ? ride : { ...ride, faint: true });
    }
  }
  return out;
}

function halfOf(stand: Stand, place: RibPlace, y: number): number {
  const rings = stand.rings[place.spar];
  const depth = rings?.find((r) => r.y >= y)?.depth ?? 0;
  return depth / 2 - capStack(stand, place.spar, y, 1);
}

/** From the nose line to each nose that is off it: short is daylight, proud pushes through. */
function noseGaps(stand: Stand, answers: Answers): Drawn[] {
  const out: Drawn[] = [];
  for (const nose of nosesIn(stand)) {
    const line = answers.of('nose-line', nose.mark);
    const kink = answers.of('nose-kink', nose.mark);
    const { off } = nose;
    const finding = worse(kink && !kink.echoOf ? kink : undefined, line);
    if (!finding || !nose.frame || Math.abs(off * stand.magnify) < SEEN) continue;
    const turns = nose.turns;
    const tall = 7;
    const ring4 = (shift: number): [Vec3, Vec3, Vec3, Vec3] => {
      const at = (y: number, z: number): Vec3 => fromPart(nose.frame!, [nose.x + shift, y, z]);
      return [at(0, -tall), at(turns * nose.flange, -tall), at(turns * nose.flange, tall), at(0, tall)];
    };
    const g = gap(
      stand,
      line ?? finding,
      { station: nose.station, part: nose.mark, at: 'nose' },
      [...ring4(0), ...ring4(off * stand.magnify)],
      off < 0 ? 'daylight' : 'interference',
    );
    const straight = nose.bowed ? { state: 'spar held straight; the nose line is drawn with its bow' } : {};
    out.push({ ...g, ...straight, verdict: finding.verdict, findingId: finding.id });
  }
  return out;
}

function worse(a: Finding | undefined, b: Finding | undefined): Finding | undefined {
  if (!a || !b) return a ?? b;
  return severity(a.verdict) > severity(b.verdict) ? a : b;
}
