import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { degrees, inches, MM_PER_INCH, radians } from '../src/units/convert.ts';
import { drillName, fractionName, nearestDrillAtLeast } from '../src/units/drills.ts';
import { parseAngle, parseLength } from '../src/units/read.ts';
import {
  echo,
  exactAngle,
  exactLength,
  formatAngle,
  formatBoth,
  formatLength,
  formatMass,
  formatPercent,
} from '../src/units.ts';

function lengthOf(text: string, bare?: 'mm' | 'in'): number {
  const read = parseLength(text, bare);
  if (!read.ok) throw new Error(read.sentence);
  return read.value;
}
function angleOf(text: string): number {
  const read = parseAngle(text);
  if (!read.ok) throw new Error(read.sentence);
  return degrees(read.value);
}
function sentenceFor(text: string, parse: typeof parseLength | typeof parseAngle = parseLength): string {
  const read = parse(text);
  if (read.ok) throw new Error(`${text} was read as ${read.value}`);
  return read.sentence;
}

describe('reading lengths', () => {
  test.each([
    ['92', 92],
    ['92 mm', 92],
    ['92mm', 92],
    ['92,5 mm', 92.5],
    ['-2 mm', -2],
    ['−2 mm', -2],
    ['+2 mm', 2],
    ['1e2 mm', 100],
    ['9.2 cm', 92],
    ['0.5 m', 500],
    ['5.', 5],
    ['0,813', 0.813],
    ['92 millimetres', 92],
    ['  92\u00a0mm ', 92],
    ['1 inch', 25.4],
    ['0.032"', 0.8128],
    ['0.032″', 0.8128],
    ['.025in', 0.635],
    ['.5 in.', 12.7],
    ["0.032''", 0.8128],
    ['3 5/8 in', 92.075],
    ['3-5/8"', 92.075],
    ['-3 5/8 in', -92.075],
    ['5/8 in', 15.875],
    ['3/32', 2.38125],
    ['3 5/8', 92.075],
    ['3⅝"', 92.075],
    ['3 ⅝ in', 92.075],
    ['3-⅝ in', 92.075],
    ['½ in', 12.7],
    ['-½"', -12.7],
    ['5⁄8 in', 15.875],
    ['1 ft 3 1/4 in', 387.35],
    ['1\' 3-1/4"', 387.35],
    ['1\'-3 1/4"', 387.35],
    ["1'", 304.8],
    ['2 feet', 609.6],
    ['-1\' 6"', -457.2],
    ["1' 6", 457.2],
    ['32 mil', 0.8128],
    ['32 thou', 0.8128],
    ['32 mils', 0.8128],
    ['#40', 2.4892],
    ['# 40', 2.4892],
    ['drill 40', 2.4892],
    ['No. 40', 2.4892],
    ['#F', 6.5278],
    ['drill F', 6.5278],
    ['drill #f', 6.5278],
    ['drill 3/32', 2.38125],
  ])('%s is %f mm', (text, mm) => {
    expect(lengthOf(text)).toBeCloseTo(mm, 10);
  });

  test('3.622 in is 91.9988 mm: 25.4 is exact', () => {
    expect(MM_PER_INCH).toBe(25.4);
    expect(lengthOf('3.622 in')).toBeCloseTo(91.9988, 12);
    expect(lengthOf('1 in')).toBe(25.4);
  });

  test('a bare number takes the unit it is given, a bare fraction is inches, and both say so', () => {
    expect(parseLength('.032', 'in')).toEqual({ ok: true, value: 0.8128, unit: 'in', bareUnit: true });
    expect(parseLength('.032')).toEqual({ ok: true, value: 0.032, unit: 'mm', bareUnit: true });
    expect(parseLength('3/32', 'mm')).toEqual({ ok: true, value: 2.38125, unit: 'in', bareUnit: true });
    expect(parseLength('.032 in')).toMatchObject({ unit: 'in', bareUnit: false });
    expect(parseLength('-0')).toEqual({ ok: true, value: 0, unit: 'mm', bareUnit: true });
  });

  test.each(['16g', '16 ga', '16 gauge', '20 swg', 'gauge 16', '#16 ga', '22 AWG', '16 GA.'])(
    'gauge %s is refused with the reason',
    (text) => {
      expect(sentenceFor(text)).toMatch(/gauges differ from metal to metal; give the thickness itself/);
    },
  );

  test.each([
    ['', /Nothing was typed/],
    ['   ', /Nothing was typed/],
    ['abc', /“abc” is not a length; type a number/],
    ['NaN', /not a length/],
    ['Infinity', /not a length/],
    ['1e999', /too large/],
    ['1e308 m', /too large/],
    ['1/0', /nothing under the fraction bar/],
    ['1,234', /1\.234 or as 1234/],
    ['1,234 mm', /1\.234 or as 1234/],
    ['1,234.5', /two separators/],
    ['1.2.3', /two separators/],
    ['3 9/8 in', /fraction of one or more/],
    ['1.5\' 3"', /whole feet/],
    ['1\' 14"', /less than 12 inches/],
    ['92 kg', /not a length/],
    ['92 mm 3', /not a length/],
    ['3 -1/8 in', /not a length/],
    ['--3', /not a length/],
    ['#60', /#10 to #52/],
    ['F', /not a length/],
    ['3 in 5/8', /not a length/],
    ['1°', /not a length/],
    ['0x10', /not a length/],
  ])('%s is refused in one sentence', (text, sentence) => {
    const said = sentenceFor(text);
    expect(said).toMatch(sentence);
    expect(said).toMatch(/^[^;]+; [^;]+\.$/);
  });

  test('any text gives a finite value or a sentence, and never throws', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.string({ unit: 'binary' }),
          fc.string({ unit: fc.constantFrom(...'0123456789.,/-+ \'"e#infmt½°') }),
        ),
        (text) => {
          for (const read of [parseLength(text), parseLength(text, 'in'), parseAngle(text)]) {
            if (read.ok) expect(Number.isFinite(read.value)).toBe(true);
            else expect(read.sentence).toMatch(/\.$/);
          }
        },
      ),
      { numRuns: 2000 },
    );
  });

  // Read again from each sign of it, a megabyte would outlast the runner.
  test.each(['1', ' ', '1 ', '-', '1/', '"', '½', 'a'])('a megabyte of %j is refused at once', (sign) => {
    const junk = `${sign.repeat(1_000_000 / sign.length)}x`;
    expect(parseLength(junk).ok).toBe(false);
    expect(parseAngle(junk).ok).toBe(false);
  });
});

