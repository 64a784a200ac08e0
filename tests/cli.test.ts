import { mkdtempSync, readdirSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { fromSources, terminal } from './terminal.ts';

/* The terminal as a builder uses it: exit codes, JSON form, sentences on stderr. */

const run = terminal();
const KEYS = [
  'id',
  'check',
  'station',
  'place',
  'value',
  'unit',
  'u',
  'low',
  'high',
  'chance',
  'limits',
  'verdict',
  'basis',
  'sense',
  'sentence',
  'restsOn',
];

describe('ribtrue tonight', () => {
  const file = 'models/narrow-tail.json';

  it('prints the sentence and the acts in order, and says 1 while something is left', () => {
    const { status, stdout } = run('tonight', file);
    expect(status).toBe(1);
    expect(stdout).toContain('Tonight: make six doublers anew at an easier bend');
    expect(stdout.indexOf('  1. Make D2, D3')).toBeGreaterThan(0);
    expect(stdout).toContain('Drill no hole yet.');
  });

  it('gives the same as JSON, cut where the evening ends', () => {
    const { status, stdout } = run('tonight', file, '--hours', '2.5', '--json');
    expect(status).toBe(1);
    const json = JSON.parse(stdout);
    expect(Object.keys(json)).toEqual(['panel', 'sentence', 'drill', 'acts', 'later', 'unasked', 'caution']);
    expect(json.drill.yes).toBe(false);
    expect(json.acts.length + json.later.length).toBeGreaterThan(10);
    expect(json.later[0].n).toBe(json.acts.length + 1);
  });

  it.each(['soon', '0', '-1', ''])('refuses --hours %j with a sentence', (hours) => {
    const { status, stderr } = run('tonight', file, '--hours', hours);
    expect(status).toBe(2);
    expect(stderr).toMatch(/--hours.*; expected .*; (correct it|add it)/);
  });
});

describe('ribtrue holes', () => {
  it('answers for every hole at the present stage and at another, as text and as JSON', () => {
    const text = run('holes', 'models/narrow-tail.json');
    expect(text.status).toBe(0);
    expect(text.stdout).toContain('F6 h2');
    expect(text.stdout).toContain('no larger size is left');
    const json = JSON.parse(run('holes', 'models/narrow-tail.json', '--stage', 'noses', '--json').stdout) as {
      stage: string;
      holes: { hole: string; state: string }[];
      gates: { answer: string }[];
    };
    expect(json.stage).toBe('noses');
    expect(json.holes.length).toBeGreaterThan(40);
    expect(json.gates.map((g) => g.answer)).toEqual(['no', 'no', 'no']);
  });

  it('takes a stage by its number, counted from 1 in the order of assembly', () => {
    const file = JSON.parse(readFileSync('models/narrow-tail.json', 'utf8')) as { stages: { id: string }[] };
    const nth = file.stages.findIndex((s) => s.id === 'noses') + 1;
    expect(run('holes', 'models/narrow-tail.json', '--stage', String(nth)).stdout).toBe(
      run('holes', 'models/narrow-tail.json', '--stage', 'noses').stdout,
    );
    for (const none of ['0', String(file.stages.length + 1), '1.5', '-1'])
      expect(run('holes', 'models/narrow-tail.json', '--stage', none).stderr, none).toContain(
        `"${none}" is not a stage`,
      );
  });

  it('refuses a stage the panel does not have', () => {
    const { status, stderr } = run('holes', 'models/narrow-tail.json', '--stage', 'paint');
    expect(status).toBe(2);
    expect(stderr).toContain('"paint" is not a stage');
  });
});

describe('ribtrue check', () => {
  it('exits 0 on a panel where everything fits', () => {
    const { status, stdout } = fromSources('check', 'models/plain.json');
    expect(stdout).toBe(run('check', 'models/plain.json').stdout);
    expect(status).toBe(0);
    expect(stdout).toContain('act 0, unsettled 0, watch 0');
    expect(stdout).toContain('does not check strength');
  });

  it('exits 1 and lists the worst first on panel A', () => {
    const { status, stdout } = run('check', 'models/narrow-tail.json');
    expect(status).toBe(1);
    const lines = stdout.split('\n').filter((l) => /^[x?/.] /.test(l));
    const order = lines.map((l) => 'x?/.'.indexOf(l[0]!));
    expect(order).toEqual([...order].sort((a, b) => a - b));
    expect(stdout).toContain('M2 front end binds between the caps by 0.32 mm');
  });

  it('prints the whole answer as JSON with every key and unrounded values', () => {
    const { status, stdout } = run('check', 'models/narrow-tail.json', '--json');
    expect(status).toBe(1);
    const { panel, counts, findings } = JSON.parse(stdout) as {
      panel: { name: string };
      counts: Record<string, number>;
      findings: Record<string, unknown>[];
    };
    expect(panel.name).toBe('narrow tail');
    expect(Object.values(counts).reduce((a, b) => a + b)).toBe(findings.length);
    for (const f of findings) for (const key of KEYS) expect(f, String(f.id)).toHaveProperty(key);
    const gap = findings.find((f) => f.check === 'cap-gap' && f.place === 'M2 front')!;
    expect(gap.value).toBeCloseTo(84.3 - 83.35 - 2 * 0.635, 12); // C1 by hand
  });

  it('exits 2 with sentences on stderr for a bad file or a bad call', () => {
    for (const args of [
      [],
      ['check'],
      ['look', 'models/plain.json'],
      ['check', 'nothing-here.json'],
      ['check', 'models/plain.json', '--loud'],
      ['check', 'package.json'],
    ]) {
      const { status, stdout, stderr } = run(...args);
      expect(status, args.join(' ')).toBe(2);
      expect(stdout).toBe('');
      expect(stderr.trim()).not.toBe('');
      expect(stderr).not.toContain('at Object');
    }
  });
});

describe('ribtrue check --solids', () => {
  it('adds what the solids say, in text and in JSON', () => {
    const { status, stdout } = run('check', 'models/narrow-tail.json', '--solids');
    expect(status).toBe(1);
    expect(stdout).toContain('M2 front end, with D2, shares space with the front spar by 0.32 mm in all');
    const { findings } = JSON.parse(run('check', 'models/narrow-tail.json', '--solids', '--json').stdout) as {
      findings: Record<string, unknown>[];
    };
    const bite = findings.find((f) => f.id === 'overlap:M2-front-caps')!;
    expect(bite.value).toBeCloseTo(-0.32, 3);
    for (const key of KEYS) expect(bite).toHaveProperty(key);
  });
});

describe('ribtrue unasked', () => {
  it('lists what no check rests on, as text and as JSON', () => {
    const { status, stdout } = run('unasked', 'models/plain.json');
    expect(status).toBe(0);
    expect(stdout).toContain('lightening hole 1, size of M2, M3: a lightening hole meets no other part');
    const { panel, unasked } = JSON.parse(run('unasked', 'models/plain.json', '--json').stdout) as {
      panel: { name: string };
      unasked: { size: string; part: string; why: string }[];
    };
    expect(panel.name).toBe('plain');
    const pilot = unasked.filter((u) => u.size === 'pilot size').map((u) => u.part);
    expect(pilot).toEqual(['F2', 'F3']);
    for (const u of unasked) expect(Object.keys(u)).toEqual(['size', 'part', 'why']);
  });
});

describe('ribtrue mass', () => {
  it('prints every part, the moments and the caution, and the same as JSON', () => {
    const { status, stdout } = run('mass', 'models/plain.json');
    expect(status).toBe(0);
    expect(stdout).toContain('front spar');
    expect(stdout).toContain('does not check strength');
    const report = JSON.parse(run('mass', 'models/plain.json', '--json').stdout) as {
      rows: { id: string; mass: number }[];
      mass: number;
      caution: string;
    };
    expect(report.mass).toBeCloseTo(
      report.rows.reduce((sum, r) => sum + r.mass, 0),
      6,
    );
    expect(report.caution).toContain('does not check strength');
  });
});

describe('ribtrue solids', () => {
  it('writes one glb of named parts, or an stl for each', () => {
    const folder = mkdtempSync(join(tmpdir(), 'ribtrue-'));
    try {
      expect(run('solids', 'models/plain.json', '--out', join(folder, 'a')).status).toBe(0);
      expect(readdirSync(join(folder, 'a'))).toEqual(['plain.glb']);
      expect(
        readFileSync(join(folder, 'a', 'plain.glb'))
          .subarray(0, 4)
          .toString(),
      ).toBe('glTF');
      expect(run('solids', 'models/plain.json', '--out', join(folder, 'b'), '--form', 'stl').status).toBe(0);
      expect(readdirSync(join(folder, 'b'))).toContain('M2.stl');
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('refuses with a sentence what it cannot do', () => {
    for (const args of [
      ['solids', 'models/plain.json'],
      ['solids', 'models/plain.json', '--out'],
      ['solids', 'models/plain.json', '--out', 'x', '--form', 'step'],
      ['solids', 'models/plain.json', '--out', 'package.json/x'],
      ['mass', 'models/plain.json', '--all'],
    ]) {
      const { status, stdout, stderr } = run(...args);
      expect(status, args.join(' ')).toBe(2);
      expect(stdout).toBe('');
      expect(stderr).toMatch(/expected .*; /);
    }
  });
});

describe('ribtrue sheets', () => {
  it('writes the asked sheets as PDF, or every page as SVG, with the day they were written', () => {
    const folder = mkdtempSync(join(tmpdir(), 'ribtrue-'));
    try {
      const { status, stdout } = run(
        'sheets',
        'models/plain.json',
        '--out',
        join(folder, 'a'),
        '--only',
        'survey,hole-ledger',
      );
      expect(status).toBe(0);
      expect(stdout).toContain('print them at actual size');
      expect(readdirSync(join(folder, 'a')).sort()).toEqual(['plain-hole-ledger.pdf', 'plain-survey.pdf']);
      expect(
        readFileSync(join(folder, 'a', 'plain-survey.pdf'))
          .subarray(0, 5)
          .toString(),
      ).toBe('%PDF-');
      expect(
        run(
          'sheets',
          'models/plain.json',
          '--out',
          join(folder, 'b'),
          '--form',
          'svg',
          '--paper',
          'letter',
          '--only',
          'station-map',
        ).status,
      ).toBe(0);
      const svg = readFileSync(join(folder, 'b', 'plain-station-map-1.svg'), 'utf8');
      expect(svg).toContain('width="279.4mm" height="215.9mm"');
      expect(svg).toMatch(/>20\d\d-\d\d-\d\d</);
      expect(
        run('sheets', 'models/plain.json', '--out', join(folder, 'c'), '--form', 'svg', '--only', 'step-cards').status,
      ).toBe(0);
      // Two cards a page, after one that says how to read them; each with a picture of many lines.
      const cards = readdirSync(join(folder, 'c'));
      expect(cards.length).toBeGreaterThan(10);
      const second = readFileSync(join(folder, 'c', 'plain-step-cards-2.svg'), 'utf8');
      expect(second).toContain('stop and call');
      expect(second.match(/<path/g)!.length).toBeGreaterThan(20);
    } finally {
      rmSync(folder, { recursive: true });
    }
  });

  it('refuses with a sentence what it cannot do', () => {
    for (const args of [
      ['--only', 'survey'],
      ['--out', 'x', '--only', 'cake'],
      ['--out', 'x', '--paper', 'a3'],
      ['--out', 'x', '--form', 'doc'],
      ['--out', 'package.json/x', '--only', 'survey'],
    ]) {
      const { status, stdout, stderr } = run('sheets', 'models/plain.json', ...args);
      expect(status, args.join(' ')).toBe(2);
      expect(stdout).toBe('');
      expect(stderr).toMatch(/expected .*; /);
    }
  });
});
