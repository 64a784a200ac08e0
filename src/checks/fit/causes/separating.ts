import { INSTRUMENTS, QUANTITIES } from '../../../model/quantities.ts';
import type { Model } from '../../../model/schema.ts';
import type { SizeEntry } from '../../../model/sizeEntries.ts';
import { instrumentUncertainty } from '../../../model/sizes.ts';
import type { Skeleton } from '../../../parts/layout/layout.ts';
import { show } from '../../describe.ts';
import type { Finding } from '../../finding.ts';
import { type Cause, type Link, nameOf, type Separating } from './cause.ts';

/** The separating reading, where there is a question left: the finding does not fit, or only seems to. */
export function toTell(
  skeleton: Skeleton,
  f: Finding,
  links: readonly Link[],
  list: readonly Cause[],
  masked?: string,
): Separating | undefined {
  return f.verdict === 'fits' && masked === undefined ? undefined : separating(skeleton, links, list);
}

/**
 * Of the sizes that the leading causes rest on, the one whose reading tells most; with what it would read either way.
 */
function separating(skeleton: Skeleton, links: readonly Link[], list: readonly Cause[]): Separating | undefined {
  const foremost = list.filter((c) => c.kind !== 'drawing').slice(0, 2);
  const unknown = foremost.find((c) => c.kind === 'not known');
  if (unknown) return readTheUnread(skeleton, unknown);
  for (const { size } of byWhatTheyTell(links, foremost.map(nameOf))) {
    const entry = skeleton.book.entryOf(size.key);
    const told = entry && readItself(skeleton, entry, size);
    if (told) return told;
  }
  return undefined;
}

/** The uncertain links of the leading causes: the first cause's first, then those that carry most doubt. */
function byWhatTheyTell(links: readonly Link[], foremost: readonly string[]): Link[] {
  const rank = (l: Link): number => foremost.indexOf(nameOf(l));
  return links
    .filter((l) => l.c !== 0 && l.size.u > 0 && rank(l) >= 0)
    .sort(
      (a, b) =>
        rank(a) - rank(b) ||
        Math.abs(b.c * b.size.u) - Math.abs(a.c * a.size.u) ||
        Math.abs(b.amount) - Math.abs(a.amount),
    );
}

/** To read one size itself; undefined where no instrument on hand betters what is known, or no drawing gives it. */
function readItself({ model, book }: Skeleton, entry: SizeEntry, size: Link['size']): Separating | undefined {
  const [instrument, u] = finest(model, entry.kind);
  const drawing = entry.nominal;
  if (u >= size.u || drawing === undefined) return undefined;
  const again = book.readingsOf(size.key).length > 0 ? ' again' : '';
  const told =
    Math.abs(size.best - drawing) > 2 * u
      ? ` Near ${show(model, size.best)} it is to blame; near ${show(model, drawing)} it is not.`
      : '';
  return {
    size: size.key,
    instrument,
    sentence: `To tell them apart, measure the ${size.name}${again} with a ${nameOfInstrument(instrument)}.${told}`,
  };
}

const nameOfInstrument = (id: string): string => INSTRUMENTS[id] ?? id;

/** The finest instrument for a kind, and its uncertainty. */
function finest(model: Model, kind: keyof typeof QUANTITIES): [string, number] {
  const own = model.instruments.filter((i) => i.u[kind] !== undefined).map((i) => i.id);
  const all = [...Object.keys(QUANTITIES[kind].u), ...own].map((i): [string, number] => [
    i,
    instrumentUncertainty(model, kind, i) ?? Number.POSITIVE_INFINITY,
  ]);
  return all.reduce((a, b) => (b[1] < a[1] ? b : a));
}

/**
 * Where a nose was only read from the string, what was never read beside it: its bow first, for a string lies there
 * already.
 */
function readTheUnread(skeleton: Skeleton, cause: Cause): Separating | undefined {
  const bay = skeleton.bays.find((b) => b.station.id === cause.station);
  if (!bay) return undefined;
  const rib = bay.nose ?? bay.tip;
  const keys = [bay.nose ? `front.bow@${bay.station.id}` : `webs@${bay.station.id}`, rib ? `${rib.id}.length` : ''];
  const key = keys.find((k) => skeleton.book.entryOf(k) && skeleton.book.readingsOf(k).length === 0);
  const entry = key === undefined ? undefined : skeleton.book.entryOf(key);
  if (!entry) return undefined;
  const [instrument] = finest(skeleton.model, entry.kind);
  const off = show(skeleton.model, Math.abs(cause.amount));
  const meaning = whatItMeans(entry.kind, off, `${rib?.id}`);
  return {
    size: entry.key,
    instrument,
    sentence: `To tell them apart, measure the ${entry.name} with a ${nameOfInstrument(instrument)}. ${meaning}`,
  };
}

/** What the reading will say of the one cause and of the other. */
function whatItMeans(kind: SizeEntry['kind'], off: string, rib: string): string {
  if (kind === 'bow') return `A bow of about ${off} puts it on the spar; none, on ${rib}.`;
  if (kind === 'webToWeb') return `Off by ${off}, it is the room between the webs; as drawn, it is ${rib}.`;
  return `Off by ${off}, it is ${rib}; as drawn, it is what lies beside it.`;
}
