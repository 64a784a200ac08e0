import { type SpawnSyncReturns, spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync } from 'node:fs';
import { join } from 'node:path';
import { build } from 'vite';
import { afterAll, beforeAll } from 'vitest';

type Said = SpawnSyncReturns<string>;

/** The terminal as `npm run -s ribtrue` starts it: from its sources, which takes a second before anything is done. */
export const fromSources = (...args: string[]): Said =>
  spawnSync(process.execPath, ['--import', 'tsx', 'src/cli.ts', ...args], { encoding: 'utf8' });

/** The terminal made into one program before the tests of a file, so that each call of it starts at once. */
export function terminal(): (...args: string[]) => Said {
  const cache = join('node_modules', '.cache');
  let folder = '';
  beforeAll(async () => {
    mkdirSync(cache, { recursive: true });
    folder = mkdtempSync(join(cache, 'ribtrue-')); // there it finds the packages it needs
    await build({
      configFile: false,
      logLevel: 'error',
      build: { ssr: 'src/cli.ts', outDir: folder, target: 'node20', minify: false },
    });
  });
  afterAll(() => rmSync(folder, { recursive: true, force: true }));
  return (...args) => spawnSync(process.execPath, [join(folder, 'cli.js'), ...args], { encoding: 'utf8' });
}
