import { readdirSync, readFileSync } from 'node:fs';
import { dirname, join, normalize, relative } from 'node:path';
import { describe, expect, test } from 'vitest';

/*
 * Who may import whom. Each line may use the lines above it; never a neighbour on its own line, never a line below.
 * `import type` counts. A folder or file of src that has no place here fails, and so does a circle of files.
 */
const LINES: readonly (readonly string[])[] = [
  ['units', 'once'],
  ['geometry', 'chains', 'mechanics'],
  ['model'],
  ['parts'],
  ['checks'],
  ['drilling', 'chance', 'truing', 'solidChecks'],
  ['remedies'],
  ['tonight'],
  ['scene', 'sheets'],
  ['app', 'cli'],
];

/**
 * The rooms inside a room, line by line: one may use the lines before it and what stands in the room itself, never a
 * neighbour on its own line. What stands in the room itself may use all of them, as long as no circle of files comes of it.
 */
const WITHIN: Readonly<Record<string, readonly (readonly string[])[]>> = {
  geometry: [['kernel']],
  model: [['schema'], ['rested'], ['asked'], ['file'], ['edits'], ['starts', 'tables']],
  parts: [['shapes'], ['layout'], ['placed'], ['flat']],
  checks: [['fit', 'holes']],
  remedies: [['offers'], ['search']],
  scene: [['gaps', 'labels']],
  sheets: [['paper'], ['steps', 'templates'], ['bench']],
  app: [
    ['icon', 'state', 'files'],
    ['workers', 'keeping', 'widgets'],
    ['paper', 'station', 'view3d'],
    ['tonight', 'build', 'measure', 'fit', 'remedy', 'drill', 'true', 'helper'],
    ['bench'],
    ['frame'],
  ],
};
/** Files a folder may hold at most: as many as one can take in. */
const MOST_FILES = 22;
const lineOf = (folder: string): number => LINES.findIndex((l) => l.includes(folder));

