import type { Doubler, Model, Profile, Reading, Rib, RibEnd, Spar, Station, Strip } from '../src/model/schema.ts';

/*
 * Invented panels of every kind the program knows: one number makes one panel, the same on every machine. Sizes are like
 * those of small aircraft; daylights run from half a millimetre of bite to one and a half loose.
 */

/** Draws numbers from a seed (mulberry32). */
export class Draw {
  #state: number;
  constructor(seed: number) {
    this.#state = (seed * 2654435761) >>> 0;
  }
  next(): number {
    this.#state = (this.#state + 0x6d2b79f5) >>> 0;
    let t = Math.imul(this.#state ^ (this.#state >>> 15), 1 | this.#state);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  }
  between(low: number, high: number): number {
    return Math.round((low + (high - low) * this.next()) * 1e4) / 1e4;
  }
  one<T>(of: readonly T[]): T {
    return of[Math.floor(this.next() * of.length)]!;
  }
  chance(p: number): boolean {
    return this.next() < p;
  }
}

const PROFILES: readonly ((chord: number) => Profile)[] = [
  () => ({ kind: 'ellipse' }),
  (chord) => ({ kind: 'naca4', name: '0012', chord }),
  (chord) => ({ kind: 'naca4', name: '2412', chord }),
  (chord) => ({
    kind: 'points',
    chord,
    points: [
      [200, 0],
      [140, 14],
      [100, 20],
      [40, 18],
      [10, 9],
      [0, 0],
      [10, -6],
      [40, -9],
      [100, -8],
      [140, -5],
      [200, 0],
    ],
  }),
];

interface SparPlan {
  readonly spar: Spar;
  /** Clear height by station, as the chain will have it. */
  readonly clear: ReadonlyMap<string, number>;
}

/** Everything while a panel is being made. */
interface Work {
  readonly d: Draw;
  readonly hand: Model['hand'];
  readonly sheets: Model['sheets'];
  readonly stations: readonly Station[];
  /** Whether a tip rib stands at the first and at the last station. */
  readonly tips: { readonly first: boolean; readonly last: boolean };
  readonly readings: Reading[];
  readonly ribs: Rib[];
  readonly doublers: Doubler[];
}

const thick = (w: Work, sheet: string): number => w.sheets.find((s) => s.id === sheet)!.thickness;

/** A size as drawn, and now and then read a little off it; what it then is. */
function size(w: Work, key: string, drawing: number, instrument: string, off = 0.4): number {
  if (!w.d.chance(0.6)) return drawing;
  const value = Math.round((drawing + w.d.between(-off, off)) * 1e4) / 1e4;
  w.readings.push({ size: key, value, instrument });
  return value;
}

function read(w: Work, chance: number, key: string, low: number, high: number, instrument: string): void {
  if (w.d.chance(chance)) w.readings.push({ size: key, value: w.d.between(low, high), instrument, sure: true });
}

function stationsOf(d: Draw, hand: Model['hand']): Station[] {
  const n = d.one([2, 2, 3, 3, 4]);
  const nose = d.between(80, 200);
  let y = 0;
  const places = Array.from({ length: n }, () => (y += d.between(180, 420)));
  // No nose is drawn shorter than 75: a relief hole in a blunter one would run off its steep flange.
  const tapers = d.chance(0.6)
    ? Math.min((d.between(0, 0.06) * (places[n - 1]! - places[0]!)) / nose, 1 - 75 / nose)
    : 0;
  const washes = d.chance(0.6) ? d.between(-2, 1) * (places[n - 1]! / 1000) : 0;
  const [first, last] = [places[0]!, places[n - 1]!];
  const shift = { both: -(first + last) / 2, left: -last - 30, right: 0 }[hand];
  return places.map((p, i): Station => {
    const share = i / (n - 1);
    return {
      id: `S${i + 1}`,
      y: Math.round((p + shift) * 1e3) / 1e3,
      nose: Math.round(nose * (1 - tapers * share) * 1e3) / 1e3,
      washout: Math.round(washes * share * 1e3) / 1e3,
    };
  });
}

/** Places for the ends of strips and plates: in the middle of a bay, or past the spar's own end. */
function range(w: Work, from: number, to: number): { from: number; to: number } {
  const middles = w.stations.slice(1).map((s, i) => (s.y + w.stations[i]!.y) / 2);
  const ends = [from, ...middles, to];
  const a = Math.floor(w.d.next() * (ends.length - 1));
  const b = a + 1 + Math.floor(w.d.next() * (ends.length - 1 - a));
  return { from: ends[a]!, to: ends[b]! };
}

function sparOf(w: Work, name: 'front' | 'rear', opens: Spar['opens'], depth: number): SparPlan {
  const { d, stations } = w;
  const [y0, y1] = [stations[0]!.y, stations[stations.length - 1]!.y];
  // A spar ends at the tip rib that closes it, and runs on past a main rib's flanges.
  const [from, to] = [y0 - (w.tips.first ? 0 : d.between(19, 24)), y1 + (w.tips.last ? 0 : d.between(19, 24))];
  const tapers = d.chance(0.6) ? (d.between(0, 0.025) * (y1 - y0)) / depth : 0;
  const sheet = d.one(w.sheets).id;
  const radius = d.between(1.2, 3.6);
  const along = stations.map((s): [number, number] => [
    s.y,
    Math.round(depth * (1 - (tapers * (s.y - y0)) / (y1 - y0)) * 1e3) / 1e3,
  ]);
  const strips: Strip[] = d.chance(0.35)
    ? [{ sheet: d.one(w.sheets).id, ...range(w, from, to), caps: d.one(['both', 'top', 'bottom'] as const) }]
    : [];
  const cap = d.between(15, 24);
  const spar: Spar = {
    sheet,
    opens,
    depth: tapers > 0 ? along : depth,
    capWidth: d.chance(0.3) ? stations.map((s, i): [number, number] => [s.y, cap - i]) : cap,
    radius,
    from,
    to,
    strips,
    webDoublers: [],
  };
  read(w, 0.3, `${name}.radius`, Math.max(radius - 0.3, 0.5), radius + 0.3, 'radius-leaf');
  const clear = new Map(
    stations.map((s, i): [string, number] => {
      const on = strips
        .filter((p) => s.y >= p.from && s.y <= p.to)
        .reduce((sum, p) => sum + (p.caps === 'both' ? 2 : 1) * thick(w, p.sheet), 0);
      const deep = size(w, `${name}.depth@${s.id}`, alongOf(spar.depth, i), 'caliper');
      const between = deep - 2 * thick(w, sheet) - on;
      if (!d.chance(0.35)) return [s.id, between];
      const value = Math.round((between + d.between(-0.15, 0.15)) * 1e4) / 1e4;
      w.readings.push({ size: `${name}.clear@${s.id}`, value, instrument: 'caliper' });
      return [s.id, value];
    }),
  );
  for (const s of stations) {
    read(w, 0.2, `${name}.droop@${s.id}`, -0.2, 0.2, 'caliper');
    read(w, 0.35, `${name}.bow@${s.id}`, -0.9, 0.9, 'string');
    read(w, 0.15, `${name}.camber@${s.id}`, -1.5, 1.5, 'stand');
    read(w, 0.15, `${name}.cap@${s.id}`, cap - 2, cap - 0.5, 'caliper');
  }
  return { spar, clear };
}

const alongOf = (a: Spar['depth'], i: number): number => (typeof a === 'number' ? a : a[i]![1]);

/** What lies between a rib end and its spar, and how much of the room it takes: [from the height, from the length]. */
function pieces(w: Work, part: string, end: Doubler['end'], spar: SparPlan, nests: boolean): [number, number] {
  const { d } = w;
  const made = d.one(
    nests
      ? (['none', 'none', 'channel', 'channel', 'channels', 'packer', 'shim', 'shims', 'channel and shim'] as const)
      : (['none', 'none', 'packer', 'packers'] as const),
  );
  const id = (k: number): string => `D${part}${end[0]}${k}`;
  let [tall, long] = [0, 0];
  const channel = (k: number): void => {
    const sheet = d.one(w.sheets).id;
    const radius = d.between(0.5, 3.6);
    w.doublers.push({
      id: id(k),
      form: 'channel',
      on: 'web',
      sheet,
      part,
      end,
      radius,
      width: d.between(24, 34),
      designed: true,
    });
    read(w, 0.3, `${id(k)}.radius`, radius, radius + 0.3, 'radius-leaf');
    tall += 2 * thick(w, sheet);
    long += thick(w, sheet);
  };
  const flat = (k: number, on: Doubler['on'], height?: number): void => {
    const sheet = d.one(w.sheets).id;
    w.doublers.push({
      id: id(k),
      form: 'flat',
      on,
      sheet,
      part,
      end,
      width: d.between(24, 34),
      designed: false,
      ...(height === undefined ? {} : { height }),
    });
    if (on === 'web') long += thick(w, sheet);
    else tall += thick(w, sheet);
  };
  const clear = [...spar.clear.values()].reduce((a, b) => Math.min(a, b));
  if (made === 'channel' || made === 'channels' || made === 'channel and shim') channel(1);
  if (made === 'channels') channel(2);
  if (made === 'packer' || made === 'packers') flat(1, 'web', nests ? clear - d.between(0.6, 9) : d.between(30, 60));
  if (made === 'packers') flat(2, 'web', d.between(30, 60));
  if (made === 'shim' || made === 'channel and shim') flat(3, d.one(['top', 'bottom'] as const));
  if (made === 'shims') {
    flat(3, 'top');
    flat(4, 'bottom');
  }
  return [tall, long];
}

function ribEnd(
  w: Work,
  id: string,
  end: Doubler['end'],
  spar: SparPlan,
  station: string,
  nests: boolean,
): { spec: RibEnd; long: number } {
  const { d } = w;
  const [tall, long] = pieces(w, id, end, spar, nests);
  const clear = spar.clear.get(station)!;
  const height = nests ? clear - tall - d.between(-0.6, 1.5) : clear + 2 * thick(w, spar.spar.sheet);
  const tab = d.between(12, 18);
  const relief = nests && d.chance(0.3) ? { diameter: d.between(3, 6), fromEnd: d.between(18, 24) } : undefined;
  const key = `${id}.${end}`;
  if (nests) {
    read(w, 0.15, `${key}.open`, -0.15, 0.25, 'feeler');
    read(w, 0.2, `${key}.bias`, -0.4, 0.4, 'feeler');
  }
  if (relief && d.chance(0.4))
    w.readings.push({ size: `${key}.relief`, value: relief.fromEnd + d.between(-0.5, 0.5), instrument: 'caliper' });
  const spec: RibEnd = {
    ends: nests ? 'nests' : 'butts',
    height: Math.round(height * 1e4) / 1e4,
    joggle: nests ? d.between(0, 1.8) : 0,
    tab,
    row: tab / 2,
    ...(relief ? { relief } : {}),
  };
  size(w, `${key}.height`, spec.height, 'caliper', 0.2);
  return { spec, long };
}

/** A tip rib turns its flanges over the spar's end; any other as it likes. */
function bent(
  w: Work,
  station: string,
  turns: Rib['turns'] = w.d.one(['inboard', 'outboard'] as const),
): Pick<Rib, 'sheet' | 'station' | 'flange' | 'radius' | 'turns' | 'holes'> {
  const { d } = w;
  return {
    sheet: d.one(w.sheets).id,
    station,
    flange: d.between(12, 17),
    radius: d.between(0.8, 2.2),
    turns,
    holes: [],
  };
}

/** One panel from one number. Valid: `meaningFaults` finds nothing in it. */
export function randomPanel(seed: number): Model {
  const d = new Draw(seed);
  const hand = d.one(['right', 'left', 'both'] as const);
  const sheets: Model['sheets'] = [0.4, 0.6, 0.8, 1.2].map((t, i) => ({
    id: `s${i}`,
    alloy: '6061-T6' as const,
    thickness: d.between(t, t + 0.2),
  }));
  const w: Work = {
    d,
    hand,
    sheets,
    stations: stationsOf(d, hand),
    tips: { first: d.chance(0.6), last: d.chance(0.6) },
    readings: [],
    ribs: [],
    doublers: [],
  };
  for (const s of sheets)
    if (d.chance(0.3))
      w.readings.push({ size: `sheet.${s.id}`, value: s.thickness + d.between(-0.02, 0.02), instrument: 'micrometer' });
  for (const r of w.readings) {
    const s = sheets.find((p) => r.size === `sheet.${p.id}`);
    if (s) s.thickness = r.value;
  }
  const front = sparOf(w, 'front', d.one(['aft', 'forward'] as const), d.between(70, 150));
  const rear = sparOf(w, 'rear', d.one(['forward', 'forward', 'aft'] as const), d.between(50, 68));
  const webs = d.between(220, 520);
  const span = w.stations[w.stations.length - 1]!.y - w.stations[0]!.y;
  const tapers = d.chance(0.6) ? (d.between(0, 0.08) * span) / webs : 0;
  const webToWeb = w.stations.map((s, i): [number, number] => [
    s.y,
    Math.round(webs * (1 - (tapers * i) / (w.stations.length - 1)) * 1e3) / 1e3,
  ]);
  w.stations.forEach((station, i) => {
    stand(w, {
      station,
      web: size(w, `webs@${station.id}`, webToWeb[i]![1], 'stick'),
      front,
      rear,
      tip: (i === 0 && w.tips.first) || (i === w.stations.length - 1 && w.tips.last),
    });
  });
  twists(w, webToWeb);
  curved(w, new Draw(seed + 1_000_003), webs);
  return {
    format: 'ribtrue-panel',
    version: 2,
    name: `random ${seed}`,
    revision: '1',
    hand,
    units: 'mm',
    sheets,
    stations: [...w.stations],
    spars: { front: front.spar, rear: rear.spar },
    webToWeb: tapers > 0 ? webToWeb : webs,
    ribs: w.ribs,
    doublers: w.doublers,
    brackets: [],
    joints: [],
    stages: [],
    stand: d.one(['rear', 'rear', 'front', 'clamped'] as const),
    reliefCounts: 'centre',
    tolerances: {},
    survey: { touch: 'spar-bottom', rearHigher: 15, supports: [] },
    instruments: [],
    readings: w.readings,
    limits: [],
    stock: { sheets: [], shims: [], packs: [], drills: [], rivets: [] },
  };
}

interface Place {
  readonly station: Station;
  readonly web: number;
  readonly front: SparPlan;
  readonly rear: SparPlan;
  readonly tip: boolean;
}

function stand(w: Work, { station, web, front, rear, tip }: Place): void {
  const { d } = w;
  const n = station.id.slice(1);
  const profile = d.one(PROFILES)(3.3 * station.nose);
  if (tip) {
    const first = station === w.stations[0];
    const over = w.hand === 'both' || first === (w.hand === 'left') ? 'inboard' : 'outboard';
    const aft = ribEnd(w, `T${n}`, 'rear', rear, station.id, rear.spar.opens === 'forward');
    const registered = d.one(['rear', 'rear', 'front'] as const);
    const length = Math.round((web + station.nose - aft.long + d.between(-0.8, 0.8)) * 1e3) / 1e3;
    const clip = { forward: d.between(8, 30), noseToHole: 0 };
    clip.noseToHole = Math.round((station.nose - clip.forward + d.between(-0.8, 0.8)) * 1e3) / 1e3;
    w.ribs.push({
      id: `T${n}`,
      kind: 'tip',
      ...bent(w, station.id, over),
      length,
      registered,
      ...(registered === 'front' ? { clip } : {}),
      rear: aft.spec,
      height: front.clear.get(station.id)! + 2 * thick(w, front.spar.sheet),
      profile,
    });
    if (registered === 'front') size(w, `T${n}.clip`, clip.noseToHole, 'caliper');
    size(w, `T${n}.length`, length, 'trammel');
    return;
  }
  const fore = ribEnd(w, `M${n}`, 'front', front, station.id, front.spar.opens === 'aft');
  const aft = ribEnd(w, `M${n}`, 'rear', rear, station.id, rear.spar.opens === 'forward');
  const length =
    Math.round((web - thick(w, front.spar.sheet) - fore.long - aft.long - d.between(-0.5, 1.2)) * 1e3) / 1e3;
  w.ribs.push({ id: `M${n}`, kind: 'main', ...bent(w, station.id), length, front: fore.spec, rear: aft.spec });
  size(w, `M${n}.length`, length, 'rule');
  const tail = ribEnd(w, `N${n}`, 'tail', front, station.id, front.spar.opens === 'forward');
  const nose = Math.round((station.nose - tail.long + d.between(-0.8, 0.8)) * 1e3) / 1e3;
  w.ribs.push({ id: `N${n}`, kind: 'nose', ...bent(w, station.id), length: nose, tail: tail.spec, profile });
  size(w, `N${n}.length`, nose, 'rule');
}

/** Now and then a section between the spars and flutes in the flanges, drawn apart so that all else of a panel stays. */
function curved(w: Work, d: Draw, webs: number): void {
  const section = d.chance(0.5) ? d.one(PROFILES.slice(1)) : undefined;
  for (const rib of w.ribs) {
    const { nose } = w.stations.find((s) => s.id === rib.station)!;
    const chord = 1.3 * (nose + webs);
    if (section && rib.kind !== 'nose' && d.chance(0.8))
      rib.contour = section(chord) as NonNullable<typeof rib.contour>;
    if (d.chance(0.4)) rib.flutes = { each: d.one([1, 2, 3]), width: d.between(6, 12), depth: d.between(0.5, 2) };
  }
}

/** Twist read off the bench, by the level, or not at all. */
function twists(w: Work, webs: readonly (readonly [number, number])[]): void {
  const way = w.d.one(['none', 'heights', 'level'] as const);
  w.stations.forEach((s, i) => {
    const turn = s.washout + w.d.between(-0.15, 0.15);
    if (way === 'level') w.readings.push({ size: `level@${s.id}`, value: turn, instrument: 'level' });
    if (way !== 'heights') return;
    w.readings.push({ size: `height.front@${s.id}`, value: 60, instrument: 'stand' });
    w.readings.push({
      size: `height.rear@${s.id}`,
      value: Math.round((60 + 15 - (turn * Math.PI * webs[i]![1]) / 180) * 1e3) / 1e3,
      instrument: 'stand',
    });
  });
}
