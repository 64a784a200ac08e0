import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chain, uncertainty } from '../../src/chains/chain.ts';
import { rectangular } from '../../src/chains/size.ts';
import { instrumentUncertainty, sizeBook } from '../../src/model/sizes.ts';
import { changed, PANELS, panel, readAs } from './panels.ts';

const bare = changed(panel('plain'), (m) => {
  m.readings = [];
});
const withReadings = (size: string, values: readonly number[], instrument: string) =>
  changed(bare, (m) => {
    for (const value of values) m.readings.push({ size, value, instrument });
  });

describe('a size that was not read', () => {
  test('is its drawing value with a rectangular tolerance (JCGM 100, 4.3.7)', () => {
    // Starting tolerance of a rib height ±0.3: u = 0.3/√3.
    expect(sizeBook(bare).get('M2.front.height')).toMatchObject({
      best: 77.0544,
      u: rectangular(0.3),
      tolerance: 0.3,
      origin: 'drawing',
    });
  });

  test('takes the tolerance of its kind from the file, and a sheet its own', () => {
    const own = changed(bare, (m) => {
      m.tolerances = { height: 0.12, thickness: 0.04 };
      m.sheets[1]!.tolerance = 0.038;
    });
    expect(sizeBook(own).get('M2.front.height')).toMatchObject({ u: rectangular(0.12), tolerance: 0.12 });
    expect(sizeBook(own).get('sheet.s025')).toMatchObject({ tolerance: 0.038, origin: 'stock' });
    expect(sizeBook(own).get('sheet.s032')).toMatchObject({ tolerance: 0.04, origin: 'stock' });
  });

  test('has nothing where only a reading can tell', () => {
    for (const key of ['front.clear@S2', 'lean@S2', 'level@S1', 'M2.front.bias', 'height.rear@S3']) {
      expect(sizeBook(bare).entries.has(key), key).toBe(true);
      expect(sizeBook(bare).find(key), key).toBeUndefined();
    }
    expect(() => sizeBook(bare).get('lean@S2')).toThrow(new RangeError('the panel has no size "lean@S2"'));
    expect(sizeBook(bare).find('no such size')).toBeUndefined();
  });

  test('is taken along the span where the drawing tapers', () => {
    const wing = changed(panel('washed-out-wing'), (m) => {
      m.readings = [];
    });
    expect(sizeBook(wing).get('front.depth@W5').best).toBe(143);
    expect(sizeBook(wing).get('webs@W8').best).toBe(490.4);
  });
});

