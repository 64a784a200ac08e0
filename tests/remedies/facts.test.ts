import { describe, expect, test } from 'vitest';
import { openKernel } from '../../src/geometry/kernel.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { changedFacts } from '../../src/remedies/facts.ts';
import { channelDoubler } from '../../src/remedies/offers/channel.ts';
import { joggleDeeper } from '../../src/remedies/offers/joggle.ts';
import { moveStation } from '../../src/remedies/offers/move.ts';
import { packer } from '../../src/remedies/offers/packer.ts';
import { resheet } from '../../src/remedies/offers/resheet.ts';
import { shorter } from '../../src/remedies/offers/shorter.ts';
import { touchedParts } from '../../src/remedies/touched.ts';
import { massOf } from '../../src/solidChecks/mass.ts';
import { frozen, mainRib, noseRib, panel } from '../model/panels.ts';

const A = frozen(panel('narrow-tail'));
const kernel = await openKernel();

describe('mass added', () => {
  test.each([
    ['a flat packer', packer(A, { rib: mainRib(A, 'M6'), end: 'rear', sheet: 's032' })],
    ['a channel doubler', channelDoubler(A, { rib: mainRib(A, 'M4'), end: 'rear', sheet: 's025' })],
    ['a doubler of thicker sheet', resheet(A, A.doublers.find((d) => d.id === 'D5')!, 's032')],
  ])('%s: as the solids weigh it, within the holes and chords left out', (_, remedy) => {
    // The slow and obvious twin: build every part of both panels and weigh them; rivets grow with the stack and are left out.
    const after = remedy.edit.apply(A);
    const weigh = (m: typeof A): number =>
      massOf(skeletonOf(m), kernel)
        .rows.filter((r) => r.kind === 'doubler')
        .reduce((sum, r) => sum + r.mass, 0);
    const built = weigh(after) - weigh(A);
    expect(changedFacts(A, after).grams / built).toBeGreaterThan(0.95);
    expect(changedFacts(A, after).grams / built).toBeLessThan(1.08);
  });

  test('it sits where the rib stands: grams times the metres from the middle of a panel for both hands', () => {
    const after = packer(A, { rib: mainRib(A, 'M6'), end: 'rear', sheet: 's032' }).edit.apply(A);
    const { grams, outboard } = changedFacts(A, after);
    expect(outboard / grams).toBeCloseTo(0.418, 9);
  });
});

test('panel A item 8: N4’s packer makes its stack 0.139 in, out of one grip range into the next', () => {
  const after = packer(A, { rib: noseRib(A, 'N4'), end: 'tail', sheet: 's032' }).edit.apply(A);
  const { stacks } = changedFacts(A, after);
  expect(stacks).toHaveLength(1);
  expect(stacks[0]).toMatchObject({ joint: 'F4', station: 'S4', layers: [4, 5], other: true });
  expect(stacks[0]!.grip.map((g) => (g / 25.4).toFixed(3))).toEqual(['0.107', '0.139']);
  expect(stacks[0]!.take).toContain('0.126 to 0.187 in');
});

describe('parts touched', () => {
  const touched = (remedy: { readonly edit: { readonly apply: (m: typeof A) => typeof A } }): string[] =>
    [...touchedParts(A, remedy.edit.apply(A))].sort();
  test('a packer is there, and nothing else is touched', () =>
    expect(touched(packer(A, { rib: noseRib(A, 'N4'), end: 'tail', sheet: 's032' }))).toEqual(['P4']));
  test('a nose rib made again shorter touches itself', () =>
    expect(touched(shorter(A, noseRib(A, 'N7'), 0.6))).toEqual(['N7']));
  test('a joggle pressed deeper touches its rib, by its reading', () =>
    expect(touched(joggleDeeper(A, mainRib(A, 'M2'), 'front', 0.2))).toEqual(['M2']));
  test('a station moved touches what stands there', () =>
    expect(touched(moveStation(A, 'S6', 20))).toEqual(expect.arrayContaining(['D6', 'M6', 'N6'])));
  test('nothing done touches nothing', () => expect(touched({ edit: { apply: (m) => m } })).toEqual([]));
});
