import { best, type Chain, combine, shares } from '../../chains/chain.ts';
import type { Size } from '../../chains/size.ts';
import { limitFor } from '../../model/limits.ts';
import { INSTRUMENTS, QUANTITIES } from '../../model/quantities.ts';
import type { Model } from '../../model/schema.ts';
import { instrumentUncertainty } from '../../model/sizes.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain, departure } from '../../parts/layout/meeting.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatPercent } from '../../units.ts';
import { show } from '../describe.ts';
import type { Finding } from '../finding.ts';
import { fromNominal, type Nose, nosesOf } from './noseLine.ts';

/*
 * Asks: why is it off? A nose that stands short or proud, a rib loose or tight between the webs: each size in its chain less
 * what the drawing gives it is a part of the deviation, and the parts add up to the whole. Gathered by what one could put
 * right: the nose rib, what lies behind it, the spar's bow, the tip rib, the chord, the neighbours. Beside each its share of
 * the doubt; and for the two that matter most, the one reading that tells them apart.
 */

export type CauseKind =
  | 'nose rib'
  | 'packer'
  | 'spar bow'
  | 'tip rib'
  | 'chord'
  | 'main rib'
  | 'neighbour'
  | 'sheet'
  | 'drawing'
  | 'not known';

export interface Cause {
  readonly kind: CauseKind;
  /** What it is, as one would point at it: `N4 itself`, `T8`, `the web to web at S8`. */
  readonly what: string;
  /** Part or station it belongs to, to go there. */
  readonly station: string | null;
  /** What it puts into the deviation, mm, in the finding's own sign. */
  readonly amount: number;
  /** Its share of the variance, 0 to 1. */
  readonly doubt: number;
  readonly sentence: string;
}

/** The reading that tells two causes apart. */
export interface Separating {
  readonly size: string;
  readonly instrument: string;
  readonly sentence: string;
}

export interface Causes {
  /** Largest first. */
  readonly list: readonly Cause[];
  /** The whole in a sentence or two. */
  readonly sentence: string;
  /** What else to know before judging: a bow that hides or shows too much, a chord that will pull the spar. */
  readonly notes: readonly string[];
  readonly check: Separating | undefined;
}

/** One link of the deviation: a size, how it enters, and what of it is not as drawn. */
interface Link {
  readonly kind: CauseKind;
  readonly what: string;
  readonly station: string | null;
  readonly size: Size;
  readonly c: number;
  readonly amount: number;
}

const side = (v: number, [low, high]: readonly [string, string]): string => (v < 0 ? low : high);

const kindOf = (skeleton: Skeleton, size: Size) => skeleton.book.entries.get(size.key)?.kind;
const capital = (text: string): string => `${text[0]!.toUpperCase()}${text.slice(1)}`;

/** What of a size is not as drawn, mm; the whole of it where no drawing gives it. */
function offDrawing(skeleton: Skeleton, size: Size): number {
  return size.best - (skeleton.book.nominal(size.key) ?? 0);
}

/** A nose's own links: its rib, the sheets behind it, the chord of a tip; a string reading split by what else was read. */
function noseLinks(skeleton: Skeleton, nose: Nose, factor: number): Link[] {
  const { bay } = nose;
  const station = bay.station.id;
  const rib = bay.nose ?? bay.tip;
  if (nose.direct) return directLinks(skeleton, nose, factor);
  const links = nose.protrusion.map(({ size, c }): Link => {
    const at = { station, size, c: c * factor };
    if (kindOf(skeleton, size) === 'webToWeb')
      return { ...at, kind: 'chord', what: `the webs at ${station}`, amount: c * factor * offDrawing(skeleton, size) };
    if (kindOf(skeleton, size) === 'thickness')
      return { ...at, kind: 'packer', what: `what lies behind ${rib?.id ?? station}`, amount: c * factor * size.best };
    return {
      ...at,
      kind: bay.nose ? 'nose rib' : 'tip rib',
      what: `${rib?.id ?? station} itself`,
      amount: c * factor * offDrawing(skeleton, size),
    };
  });
  return [...links, ...drawn(links, fromNominal(nose) * factor, station)];
}

/** What the drawings of the parts themselves leave between them, so that the links add up to the deviation. */
function drawn(links: readonly Link[], whole: number, station: string): Link[] {
  const left = whole - links.reduce((sum, l) => sum + l.amount, 0);
  if (Math.abs(left) < 0.005) return [];
  return [
    {
      kind: 'drawing',
      what: 'the drawing’s own sizes',
      station,
      size: { key: 'drawing', name: 'drawing', best: 0, u: 0, tolerance: 0, origin: 'drawing' },
      c: 0,
      amount: left,
    },
  ];
}