describe('a size that was read', () => {
  // Type A and B by hand (JCGM 100, 4.2.3 and 5.1.2): mean 77.10; s = 0.05; s²/3 = 0.000833; caliper 0.08: u² = 0.007233.
  test('is the mean, with spread and instrument', () => {
    const size = sizeBook(withReadings('M2.front.height', [77.05, 77.1, 77.15], 'caliper')).get('M2.front.height');
    expect(size.best).toBeCloseTo(77.1, 12);
    expect(size.u).toBeCloseTo(Math.sqrt(0.0025 / 3 + 0.0064), 12);
    expect(size.u.toFixed(4)).toBe('0.0850');
    expect(size.origin).toBe('measured');
    expect(size.tolerance).toBeCloseTo(2 * size.u, 12);
  });

  test('keeps its best and narrows where it reads as drawn', () => {
    for (const [key, value, instrument] of [
      ['M2.front.height', 77.0544, 'caliper'],
      ['M2.length', 198.4522, 'caliper'],
      ['N2.length', 100, 'rule'],
      ['webs@S2', 200, 'stick'],
      ['front.depth@S2', 80, 'caliper'],
      ['sheet.s025', 0.635, 'micrometer'],
    ] as const) {
      const drawn = sizeBook(bare).get(key);
      const read = sizeBook(withReadings(key, [value], instrument)).get(key);
      expect(read.best, key).toBe(drawn.best);
      expect(read.u, key).toBeLessThan(drawn.u);
      expect(read.name).toBe(drawn.name);
    }
  });

  test('takes the uncertainty of an instrument of the file before the starting one', () => {
    expect(instrumentUncertainty(bare, 'height', 'gauge')).toBe(0.02);
    expect(instrumentUncertainty(bare, 'height', 'caliper')).toBe(0.08);
    expect(instrumentUncertainty(bare, 'height', 'rule')).toBeUndefined();
    const better = changed(bare, (m) => {
      m.instruments.push({ id: 'caliper', name: 'a good one', u: { height: 0.03 } });
    });
    expect(instrumentUncertainty(better, 'height', 'caliper')).toBe(0.03);
    expect(instrumentUncertainty(better, 'clear', 'caliper')).toBe(0.05);
  });

  // By hand: 5e-4 on 200 mm is 0.1; with 0.46 of its own u = 0.4707. Two such lengths differ surely but for 0.46·√2.
  test('shares the scale error of its instrument with other sizes read by it', () => {
    const taped = changed(bare, (m) => {
      m.instruments.push({ id: 'tape', name: 'the long tape', scale: 5e-4, u: {} });
      for (const st of ['S1', 'S2']) m.readings.push({ size: `webs@${st}`, value: 200, instrument: 'tape' });
      m.readings.push({ size: 'webs@S3', value: 200, instrument: 'stick' });
    });
    const [a, b, c] = ['S1', 'S2', 'S3'].map((st) => sizeBook(taped).get(`webs@${st}`));
    expect(a!.u).toBeCloseTo(Math.hypot(0.46, 0.1), 12);
    expect(a!.shared).toEqual([{ source: 'tape', u: 0.1 }]);
    expect(uncertainty(chain([1, a!], [-1, b!]))).toBeCloseTo(0.46 * Math.SQRT2, 12);
    expect(c!.shared).toBeUndefined();
  });

  // By hand: by rule 198.40 ± 0.25 and by caliper 198.50 ± 0.10 weigh 16 and 100: (16·198.40 + 100·198.50)/116, u = 1/√116.
  test('by several instruments is their mean, weighted by 1/u²', () => {
    const size = sizeBook(
      changed(bare, (m) => {
        m.readings.push(
          { size: 'M2.length', value: 198.4, instrument: 'rule' },
          { size: 'M2.length', value: 198.5, instrument: 'caliper' },
        );
      }),
    ).get('M2.length');
    expect(size.best).toBeCloseTo((16 * 198.4 + 100 * 198.5) / 116, 9);
    expect(size.u).toBeCloseTo(1 / Math.sqrt(116), 9);
  });

  // By hand: tape 0.46 with a scale error of 5e-4 on 200 mm (0.1), stick 0.1: weights 1/(0.46² + 0.1²) and 1/0.1².
  test("by a tape and a stick keeps the tape's share of its scale error", () => {
    const both = changed(bare, (m) => {
      m.instruments.push({ id: 'tape', name: 'the long tape', scale: 5e-4, u: {} });
      m.readings.push(
        { size: 'webs@S1', value: 200, instrument: 'tape' },
        { size: 'webs@S1', value: 200.1, instrument: 'stick' },
        { size: 'webs@S2', value: 200, instrument: 'tape' },
      );
    });
    const [a, b] = ['S1', 'S2'].map((st) => sizeBook(both).get(`webs@${st}`));
    const [wt, ws] = [1 / (0.46 ** 2 + 0.01), 100];
    expect(a!.best).toBeCloseTo((wt * 200 + ws * 200.1) / (wt + ws), 9);
    expect(a!.u).toBeCloseTo(1 / Math.sqrt(wt + ws), 9);
    expect(a!.shared).toEqual([{ source: 'tape', u: expect.closeTo((0.1 * wt) / (wt + ws), 12) }]);
    expect(uncertainty(chain([1, a!], [-1, b!])) ** 2).toBeCloseTo(
      a!.u ** 2 + b!.u ** 2 - (2 * 0.01 * wt) / (wt + ws),
      12,
    );
  });

  test('a reading changes its own size and no other', () => {
    fc.assert(
      fc.property(
        fc.constantFrom(
          ...[...sizeBook(bare).entries.values()].filter((e) => e.nominal !== undefined && e.nominal > 1),
        ),
        (e) => {
          const read = sizeBook(changed(bare, (m) => readAs(m, e.key, e.nominal! + 0.01, 'gauge')));
          for (const other of sizeBook(bare).entries.keys())
            if (other !== e.key) expect(read.find(other)).toEqual(sizeBook(bare).find(other));
          expect(read.get(e.key).best).toBeCloseTo(e.nominal! + 0.01, 9);
        },
      ),
      { seed: 22, numRuns: 40 },
    );
  });
});

describe('the book', () => {
  test('is made once for a model', () => expect(sizeBook(bare)).toBe(sizeBook(bare)));

  test('says where the drawing value stands in the file', () => {
    for (const name of PANELS) {
      const model = panel(name);
      for (const e of sizeBook(model).entries.values()) {
        if (!e.path) continue;
        let at: unknown = model;
        for (const p of e.path) at = (at as Record<string | number, unknown>)[p];
        expect(at, e.key).toBe(e.nominal);
      }
    }
  });

  test('gives the readings of a size oldest first', () => {
    const two = withReadings('M2.length', [198.4, 198.5], 'rule');
    expect(
      sizeBook(two)
        .readingsOf('M2.length')
        .map((r) => r.value),
    ).toEqual([198.4, 198.5]);
    expect(sizeBook(two).readingsOf('M3.length')).toEqual([]);
    expect(sizeBook(two).nominal('M2.length')).toBe(198.4522);
  });
});
