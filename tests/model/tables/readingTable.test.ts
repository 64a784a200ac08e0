import { describe, expect, it } from 'vitest';
import { parseReadings } from '../../../src/model/tables/readingRows.ts';
import { parseColumn, readingsTable } from '../../../src/model/tables/readingTable.ts';
import { walkingOrder } from '../../../src/model/walk.ts';
import { panel } from '../panels.ts';

/* Readings as a table: there and back, faults by line, spreadsheet formulas defused. Law: what is written is read again. */

const A = panel('narrow-tail');

describe('a table of readings', () => {
  it('is read back to the same readings, in mm and in inch', () => {
    for (const units of ['mm', 'in'] as const) {
      const read = parseReadings(A, readingsTable(A, units));
      if (!read.ok) throw new Error(read.faults[0]?.sentence);
      expect(read.readings.map(({ value: _, ...r }) => r)).toEqual(A.readings.map(({ value: _, ...r }) => r));
      read.readings.forEach((r, i) => {
        expect(r.value).toBeCloseTo(A.readings[i]!.value, 9);
      });
    }
  });

  it('names each size in its header and rows', () => {
    const [header, first] = readingsTable(A).split('\n');
    expect(header).toBe('size,name,value,instrument,date,temperature,over,sure,note');
    expect(first).toContain('sheet.s025,thickness of sheet s025,0.635 mm,micrometer');
  });

  it('takes tabs and semicolons, mixed units and a missing instrument', () => {
    const read = parseReadings(A, 'Size\tValue\nM2.length\t10.335 in\nM3.length\t262,5 mm\nsheet.s025\t25 mil');
    if (!read.ok) throw new Error(read.faults[0]?.sentence);
    expect(read.readings.map((r) => [r.size, Number(r.value.toFixed(3)), r.instrument])).toEqual([
      ['M2.length', 262.509, 'rule'],
      ['M3.length', 262.5, 'rule'],
      ['sheet.s025', 0.635, 'micrometer'],
    ]);
    expect(parseReadings(A, 'size;value\nM2.length;262.5').ok).toBe(true);
  });

  it('takes a bare number in the unit of its row, and says where a value has another', () => {
    // 1 in = 25.4 mm exactly; 1 mil = 0.0254 mm; a drill's name is a size in any unit.
    const read = parseReadings(
      A,
      'size,value,unit\nM2.length,10.335,in\nM3.length,262.5,mm\nsheet.s025,25,mil\nlevel@S3,12,min\nM5.length,10.3 in,in\nM6.length,262.5,',
      'mm',
    );
    if (!read.ok) throw new Error(read.faults[0]?.sentence);
    expect(read.readings.map((r) => [r.size, Number(r.value.toFixed(6))])).toEqual([
      ['M2.length', 262.509],
      ['M3.length', 262.5],
      ['sheet.s025', 0.635],
      ['level@S3', 0.2],
      ['M5.length', 261.62],
      ['M6.length', 262.5],
    ]);
    const odd = parseReadings(A, 'size\tvalue\tUnits\nM2.length\t262 mm\tin\nM3.length\t10.3\tfurlong');
    expect(odd).toMatchObject({ ok: false, faults: [{ path: 'line 2' }, { path: 'line 3' }] });
    expect(odd.ok ? '' : odd.faults[0]!.sentence).toBe(
      'length of M2: the value says "262 mm" and its unit "in"; expected one unit; correct one of them',
    );
  });

  it('keeps what a reading was taken over, and that a questioned one was confirmed', () => {
    const odd = {
      ...A,
      readings: [
        { size: 'lean@S3', value: 1.1, instrument: 'square', over: 140 },
        { size: 'sheet.s025', value: 16, instrument: 'micrometer', sure: true as const },
      ],
    };
    for (const units of ['mm', 'in'] as const)
      expect(parseReadings(odd, readingsTable(odd, units))).toEqual({ ok: true, readings: odd.readings });
    expect(parseReadings(A, 'size,value,over\nlean@S3,1.1,16 ga')).toMatchObject({
      ok: false,
      faults: [{ path: 'line 2' }],
    });
  });

  it('gives every fault its line, and takes nothing', () => {
    const read = parseReadings(
      A,
      'size,value,instrument\nM2.length,16 ga,rule\nX9.length,12,rule\nM3.length,262,spoon\nM4.length,262,rule',
    );
    expect(read).toMatchObject({ ok: false, faults: [{ path: 'line 2' }, { path: 'line 3' }, { path: 'line 4' }] });
    expect(parseReadings(A, 'length\n12')).toMatchObject({ ok: false, faults: [{ path: 'line 1' }] });
  });

  it('defuses text that a spreadsheet would run, and takes the quote off again', () => {
    const noted = {
      ...A,
      readings: [
        { ...A.readings[0]!, note: '=1+1' },
        { ...A.readings[1]!, note: '@sum' },
      ],
    };
    const text = readingsTable(noted);
    expect(text).toContain("'=1+1");
    const read = parseReadings(noted, text);
    expect(read.ok && read.readings.map((r) => r.note)).toEqual(['=1+1', '@sum']);
  });
});

describe('a pasted column', () => {
  const how = { instrument: 'caliper', date: '2026-01-02' };

  it('goes to the same size of the stations that follow', () => {
    const read = parseColumn(A, 'M3.front.height', '83.0\n83.1\n\n83.2', 'mm', how);
    expect(read.ok && read.readings.map((r) => [r.size, r.value])).toEqual([
      ['M3.front.height', 83],
      ['M4.front.height', 83.1],
      ['M6.front.height', 83.2],
    ]);
    const depths = parseColumn(A, 'front.depth@S7', '85.9\n86', 'mm', how);
    expect(depths.ok && depths.readings.map((r) => r.size)).toEqual(['front.depth@S7', 'front.depth@S8']);
  });

  it('refuses more values than there are sizes, and names a bad line', () => {
    // After M7 only T8 has a height at the front spar.
    expect(parseColumn(A, 'M7.front.height', '83\n82\n81', 'mm', how).ok).toBe(false);
    expect(parseColumn(A, 'M6.front.height', '83\nabc', 'mm', how)).toMatchObject({
      ok: false,
      faults: [{ path: 'line 2' }],
    });
  });
});

describe('the walk round the bench', () => {
  it('passes every size once: sheets, out along the front, back along the rear, holes last', () => {
    const walk = walkingOrder(A);
    expect(new Set(walk.map((e) => e.key)).size).toBe(walk.length);
    const at = (key: string): number => walk.findIndex((e) => e.key === key);
    const order = [
      'sheet.s025',
      'front.depth@S1',
      'M2.front.height',
      'M7.front.height',
      'M7.rear.height',
      'M2.rear.height',
      'F3/h1.M3.along',
    ].map(at);
    expect(order).toEqual([...order].sort((a, b) => a - b));
  });
});
