import { describe, expect, test } from 'vitest';
import { nextReadings } from '../../src/chance/nextReading.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { tonight as holding } from '../../src/drilling/hold.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { packRemedy } from '../../src/remedies/offers/packing.ts';
import { type TonightList, tonightOf } from '../../src/tonight/tonight.ts';
import { COUNTS } from '../counts.ts';
import { panel } from '../model/panels.ts';
import { randomPanel } from '../random-panel.ts';

/* Everyone who advises is asked, and the list says nothing else: the gates, what to read next, the packs, the drill question. */

const panels: readonly (readonly [string, Model])[] = [
  ['narrow tail', panel('narrow-tail')],
  ['washed-out wing', panel('washed-out-wing')],
  ...Array.from({ length: Math.ceil(COUNTS.panels / 3) }, (_, i) => [`random ${i + 1}`, randomPanel(i + 1)] as const),
];

const madeOf = ({ acts }: TonightList): ReadonlySet<string | undefined> =>
  new Set(acts.filter((a) => a.kind === 'make' || a.kind === 'bend').flatMap((a) => a.parts));
const readOf = ({ acts }: TonightList): ReadonlySet<string> => new Set(acts.flatMap((a) => a.reads.map((r) => r.size)));

describe.each(panels)('on %s', (_, model) => {
  const list = tonightOf(model);
  const { entries } = skeletonOf(model).book;

  test('what a gate says no to is answered by an act, or muted behind its cause', () => {
    const settled = new Set(list.acts.flatMap((a) => a.settles));
    const nos = gatesOf(model)
      .flatMap((g) => g.items)
      .flatMap((i) => (i.answer === 'no' && i.finding ? [i.finding.id] : []));
    for (const id of nos) expect(settled.has(id) || list.muted.has(id), id).toBe(true);
  });

  test('what the present gates want read is read by some act', () => {
    const [pilots, final] = gatesOf(model);
    const read = readOf(list);
    const wants = [pilots, final]
      .filter((g) => g.rows.of > 0)
      .flatMap((g) => g.items.flatMap((i) => i.asks))
      .filter((w) => w.tick === undefined && w.keys.some((k) => entries.has(k)));
    for (const w of wants)
      expect(
        w.keys.some((k) => read.has(k)),
        w.name,
      ).toBe(true);
  });

  test('the reading that is best next is in the list, unless it is of what is made anew', () => {
    const [next] = nextReadings(model).list;
    if (!next || next.settles.length === 0) return;
    const made = madeOf(list);
    const isOfMade = made.has(entries.get(next.size)?.of.part);
    const isBehind = next.settles.every((id) => list.muted.has(id) || list.acts.some((a) => a.settles.includes(id)));
    expect(readOf(list).has(next.size) || isOfMade || isBehind, next.size).toBe(true);
  });

  test('the packs are those that True puts in', () => {
    const pack = list.acts.find((a) => a.key === 'pack');
    if (pack) expect(pack.remedies.map((r) => r.id)).toEqual(packRemedy(model).map((r) => r.id));
  });

  test('it may be drilled where the drill question says so, and nowhere else', () => {
    const answers = askHoles(skeletonOf(model));
    expect(list.drill.yes).toBe(holding(answers).drill.length > 0);
    expect(list.drill.why.startsWith(holding(answers).headline)).toBe(true);
  });
});