describe('reading angles', () => {
  test.each([
    ['1.5', 1.5],
    ['1.5°', 1.5],
    ['-0.27 deg', -0.27],
    ["1°12'", 1.2],
    ['1° 12\' 30"', 1 + 12 / 60 + 30 / 3600],
    ["12'", 0.2],
    ['12 min', 0.2],
    ['1 deg 12 min', 1.2],
    ['−1°12′', -1.2],
    ['30"', 30 / 3600],
    ['1½°', 1.5],
    ['0,5 degrees', 0.5],
  ])('%s is %f degrees', (text, deg) => {
    expect(angleOf(text)).toBeCloseTo(deg, 12);
  });

  test('radians are taken as they stand', () => {
    expect(parseAngle('0.01 rad')).toEqual({ ok: true, value: 0.01, unit: 'rad', bareUnit: false });
    expect(parseAngle('1.5')).toEqual({ ok: true, value: radians(1.5), unit: 'deg', bareUnit: true });
  });

  test.each(['', 'x', "1°60'", "12' 1°", "1.5° 12'", '1° 12', '0.01 rad 3', "12' 12'", '3 in', '1,234'])(
    '%j is refused',
    (text) => {
      expect(sentenceFor(text, parseAngle)).toMatch(/; .+\.$/);
    },
  );
});

describe('there and back', () => {
  const size = fc.double({ min: -1e6, max: 1e6, noNaN: true });
  const near = (a: number, b: number): boolean =>
    Math.abs(a - b) <= 2 * Number.EPSILON * Math.abs(b) + Number.MIN_VALUE * 64;

  test('exact text reads back to the same length', () => {
    fc.assert(
      fc.property(size, fc.constantFrom('mm' as const, 'in' as const), (mm, unit) =>
        near(lengthOf(exactLength(mm, unit)), mm),
      ),
      { numRuns: 2000 },
    );
  });
  test('exact text reads back to the same angle', () => {
    fc.assert(
      fc.property(fc.double({ min: -7, max: 7, noNaN: true }), (rad) => near(radians(angleOf(exactAngle(rad))), rad)),
      { numRuns: 2000 },
    );
  });
  test('printed text reads back to within half its last figure', () => {
    fc.assert(
      fc.property(size, (mm) => {
        expect(Math.abs(lengthOf(formatLength(mm, 'mm')) - mm)).toBeLessThanOrEqual(0.005 + 1e-8);
        expect(Math.abs(lengthOf(formatLength(mm, 'in', { signed: true })) - mm)).toBeLessThanOrEqual(0.0127 + 1e-8);
        expect(formatLength(mm, 'mm')).not.toMatch(/^-0\.0*( |$)/);
      }),
    );
  });
  test('every fraction name and drill name reads back', () => {
    for (let n = 1; n <= 200; n++)
      expect(lengthOf(fractionName((n / 64) * 25.4) ?? '')).toBeCloseTo((n / 64) * 25.4, 12);
    for (const name of [
      ...Array.from({ length: 43 }, (_, i) => `#${10 + i}`),
      ...Array.from('ABCDEFGHIJKLMNOPQRSTUVWXYZ', (c) => `#${c}`),
    ]) {
      expect(drillName(lengthOf(name))).toBe(name);
      expect(nearestDrillAtLeast(lengthOf(name))?.name).toBe(name);
    }
  });
});

