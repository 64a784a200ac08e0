import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { type AirfoilProfile, heightsAt, nacaDigits, nacaProfile } from '../../src/geometry/airfoil.ts';
import { parseCoordinates } from '../../src/geometry/coordinates.ts';
import type { Vec2 } from '../../src/geometry/vector.ts';

const SECTION = nacaProfile(nacaDigits('2412')!, { count: 21, trailingEdge: 'open' });
const row = ([x, y]: Vec2): string => `${x.toFixed(6)}  ${y.toFixed(6)}`;
const TOP = SECTION.points.slice(0, 21).map(row);
const BOTTOM = SECTION.points.slice(20).map(row);
const ROUND = [...TOP, ...BOTTOM.slice(1)];
const FROM_NOSE = [...[...TOP].reverse(), ...BOTTOM];

function profileIn(text: string): AirfoilProfile {
  const read = parseCoordinates(text);
  if (!read.ok) throw new Error(read.faults.map((fault) => fault.sentence).join('\n'));
  return read.profile;
}
function sentences(text: string): string {
  const read = parseCoordinates(text);
  if (read.ok) throw new Error('read without a fault');
  for (const { line, sentence } of read.faults)
    expect(sentence).toMatch(line === 1 ? /.+[;].+\.$/ : new RegExp(`^Line ${line} .+; .+\\.$`));
  return read.faults.map((fault) => fault.sentence).join('\n');
}

describe('the ways a section is listed', () => {
  const bare = profileIn(ROUND.join('\n'));

  test('once round is read as it stands', () => {
    expect(bare.points.length).toBe(41);
    expect(heightsAt(bare, 0.3)!.upper).toBeCloseTo(heightsAt(SECTION, 0.3)!.upper, 5);
    expect(bare.points[0]).toEqual(TOP[0]!.split('  ').map(Number));
    expect(bare.nose).toBe(20);
  });

  test.each([
    ['a title', ['Section of the demonstration panel', ...ROUND]],
    ['a title that begins with a number', ['2412 invented', ...ROUND]],
    ['once round, bottom first', [...ROUND].reverse()],
    ['upper then lower from the nose', FROM_NOSE],
    ['lower then upper from the nose', [...BOTTOM, ...[...TOP].reverse()]],
    ['a gap between the surfaces', ['t', '', ...FROM_NOSE.slice(0, 21), '', ...FROM_NOSE.slice(21)]],
    ['a line of counts', ['title', '21. 21.', '', ...FROM_NOSE.slice(0, 21), '', ...FROM_NOSE.slice(21)]],
    ['counts without a title', ['21 21', ...FROM_NOSE]],
    ['comments and blank lines', ['# made up', '', ...ROUND.map((line) => `${line}  `), '', '']],
    ['commas', ROUND.map((line) => line.replace('  ', ','))],
    ['commas and spaces', ROUND.map((line) => line.replace('  ', ', '))],
    ['tabs', ROUND.map((line) => line.replace('  ', '\t'))],
    ['semicolons and decimal commas', ROUND.map((line) => line.replaceAll('.', ',').replace('  ', ';'))],
    ['a point listed twice', [...ROUND.slice(0, 5), ...ROUND.slice(4)]],
  ])('%s gives the same profile', (_, lines) => {
    expect(profileIn(lines.join('\n'))).toEqual(bare);
    expect(profileIn(lines.join('\r\n'))).toEqual(bare);
  });

  test('percent of the chord', () => {
    const percent = ROUND.map((line) =>
      line
        .split('  ')
        .map((n) => (Number(n) * 100).toFixed(4))
        .join(' '),
    );
    profileIn(percent.join('\n')).points.forEach((p, i) => {
      expect(p[1]).toBeCloseTo(bare.points[i]![1], 9);
    });
  });

  test('the title is kept', () => {
    expect(parseCoordinates(['Mine', ...ROUND].join('\n'))).toMatchObject({ ok: true, title: 'Mine' });
    expect(parseCoordinates(ROUND.join('\n'))).toMatchObject({ ok: true, title: '' });
  });
});

describe('faults', () => {
  const withLine = (at: number, line: string): string =>
    [...ROUND.slice(0, at - 1), line, ...ROUND.slice(at)].join('\n');
  test.each([
    ['nothing', '', /0 points/],
    ['a title alone', 'Title', /0 points/],
    ['a letter in a number', withLine(7, '0.7 0.O5'), /^Line 7 reads “0.7 0.O5”/],
    ['a letter in the first row', withLine(1, '1.0000 0.O013'), /^Line 1 reads/],
    ['three columns', withLine(9, '0.7 0.05 0'), /^Line 9 reads/],
    ['two at once', withLine(9, 'x').replace(ROUND[3]!, 'y y y'), /^Line 4 .+\nLine 9 /],
    ['a number out of all bounds', withLine(4, '1e9 0'), /^Line 4 has a number beyond/],
    ['infinity', withLine(4, '1e999 0'), /^Line 4 has a number beyond/],
    [
      'a chord in mm',
      ROUND.map((line) =>
        line
          .split('  ')
          .map((n) => Number(n) * 1200)
          .join(' '),
      ).join('\n'),
      /greatest x, 1200/,
    ],
    [
      'counts that do not count',
      ['t', '21 20', ...FROM_NOSE].join('\n'),
      /^Line 2 counts 21 and 20 points and 42 follow/,
    ],
    ['no nose', ROUND.filter((line) => Number(line.split('  ')[0]) > 0.2).join('\n'), /not at the nose/],
    ['one surface only', TOP.join('\n'), /before both surfaces/],
    [
      'points out of order',
      [...ROUND.slice(0, 5), ROUND[6], ROUND[5], ...ROUND.slice(7)].join('\n'),
      /^Line 7 turns back/,
    ],
    ['no thickness', ROUND.map((line) => `${line.split('  ')[0]} 0`).join('\n'), /no thickness/],
    ['surfaces that cross', withLine(8, `${ROUND[7]!.split('  ')[0]} -0.2`), /^Line 8 puts the top, -0.2, under/],
    ['too many points', Array.from({ length: 2100 }, () => '1 0').join('\n'), /past the 2000 points/],
  ])('%s', (_, text, expected) => {
    expect(sentences(text)).toMatch(expected);
  });

  // Read again from each letter of it, a megabyte would outlast the runner.
  test('a megabyte of junk, or of faulty lines, is refused at once and with few words', () => {
    for (const text of ['x'.repeat(1_000_000), ' '.repeat(1_000_000), 'a b\n'.repeat(49_000)]) {
      const read = parseCoordinates(text);
      expect(read.ok).toBe(false);
      if (!read.ok) expect(read.faults.length).toBeLessThanOrEqual(20);
    }
  });

  test('never throws', () => {
    const line = fc.oneof(
      fc.constantFrom(...ROUND, ...FROM_NOSE, '', '21 21', '# c', '0 0', '100 0', '1 0', '0.5 -0.1'),
      fc.string(),
    );
    fc.assert(
      fc.property(fc.array(line, { maxLength: 60 }), (lines) => {
        const read = parseCoordinates(lines.join('\n'));
        if (!read.ok) expect(read.faults.length).toBeGreaterThan(0);
      }),
      { numRuns: 1000 },
    );
  });
});
