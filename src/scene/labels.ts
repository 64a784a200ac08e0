import { worstFirst } from '../checks/checkAll.ts';
import type { CheckId, Finding } from '../checks/finding.ts';
import { checksOf } from '../checks/questions.ts';
import { add, scale, type Vec3 } from '../geometry/vector.ts';
import type { Rib } from '../model/schema.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { formatAngle, formatLength } from '../units.ts';
import { faceOf, fromPart, fromSection, halfHeight, inwardOf, onSpar, type Stand, turnsOf } from './drawnPlaces.ts';
import type { SceneGap, SceneHole, SceneLabel, SceneLine, SceneOptions } from './shown.ts';

/*
 * What is written beside the skeleton: at most a dozen labels for the present question, worst first, part mark first.
 * One label says one thing once: checks that ask the same of the same place share it, and a fault that many parts have
 * alike is written at one of them with the number of the others.
 */

const MOST = 12;
/** With this many labels, those that only ask for a watchful eye are left out, and doubts that are hardly doubts. */
const ENOUGH = 7;
const HARDLY = 0.25;

/** Checks that look at the same fault from two sides; the worst of a family speaks. */
const FAMILY: Partial<Record<CheckId, string>> = {
  'cap-gap': 'caps',
  'cap-split': 'caps',
  'skin-step': 'caps',
  'chord-gap': 'webs',
  seating: 'webs',
  'nose-line': 'nose',
  'nose-kink': 'nose',
  twist: 'twist',
  'twist-step': 'twist',
};

interface Found {
  readonly gaps: readonly SceneGap[];
  readonly holes: readonly SceneHole[];
  readonly lines: readonly SceneLine[];
  readonly options: SceneOptions;
}

export function labelsOf(stand: Stand, findings: readonly Finding[], found: Found): SceneLabel[] {
  const { station, question, finding } = found.options;
  if (found.options.apart) return apartMarks(stand, station);
  const marks = station !== null ? stationMarks(stand, station) : question === 'build' ? ribMarks(stand) : [];
  const room = MOST - Math.min(marks.length, MOST / 2);
  const said = question === 'build' && finding === undefined ? [] : spoken(stand, findings, found, room);
  return [...said, ...marks.slice(0, MOST - said.length)];
}

function spoken(stand: Stand, findings: readonly Finding[], found: Found, room: number): SceneLabel[] {
  const { question, station, finding: chosen } = found.options;
  const asked = new Set(question === 'build' ? [] : checksOf(question));
  const tells = (f: Finding): boolean =>
    f.verdict !== 'fits' &&
    f.echoOf === undefined &&
    asked.has(f.check) &&
    (question !== 'measure' || f.verdict === 'unsettled');
  const order = worstFirst(findings.filter((f) => f.id === chosen || tells(f)));
  const first = (f: Finding): number => (f.id === chosen ? 0 : station !== null && f.station === station ? 1 : 2);
  const sorted = order.map((f, i) => ({ f, i })).sort((a, b) => first(a.f) - first(b.f) || a.i - b.i);
  const taken = new Set<string>();
  const heads: Finding[] = [];
  for (const { f } of sorted) {
    const key = `${FAMILY[f.check] ?? f.check} ${subjectOf(f)}`;
    if (taken.has(key)) continue;
    taken.add(key);
    heads.push(f);
  }
  const labels: SceneLabel[] = [];
  const done = new Set<Finding>();
  for (const f of heads) {
    const mild = f.verdict === 'watch' || (f.verdict === 'unsettled' && f.chance < HARDLY);
    if (done.has(f) || (mild && labels.length >= ENOUGH && first(f) === 2)) continue;
    const twins = heads.filter(
      (g) =>
        g === f ||
        (!done.has(g) &&
          g.check === f.check &&
          g.verdict === f.verdict &&
          first(g) === 2 &&
          first(f) === 2 &&
          wording(stand.skeleton, g).tail === wording(stand.skeleton, f).tail),
    );
    const alike = twins.length >= 3 ? twins : [f];
    for (const g of alike) done.add(g);
    const head = alike.length > 1 ? inTheMiddle(stand, alike, labels) : f;
    labels.push({
      id: head.id,
      text: textOf(stand.skeleton, head, alike.length - 1),
      anchor: anchorOf(stand, head, found),
      verdict: head.verdict,
      findingId: head.id,
      station: head.station,
      part: head.place.split(' ')[0] ?? null,
    });
  }
  const own = labels.filter((l) => l.findingId === chosen || (station !== null && l.station === station));
  return [
    ...own,
    ...spreadOut(
      labels.filter((l) => !own.includes(l)),
      own,
      room - own.length,
    ),
  ];
}

