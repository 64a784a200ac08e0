import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { LONGEST, type ParseResult, parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import { COUNTS } from '../../counts.ts';
import { damaged, damages } from '../../damage.ts';
import { PANELS, textOf } from '../panels.ts';
import { longFile } from './longFile.ts';

const { damaged: MANY } = COUNTS;

// biome-ignore lint/suspicious/noExplicitAny: a file that is to be wrong has no type
type Plain = Record<string | number, any>;

const sentences = (result: ParseResult): string[] => (result.ok ? [] : result.faults.map((f) => f.sentence));

/** The same value with every length in text, such as "0.025 in", as its number. */
function inNumbers(said: unknown, taken: unknown): unknown {
  if (typeof said === 'string' && typeof taken === 'number') return taken;
  if (Array.isArray(said) && Array.isArray(taken)) return said.map((v, i) => inNumbers(v, taken[i]));
  if (said !== null && typeof said === 'object' && taken !== null && typeof taken === 'object') {
    return Object.fromEntries(
      Object.entries(said).map(([k, v]) => [k, inNumbers(v, (taken as Record<string, unknown>)[k])]),
    );
  }
  return said;
}

/** Taken whole or refused with sentences; never anything between, never thrown; and what was taken is all the text says. */
function settle(text: string): ParseResult {
  const result = parseModel(text);
  if (result.ok) {
    const said: unknown = JSON.parse(text.startsWith('\uFEFF') ? text.slice(1) : text);
    expect(JSON.parse(writeModel(result.model))).toEqual(JSON.parse(JSON.stringify(inNumbers(said, result.model))));
    // What was taken is what is written, and reading it again gives the same.
    const again = parseModel(writeModel(result.model));
    expect(again.ok && again.model).toEqual(result.model);
  } else {
    expect(result.faults.length).toBeGreaterThan(0);
    expect(result.faults.length).toBeLessThanOrEqual(200);
    for (const f of result.faults) expect(f.sentence.length).toBeGreaterThan(10);
  }
  return result;
}

describe('damaged files', () => {
  const files = PANELS.map(textOf);
  const small = files[0]!;
  const damage = fc.tuple(
    fc.nat({ max: files.length - 1 }),
    damages({ size: 12, length: 6, letters: '{}[]",:0123456789.-+eE truefalsn\\\n\u0000é€' }),
  );

  test(`${MANY} of them: never thrown, never half taken, never for long`, () => {
    let taken = 0;
    fc.assert(
      fc.property(damage, ([file, d]) => {
        if (settle(damaged(files[file]!, d)).ok) taken++;
      }),
      { seed: 11, numRuns: MANY },
    );
    expect(taken).toBeLessThan(MANY / 2); // most damage is seen; a changed digit is another right file
    console.log(`${MANY} damaged files: ${taken} still right files`);
  });

  test('several damages in one small file', () => {
    fc.assert(
      fc.property(
        fc.array(damage, { minLength: 2, maxLength: 6 }),
        (all) => void settle(all.reduce((text, [, d]) => damaged(text, d), small)),
      ),
      { seed: 12, numRuns: 300 },
    );
  });

  test('any text at all, and any JSON at all', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary' }), (text) => void settle(text)),
      { seed: 13, numRuns: 300 },
    );
    fc.assert(
      fc.property(fc.json(), (text) => void settle(text)),
      { seed: 14, numRuns: 300 },
    );
  });

  test('any value in any place of a right file', () => {
    const places: (string | number)[][] = [];
    const walk = (value: unknown, path: (string | number)[]): void => {
      places.push(path);
      if (Array.isArray(value))
        value.forEach((v, i) => {
          if (i < 3) walk(v, [...path, i]);
        });
      else if (value !== null && typeof value === 'object')
        for (const [k, v] of Object.entries(value)) walk(v, [...path, k]);
    };
    walk(JSON.parse(small), []);
    fc.assert(
      fc.property(
        fc.constantFrom(...places.filter((p) => p.length > 0)),
        fc.oneof(fc.jsonValue(), fc.constantFrom<unknown>(1e308, -1e308, 1e-320, '9e999 mm', '', 0, -0, null)),
        (path, value) => {
          const file = JSON.parse(small) as Plain;
          let at = file;
          for (const p of path.slice(0, -1)) at = at[p];
          at[path.at(-1)!] = value;
          settle(JSON.stringify(file));
        },
      ),
      { seed: 15, numRuns: 1500 },
    );
  });

  test('every tenth cut of the small panel is said to be cut off, or is empty', () => {
    const end = small.trimEnd().length;
    for (let at = 1; at < end; at += 10)
      expect(sentences(parseModel(small.slice(0, at)))[0], `cut at ${at}`).toMatch(/stops in the middle/);
    for (const blank of ['', ' ', '\n\n']) expect(sentences(parseModel(blank))[0]).toMatch(/is empty/);
  });

  test('a file saved with a byte-order mark is taken', () => expect(parseModel(`\uFEFF${small}`).ok).toBe(true));

  test('a number too large for the machine is not taken as a size', () => {
    for (const [from, to] of [
      ['"y": 300', '"y": 1e999'],
      ['"value": 198.4522', '"value": 1e999'],
      ['"length": 100', '"length": -1e999'],
    ] as const) {
      const text = small.replace(from, to);
      expect(text).not.toBe(small);
      expect(sentences(parseModel(text)).length).toBe(1);
    }
  });

  test('keys that mean something to the language mean nothing here', () => {
    for (const key of ['__proto__', 'constructor', 'toString', 'hasOwnProperty']) {
      const at = small.replace('"format"', `"${key}": { "id": "x" },\n  "format"`);
      expect(sentences(parseModel(at)).join(), key).toMatch(new RegExp(`"${key}"`));
      const inRecord = parseModel(small.replace('"tolerances": {}', `"tolerances": { "${key}": 1 }`));
      // A "__proto__" among tolerances is dropped; it can give no size a tolerance.
      if (inRecord.ok) expect(inRecord.model.tolerances, key).toEqual({});
      expect(inRecord.ok, key).toBe(key === '__proto__');
    }
  });

  test('a key written twice is refused, wherever it stands; the reader of JSON would take the last and say nothing', () => {
    for (const [from, to] of [
      ['"format"', '"name": "other",\n  "format"'],
      ['"depth": 80', '"depth": 81, "depth": 80'],
      ['"depth": 80', '"dep\\u0074h": 81, "depth": 80'],
    ] as const) {
      const text = small.replace(from, to);
      expect(text).not.toBe(small);
      expect(() => JSON.parse(text) as unknown).not.toThrow();
      expect(sentences(parseModel(text)).join()).toMatch(
        /written twice in one group, the second time at line \d+, column \d+/,
      );
    }
  });
});

