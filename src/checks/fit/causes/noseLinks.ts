import { best, type Term } from '../../../chains/chain.ts';
import type { NoseRib, TipRib } from '../../../model/schema.ts';
import type { Skeleton } from '../../../parts/layout/layout.ts';
import { departure } from '../../../parts/layout/meeting.ts';
import { fromNominal, type Nose } from '../noseLine.ts';
import { type CauseKind, kindOf, type Link, leftByDrawings, offDrawing, sumOf } from './cause.ts';

/*
 * What a nose's departure from its drawing is made of: its rib, the sheets behind it, the webs a tip stands between;
 * where it was read from the string, the bow and the rib as far as they were read, and what neither explains.
 */

/**
 * The links of a nose, times `factor`: the share with which it enters the finding. They add up to factor × its
 * departure.
 */
export function noseLinks(skeleton: Skeleton, nose: Nose, factor: number): Link[] {
  if (nose.direct) return directLinks(skeleton, nose, factor);
  const links = nose.protrusion.map((term) => ownLink(skeleton, nose, term, factor));
  return [...links, ...leftByDrawings(links, fromNominal(nose) * factor, nose.bay.station.id)];
}

const ribOf = ({ bay }: Nose): NoseRib | TipRib | undefined => bay.nose ?? bay.tip;
const ribKind = ({ bay }: Nose): CauseKind => (bay.nose ? 'nose rib' : 'tip rib');

function ownLink(skeleton: Skeleton, nose: Nose, { size, c }: Term, factor: number): Link {
  const station = nose.bay.station.id;
  const name = ribOf(nose)?.id ?? station;
  const at = { station, size, c: c * factor };
  const off = c * factor * offDrawing(skeleton, size);
  switch (kindOf(skeleton, size)) {
    case 'webToWeb':
      return { ...at, kind: 'chord', what: `the webs at ${station}`, amount: off };
    case 'thickness':
      return { ...at, kind: 'packer', what: `what lies behind ${name}`, amount: c * factor * size.best };
    default:
      return { ...at, kind: ribKind(nose), what: `${name} itself`, amount: off };
  }
}

/** A nose read from the string line: the bow and the rib's length where they were read, and what neither explains. */
function directLinks(skeleton: Skeleton, nose: Nose, factor: number): Link[] {
  const { bay } = nose;
  const station = bay.station.id;
  const bow = departure(skeleton, 'front', 'bow', bay);
  const [bowRead] = bow;
  const rib = ribOf(nose);
  const length = rib && skeleton.book.find(`${rib.id}.length`);
  const ribRead = length?.origin === 'measured';
  const links: Link[] = [];
  if (bowRead && bay.nose)
    links.push({
      kind: 'spar bow',
      what: `the front spar’s bow at ${station}`,
      station,
      size: bowRead.size,
      c: 0,
      amount: factor * best(bow),
    });
  if (rib && ribRead)
    links.push({
      kind: ribKind(nose),
      what: `${rib.id} itself`,
      station,
      size: length,
      c: 0,
      amount: factor * offDrawing(skeleton, length),
    });
  const unread: string[] = [];
  if (rib && !ribRead) unread.push(rib.id);
  if (!bowRead) unread.push(bay.nose ? `the spar’s bow at ${station}` : `the webs at ${station}`);
  const what = unexplained(unread, station);
  const left = factor * fromNominal(nose) - sumOf(links);
  const unknown = nose.protrusion.map(
    ({ size }): Link => ({ kind: 'not known', what, station, size, c: factor, amount: left }),
  );
  return [...links, ...unknown];
}

function unexplained(unread: readonly string[], station: string): string {
  if (unread.length > 1) return `${unread.join(' or ')} (neither was read)`;
  const [one] = unread;
  return one === undefined ? `what neither the spar’s bow nor the rib explains at ${station}` : `${one} (not read)`;
}
