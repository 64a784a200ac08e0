import { mkdtempSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type Browser, type BrowserContextOptions, chromium, type Page } from 'playwright-core';
import { build, type PreviewServer, preview } from 'vite';
import { FLAGS, findBrowser } from './find-browser.ts';

/** The built app served on loopback, and a real Chromium to use it with. */
export interface OpenApp {
  readonly url: string;
  readonly browser: Browser;
  /**
   * A fresh page, with its errors collected; waits until the card is there. `flat` keeps it from drawing in 3D, which
   * software drawing makes slow: for everything that is not about the bench. The keeper that makes the app work offline is
   * kept out unless asked for with `serviceWorkers: 'allow'`.
   */
  page(options?: BrowserContextOptions & { flat?: boolean }): Promise<{ page: Page; errors: string[] }>;
  /** Stops the server; the browser stays. */
  stopServing(): Promise<void>;
  close(): Promise<void>;
}

/** Builds the app once, serves it and starts the browser. */
export async function openApp(): Promise<OpenApp> {
  const outDir = mkdtempSync(join(tmpdir(), 'ribtrue-app-')); // several test files build at once
  await build({ logLevel: 'error', build: { outDir } });
  const server: PreviewServer = await preview({
    preview: { host: '127.0.0.1', port: 0 },
    logLevel: 'error',
    build: { outDir },
  });
  const browser = await chromium.launch({ executablePath: await findBrowser(), args: FLAGS });
  const url = `${server.resolvedUrls!.local[0]!}?test`;
  let stopped: Promise<void> | undefined;
  const stop = (): Promise<void> => (stopped ??= server.close());
  return {
    url,
    browser,
    page: async ({ flat = false, ...options } = {}) => {
      const page = await (
        await browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: 'block', ...options })
      ).newPage();
      page.setDefaultTimeout(60_000); // a busy machine draws slowly in software
      if (flat) await page.addInitScript(withoutWebGL);
      const errors: string[] = [];
      page.on('pageerror', (e) => errors.push(e.message));
      page.on('console', (m) => {
        if (m.type() === 'error') errors.push(m.text());
      });
      await page.goto(url);
      await page.waitForSelector('.card h1');
      await answersLoaded(page);
      return { page, errors };
    },
    stopServing: () => stop(),
    close: async () => {
      await browser.close();
      await stop();
      rmSync(outDir, { recursive: true, force: true });
    },
  };
}

/** Waits for the other questions' answers, which come right after the first screen, the helper's last. */
export async function answersLoaded(page: Page): Promise<void> {
  await page.waitForFunction(() =>
    performance
      .getEntriesByType('resource')
      .some((r) => /\/HelperAnswer[^/]*\.js/.test(r.name) && (r as PerformanceResourceTiming).responseEnd > 0),
  );
  await page.waitForTimeout(150);
}

/** Runs in the page before anything else: as in a browser without WebGL. */
export function withoutWebGL(): void {
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...rest: unknown[]) {
    return kind.startsWith('webgl') ? null : (get as (...a: unknown[]) => unknown).call(this, kind, ...rest);
  } as typeof HTMLCanvasElement.prototype.getContext;
}

/** Waits until every part has been cut and drawn. */
export async function metalCut(page: Page): Promise<void> {
  await page.waitForSelector('.bench canvas', { timeout: 60_000 });
  await page.waitForFunction(() => document.querySelector('.bench-note[role=status]') === null, null, {
    timeout: 60_000,
  });
}

/** The newest state the browser's database has of the panel on screen, and how many states; null while there is none. */
export function keptNewest(
  page: Page,
): Promise<{ readonly text: string; readonly name: string; readonly count: number } | null> {
  return page.evaluate(async () => {
    const asked = <T>(request: IDBRequest<T>): Promise<T> =>
      new Promise((done, fail) => {
        request.onsuccess = () => done(request.result);
        request.onerror = () => fail(request.error);
      });
    if (!(await indexedDB.databases()).some((d) => d.name === 'ribtrue')) return null;
    const db = await asked(indexedDB.open('ribtrue'));
    try {
      const stores = db.transaction(['kept', 'states', 'marks']);
      const panel: string | undefined = await asked(stores.objectStore('marks').get('current'));
      const record = panel === undefined ? undefined : await asked(stores.objectStore('kept').get(panel));
      if (!record) return null;
      const state = await asked(stores.objectStore('states').get([panel!, record.head]));
      return { text: state.text, name: record.name, count: record.states.length };
    } finally {
      db.close();
    }
  });
}

/** Waits until the kept panel says `words`. */
export async function keptHas(page: Page, words: string): Promise<void> {
  for (let i = 0; i < 200; i++) {
    if ((await keptNewest(page))?.text.includes(words)) return;
    await page.waitForTimeout(25);
  }
  throw new Error(`the browser never kept "${words}"`);
}
