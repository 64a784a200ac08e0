import { describe, expect, it } from 'vitest';
import { closing, marksOf, type Recorded, ratiosOf } from './compare.ts';
import { type Part, plainly, type Row, tableText } from './rows.ts';

/* The comparing of two runs, on tables made by hand; nothing is timed here. Expected words worked out by hand: 1.31/1 is 31 % up, 0.75/1 is 25 % down. */

const row = (what: string, ratio: number | undefined, sense: Row['sense'] = 'time'): Row => ({
  what,
  figure: 12.3,
  unit: 'ms',
  ratio,
  against: 'plain loop',
  sense,
});
const recorded = (ratios: Record<string, number>): Recorded => ({ date: '2030-01-02', node: '20', ratios });
const part = (...rows: Part['rows']): Part => ({ name: 'checks', rows });

describe('a run beside the recorded one', () => {
  it.each<[Row['sense'], number, number, string | undefined]>([
    ['time', 1, 1.31, 'slower by 31 %'],
    ['time', 1, 0.75, 'faster by 25 %'],
    ['time', 4, 4.8, undefined], // a fifth exactly is not more than a fifth
    ['time', 4, 4.81, 'slower by 20 %'],
    ['time', 4, 3.21, undefined],
    ['time', 4, 3, 'faster by 25 %'],
    ['speed', 2, 1.4, 'slower by 30 %'],
    ['speed', 1, 1.5, 'faster by 50 %'],
    ['size', 10, 13, 'larger by 30 %'],
    ['size', 10, 5, 'smaller by 50 %'],
    ['amount', 8, 80, 'more by 900 %'],
    ['amount', 8, 0, 'less by 100 %'],
    ['amount', 0, 0, undefined],
    ['amount', 0, 3, 'more: 0.00 was recorded'],
    ['size', -1, 1, 'larger: -1.00 was recorded'],
  ])('%s from %d to %d says %s', (sense, then, now, words) => {
    expect(marksOf([part(row('all', now, sense))], recorded({ 'checks: all': then })).get('checks: all')).toBe(words);
  });

  it('goes by the ratio and never by the figure', () => {
    const slowMachine = [part({ ...row('all', 1), figure: 5000 })];
    expect(marksOf(slowMachine, recorded({ 'checks: all': 1 }))).toEqual(new Map());
  });

  it('tells the same row of two parts apart, says what is new and leaves rows without a ratio alone', () => {
    const parts: Part[] = [
      part(row('all', 2), row('bare', undefined), { what: 'C', said: 'no compiler here' }),
      { name: 'solids', rows: [row('all', 2)] },
    ];
    expect([...marksOf(parts, recorded({ 'checks: all': 1 }))]).toEqual([
      ['checks: all', 'slower by 100 %'],
      ['solids: all', 'not recorded yet'],
    ]);
  });

  it('records ratios alone, to four figures', () => {
    expect(ratiosOf([part(row('all', 1.234567), row('bare', undefined), row('none', Number.NaN))])).toEqual({
      'checks: all': 1.235,
    });
  });

  it('finds nothing changed beside what it has just recorded', () => {
    const parts = [part(row('a', 0.0001234567), row('b', 9876.54321, 'size'))];
    expect(marksOf(parts, recorded(ratiosOf(parts))).size).toBe(0);
  });
});

describe('the closing sentence', () => {
  it('counts what changed, what is new and what was not measured', () => {
    const parts = [part(row('a', 2), row('b', 1), row('c', 1))];
    expect(closing(parts, recorded({ 'checks: a': 1, 'checks: b': 1, 'checks: d': 1 }))).toBe(
      '1 of 2 ratios changed by more than 20 % since the recording of 2030-01-02 (Node 20); 1 not recorded yet; 1 recorded but not measured in this run. This is a report, not a gate.',
    );
  });
  it('says so when nothing changed, and when nothing is recorded', () => {
    expect(closing([part(row('a', 1))], recorded({ 'checks: a': 1.1 }))).toBe(
      '1 ratio is within 20 % of the recording of 2030-01-02 (Node 20). This is a report, not a gate.',
    );
    expect(closing([part(row('a', 1))], undefined)).toContain('none recorded');
  });
});

describe('the table', () => {
  it('is one table: every row with figure, unit, ratio, yardstick and mark in the same columns', () => {
    const parts: Part[] = [
      part(row('first', 1.5)),
      { name: 'solids', rows: [row('a longer second', 250), { what: 'C twin', said: 'no C compiler here' }] },
    ];
    const lines = tableText(parts, new Map([['solids: a longer second', 'slower by 31 %']]));
    expect(lines).toContain('  C twin: no C compiler here');
    const rows = lines.filter((l) => l.includes('plain loop'));
    expect(rows).toHaveLength(2);
    expect(new Set(rows.map((l) => l.indexOf('plain loop'))).size).toBe(1);
    expect(rows[1]).toMatch(/a longer second\s+12\.3\s+ms\s+250\s+plain loop\s+slower by 31 %$/);
  });
  it.each([
    [0, '0'],
    [1234.6, '1235'],
    [12.34, '12.3'],
    [1.234, '1.23'],
    [0.01234, '0.012'],
    [0.00123, '1.2e-3'],
    [-2.5, '-2.50'],
  ])('writes %d as %s', (v, text) => expect(plainly(v)).toBe(text));
});
