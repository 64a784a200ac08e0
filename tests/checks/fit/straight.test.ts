import { describe, expect, test } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import { changed, finding, panel, printed, readAs } from '../../model/panels.ts';

/* C10. Limits: picked, no source: 1 mm, and no more than length/2000. */
describe('panels', () => {
  test('A: the bow as read, since both ends lie on the string', () => {
    const at = (i: number) => finding(panel('narrow-tail'), 'bow', `front spar bow at S${i}`);
    expect([2, 3, 4, 5, 6, 7].map((i) => at(i).value)).toEqual([0.2, 0.5, 0.7, 0.7, 0.4, 0.2]);
    expect(at(4).sense).toBe('forward');
  });

  test('B, F6: both spars sag at W5, the front 1.8 and the rear 1.3', () => {
    const B = panel('washed-out-wing');
    expect(finding(B, 'bow', 'front spar camber at W5')).toMatchObject({ value: -1.8, sense: 'down' });
    expect(finding(B, 'bow', 'rear spar camber at W5')).toMatchObject({ value: -1.3, sense: 'down' });
  });
});

describe('by hand on the plain panel', () => {
  const plain = panel('plain');
  const bow = (readings: Record<string, number>, spar = 'front') =>
    changed(plain, (m) => {
      for (const [st, v] of Object.entries(readings)) readAs(m, `${spar}.bow@${st}`, v, 'string');
    });

  test('less the line through the end readings', () => {
    const model = bow({ S1: 0.3, S2: 0.9, S4: 0.6 });
    expect(finding(model, 'bow', 'front spar bow at S2').value).toBeCloseTo(0.9 - (0.3 + (0.6 - 0.3) / 3), 12);
    expect(
      checkAll(model)
        .filter((f) => f.check === 'bow')
        .map((f) => f.station),
    ).toEqual(['S2']);
  });

  test('the end readings carry their share of the doubt: √(1 + (2/3)² + (1/3)²) × 0.3', () => {
    expect(finding(bow({ S1: 0, S2: 0.1, S4: 0 }), 'bow', 'front spar bow at S2').u).toBeCloseTo(
      0.3 * Math.sqrt(1 + 4 / 9 + 1 / 9),
      12,
    );
    expect(finding(bow({ S2: 0.1 }), 'bow', 'front spar bow at S2').u).toBe(0.3);
  });

  test('900 mm of spar may bow 0.45 at most', () => {
    expect(finding(bow({ S2: 0.1 }), 'bow', 'front spar bow at S2').limits.fits).toEqual([-0.45, 0.45]);
    expect(finding(panel('narrow-tail'), 'bow', 'front spar bow at S2').limits.fits).toEqual([-1, 1]);
  });

  test('forward at the front is away from the rear; aft at the rear is away from the front', () => {
    expect(finding(bow({ S2: 0.2 }), 'bow', 'front spar bow at S2').sense).toBe('forward');
    expect(finding(bow({ S2: -0.2 }), 'bow', 'front spar bow at S2').sense).toBe('toward the rear spar');
    expect(finding(bow({ S2: 0.2 }, 'rear'), 'bow', 'rear spar bow at S2').sense).toBe('aft');
    expect(finding(bow({ S2: -0.2 }, 'rear'), 'bow', 'rear spar bow at S2').sense).toBe('toward the front spar');
  });

  test('camber counts up', () => {
    const model = changed(plain, (m) => readAs(m, 'front.camber@S3', 0.4, 'straightedge'));
    expect(printed(finding(model, 'bow', 'front spar camber at S3').value, 1)).toBe('0.4');
    expect(finding(model, 'bow', 'front spar camber at S3').sense).toBe('up');
  });
});
