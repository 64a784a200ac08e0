import { describe, expect, test } from 'vitest';
import { best } from '../../../src/chains/chain.ts';
import { checkAll } from '../../../src/checks/checkAll.ts';
import type { Model } from '../../../src/model/schema.ts';
import { capGapChain } from '../../../src/parts/layout/meeting.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { askMove, type MoveAsk } from '../../../src/remedies/offers/moveAsked.ts';
import { levelOf, reachOf } from '../../../src/remedies/reach.ts';
import { heightWanted, lengthWanted } from '../../../src/remedies/wantedThere.ts';
import { changed, finding, frozen, mainRib, panel } from '../../model/panels.ts';

/* Panel B: the taper is linear from W1 to W9, so every answer is a straight line by hand. Its cap strip ends at 1375, under W5 at 1340 (F1). */

const B = frozen(panel('washed-out-wing'));
const moved = (id: string, s: number, model: Model = B) => {
  const answer = askMove(model, id, s);
  if (!answer.ok) throw new Error(answer.faults.map((f) => f.sentence).join(' '));
  return answer;
};
const ask = (asks: readonly MoveAsk[], what: string): MoveAsk | undefined => asks.find((a) => a.what === what);
const gap = (m: Model): number =>
  best(capGapChain(skeletonOf(m), skeletonOf(m).places.find((p) => p.key === 'M5.front')!));

describe('W5 moved 45 mm outboard, to clear the strip end', () => {
  const answer = moved('W5', 45);

  test('M5 comes clear of the strip: its gap gains two strips of 0.063 in, less the taper', () => {
    const perMm = (137.21 - 143) / (1670 - 1340);
    expect(gap(answer.model) - gap(B)).toBeCloseTo(2 * 0.063 * 25.4 + 45 * perMm, 6);
    expect(ask(answer.asks, 'front cap strip')).toMatchObject({
      before: '35.00 mm inside its end',
      after: '10.00 mm clear of its end',
    });
    expect(ask(answer.asks, 'front cap strip')!.sentence).toBe(
      'It comes clear of the front spar’s cap strip, which ends at 1375.00 mm.',
    );
  });

  test('chord, nose, depth and washout follow the taper', () => {
    const line = (a: number, b: number): number => a + (45 * (b - a)) / 330;
    expect(ask(answer.asks, 'web to web')!.after).toBe(`${line(551, 530.6).toFixed(2)} mm`);
    // Drawn 0.10 short of the room less the front spar's 1.27: 546.85 there, and M5 was never read off its drawing.
    const length = line(551, 530.6) - 1.27 - 0.1;
    expect(ask(answer.asks, 'web to web')!.sentence).toBe(
      `There M5 wants ${length.toFixed(2)} mm of length: ${(551 - line(551, 530.6)).toFixed(2)} mm shorter than it is.`,
    );
    expect(ask(answer.asks, 'nose before the front web')!.after).toBe(`${line(199.5, 192.32).toFixed(2)} mm`);
    expect(ask(answer.asks, 'front spar depth')!.after).toBe(`${line(143, 137.21).toFixed(2)} mm`);
    expect(answer.model.stations.find((s) => s.id === 'W5')!.washout).toBeCloseTo(line(-1.1, -1.38), 9);
    expect(ask(answer.asks, 'washout wanted')!.sentence).toContain('0.04° more nose down');
  });

  // The cause it guards: what changes from place to place was said as if the rib fitted as it is. M5 was made for no strip
  // and binds by 3.00; there it has 2.41 more room, and wants to be lower all the same.
  test('M5 wants the daylight its drawing leaves, not the bite it has', () => {
    // 143 - 45 × 5.79 / 330 = 142.21, less two sheets of 1.27 and the 0.20 every rib is drawn with.
    expect(ask(answer.asks, 'room between the front caps')!.sentence).toBe(
      'There M5 wants 139.47 mm at the front: 0.79 mm lower than it is.',
    );
    expect(ask(answer.asks, 'front spar depth')!.sentence).toBe(
      'There N5 wants 142.21 mm at its tail, and the contour with it: 0.79 mm lower than it is.',
    );
  });

  test('bays, rows, jig block and readings are named', () => {
    expect(ask(answer.asks, 'bay to W4')).toMatchObject({ before: '330.00 mm', after: '375.00 mm' });
    expect(ask(answer.asks, 'bay to W6')).toMatchObject({ before: '330.00 mm', after: '285.00 mm' });
    const drilled = B.joints.filter((j) => j.station === 'W5').reduce((n, j) => n + j.holes.length, 0);
    expect(answer.remedy.cost.holesLost).toBe(drilled);
    expect(ask(answer.asks, 'rows in the spars')!.before).toBe(`${drilled} drilled`);
    expect(ask(answer.asks, 'jig block')).toBeDefined();
    expect(ask(answer.asks, 'readings')!.after).toBe('read again');
    expect(answer.remedy.askDesigner).toBe(true);
  });

  test('the spar is drilled afresh there, the rib keeps its holes and leads the drill', () => {
    const f5 = answer.model.joints.find((j) => j.id === 'F5')!;
    for (const h of f5.holes)
      expect(h.layers.map((l) => `${l.part} ${l.state}`)).toEqual(['N5 none', 'front none', 'M5 pilot']);
    expect(f5.guide).toBe('M5');
  });
});