/** Packages by the only folders that may use them; none else may be imported at all. */
const PACKAGES: readonly (readonly [RegExp, string])[] = [
  [/^manifold-3d\/manifold\.wasm\?url$/, 'app'],
  [/^manifold-3d($|\/)/, 'geometry'],
  [/^zod$/, 'model'],
  [/^papaparse$/, 'model'],
  [/^dxf-writer$/, 'sheets'],
  [/^@cantoo\/pdf-lib$/, 'sheets'],
  [/^@pdf-lib\/standard-fonts$/, 'sheets'],
  [/^d3-polygon$/, 'geometry'],
  [/^@react-three\//, 'app/view3d'],
  [/^(react|react-dom|three|zustand|comlink|idb)($|\/)/, 'app'],
  [/^node:/, 'cli'],
];
/** Words of the screen, the file, the clock, chance and the console: only app and cli may use them. */
const OUTSIDE =
  /(?<![\w.$'"`-])(?:document|window|navigator|localStorage|sessionStorage|indexedDB|requestAnimationFrame|fetch|process|performance|console)\s*(?:\.\s*\w|[[(])|\b(?:new Date\b|Date\.now|Math\.random|crypto\.)/;
const NO_NAMES = /^(?:index|utils?|helpers?|common)\.tsx?$/;

interface Source {
  /** From src, such as `model/parse.ts`. */
  readonly path: string;
  readonly text: string;
}

const home = (path: string): string =>
  path.includes('/') ? path.slice(0, path.indexOf('/')) : path.replace(/\.tsx?$/, '');
/** Text without comments, so that a word in a sentence is no use of it. */
const code = (text: string): string => text.replace(/\/\*[\s\S]*?\*\//g, '').replace(/(^|[^:'"`])\/\/[^\n]*/g, '$1');
const imported = (text: string): string[] =>
  [...text.matchAll(/(?:(?<!['"])\bfrom\s*|\bimport\s*\(?\s*)(['"])([^'"]+)\1/g)].map((m) => m[2]!);

/** The room inside a room that a file stands in; empty where it stands in the room itself. */
const roomWithin = (path: string): string => {
  const parts = path.split('/');
  return parts.length > 2 ? (parts[1] ?? '') : '';
};

/** Why a file may not use another one of its own room; undefined where it may. */
function faultWithin(path: string, at: string): string | undefined {
  const lines = WITHIN[home(path)] ?? [];
  const [own, theirs] = [roomWithin(path), roomWithin(at)];
  if (own === '' || theirs === '' || own === theirs) return undefined;
  const lineIn = (room: string): number => lines.findIndex((l) => l.includes(room));
  if (lineIn(own) < 0 || lineIn(theirs) < 0)
    return `${path}: imports ${at}, and one of the two has no line in its room`;
  if (lineIn(theirs) === lineIn(own)) return `${path}: imports ${at}, its neighbour in their room`;
  return lineIn(theirs) > lineIn(own) ? `${path}: imports ${at}, which is below it in their room` : undefined;
}

/** Everything a file does that it may not, one sentence each. */
function faultsOf({ path, text }: Source): string[] {
  const faults: string[] = [];
  const own = home(path);
  const line = lineOf(own);
  if (line < 0) return [`${path}: "${own}" has no line in the table`];
  const plain = code(text);
  for (const target of imported(plain)) {
    if (!target.startsWith('.')) {
      const rule = PACKAGES.find(([name]) => name.test(target));
      if (!rule) faults.push(`${path}: imports the package ${target}, which no folder may`);
      else if (path !== `${rule[1]}.ts` && !path.startsWith(`${rule[1]}/`))
        faults.push(`${path}: imports ${target}, which only ${rule[1]} may`);
      continue;
    }
    const at = normalize(join(dirname(path), target));
    // The panels shipped with the program, as text.
    if (own === 'app' && /^\.\.\/models\/[\w-]+\.json\?raw$/.test(at)) continue;
    if (at.startsWith('..')) {
      faults.push(`${path}: imports ${target}, outside src`);
      continue;
    }
    const theirs = home(at.replace(/\?.*$/, ''));
    if (!/\.(?:tsx?|css|json)(?:\?\w+)?$/.test(target)) faults.push(`${path}: imports ${target} without its ending`);
    if (theirs === own) {
      const within = faultWithin(path, at.replace(/\?.*$/, ''));
      if (within) faults.push(within);
      continue;
    }
    const there = lineOf(theirs);
    if (there < 0) faults.push(`${path}: imports ${target}, which has no line in the table`);
    else if (there === line) faults.push(`${path}: imports its neighbour ${theirs}`);
    else if (there > line) faults.push(`${path}: imports ${theirs}, which is below it`);
  }
  if (/\bexport\s+default\b|\bexport\s*\{[^}]*\bas\s+default\b/.test(plain))
    faults.push(`${path}: has a default export`);
  if (/\bexport\s+(?:type\s+)?(?:\*|\{[^}]*\})\s*from\b/.test(plain))
    faults.push(`${path}: hands on what another file exports`);
  if (NO_NAMES.test(path.split('/').at(-1)!)) faults.push(`${path}: is named for no question`);
  if (
    path
      .split('/')
      .slice(0, -1)
      .some((folder) => /^(?:utils?|helpers|common)$/.test(folder))
  )
    faults.push(`${path}: stands in a folder named for no question`);
  const out = own === 'app' || own === 'cli' ? undefined : OUTSIDE.exec(plain);
  if (out) faults.push(`${path}: uses ${out[0]}`);
  return faults;
}

const SRC = join(import.meta.dirname, '../src');
const sources = readdirSync(SRC, { recursive: true, withFileTypes: true })
  .filter((f) => f.isFile() && /\.tsx?$/.test(f.name) && !f.name.endsWith('.d.ts'))
  .map((f): Source => {
    const path = join(f.parentPath, f.name);
    return { path: relative(SRC, path).replaceAll('\\', '/'), text: readFileSync(path, 'utf8') };
  });

test.each(sources.map((s) => [s.path, s] as const))('src/%s', (_, source) => expect(faultsOf(source)).toEqual([]));

test('every folder of src has a line', () => {
  for (const entry of readdirSync(SRC)) expect(lineOf(entry.replace(/\.tsx?$/, '')), entry).toBeGreaterThanOrEqual(0);
});

test('every room inside a room has a line in it', () => {
  for (const { path } of sources) {
    const within = roomWithin(path);
    if (within !== '') expect((WITHIN[home(path)] ?? []).flat(), path).toContain(within);
  }
});

/** Circles of files that import one another, `import type` and imports made later both counted. */
function circlesOf(list: readonly Source[]): string[][] {
  const known = new Map(list.map((s) => [s.path, s]));
  const circles: string[][] = [];
  const done = new Set<string>();
  const visit = (path: string, way: readonly string[]): void => {
    const seen = way.indexOf(path);
    if (seen >= 0) circles.push([...way.slice(seen), path]);
    const source = known.get(path);
    if (seen >= 0 || done.has(path) || !source) return;
    for (const target of imported(code(source.text)))
      if (target.startsWith('.')) visit(normalize(join(dirname(path), target)), [...way, path]);
    done.add(path);
  };
  for (const { path } of list) visit(path, []);
  return circles;
}

test('no circle of files', () => expect(circlesOf(sources)).toEqual([]));

test('no folder holds more than one can take in', () => {
  const counts = new Map<string, number>();
  for (const { path } of sources) counts.set(dirname(path), (counts.get(dirname(path)) ?? 0) + 1);
  for (const [folder, count] of counts) expect(count, folder).toBeLessThanOrEqual(MOST_FILES);
});

describe('the rule itself, on a made-up list', () => {
  test.each<[string, string, string[]]>([
    [
      'model/x.ts',
      "import type { Finding } from '../checks/finding.ts';",
      ['model/x.ts: imports checks, which is below it'],
    ],
    ['chains/x.ts', "import { add } from '../geometry/vector.ts';", ['chains/x.ts: imports its neighbour geometry']],
    [
      'scene/x.ts',
      "export { page } from '../sheets/page.ts';",
      ['scene/x.ts: imports its neighbour sheets', 'scene/x.ts: hands on what another file exports'],
    ],
    ['model/x.ts', "export * from './y.ts';", ['model/x.ts: hands on what another file exports']],
    [
      'parts/layout/x.ts',
      "import type { Build } from '../placed/build.ts';",
      ['parts/layout/x.ts: imports parts/placed/build.ts, which is below it in their room'],
    ],
    [
      'parts/layout/x.ts',
      "import { a } from '../attic/a.ts';",
      ['parts/layout/x.ts: imports parts/attic/a.ts, and one of the two has no line in its room'],
    ],
    [
      'app/drill/x.tsx',
      "import { FIT } from '../fit/FitAnswer.tsx';",
      ['app/drill/x.tsx: imports app/fit/FitAnswer.tsx, its neighbour in their room'],
    ],
    ['drilling/x.ts', "import { a } from '../chance/a.ts';", ['drilling/x.ts: imports its neighbour chance']],
    ['app/x.tsx', "import '../cli.ts';", ['app/x.tsx: imports its neighbour cli']],
    [
      'checks/x.ts',
      "const f = await import('../remedies/plan.ts');",
      ['checks/x.ts: imports remedies, which is below it'],
    ],
    ['checks/x.ts', "import { a } from '../units';", ['checks/x.ts: imports ../units without its ending']],
    ['checks/x.ts', "import { a } from '../../tests/a.ts';", ['checks/x.ts: imports ../../tests/a.ts, outside src']],
    [
      'checks/x.ts',
      "import { a } from '../wings/a.ts';",
      ['checks/x.ts: imports ../wings/a.ts, which has no line in the table'],
    ],
    ['wings/x.ts', 'export const a = 1;', ['wings/x.ts: "wings" has no line in the table']],
    ['checks/x.ts', "import { z } from 'zod';", ['checks/x.ts: imports zod, which only model may']],
    [
      'checks/x.ts',
      "import { chunk } from 'lodash';",
      ['checks/x.ts: imports the package lodash, which no folder may'],
    ],
    ['scene/x.ts', "import * as three from 'three';", ['scene/x.ts: imports three, which only app may']],
    [
      'app/panels/x.tsx',
      "import { Canvas } from '@react-three/fiber';",
      ['app/panels/x.tsx: imports @react-three/fiber, which only app/view3d may'],
    ],
    ['app/x.ts', "import { readFileSync } from 'node:fs';", ['app/x.ts: imports node:fs, which only cli may']],
    [
      'model/x.ts',
      "import plain from '../../models/plain.json?raw';",
      ['model/x.ts: imports ../../models/plain.json?raw, outside src'],
    ],
    ['parts/x.ts', 'export default 1;', ['parts/x.ts: has a default export']],
    ['parts/x.ts', 'const a = 1; export { a as default };', ['parts/x.ts: has a default export']],
    ['parts/index.ts', 'export const a = 1;', ['parts/index.ts: is named for no question']],
    ['app/helpers.ts', 'export const a = 1;', ['app/helpers.ts: is named for no question']],
    ['app/common/x.ts', 'export const a = 1;', ['app/common/x.ts: stands in a folder named for no question']],
    ['model/x.ts', 'const w = window.innerWidth;', ['model/x.ts: uses window.i']],
    ['model/x.ts', 'const t = Date.now();', ['model/x.ts: uses Date.now']],
    ['model/x.ts', 'const t = new Date();', ['model/x.ts: uses new Date']],
    ['model/x.ts', 'const r = Math.random();', ['model/x.ts: uses Math.random']],
    ['model/x.ts', 'console.log(1);', ['model/x.ts: uses console.l']],
    ['model/x.ts', 'const t = performance.now();', ['model/x.ts: uses performance.n']],
  ])('%s with %s is refused', (path, text, expected) => expect(faultsOf({ path, text })).toEqual(expected));

  test.each<[string, string]>([
    [
      'checks/x.ts',
      "import { best } from '../chains/chain.ts';\nimport type { Model } from '../model/schema.ts';\nimport { say } from './describe.ts';",
    ],
    [
      'app/view3d/x.tsx',
      "import { Canvas } from '@react-three/fiber';\nimport { x } from '../store.ts';\nwindow.x = document.title;",
    ],
    [
      'cli.ts',
      "import { readFileSync } from 'node:fs';\nimport { checkAll } from './checks/checkAll.ts';\nconsole.log(Date.now());",
    ],
    [
      'model/x.ts',
      "// the window is open; see console.log\n/* Math.random() */\nconst text = 'a document.'; const d = model.window;",
    ],
    [
      'app/demos.ts',
      "import plain from '../../models/plain.json?raw';\nimport wasm from 'manifold-3d/manifold.wasm?url';",
    ],
    ['geometry/kernel.ts', "import manifold from 'manifold-3d';"],
  ])('%s with %s is taken', (path, text) => expect(faultsOf({ path, text })).toEqual([]));

  test('a circle is found, however long, and through types alone', () => {
    const made = (path: string, target: string): Source => ({ path, text: `import type { A } from '${target}';` });
    expect(
      circlesOf([made('parts/a.ts', './b.ts'), made('parts/b.ts', './c.ts'), made('parts/c.ts', './a.ts')]),
    ).toEqual([['parts/a.ts', 'parts/b.ts', 'parts/c.ts', 'parts/a.ts']]);
    expect(circlesOf([made('parts/a.ts', './b.ts'), made('parts/b.ts', './c.ts')])).toEqual([]);
  });

  test('the table is in one order and names each folder once', () => {
    const all = LINES.flat();
    expect(new Set(all).size).toBe(all.length);
    expect(lineOf('units')).toBe(0);
    expect(lineOf('app')).toBe(LINES.length - 1);
  });
});
