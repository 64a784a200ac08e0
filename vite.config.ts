import { createHash } from 'node:crypto';
import { readFileSync } from 'node:fs';
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

/**
 * The worker that keeps every file of the app, so that it opens with the network off. A newer version is fetched whole
 * beside the older one and takes over when the last window of that is closed: no window ever mixes two. Only files of the
 * app's own place are asked for, and only by name from this list.
 */
const keeper = (id: string, files: readonly string[]): string => `const NAME = 'ribtrue-${id}';
const FILES = ${JSON.stringify(files)};
const MATCH = { ignoreSearch: true, ignoreVary: true };
self.addEventListener('install', (e) => e.waitUntil(caches.open(NAME).then((c) => c.addAll(FILES.map((f) => new Request(f, { cache: 'reload' }))))));
self.addEventListener('activate', (e) => e.waitUntil(caches.keys().then((all) => Promise.all(all.filter((n) => n.startsWith('ribtrue-') && n !== NAME).map((n) => caches.delete(n)))).then(() => self.clients.claim())));
self.addEventListener('fetch', (e) => {
  if (e.request.method !== 'GET' || new URL(e.request.url).origin !== location.origin) return;
  const wanted = e.request.mode === 'navigate' ? './' : e.request;
  e.respondWith(caches.open(NAME).then((c) => c.match(wanted, MATCH)).then((kept) => kept || fetch(e.request)));
});
`;

/** What the page may do: run and load its own files and nothing else; no script in the page, no code made from text but WASM. */
const POLICY =
  "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'unsafe-inline'; img-src 'self' blob: data:; font-src 'self'; connect-src 'self'; worker-src 'self'; manifest-src 'self'; frame-src 'self' blob:; base-uri 'none'; form-action 'none'";

/** Adds the icons, the manifest and the keeper to a build; the page itself only links them, without a script of its own. */
function offline(): Plugin {
  return {
    name: 'offline',
    apply: 'build',
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
          .filter((f) => f !== 'sw.js')
          .sort();
        this.emitFile({ type: 'asset', fileName: 'sw.js', source: keeper(hash.digest('hex').slice(0, 12), files) });
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

/** One build, one served app and one browser for all files of a run that need them; a page is given time to answer. */
const inBrowser = { globalSetup: './tests/browser/house.ts', expect: { poll: { timeout: 60_000 } } };

/** When the runner gives up. */
const PATIENCE = { testTimeout: COUNTS.patience * 60_000, hookTimeout: COUNTS.patience * 60_000 };

export default defineConfig({
  root: 'src/app',
  base: './',
  publicDir: false,
  plugins: [react(), offline(), withoutBlanks()],
  build: { outDir: '../../dist', emptyOutDir: true, target: 'es2022', chunkSizeWarningLimit: 1200 },
  worker: { format: 'es' },
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