describe('printing', () => {
  test('lengths: two decimals of a mm, three of an inch, half away from zero', () => {
    expect(formatLength(0.8128, 'mm')).toBe('0.81 mm');
    expect(formatLength(0.8128, 'in')).toBe('0.032 in');
    expect(formatLength(1.005, 'mm')).toBe('1.01 mm');
    expect(formatLength(2.675, 'mm')).toBe('2.68 mm');
    expect(formatLength(-1.005, 'mm')).toBe('-1.01 mm');
    expect(formatLength((0.0635 * 25.4) / 1, 'in', { digits: 3 })).toBe('0.064 in');
    expect(formatLength(-0.004, 'mm')).toBe('0.00 mm');
    expect(formatLength(-0.004, 'mm', { signed: true })).toBe('0.00 mm');
    expect(formatLength(0.3, 'mm', { signed: true })).toBe('+0.30 mm');
    expect(formatLength(0.3, 'mm', { unitMark: false, digits: 1 })).toBe('0.3');
    expect(formatLength(1e-9, 'mm')).toBe('0.00 mm');
    expect(formatLength(NaN, 'mm')).toBe('unknown mm');
  });
  test('both, echo, angle, share, mass', () => {
    expect(formatBoth(0.8128)).toBe('0.81 mm (0.032 in)');
    expect(formatBoth(-0.8128)).toBe('-0.81 mm (-0.032 in)');
    expect(echo(0.8128)).toBe('0.813 mm = 0.032 in');
    expect(formatAngle(radians(-0.5))).toBe('-0.50°');
    expect(formatAngle(radians(0.5), { signed: true, digits: 1 })).toBe('+0.5°');
    expect([0, 0.001, 0.137, 0.999, 1].map(formatPercent)).toEqual(['0 %', 'under 1 %', '14 %', 'over 99 %', '100 %']);
    expect([256.83, 999.96, 1234].map(formatMass)).toEqual(['256.8 g', '1.000 kg', '1.234 kg']);
  });
  test('exact text is as short as it can be', () => {
    expect(exactLength(92.075, 'in')).toBe('3.625 in');
    expect(exactLength(0.8128, 'in')).toBe('0.032 in');
    expect(exactLength(92.5)).toBe('92.5 mm');
    expect(exactAngle(radians(1))).toBe('1°');
  });
});

describe('drills and fractions', () => {
  test('DR-1: the drills from 5/32 in up and their clearance', () => {
    const size = lengthOf('5/32 in');
    expect(nearestDrillAtLeast(size)?.name).toBe('#22');
    for (const [name, clearance] of [
      ['#22', 0.00075],
      ['#21', 0.00275],
      ['#20', 0.00475],
    ] as const) {
      expect(inches(lengthOf(name) - size)).toBeCloseTo(clearance, 12);
    }
  });
  test('DR-3: steps of the ladder #40, #30, #21, #11', () => {
    const ladder = ['#40', '#30', '#21', '#11'].map((name) => inches(lengthOf(name)));
    expect(ladder.slice(1).map((size, i) => Number((size - (ladder[i] ?? 0)).toFixed(10)))).toEqual([
      0.0305, 0.0305, 0.032,
    ]);
  });
  test('section 4 of the sources: printed millimetres', () => {
    for (const [name, mm] of [
      ['#10', 4.915],
      ['#23', 3.912],
      ['#30', 3.264],
      ['#40', 2.489],
      ['#52', 1.613],
    ] as const) {
      expect(lengthOf(name)).toBeCloseTo(mm, 3);
    }
  });
  test('no name where there is none', () => {
    expect(drillName(3.28)).toBeUndefined();
    expect(drillName(3.264)).toBe('#30');
    expect([5, 1, 11].map(nearestDrillAtLeast)).toEqual([undefined, undefined, undefined]);
    expect(nearestDrillAtLeast(2.45)?.name).toBe('#40');
    expect([3.175, 1.984375, 25.4, 28.575].map(fractionName)).toEqual(['1/8 in', '5/64 in', '1 in', '1 1/8 in']);
    expect([3.2, 0, -3.175, NaN, 0.005].map(fractionName)).toEqual([
      undefined,
      undefined,
      undefined,
      undefined,
      undefined,
    ]);
  });
});