/** A nose read from the string line: the bow and the rib's length where they were read, and what neither explains. */
function directLinks(skeleton: Skeleton, nose: Nose, factor: number): Link[] {
  const { bay } = nose;
  const station = bay.station.id;
  const size = nose.protrusion[0]!.size;
  const whole = factor * fromNominal(nose);
  const links: Link[] = [];
  const bow = departure(skeleton, 'front', 'bow', bay);
  if (bow.length > 0 && bay.nose)
    links.push({
      kind: 'spar bow',
      what: `the front spar’s bow at ${station}`,
      station,
      size: bow[0]!.size,
      c: 0,
      amount: factor * best(bow),
    });
  const rib = bay.nose ?? bay.tip;
  const length = rib && skeleton.book.find(`${rib.id}.length`);
  if (rib && length?.origin === 'measured')
    links.push({
      kind: bay.nose ? 'nose rib' : 'tip rib',
      what: `${rib.id} itself`,
      station,
      size: length,
      c: 0,
      amount: factor * offDrawing(skeleton, length),
    });
  const left = whole - links.reduce((sum, l) => sum + l.amount, 0);
  const unread = [
    length?.origin === 'measured' || !rib ? '' : rib.id,
    bow.length > 0 ? '' : bay.nose ? `the spar’s bow at ${station}` : `the webs at ${station}`,
  ].filter(Boolean);
  links.push({
    kind: 'not known',
    what:
      unread.length > 1
        ? `${unread.join(' or ')} (neither was read)`
        : unread.length > 0
          ? `${unread[0]} (not read)`
          : `what neither the spar’s bow nor the rib explains at ${station}`,
    station,
    size,
    c: factor,
    amount: left,
  });
  return links;
}

/** Links of one group as one cause. */
function gather(model: Model, finding: Finding, links: readonly Link[], words: (amount: number) => string): Cause[] {
  const share = new Map(finding.restsOn.map((t, i) => [t.size.key, shares(finding.restsOn)[i] ?? 0]));
  const groups = new Map<string, Link[]>();
  for (const l of links) groups.set(`${l.kind} ${l.what}`, [...(groups.get(`${l.kind} ${l.what}`) ?? []), l]);
  const causes = [...groups.values()].map((group): Cause => {
    const amount = group.reduce((sum, l) => sum + l.amount, 0);
    const keys = new Set(group.filter((l) => l.c !== 0).map((l) => l.size.key));
    const doubt = [...keys].reduce((sum, k) => sum + (share.get(k) ?? 0), 0);
    const { kind, what, station } = group[0]!;
    const many = kind === 'drawing' || kind === 'chord';
    const does =
      Math.abs(amount) < 0.005
        ? `${many ? 'are' : 'is'} as drawn`
        : `${many ? 'make' : 'makes'} it ${show(model, Math.abs(amount))} ${words(amount)}`;
    return {
      kind,
      what,
      station,
      amount,
      doubt,
      sentence: `${capital(what)} ${does}${doubt >= 0.01 ? `, and ${many ? 'carry' : 'carries'} ${formatPercent(doubt)} of the doubt` : ''}.`,
    };
  });
  return causes
    .filter((c) => Math.abs(c.amount) >= 0.005 || c.doubt >= 0.05)
    .sort((a, b) => Math.abs(b.amount) - Math.abs(a.amount) || b.doubt - a.doubt);
}

/** Of the sizes that the leading causes rest on, the one whose reading tells most; with what it would read either way. */
function separating(skeleton: Skeleton, links: readonly Link[], list: readonly Cause[]): Separating | undefined {
  const { model, book } = skeleton;
  const foremost = list
    .filter((c) => c.kind !== 'drawing')
    .slice(0, 2)
    .map((c) => `${c.kind} ${c.what}`);
  const rank = (l: Link): number => foremost.indexOf(`${l.kind} ${l.what}`);
  const unknown = list.find((c) => c.kind === 'not known' && foremost.includes(`${c.kind} ${c.what}`));
  if (unknown) return readTheUnread(skeleton, unknown);
  const candidates = links
    .filter((l) => l.c !== 0 && l.size.u > 0 && rank(l) >= 0 && book.entryOf(l.size.key))
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        Math.abs(b.c * b.size.u) - Math.abs(a.c * a.size.u) ||
        Math.abs(b.amount) - Math.abs(a.amount),
    );
  for (const { size } of candidates) {
    const entry = book.entryOf(size.key)!;
    const [instrument, u] = finest(model, entry.kind);
    const drawing = entry.nominal;
    if (u >= size.u || drawing === undefined) continue;
    const read = book.readingsOf(size.key).length > 0;
    const told =
      Math.abs(size.best - drawing) > 2 * u
        ? ` Near ${show(model, size.best)} it is to blame; near ${show(model, drawing)} it is not.`
        : '';
    return {
      size: size.key,
      instrument,
      sentence: `To tell them apart, measure the ${size.name}${read ? ' again' : ''} with a ${INSTRUMENTS[instrument] ?? instrument}.${told}`,
    };
  }
  return undefined;
}

