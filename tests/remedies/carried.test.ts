import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Model } from '../../src/model/schema.ts';
import { rebendEnd, rebendTail, remake } from '../../src/remedies/offers/forming.ts';
import { channelDoubler, flatOnWeb, shim } from '../../src/remedies/offers/pieces.ts';
import { swap } from '../../src/remedies/offers/placing.ts';
import type { Remedy } from '../../src/remedies/remedy.ts';
import { changed, finding, frozen, mainRib, noseRib, panel } from '../model/panels.ts';

/*
 * A gap that was felt and a nose read from the string move with the parts, by the table of remedies (what each moves, by
 * geometry); they go where the part itself is another.
 */

const A = frozen(
  changed(panel('narrow-tail'), (m) => {
    m.stand = 'clamped';
    m.readings.push(
      { size: 'chord.M4', value: 0.12, instrument: 'feeler' },
      { size: 'gap.M4.front', value: 0.05, instrument: 'feeler' },
      { size: 'nose@S4', value: 120.1, instrument: 'string' },
    );
  }),
);
const M4 = mainRib(A, 'M4');
const N4 = noseRib(A, 'N4');
const read = (m: Model, size: string): number | undefined => m.readings.find((r) => r.size === size)?.value;
const after = (r: Remedy): Model => r.edit.apply(A);

describe('readings taken directly', () => {
  it.each<[string, Remedy, Record<string, number>]>([
    [
      'a channel doubler takes twice its sheet from the felt cap gap and once from the felt end gap',
      channelDoubler({ rib: M4, end: 'front', sheet: 's025' }),
      { 'gap.M4.front': 0.05 - 1.27, 'chord.M4': 0.12 - 0.635 },
    ],
    [
      'a shim takes its thickness from the felt cap gap alone',
      shim({ rib: M4, end: 'front', sheet: 's020' }, 'top'),
      { 'gap.M4.front': 0.05 - 0.508 },
    ],
    ['an end flange re-bent by 0.2 opens the felt end gap by 0.2', rebendEnd(A, M4, 'rear', 0.2), { 'chord.M4': 0.32 }],
    [
      'a packer brings the string reading out by its thickness',
      flatOnWeb({ rib: N4, end: 'tail', sheet: 's032' }),
      { 'nose@S4': 120.1 + 0.8128 },
    ],
    ['a re-bent tail draws the string reading in', rebendTail(A, N4, 0.6), { 'nose@S4': 119.5 }],
  ])('%s', (_, remedy, expected) => {
    const m = after(remedy);
    for (const size of ['gap.M4.front', 'chord.M4', 'nose@S4'])
      expect(read(m, size), size).toBeCloseTo(expected[size] ?? read(A, size)!, 9);
  });

  it('the finding follows, and no disagreement comes up', () => {
    const m = after(rebendEnd(A, M4, 'rear', 0.2));
    expect(finding(m, 'chord-gap', 'M4').value - finding(A, 'chord-gap', 'M4').value).toBeCloseTo(0.2, 6);
    expect(
      checkAll(m)
        .filter((f) => f.check === 'disagreement')
        .map((f) => f.value),
    ).toEqual(
      checkAll(A)
        .filter((f) => f.check === 'disagreement')
        .map((f) => f.value),
    );
  });

  it('a part made again takes its felt gaps and its string reading with it, no other', () => {
    expect(['gap.M4.front', 'chord.M4', 'nose@S4'].map((k) => read(after(remake(A, M4)), k))).toEqual([
      undefined,
      undefined,
      120.1,
    ]);
    expect(['gap.M4.front', 'chord.M4', 'nose@S4'].map((k) => read(after(remake(A, N4)), k))).toEqual([
      0.05,
      0.12,
      undefined,
    ]);
  });

  it('exchanged nose ribs exchange what the string read them off', () => {
    const B = panel('washed-out-wing');
    const m = swap(B, noseRib(B, 'N3'), noseRib(B, 'N8')).edit.apply(B);
    const off = (x: Model, s: string): number => read(x, `nose@${s}`)! - x.stations.find((p) => p.id === s)!.nose;
    expect(off(m, 'W3')).toBeCloseTo(-2.6, 9);
    expect(off(m, 'W8')).toBeCloseTo(-0.1, 9);
  });
});
