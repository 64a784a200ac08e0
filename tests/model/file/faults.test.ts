import { existsSync, readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { faultText, parseModel } from '../../../src/model/file/parse.ts';
import { textOf } from '../panels.ts';

/*
 * tests/faulty/ holds one small panel for each thing that can be wrong, named by what is wrong; base.json is the right one.
 * tests/golden/faults.txt holds what is said about each: file, path, sentence. To remake it on purpose after reading the
 * change: REGEN=1 npx vitest run tests/model/file/faults.test.ts
 */

const FAULTY = join(import.meta.dirname, '../../faulty');
const GOLDEN = join(import.meta.dirname, '../../golden/faults.txt');
const files = readdirSync(FAULTY)
  .filter((f) => f !== 'base.json')
  .sort();
const faultsOf = (file: string) => {
  const result = parseModel(readFileSync(join(FAULTY, file), 'utf8'));
  return result.ok ? [] : result.faults;
};
const lines = files.flatMap((file) => faultsOf(file).map((f) => `${file} | ${f.path} | ${f.sentence}`));

test('the base of the faulty files is a right panel', () => {
  expect(faultsOf('base.json')).toEqual([]);
  expect(files.length).toBeGreaterThan(80);
});

describe('what is said about each faulty file', () => {
  if (process.env.REGEN === '1') writeFileSync(GOLDEN, `${lines.join('\n')}\n`);
  const golden = existsSync(GOLDEN) ? readFileSync(GOLDEN, 'utf8').trimEnd().split('\n') : [];

  test('the golden file is there and names these files and no others', () => {
    expect(existsSync(GOLDEN), 'tests/golden/faults.txt is missing; remake it on purpose with REGEN=1').toBe(true);
    expect([...new Set(golden.map((l) => l.split(' | ')[0]))]).toEqual(files);
  });

  test.each(files)('%s: refused, one fault, its path, its sentence', (file) => {
    const faults = faultsOf(file);
    expect(faults).toHaveLength(1);
    expect(`${file} | ${faults[0]!.path} | ${faults[0]!.sentence}`).toBe(
      golden.find((l) => l.startsWith(`${file} | `)),
    );
  });

  test('each says what was found, what was expected and what to do', () => {
    for (const line of lines) {
      const sentence = line.split(' | ').slice(2).join(' | ');
      expect(sentence).toMatch(/expected|such as/);
      expect(sentence.split('; ').length, sentence).toBeGreaterThanOrEqual(2);
      expect(sentence.length, sentence).toBeGreaterThan(30);
      expect(sentence).not.toMatch(/undefined|NaN|\[object/);
    }
  });

  test('a fault in one line has its path before it', () => {
    expect(faultText({ path: 'ribs[3].length', sentence: 'it is missing' })).toBe('ribs[3].length: it is missing');
    expect(faultText({ path: '', sentence: 'the file is empty' })).toBe('the file is empty');
  });
});

// biome-ignore lint/suspicious/noExplicitAny: a file that is to be wrong has no type
type Plain = Record<string, any>;
const base = (): Plain => JSON.parse(readFileSync(join(FAULTY, 'base.json'), 'utf8')) as Plain;
const said = (file: Plain): string[] => {
  const result = parseModel(JSON.stringify(file));
  return result.ok ? [] : result.faults.map((f) => f.path);
};

describe('several faults in one file come at once', () => {
  test('of form', () => {
    const m = base();
    m.sheets[0].thickness = -1;
    m.stations[1].washout = 'flat';
    delete m.ribs[2].length;
    m.stock.color = 'red';
    expect(said(m)).toEqual(['sheets[0].thickness', 'stations[1].washout', 'ribs[2].length', 'stock']);
  });

  test('of meaning', () => {
    const m = base();
    m.stations[1].y = 0;
    m.ribs[1].sheet = 's016';
    m.joints[0].holes[0].up = 60;
    m.joints[0].guide = 'rear';
    m.limits[0].act = [0, 0];
    m.survey.supports = ['S8'];
    expect(said(m)).toEqual([
      'stations[1].y',
      'ribs[1].sheet',
      'joints[0].guide',
      'joints[0].holes[0].up',
      'limits[0]',
      'survey.supports[0]',
    ]);
  });

  test('no more than two hundred are listed', () => {
    const m = base();
    m.readings = Array.from({ length: 5000 }, (_, i) => ({
      size: `M${i + 10}.length`,
      value: 1,
      instrument: 'rule',
    }));
    expect(said(m)).toHaveLength(200);
  });
});

describe('what is not a fault', () => {
  test.each([
    [
      'lengths as text with their unit',
      (m: Plain) => {
        m.sheets[1].thickness = '0.025 in';
        m.ribs[1].length = '198.4522 mm';
      },
    ],
    [
      'a tip rib flange just off the spar end',
      (m: Plain) => {
        m.stations[2].y = 610;
      },
    ],
    [
      'a reading one eighth off its drawing',
      (m: Plain) => {
        m.readings[0].value = 198.4522 * 1.13;
      },
    ],
    [
      'a sheet read twice as thick, and said to be so',
      (m: Plain) => {
        Object.assign(m.readings[3], { value: 1.27, sure: true });
      },
    ],
    [
      'a sheet read a quarter thicker',
      (m: Plain) => {
        m.readings[3].value = 0.635 * 1.25;
      },
    ],
    [
      'a limit with an open side',
      (m: Plain) => {
        m.limits[0].fits = [-0.05, 0.2];
        m.limits[0].act = [null, 0.5];
      },
    ],
    [
      'fits and act thresholds at one place',
      (m: Plain) => {
        m.limits[0].act = m.limits[0].fits;
      },
    ],
    [
      'one length for the whole span',
      (m: Plain) => {
        m.webToWeb = 200;
      },
    ],
    [
      'no skin, no stages, no readings',
      (m: Plain) => {
        delete m.skin;
        m.stages = [];
        delete m.now;
        m.readings = [];
      },
    ],
  ])('%s', (_, change) => {
    const m = base();
    change(m);
    expect(said(m)).toEqual([]);
  });

  test('text is stored as millimetres', () => {
    const m = base();
    m.sheets[1].thickness = '0.025 in';
    const read = parseModel(JSON.stringify(m));
    expect(read.ok && read.model.sheets[1]!.thickness).toBe(0.635);
  });
});

test('the three panels in models/ are right', () => {
  for (const name of ['plain', 'narrow-tail', 'washed-out-wing'] as const)
    expect(parseModel(textOf(name)).ok).toBe(true);
});
