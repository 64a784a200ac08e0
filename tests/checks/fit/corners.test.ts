import { describe, expect, test } from 'vitest';
import { best, withBest } from '../../../src/chains/chain.ts';
import { reliefChain } from '../../../src/checks/fit/corners.ts';
import { skeletonOf } from '../../../src/parts/layout/skeleton.ts';
import { changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* Relief limits: about 1 mm is common practice, 0.5 picked. */
const A = panel('narrow-tail');
const front = (model: typeof A, rib: string) =>
  skeletonOf(model).places.find((p) => p.rib.id === rib && p.end === 'front')!;

describe('panel A, item 9: relief hole to the cap edge, counted to its centre', () => {
  test('+1.30 as drawn (M7), -0.10 at M2', () => {
    expect(printed(finding(A, 'relief', 'M7 front').value, 2)).toBe('1.30');
    expect(finding(A, 'relief', 'M2 front').value).toBeCloseTo(-0.1, 9);
    expect(finding(A, 'relief', 'M2 front').sense).toBe('sits on the notch');
  });

  // The printed -0.74 and +0.08 hold the free gap of 0.05 and change only the sheet between web and flange.
  test('first hypothesis, the gap held: -0.10 with the doubler, -0.74 without, +0.08 with 0.032 in', () => {
    const clamped = changed(A, (m) => {
      m.stand = 'clamped';
    });
    const chain = reliefChain(skeletonOf(clamped), front(clamped, 'M2'));
    const gap = finding(A, 'chord-gap', 'M2').value;
    expect(printed(gap + best(chain), 2)).toBe('-0.10');
    expect(gap + best(withBest(chain, 'sheet.s025', 0))).toBeCloseTo(-0.735, 9); // prints as -0.74
    expect(printed(gap + best(withBest(chain, 'sheet.s025', 0.8128)), 2)).toBe('0.08');
  });

  // Standing against the rear web, what the doubler takes of the free gap it gives back in front of the flange.
  test('second hypothesis, the rib pushed against the rear web: the doubler makes no difference', () => {
    const chain = reliefChain(skeletonOf(A), front(A, 'M2'));
    expect(best(withBest(chain, 'sheet.s025', 0))).toBeCloseTo(best(chain), 9);
    const none = changed(A, (m) => {
      m.doublers = [];
    });
    expect(finding(none, 'relief', 'M2 front').value).toBeCloseTo(-0.1, 9);
  });

  test('what the drawing counts to: centre or rim, half the hole apart', () => {
    const rim = changed(A, (m) => {
      m.reliefCounts = 'rim';
    });
    expect(finding(A, 'relief', 'M2 front').value - finding(rim, 'relief', 'M2 front').value).toBeCloseTo(
      4.7625 / 2,
      9,
    );
  });
});

describe('the terms of C16, by hand on the plain panel, clamped', () => {
  const plain = changed(panel('plain'), (m) => {
    m.stand = 'clamped';
  });
  const value = (change: (m: typeof plain) => void): number =>
    finding(changed(plain, change), 'relief', 'M2 front').value;
  test('0.8128 + 0.635 + 16.6 - 16 = 2.0478', () => expect(value(() => {})).toBeCloseTo(2.0478, 9));
  test.each<[string, (m: typeof plain) => void, number]>([
    ['hole 0.5 further from the end', (m) => readAs(m, 'M2.front.relief', 17.1, 'caliper'), 0.5],
    ['cap 0.5 wider', (m) => readAs(m, 'front.cap@S2', 16.5, 'caliper'), -0.5],
    [
      'no doubler',
      (m) => {
        m.doublers = [];
      },
      -0.635,
    ],
    [
      'standing against the front web',
      (m) => {
        m.stand = 'front';
      },
      0,
    ],
    [
      'standing against the rear web, 0.10 short',
      (m) => {
        m.stand = 'rear';
      },
      0.1,
    ],
  ])('%s', (_, change, by) => expect(value(change) - value(() => {})).toBeCloseTo(by, 9));

  test('a rib that is too long leaves no gap, not a negative one', () => {
    const long = (m: typeof plain): void => {
      m.stand = 'rear';
      readAs(m, 'M2.length', 199, 'caliper');
    };
    expect(value(long)).toBeCloseTo(2.0478, 9);
  });
});
