import Papa from 'papaparse';
import { describe, expect, test } from 'vitest';
import type { Model } from '../../../src/model/schema.ts';
import { logOf, logTable } from '../../../src/sheets/bench/log.ts';
import { logSheet } from '../../../src/sheets/bench/logSheet.ts';
import { demo, frozen } from '../../scene/panel.ts';

/* Outside source: papaparse reads the table back; the readings of the panel file themselves. Formula defusal: common practice for tables that spreadsheets open. */

const narrow = demo('narrow-tail');
const model: Model = frozen({
  ...narrow,
  ticks: [
    { step: 'stand:M5', by: 'AB', date: '2026-06-03' },
    { step: 'gone', by: '', date: '2026-06-04' },
  ],
  log: [
    { date: '2026-06-01', what: "changed the drawing's length of M5", size: 'M5.length', was: 262.5, is: 262.6 },
    { date: '2026-05-16', what: 'measured the length of M5', size: 'M5.length', was: 262.5, is: 262.6 },
    { date: '2026-06-02', what: '=HYPERLINK("x")' },
    { date: '2026-06-02', what: 'laid out 3 holes at F6' },
  ],
});

describe('the log', () => {
  const lines = logOf(model);

  test('has every reading: as many lines as sizes read on a day', () => {
    const groups = new Set(model.readings.map((r) => `${r.date} ${r.size}`));
    expect(lines.filter((l) => l.kind === 'reading')).toHaveLength(groups.size);
    expect(lines.find((l) => l.what.startsWith('length of M5'))).toMatchObject({
      date: '2026-05-16',
      station: 'S5',
      kind: 'reading',
    });
    expect(lines.find((l) => l.what.startsWith('length of M5'))!.what).toContain('262.60 mm');
  });

  test('has every change once, with was and then, at the station it is about', () => {
    const changes = lines.filter((l) => l.kind === 'change');
    // The reading still stands and says itself; its journal entry is not said again.
    expect(changes.map((c) => c.station)).toEqual(['S5', null, 'S6']);
    expect(changes[0]!.what).toBe("changed the drawing's length of M5: was 262.50 mm, then 262.60 mm");
  });

  test('has every tick with its initials, also of a step that is no longer there', () => {
    const ticks = lines.filter((l) => l.kind === 'step done');
    expect(ticks.map((t) => [t.date, t.station, t.by])).toEqual([
      ['2026-06-03', 'S5', 'AB'],
      ['2026-06-04', null, ''],
    ]);
    expect(ticks[0]!.what).toBe('Stand rib M5 at station S5');
  });

  test('has every decision with its why, who was asked, and before and after', () => {
    const decided: Model = {
      ...model,
      decisions: [
        {
          id: 'd1',
          kind: 'taken',
          what: 'packer behind N4',
          why: 'a kink',
          ask: ['the designer'],
          asked: '',
          date: '2026-06-02',
          remedies: [],
          findings: [],
          places: ['S4', 'N4'],
          lines: [
            {
              finding: 'nose-kink:N4',
              place: 'N4',
              check: 'nose-kink',
              before: { value: -0.8, verdict: 'watch', text: '0.80 mm, short' },
              after: { value: 0.01, verdict: 'fits', text: '0.01 mm, proud' },
            },
          ],
        },
      ],
    };
    const [line] = logOf(decided).filter((l) => l.kind === 'decision');
    expect(line).toEqual({
      date: '2026-06-02',
      station: 'S4',
      kind: 'decision',
      by: '',
      what: 'packer behind N4; why: a kink; nobody was asked yet; nose kink, N4: 0.80 mm, short: watch, then 0.01 mm, proud: fits (worked out, not read)',
    });
  });

  test('is in order of days', () => {
    const days = lines.map((l) => l.date);
    expect(days).toEqual([...days].sort());
  });

  test('as a table reads back line by line, and no cell is a formula', () => {
    const rows = Papa.parse<Record<string, string>>(logTable(model), { header: true, skipEmptyLines: true }).data;
    expect(rows).toHaveLength(lines.length);
    rows.forEach((r, i) => {
      expect(r.what!.replace(/^'/, '')).toBe(lines[i]!.what);
    });
    for (const r of rows) for (const cell of Object.values(r)) expect(cell).not.toMatch(/^[=@\t\r]|^[+-](?![\d.])/);
  });

  test('on paper has a page for the whole and one for each station at least', () => {
    const sheet = logSheet({ model, date: '2026-06-05', paper: 'a4' });
    expect(sheet.pages.length).toBeGreaterThanOrEqual(1 + model.stations.length);
    const said = sheet.pages.map((p) => p.ink.flatMap((i) => (i.kind === 'text' ? [i.text] : [])).join(' '));
    for (const s of model.stations) expect(said.some((t) => t.includes(`Station ${s.id}`))).toBe(true);
    expect(said.find((t) => t.includes('Station S5'))).toContain('Stand rib M5');
  });
});