/** From this many members on, a group may be spoken of at any of its middle half. */
const LARGE = 8;

/** The member of a group that speaks for it: the middle one along the span, or of a large group's middle half the one furthest from labels already set. */
function inTheMiddle(stand: Stand, group: readonly Finding[], set: readonly SceneLabel[]): Finding {
  const place = (f: Finding): number => stand.stances.get(f.station ?? '')?.bay.station.y ?? 0;
  const sorted = [...group].sort((a, b) => place(a) - place(b));
  const middle = sorted[Math.floor((sorted.length - 1) / 2)]!;
  if (sorted.length < LARGE || set.length === 0) return middle;
  const free = (f: Finding): number => Math.min(...set.map((l) => Math.abs(l.anchor[1] - place(f))));
  return sorted
    .slice(Math.floor(sorted.length / 4), Math.ceil((sorted.length * 3) / 4))
    .reduce((a, b) => (free(b) > free(a) + 1 ? b : a), middle);
}

/**
 * As many labels as there is room for, the more severe first; of those as severe, each next one as far along the span from
 * the ones already taken as can be, so that a long panel is not all labelled at one end.
 */
function spreadOut(labels: readonly SceneLabel[], taken: readonly SceneLabel[], room: number): SceneLabel[] {
  if (labels.length <= room) return [...labels];
  const left = [...labels];
  const out: SceneLabel[] = [];
  while (out.length < room && left.length > 0) {
    const first = left[0]!;
    const alike = left.filter((l) => l.verdict === first.verdict);
    const all = [...taken, ...out];
    const free = (l: SceneLabel): number => Math.min(Infinity, ...all.map((t) => Math.abs(t.anchor[1] - l.anchor[1])));
    const next = all.length === 0 ? first : alike.reduce((a, b) => (free(b) > free(a) + 1 ? b : a));
    out.push(next);
    left.splice(left.indexOf(next), 1);
  }
  return out;
}

/** The part, joint or station that a finding is about, its end included: `M2 rear`, `F6 hole h2`, `S8`. */
function subjectOf(f: Finding): string {
  if (f.check === 'twist' || f.check === 'twist-step') return f.station ?? 'panel';
  return f.place.replace(/ (top|bottom)$/, '');
}

const PLAIN = { unitMark: false } as const;