describe('files made to hurt', () => {
  test('a hundred thousand brackets', () => {
    const deep = 100_000;
    for (const text of [
      '['.repeat(deep),
      '['.repeat(deep) + ']'.repeat(deep),
      '{"a":'.repeat(deep),
      `${'{"a":'.repeat(deep)}1${'}'.repeat(deep)}`,
    ])
      expect(sentences(parseModel(text))).toHaveLength(1);
    const nested = `${'['.repeat(deep)}${']'.repeat(deep)}`;
    const plain = textOf('plain');
    for (const [from, to] of [
      ['"depth": 80', `"depth": ${nested}`],
      ['"ribs": [', `"ribs": [ ${nested},`],
      ['"tolerances": {}', `"tolerances": { "depth": ${nested} }`],
      ['"stock": {', `"stock": { "more": ${nested},`],
      ['"act"', '"act"'],
    ] as const) {
      const text = plain.replace(from, to);
      if (text !== plain) expect(sentences(parseModel(text)).length).toBeGreaterThan(0);
    }
  });

  test('text of five million letters is refused in a short sentence', () => {
    const long = 'x'.repeat(5_000_000);
    const plain = textOf('plain');
    for (const at of ['"name": "', '"id": "', '"sheet": "', '"size": "', '"alloy": "']) {
      const result = parseModel(plain.replace(at, at + long));
      expect(sentences(result).length).toBeGreaterThan(0);
      for (const s of sentences(result)) expect(s.length).toBeLessThan(600);
    }
    const asLength = parseModel(plain.replace('"thickness": 0.508', `"thickness": "${long}"`));
    expect(sentences(asLength)).toHaveLength(1);
    expect(sentences(asLength)[0]!.length).toBeLessThan(600);
    const asKey = parseModel(plain.replace('"tolerances": {}', `"tolerances": { "${long}": 1 }`));
    expect(sentences(asKey).every((s) => s.length < 600)).toBe(true);
  });

  test('a file longer than is taken', () => {
    expect(sentences(parseModel(' '.repeat(LONGEST + 1)))[0]).toMatch(/expected at most/);
  });

  test('a million stations', () => {
    const one = JSON.parse(textOf('plain')) as Plain;
    one.stations = [];
    const stations = Array.from({ length: 1_000_000 }, (_, i) => `{"id":"S${i}","y":${i},"nose":9,"washout":0}`).join(
      ',',
    );
    const text = JSON.stringify(one).replace('"stations":[]', `"stations":[${stations}]`);
    const found = sentences(parseModel(text));
    expect(found).toHaveLength(1);
    expect(found[0]).toMatch(/a list of 1000000; expected at most 20000; .*split the panel/);
  });

  // A right file near the largest size; how long it takes is a row of tests/bench.
  test('four thousand stations are read without a hang', () => {
    expect(sentences(parseModel(longFile(4000)))).toEqual([]);
  });
});