/** The finest instrument for a kind, and its uncertainty. */
function finest(model: Model, kind: keyof typeof QUANTITIES): [string, number] {
  const own = model.instruments.filter((i) => i.u[kind] !== undefined).map((i) => i.id);
  const all = [...Object.keys(QUANTITIES[kind].u), ...own].map((i): [string, number] => [
    i,
    instrumentUncertainty(model, kind, i) ?? Number.POSITIVE_INFINITY,
  ]);
  return all.reduce((a, b) => (b[1] < a[1] ? b : a));
}

/** Where a nose was only read from the string, what was never read beside it: its bow first, for a string lies there already. */
function readTheUnread(skeleton: Skeleton, cause: Cause): Separating | undefined {
  const bay = skeleton.bays.find((b) => b.station.id === cause.station);
  if (!bay) return undefined;
  const rib = bay.nose ?? bay.tip;
  const keys = [bay.nose ? `front.bow@${bay.station.id}` : `webs@${bay.station.id}`, rib ? `${rib.id}.length` : ''];
  const key = keys.find((k) => skeleton.book.entryOf(k) && skeleton.book.readingsOf(k).length === 0);
  const entry = key === undefined ? undefined : skeleton.book.entryOf(key);
  if (!key || !entry) return undefined;
  const [instrument] = finest(skeleton.model, entry.kind);
  const off = show(skeleton.model, Math.abs(cause.amount));
  return {
    size: key,
    instrument,
    sentence: `To tell them apart, measure the ${entry.name} with a ${INSTRUMENTS[instrument] ?? instrument}. ${entry.kind === 'bow' ? `A bow of about ${off} puts it on the spar; none, on ${rib?.id}.` : entry.kind === 'webToWeb' ? `Off by ${off}, it is the room between the webs; as drawn, it is ${rib?.id}.` : `Off by ${off}, it is ${rib?.id}; as drawn, it is what lies beside it.`}`,
  };
}

/** The bow's part, which a straight spar hides: said where it changes what the eye sees. */
function bowNote(skeleton: Skeleton, { bay, mark, direct }: Nose, seen: number): string[] {
  const { model } = skeleton;
  const bow = best(departure(skeleton, 'front', 'bow', bay));
  if (direct || Math.abs(bow) < 0.15) return [];
  const bowed = seen + bow;
  const looks = Math.abs(bowed) < 0.005 ? 'right' : `${show(model, Math.abs(bowed))} ${side(bowed, PROUD)}`;
  return [
    `With the spar bowed ${show(model, Math.abs(bow))} ${bow > 0 ? 'forward' : 'aft'} there, ${mark} looks ${looks}: hold the spar straight before judging.`,
  ];
}

/** What clamping will do to a nose: a rib short between the webs pulls the spar aft, one too long props it forward. */
function chordNote(skeleton: Skeleton, { bay, mark }: Nose): string[] {
  const { model } = skeleton;
  if (!bay.main || !bay.nose || !model.spars.rear) return [];
  const k = best(chordGapChain(skeleton, bay, bay.main, 'straight'));
  const { fits } = limitFor(model, 'chord-gap');
  if (k >= (fits[0] ?? k) && k <= (fits[1] ?? k)) return [];
  return [
    `${bay.main.id} is ${show(model, Math.abs(k))} ${k < 0 ? 'long' : 'short'} between the webs: clamped, it takes the front spar, and ${mark} with it, up to that much ${k < 0 ? 'forward' : 'aft'}.`,
  ];
}

const PROUD = ['short', 'proud'] as const;

