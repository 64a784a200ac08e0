import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Model } from '../../src/model/schema.ts';
import { channelDoubler } from '../../src/remedies/offers/channel.ts';
import { joggleDeeper } from '../../src/remedies/offers/joggle.ts';
import { packer } from '../../src/remedies/offers/packer.ts';
import { remake } from '../../src/remedies/offers/remake.ts';
import { shim } from '../../src/remedies/offers/shim.ts';
import { shorter } from '../../src/remedies/offers/shorter.ts';
import { swap } from '../../src/remedies/offers/swap.ts';
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
const taken = (r: Remedy): Model => r.edit.apply(A);

describe('readings taken directly', () => {
  it.each<[string, Remedy, Record<string, number>]>([
    [
      'a channel doubler takes twice its sheet from the felt cap gap and once from the felt end gap',
      channelDoubler(A, { rib: M4, end: 'front', sheet: 's025' }),
      { 'gap.M4.front': 0.05 - 1.27, 'chord.M4': 0.12 - 0.635 },
    ],
    [
      'a shim takes its thickness from the felt cap gap alone',
      shim(A, { rib: M4, end: 'front', thickness: 0.508 }, 'top'),
      { 'gap.M4.front': 0.05 - 0.508 },
    ],
    [
      'a packer on the rear web takes its thickness from the felt end gap alone',
      packer(A, { rib: M4, end: 'rear', sheet: 's020' }),
      { 'chord.M4': 0.12 - 0.508 },
    ],
    [
      'a joggle 0.15 deeper each side opens the felt cap gap by 0.3',
      joggleDeeper(A, M4, 'front', 0.15),
      { 'gap.M4.front': 0.35 },
    ],
    [
      'a packer brings the string reading out by its thickness',
      packer(A, { rib: N4, end: 'tail', sheet: 's032' }),
      { 'nose@S4': 120.1 + 0.8128 },
    ],
  ])('%s', (_, remedy, expected) => {
    const m = taken(remedy);
    for (const size of ['gap.M4.front', 'chord.M4', 'nose@S4'])
      expect(read(m, size), size).toBeCloseTo(expected[size] ?? read(A, size)!, 9);
  });

  it('the finding follows, and no disagreement comes up', () => {
    const m = taken(joggleDeeper(A, M4, 'front', 0.1));
    expect(finding(m, 'cap-gap', 'M4 front').value - finding(A, 'cap-gap', 'M4 front').value).toBeCloseTo(0.2, 6);
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
    expect(['gap.M4.front', 'chord.M4', 'nose@S4'].map((k) => read(taken(remake(M4)), k))).toEqual([
      undefined,
      undefined,
      120.1,
    ]);
    expect(['gap.M4.front', 'chord.M4', 'nose@S4'].map((k) => read(taken(remake(N4)), k))).toEqual([
      0.05,
      0.12,
      undefined,
    ]);
  });

  it('so does one made again shorter, which comes as long as it was less that', () => {
    const nose = taken(shorter(A, N4, 0.6));
    expect([read(nose, 'nose@S4'), read(nose, 'N4.length')]).toEqual([undefined, undefined]);
    // N4 was read at 120.20.
    expect(noseRib(nose, 'N4').length).toBeCloseTo(119.6, 9);
    const main = taken(shorter(A, M4, 0.4));
    expect([read(main, 'chord.M4'), read(main, 'gap.M4.front')]).toEqual([undefined, undefined]);
    // M4 was read at 262.45; its height, relief and all else are as drawn.
    expect(mainRib(main, 'M4')).toEqual({ ...M4, length: expect.closeTo(262.05, 9) });
  });

  it('exchanged nose ribs exchange what the string read them off', () => {
    const B = panel('washed-out-wing');
    const m = swap(B, noseRib(B, 'N3'), noseRib(B, 'N8')).edit.apply(B);
    const off = (x: Model, s: string): number => read(x, `nose@${s}`)! - x.stations.find((p) => p.id === s)!.nose;
    expect(off(m, 'W3')).toBeCloseTo(-2.6, 9);
    expect(off(m, 'W8')).toBeCloseTo(-0.1, 9);
  });
});