/** The words of a label in two parts: whose it is, and what is so. `many` is for several parts at once. */
function wording(skeleton: Skeleton, f: Finding): { head: string; tail: string; many: string } {
  const size = formatLength(Math.abs(f.value), skeleton.model.units, PLAIN);
  const [part = '', word = ''] = f.place.split(' ');
  const end = word === 'rear' ? `${part} rear` : part;
  const same = (head: string, tail: string) => ({ head, tail, many: tail });
  switch (f.check) {
    case 'cap-gap':
      if (Math.abs(f.value) < 0.005) return same(end, 'just fits');
      return f.value < 0 ? { head: end, tail: `binds ${size}`, many: `bind ${size}` } : same(end, `loose ${size}`);
    case 'cap-split':
      return same(end, `daylight ${size}`);
    case 'bend-ride':
      return { head: part, tail: `rides ${size}`, many: `ride ${size}` };
    case 'chord-gap':
      if (Math.abs(f.value) < 0.005) return same(part, 'just fills');
      return same(part, `${f.value < 0 ? 'long' : 'short'} ${size}`);
    case 'seating':
      return same(part, `daylight ${size}`);
    case 'nose-kink':
      return { head: part, tail: `kinks ${f.sense} ${size}`, many: `kink ${f.sense} ${size}` };
    case 'nose-line':
      return same(part, `${f.sense} ${size}`);
    case 'relief':
      return f.value < 0 ? same(end, `notch under cap ${size}`) : same(end, `notch clears ${size}`);
    case 'bend-radius':
      return same(part, `bent at ${size}`);
    case 'hole-cleanup': {
      const hole = f.place.replace(' hole ', ' ');
      return f.value < 0
        ? same(hole, f.verdict === 'act' ? 'will not clean up' : 'may not clean up')
        : same(hole, `spare ${size}`);
    }
    case 'twist':
      return same(f.station ?? 'panel', `${f.sense} ${formatAngle((Math.abs(f.value) * Math.PI) / 180)}`);
    case 'twist-step':
      return same(f.place.split(' by ')[0] ?? '', `${f.sense} ${formatAngle((Math.abs(f.value) * Math.PI) / 180)}`);
    case 'bow':
      return same(f.place.replace(' spar', '').replace(/ at .*/, ''), `${size} ${f.sense}`);
    case 'lean':
      return same(part, `leans ${size} in 100`);
    case 'edge-distance':
    case 'pitch':
    case 'rows':
      return same(
        f.place,
        `${f.check === 'edge-distance' ? 'edge' : f.check === 'rows' ? 'rows' : 'pitch'} ${f.value.toFixed(2)} D`,
      );
    default:
      return same(f.place, `${f.sense} ${size}`);
  }
}

/** "M2 binds 0.32"; with others alike, "D2 and 5 more ride 0.57". */
function textOf(skeleton: Skeleton, f: Finding, others: number): string {
  const { head, tail, many } = wording(skeleton, f);
  return others > 0 ? `${head} and ${others} more ${many}` : `${head} ${tail}`;
}

function middle(points: readonly Vec3[]): Vec3 {
  return scale(
    points.reduce<Vec3>((sum, p) => add(sum, p), [0, 0, 0]),
    1 / Math.max(points.length, 1),
  );
}

/** Where a finding's leader points. */
function anchorOf(stand: Stand, f: Finding, { gaps, holes, lines }: Found): Vec3 {
  const [part = '', word = ''] = f.place.split(' ');
  const own = gaps.find((g) => g.findingId === f.id) ?? gaps.find((g) => g.part === part && FAMILY[f.check] === 'nose');
  if (own) return middle(own.corners);
  const hole = holes.find((h) => h.findingId === f.id) ?? holes.find((h) => h.joint === part);
  if (hole) return hole.at;
  const last = [...stand.stances.keys()].at(-1);
  const station = f.station ?? last;
  const stance = station === undefined ? undefined : stand.stances.get(station);
  if (f.check === 'twist' || f.check === 'twist-step') {
    const chord = lines.find((l) => l.id === `chord:${station}`);
    const rear = chord?.points[chord.points.length - 1];
    if (rear) return rear;
  }
  const places = station === undefined ? [] : stand.skeleton.placesAt(station).filter((p) => p.rib.id === part);
  const place = places.find((p) => p.end === word) ?? places.find((p) => p.end === 'front') ?? places[0];
  const frame = stand.frames.get(part);
  if (place && frame) {
    const inward = inwardOf(place.end);
    const away =
      f.check === 'relief' ? (place.spec.relief?.fromEnd ?? 10) : f.check === 'lean' || f.check === 'skew' ? 60 : 8;
    return fromPart(frame, [faceOf(stand, place) + inward * away, 0, halfHeight(stand, place)]);
  }
  if (frame) return frame.origin;
  if (!stance) return [0, 0, 0];
  return fromSection(stance, f.place.startsWith('rear') ? stance.rear : stance.front, 0);
}