/** The first sentence of a ranked list: what makes most of it, and what takes away from that. */
function leading(model: Model, f: Finding, list: readonly Cause[], words: readonly [string, string]): string {
  const [first, ...rest] = list.filter((c) => Math.abs(c.amount) >= 0.005);
  if (!first) return 'Everything in it is as drawn.';
  const does = first.kind === 'drawing' || first.kind === 'chord' ? 'make' : 'makes';
  const against = rest.find((c) => c.amount * first.amount < 0 && Math.abs(c.amount) > 0.3 * Math.abs(first.amount));
  if (against)
    return `${capital(first.what)} ${does} it ${show(model, Math.abs(first.amount))} ${side(first.amount, words)}, and ${against.what} ${against.kind === 'chord' || against.kind === 'drawing' ? 'take' : 'takes'} ${show(model, Math.abs(against.amount))} of that away.`;
  const all = Math.abs(first.amount - f.value) < 0.02;
  return `${capital(first.what)} ${does} ${all ? 'all of it' : `${show(model, Math.abs(first.amount))} of the ${show(model, Math.abs(f.value))}`}.`;
}

/** A nose that seems right, or better than it is, because another one is wrong the same way; undefined where that is not so. */
function hidden(
  model: Model,
  f: Finding,
  nose: Nose,
  others: readonly { readonly nose: Nose; readonly amount: number }[],
): string | undefined {
  const own = fromNominal(nose);
  const quiet = limitFor(model, 'nose-kink').fits[1] ?? 0.5;
  const worst = others.reduce((a, b) => (Math.abs(b.amount) > Math.abs(a.amount) ? b : a));
  if (Math.abs(own) <= quiet || Math.abs(f.value) >= 0.5 * Math.abs(own) || worst.amount * own >= 0) return undefined;
  const without = f.value - worst.amount;
  const [a, b] = f.limits.fits;
  const good = (a === null || f.value >= a) && (b === null || f.value <= b) ? 'good' : 'better than it is';
  return `${nose.mark} looks ${good} because ${worst.nose.mark} is wrong: ${nose.mark} stands ${standing(model, own)} and ${worst.nose.mark} ${standing(model, fromNominal(worst.nose))}. Put ${worst.nose.mark} right and ${nose.mark} is ${show(model, Math.abs(without))} ${side(without, PROUD)}.`;
}

function kinkCauses(skeleton: Skeleton, f: Finding): Causes | undefined {
  const { model } = skeleton;
  const noses = nosesOf(skeleton, 'straight');
  const i = noses.findIndex((n) => n.bay.station.id === f.station);
  const [nose, a, b] = [noses[i], noses[i - 1], noses[i + 1]];
  if (!nose || !a || !b) return undefined;
  const t = (nose.bay.station.y - a.bay.station.y) / (b.bay.station.y - a.bay.station.y);
  const links = [
    ...noseLinks(skeleton, nose, 1),
    ...asNeighbour(skeleton, a, -(1 - t)),
    ...asNeighbour(skeleton, b, -t),
  ];
  const list = gather(model, f, links, (v) => side(v, PROUD));
  const own = fromNominal(nose);
  const notes = [...bowNote(skeleton, nose, own), ...chordNote(skeleton, nose)];
  const source = noses.find((n) => n.bay.station.id === f.echoOf);
  if (source) {
    const part = (source === a ? -(1 - t) : -t) * fromNominal(source);
    return {
      list,
      notes,
      check: undefined,
      sentence: `${nose.mark} only echoes ${source.mark}: ${nose.mark} itself stands ${standing(model, own)}; ${source.mark}, ${standing(model, fromNominal(source))}, makes it ${show(model, Math.abs(part))} ${side(part, PROUD)}. Never cure an echo: put ${source.mark} right.`,
    };
  }
  const masked = hidden(model, f, nose, [
    { nose: a, amount: -(1 - t) * fromNominal(a) },
    { nose: b, amount: -t * fromNominal(b) },
  ]);
  return {
    list,
    notes,
    check: toTell(skeleton, f, links, list, masked),
    sentence: masked ?? leading(model, f, list, PROUD),
  };
}

/** A neighbour's whole departure as one cause of a kink: put right there or not at all. */
function asNeighbour(skeleton: Skeleton, nose: Nose, factor: number): Link[] {
  const v = fromNominal(nose);
  const what = `the neighbour ${nose.mark}${Math.abs(v) < 0.005 ? '' : `, ${standing(skeleton.model, v)},`}`;
  return noseLinks(skeleton, nose, factor).map((l): Link => ({ ...l, kind: 'neighbour', what }));
}

const standing = (model: Model, v: number): string =>
  Math.abs(v) < 0.005 ? 'as drawn' : `${show(model, Math.abs(v))} ${side(v, PROUD)} of its drawing`;

