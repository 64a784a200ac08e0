import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import react from '@vitejs/plugin-react';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';
import { COUNTS } from './tests/counts.ts';

const ICONS = ['icon.svg', 'icon-192.png', 'icon-512.png'] as const;

/** What the browser needs to set the app up as one of its own. */
const MANIFEST = {
  name: 'Ribtrue',
  short_name: 'Ribtrue',
  description: 'Will the skeleton go together, and is it true?',
  start_url: './',
  scope: './',
  display: 'standalone',
  background_color: '#faf9f6',
  theme_color: '#faf9f6',
  icons: [
    { src: 'icon.svg', sizes: 'any', type: 'image/svg+xml' },
    { src: 'icon-192.png', sizes: '192x192', type: 'image/png' },
    { src: 'icon-512.png', sizes: '512x512', type: 'image/png' },
  ],
};

/** The worker that keeps the app's files, by its source and as it is served. */
const KEEPER = { source: 'src/app/keeping/keeper.ts', served: 'sw.js' } as const;

/** What the page may do: run and load its own files and nothing else; no script in the page, no code made from text but WASM. */
const POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self' blob:; base-uri 'none'; form-action 'none'";

/** Adds the icons, the manifest and the keeper to a build, and tells the keeper its files; the page itself only links them, without a script of its own. */
function offline(): Plugin {
  return {
    name: 'offline',
    apply: 'build',
    buildStart() {
      const id = fileURLToPath(new URL(KEEPER.source, import.meta.url));
      this.emitFile({ type: 'chunk', id, fileName: KEEPER.served });
    },
    transformIndexHtml: () => [
      { tag: 'meta', injectTo: 'head-prepend', attrs: { 'http-equiv': 'Content-Security-Policy', content: POLICY } },
      { tag: 'link', injectTo: 'head', attrs: { rel: 'icon', href: './icon.svg', type: 'image/svg+xml' } },
      { tag: 'link', injectTo: 'head', attrs: { rel: 'manifest', href: './manifest.webmanifest' } },
    ],
    generateBundle: {
      order: 'post',
      handler(_, bundle) {
        for (const file of ICONS)
          this.emitFile({
            type: 'asset',
            fileName: file,
            source: readFileSync(new URL(`./src/app/icon/${file}`, import.meta.url)),
          });
        this.emitFile({ type: 'asset', fileName: 'manifest.webmanifest', source: JSON.stringify(MANIFEST) });
        const built = Object.values(bundle).filter(
          (f) => !f.fileName.endsWith('.map') && !ICONS.some((i) => i === f.fileName),
        );
        const hash = createHash('sha256');
        for (const f of built) hash.update(f.fileName).update(f.type === 'chunk' ? f.code : f.source);
        const files = ['./', ...new Set([...built.map((f) => f.fileName), ...ICONS, 'manifest.webmanifest'])]
          .filter((f) => f !== KEEPER.served)
          .sort();
        const keeper = bundle[KEEPER.served];
        if (keeper?.type !== 'chunk') throw new Error(`the build lacks ${KEEPER.source}`);
        const name = JSON.stringify(hash.digest('hex').slice(0, 12));
        keeper.code = `const KEPT_AS=${name},KEPT_FILES=${JSON.stringify(files)};\n${keeper.code}`;
      },
    },
  };
}

/** The invented panels go into the build without their line breaks and indents, a third of their size. */
function withoutBlanks(): Plugin {
  return {
    name: 'without-blanks',
    enforce: 'pre',
    load: (id) =>
      /\/models\/[\w-]+\.json\?raw$/.test(id)
        ? `export default ${JSON.stringify(JSON.stringify(JSON.parse(readFileSync(id.replace(/\?raw$/, ''), 'utf8'))))}`
        : null,
  };
}

/** The kernel asks for a module of its terminal's host where it runs there; in a browser it never does, and gets nothing. */
function noHostModules(): Plugin {
  const NOTHING = '\0no-host-module';
  return {
    name: 'no-host-modules',
    apply: 'build',
    enforce: 'pre',
    resolveId: (id) => (id === 'node:module' ? NOTHING : null),
    load: (id) => (id === NOTHING ? 'export const createRequire = undefined;' : null),
  };
}

/** One build, one served app and one browser for all files of a run that need them; a page is given time to answer. */
const inBrowser = { globalSetup: './tests/browser/house.ts', expect: { poll: { timeout: 60_000 } } };

/** When the runner gives up. */
const PATIENCE = { testTimeout: COUNTS.patience * 60_000, hookTimeout: COUNTS.patience * 60_000 };

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: false,
  plugins: [react(), offline(), withoutBlanks(), noHostModules()],
  build: {
    outDir: '../../dist',
    emptyOutDir: true,
    target: 'es2022',
    chunkSizeWarningLimit: 1200,
    rolldownOptions: { checks: { bundlerTimings: false } },
  },
  worker: { format: 'es', plugins: () => [noHostModules()] },
  preview: { port: 4173, strictPort: false },
  test: {
    root: import.meta.dirname,
    reporters: ['default', './tests/closing-line.ts'],
    maxWorkers: 2,
    isolate: false, // files of a worker share what they load: nothing in the engine is changed by being used
    projects: [
      { extends: true, test: { name: 'engine', include: ['tests/**/*.test.ts'], exclude: ['tests/browser/**'] } },
      { extends: true, test: { name: 'journeys', include: ['tests/browser/journeys/*.test.ts'], ...inBrowser } },
      { extends: true, test: { name: 'browser', include: ['tests/browser/*.test.ts'], ...inBrowser } },
    ],
    environment: 'node',
    ...PATIENCE,
  },
});
