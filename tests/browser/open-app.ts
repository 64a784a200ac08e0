import { type Browser, type BrowserContextOptions, chromium, type Download, type Page } from 'playwright-core';
import { howToStart, serveApp } from './house.ts';

type PageOptions = BrowserContextOptions & {
  readonly flat?: boolean;
  /** The question the page is left at: Fit, unless the list that the app opens on is what is asked about. */
  readonly asks?: 'Fit' | 'Tonight';
};

/** The built app served on loopback, and a real Chromium to use it with. */
export interface OpenApp {
  readonly url: string;
  readonly browser: Browser;
  /**
   * A fresh page at rest, with its errors collected. `flat` keeps it from drawing in 3D, which software drawing makes slow:
   * for everything that is not about the bench. The keeper that makes the app work offline is kept out unless asked for with
   * `serviceWorkers: 'allow'`.
   */
  page(options?: PageOptions): Promise<{ page: Page; errors: string[] }>;
}

/** The app at an address, used with a browser. */
export function appAt(url: string, browser: Browser): OpenApp {
  return {
    url,
    browser,
    page: async ({ flat = false, asks = 'Fit', ...options } = {}) => {
      const context = await browser.newContext({
        viewport: { width: 1280, height: 800 },
        serviceWorkers: 'block',
        ...options,
      });
      const page = await context.newPage();
      page.setDefaultTimeout(180_000); // a busy machine draws slowly in software
      if (flat) await page.addInitScript(withoutWebGL);
      const errors: string[] = [];
      page.on('pageerror', (e) => errors.push(e.message));
      page.on('console', (m) => {
        if (m.type() === 'error') errors.push(m.text());
      });
      await page.goto(url);
      await page.waitForSelector('.card h1');
      await atRest(page);
      if (asks !== 'Tonight') await ask(page, asks);
      return { page, errors };
    },
  };
}

/** A served app and a browser of one's own, for whoever stops or kills them, or measures. */
export interface OwnApp extends OpenApp {
  /** Stops the server; the browser stays. */
  stopServing(): Promise<void>;
  close(): Promise<void>;
}

export async function openOwnApp(): Promise<OwnApp> {
  const served = await serveApp();
  const browser = await chromium.launch(await howToStart());
  const close = async (): Promise<void> => {
    await browser.close();
    await served.stop();
  };
  return { ...appAt(served.url, browser), stopServing: served.stop, close };
}

/**
 * Waits until the page says that it is at rest: every answer loaded, nothing asked of workers or of the database that has not
 * come, nothing waiting to be drawn; and until no transition runs.
 */
export async function atRest(page: Page): Promise<void> {
  await page.waitForFunction(
    () =>
      document.documentElement.dataset.atRest !== undefined &&
      document.getAnimations().every((a) => a.playState !== 'running'),
  );
}

/** Lets so many frames of the screen go by. */
export function frames(page: Page, many: number): Promise<void> {
  return page.evaluate(
    (n) =>
      new Promise<void>((done) => {
        let left = n;
        const next = (): void => {
          left--;
          if (left < 0) done();
          else requestAnimationFrame(next);
        };
        next();
      }),
    many,
  );
}

/** As many frames as the screen shows in a second: what moves by itself has moved by then. */
export const SECOND = 60;

/** Asks one of the questions, and waits for the answer. */
export async function ask(page: Page, question: string): Promise<void> {
  const questions = page.getByRole('navigation', { name: 'Questions' });
  await questions.getByRole('button', { name: question, exact: true }).click();
  await atRest(page);
}

/** What the browser was given to save, wherever the browser is. */
export async function bytesOf(saved: Download): Promise<Buffer> {
  const parts: Buffer[] = [];
  for await (const part of await saved.createReadStream()) parts.push(part as Buffer);
  return Buffer.concat(parts);
}

/** The same, as text. */
export const textOf = async (saved: Download): Promise<string> => (await bytesOf(saved)).toString('utf8');

/** Runs in the page before anything else: as in a browser without WebGL. */
export function withoutWebGL(): void {
  const get = HTMLCanvasElement.prototype.getContext;
  HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...rest: unknown[]) {
    return kind.startsWith('webgl') ? null : (get as (...a: unknown[]) => unknown).call(this, kind, ...rest);
  } as typeof HTMLCanvasElement.prototype.getContext;
}

/** Waits until every part has been cut and drawn. */
export async function metalCut(page: Page): Promise<void> {
  await page.waitForSelector('.bench canvas');
  await page.waitForFunction(() => document.querySelector('.bench-note[role=status]') === null);
  await atRest(page);
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
    await frames(page, 2);
  }
  throw new Error(`the browser never kept "${words}"`);
}