/** The separating reading, where there is a question left. */
function toTell(
  skeleton: Skeleton,
  f: Finding,
  links: readonly Link[],
  list: readonly Cause[],
  masked?: string,
): Separating | undefined {
  return f.verdict === 'fits' && masked === undefined ? undefined : separating(skeleton, links, list);
}

function lineCauses(skeleton: Skeleton, f: Finding): Causes | undefined {
  const { model } = skeleton;
  const noses = nosesOf(skeleton, 'straight');
  const nose = noses.find((n) => n.bay.station.id === f.station);
  const [first, last] = [noses[0], noses.at(-1)];
  if (!nose || !first || !last) return undefined;
  if (nose === first || nose === last) {
    const links = noseLinks(skeleton, nose, 1);
    const list = gather(model, f, links, (v) => side(v, PROUD));
    return { list, notes: [], check: toTell(skeleton, f, links, list), sentence: leading(model, f, list, PROUD) };
  }
  const t = (nose.bay.station.y - first.bay.station.y) / (last.bay.station.y - first.bay.station.y);
  const links = [
    ...noseLinks(skeleton, nose, 1),
    ...noseLinks(skeleton, first, -(1 - t)),
    ...noseLinks(skeleton, last, -t),
  ];
  const list = gather(model, f, links, (v) => side(v, PROUD));
  const masked = hidden(model, f, nose, [
    { nose: first, amount: -(1 - t) * fromNominal(first) },
    { nose: last, amount: -t * fromNominal(last) },
  ]);
  const notes = [...bowNote(skeleton, nose, fromNominal(nose)), ...chordNote(skeleton, nose)];
  return {
    list,
    notes,
    check: toTell(skeleton, f, links, list, masked),
    sentence: masked ?? leading(model, f, list, PROUD),
  };
}

const LOOSE = ['tight', 'loose'] as const;

function chordCauses(skeleton: Skeleton, f: Finding): Causes | undefined {
  const { model } = skeleton;
  const bay = skeleton.bays.find((b) => b.station.id === f.station);
  const main = bay?.main;
  if (!bay || !main) return undefined;
  const k: Chain = chordGapChain(skeleton, bay, main, 'straight');
  const added = new Set(model.doublers.filter((d) => d.part === main.id && !d.designed).map((d) => `sheet.${d.sheet}`));
  const links = k.map(({ size, c }): Link => {
    const at = { station: bay.station.id, size, c };
    if (kindOf(skeleton, size) === 'webToWeb')
      return { ...at, kind: 'chord', what: `the webs at ${bay.station.id}`, amount: c * offDrawing(skeleton, size) };
    if (kindOf(skeleton, size) === 'thickness') {
      const cures = model.doublers.filter(
        (d) =>
          d.part === main.id &&
          !d.designed &&
          `sheet.${d.sheet}` === size.key &&
          (d.form === 'channel' || d.on === 'web'),
      );
      if (added.has(size.key) && cures.length > 0)
        return {
          ...at,
          kind: 'packer',
          what: `the added ${cures.map((d) => d.id).join(', ')}`,
          amount: -cures.length * size.best,
        };
      return {
        ...at,
        kind: 'sheet',
        what: `the ${size.name}`,
        amount: c * offDrawing(skeleton, size),
      };
    }
    return { ...at, kind: 'main rib', what: `${main.id} itself`, amount: c * offDrawing(skeleton, size) };
  });
  const all = [...links, ...drawn(links, best(k), bay.station.id)];
  const list = gather(model, f, all, (v) => side(v, LOOSE));
  const bow = best(
    combine([1, departure(skeleton, 'front', 'bow', bay)], [1, departure(skeleton, 'rear', 'bow', bay)]),
  );
  const notes =
    Math.abs(bow) < 0.15
      ? []
      : [
          `The spars’ bow ${side(bow, ['takes', 'adds'])} ${show(model, Math.abs(bow))} of room while they lie as they are; held straight it goes.`,
        ];
  return { list, notes, check: toTell(skeleton, f, all, list), sentence: leading(model, f, list, LOOSE) };
}

/** What makes a nose or a chord gap what it is, ranked, with the reading that tells the first two apart; undefined for other checks. */
export function causesOf(model: Model, f: Finding): Causes | undefined {
  const skeleton = skeletonOf(model);
  if (f.check === 'nose-kink') return kinkCauses(skeleton, f);
  if (f.check === 'nose-line') return lineCauses(skeleton, f);
  if (f.check === 'chord-gap') return chordCauses(skeleton, f);
  return undefined;
}
