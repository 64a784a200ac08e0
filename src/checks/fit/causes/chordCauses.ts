import { best, combine, type Term } from '../../../chains/chain.ts';
import type { MainRib } from '../../../model/schema.ts';
import type { Bay, Skeleton } from '../../../parts/layout/layout.ts';
import { chordGapChain, departure } from '../../../parts/layout/meeting.ts';
import { show } from '../../describe.ts';
import type { Finding } from '../../finding.ts';
import { SLIGHT_BOW } from '../../slack.ts';
import { type Explanation, kindOf, type Link, LOOSE, leftByDrawings, offDrawing, side } from './cause.ts';
import { gather, leading } from './gather.ts';
import { toTell } from './separating.ts';

/** Why a main rib is loose or tight between the webs: the webs, the rib, its sheets, and what was added behind it. */
export function chordCauses(skeleton: Skeleton, f: Finding): Explanation | undefined {
  const { model } = skeleton;
  const bay = skeleton.bays.find((b) => b.station.id === f.station);
  const main = bay?.main;
  if (!bay || !main) return undefined;
  const gap = chordGapChain(skeleton, bay, main, 'straight');
  const own = gap.map((term) => chordLink(skeleton, bay, main, term));
  const links = [...own, ...leftByDrawings(own, best(gap), bay.station.id)];
  const list = gather(model, f, links, LOOSE);
  return {
    list,
    notes: bowNote(skeleton, bay),
    check: toTell(skeleton, f, links, list),
    sentence: leading(model, f, list, LOOSE),
  };
}

function chordLink(skeleton: Skeleton, bay: Bay, main: MainRib, { size, c }: Term): Link {
  const at = { station: bay.station.id, size, c };
  const off = c * offDrawing(skeleton, size);
  const kind = kindOf(skeleton, size);
  if (kind === 'webToWeb') return { ...at, kind: 'chord', what: `the webs at ${bay.station.id}`, amount: off };
  if (kind !== 'thickness') return { ...at, kind: 'main rib', what: `${main.id} itself`, amount: off };
  const added = addedOf(skeleton, main, size.key);
  if (added.length === 0) return { ...at, kind: 'sheet', what: `the ${size.name}`, amount: off };
  return { ...at, kind: 'packer', what: `the added ${added.join(', ')}`, amount: -added.length * size.best };
}

/** The pieces of one sheet that no drawing put between a rib and the webs. */
function addedOf({ model }: Skeleton, main: MainRib, sheet: string): string[] {
  return model.doublers
    .filter((d) => d.part === main.id && !d.designed && `sheet.${d.sheet}` === sheet)
    .filter((d) => d.form === 'channel' || d.on === 'web')
    .map((d) => d.id);
}

/** What the spars' bow does to the room as they lie. */
function bowNote(skeleton: Skeleton, bay: Bay): string[] {
  const front = departure(skeleton, 'front', 'bow', bay);
  const rear = departure(skeleton, 'rear', 'bow', bay);
  const bow = best(combine([1, front], [1, rear]));
  if (Math.abs(bow) < SLIGHT_BOW) return [];
  const does = side(bow, ['takes', 'adds']);
  const much = show(skeleton.model, Math.abs(bow));
  return [`The spars’ bow ${does} ${much} of room while they lie as they are; held straight it goes.`];
}