test('a mismatch between the parts that move together moves with them: S6 of panel A still does not clean up', () => {
  const A = frozen(panel('narrow-tail'));
  const m = moved('S6', 30, A).model;
  // D6 was opened with the spar, so M6 is 0.45 off it as it was off the spar (item 11): needs 0.1310 in.
  expect(m.joints.find((j) => j.id === 'F6')!.guide).toBe('D6');
  expect(finding(m, 'hole-cleanup', 'F6 hole h2').value).toBeCloseTo(finding(A, 'hole-cleanup', 'F6 hole h2').value, 9);
});

test('a bracket at the station is named before anything else is done', () => {
  expect(ask(moved('W6', 10).asks, 'bracket B6')!.sentence).toContain('Ask the designer first');
});

test('past a neighbour it cannot go, and says why', () => {
  const answer = askMove(B, 'W5', 400);
  expect(answer.ok).toBe(false);
  expect(!answer.ok && answer.faults[0]!.sentence).toContain('the stations are crossed');
});

test('there and back is where it was, but for the holes left behind', () => {
  const back = moved('W5', -45, moved('W5', 45).model).model;
  expect(back.stations.find((s) => s.id === 'W5')!.y).toBeCloseTo(1340, 9);
  expect(gap(back)).toBeCloseTo(gap(B), 6);
});

test('a nose that stands short wants to be longer by that too: N8, read 2.6 short, moved toward the root', () => {
  // 30 mm inboard the drawing's nose is 178.18 + 30 × (185.25 - 178.18) / 325 = 178.83; the string read 175.58.
  expect(ask(moved('W8', -30).asks, 'nose before the front web')!.sentence).toBe(
    'There N8 wants 178.83 mm of length to its nose: 3.25 mm longer than it is.',
  );
});

test('a rib made as it is wanted fits there, wherever it is moved', () => {
  for (const { id } of B.stations.slice(1, -1))
    for (const s of [-60, -12, 25, 70]) {
      const after = moved(id, s).model;
      const main = skeletonOf(after).bays.find((b) => b.station.id === id)!.main!;
      const made = changed(after, (m) => {
        const rib = mainRib(m, main.id);
        rib.front.height = heightWanted(B, after, main.id, 'front')!.wanted;
        rib.rear.height = heightWanted(B, after, main.id, 'rear')!.wanted;
        rib.length = lengthWanted(B, after, id)!.wanted;
        m.readings = m.readings.filter((r) => !r.size.startsWith(`${main.id}.`));
      });
      const there = checkAll(made).filter((f) => f.at.part === main.id);
      for (const check of ['cap-gap', 'chord-gap'] as const)
        for (const f of there.filter((x) => x.check === check))
          expect(levelOf(reachOf(f.value, f.limits)), `${id} ${s} ${f.id} ${f.value}`).toBe(0);
    }
});