/** The marks of all that stands at a station. */
function stationMarks(stand: Stand, station: string): SceneLabel[] {
  const out: SceneLabel[] = [];
  const mark = (id: string, anchor: Vec3, points?: Vec3) =>
    out.push({
      id: `mark:${id}`,
      text: id,
      anchor,
      verdict: null,
      findingId: null,
      station,
      part: id,
      ...(points ? { points } : {}),
    });
  for (const rib of stand.skeleton.model.ribs) {
    const frame = rib.station === station ? stand.frames.get(rib.id) : undefined;
    if (!frame) continue;
    const long = stand.drawn(`${rib.id}.length`) ?? rib.length;
    mark(
      rib.id,
      fromPart(frame, [rib.kind === 'main' ? long * 0.55 : rib.kind === 'nose' ? -long / 2 : 0, 0, 0]),
      flangeOf(stand, rib),
    );
  }
  for (const d of stand.skeleton.placesAt(station).flatMap((p) => p.doublers)) {
    const frame = stand.frames.get(d.id);
    if (frame) mark(d.id, frame.origin);
  }
  return out;
}

/** Which way a rib's flange points, in the wing. */
function flangeOf(stand: Stand, rib: Rib): Vec3 | undefined {
  const place = stand.skeleton.placesAt(rib.station).find((p) => p.rib === rib);
  return place && [0, turnsOf(stand, place), 0];
}

/** With this many stations or fewer every rib pulled apart is marked; of more, every second, third and so on. */
const MOST_APART = 8;

/** The marks of spars and ribs that stand apart, and of the small parts where a station is chosen or they are few. */
function apartMarks(stand: Stand, station: string | null): SceneLabel[] {
  const { bays, model } = stand.skeleton;
  const every = Math.ceil(bays.length / MOST_APART);
  const near = bays.filter((b, i) => (station === null ? i % every === 0 : b.station.id === station));
  const spars = (['front', 'rear'] as const).flatMap((name): SceneLabel[] => {
    const middle = bays[Math.floor(bays.length / 2)];
    if (!model.spars[name] || !middle) return [];
    const y = (middle.station.y + (bays[bays.indexOf(middle) - 1] ?? middle).station.y) / 2;
    return [
      {
        id: `mark:${name}`,
        text: `${name} spar`,
        anchor: onSpar(stand, name, y, { aft: 0, inside: 0, side: 1 }),
        verdict: null,
        findingId: null,
        station: null,
        part: name,
      },
    ];
  });
  const ribs = near
    .flatMap((b) => stationMarks(stand, b.station.id))
    .filter((l) => l.points !== undefined || station !== null);
  return [...spars, ...ribs];
}

/** One mark for each rib between the spars, thinned where there are many. */
function ribMarks(stand: Stand): SceneLabel[] {
  const ribs = stand.skeleton.bays.flatMap((b) => {
    const rib = b.main ?? b.tip ?? b.nose;
    return rib ? [{ rib, station: b.station.id }] : [];
  });
  const every = Math.ceil(ribs.length / MOST);
  return ribs
    .filter((_, i) => i % every === 0)
    .flatMap(({ rib, station }): SceneLabel[] => {
      const frame = stand.frames.get(rib.id);
      if (!frame) return [];
      const tall = rib.kind === 'tip' ? rib.height : rib.kind === 'main' ? rib.front.height : rib.tail.height;
      return [
        {
          id: `mark:${rib.id}`,
          text: rib.id,
          anchor: fromPart(frame, [40, 0, tall / 2]),
          verdict: null,
          findingId: null,
          station,
          part: rib.id,
        },
      ];
    });
}
