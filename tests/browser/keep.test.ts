import { type ChildProcess, spawn } from 'node:child_process';
import { mkdtempSync, readFileSync, rmSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { type BrowserContext, chromium, type Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { tooMany } from '../../src/app/keeping/keep.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { COUNTS } from '../counts.ts';
import { FLAGS, findBrowser } from './find-browser.ts';
import { keptHas, keptNewest, textOf, withoutWebGL } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/*
 * Nothing lost, in a real browser: reload, a killed tab, a killed browser, a full disk, no storage, a database deleted under
 * the app, two tabs, older and newer versions, a clock set back. What must hold is a law: what was acknowledged is there.
 */

const { kills: KILLS } = COUNTS;
const app = sharedApp();

const HEIGHT = /^Change the height of M2, front end/;

/** The list of a station's sizes, where a person measures. */
async function measuring(page: Page): Promise<void> {
  await page.getByRole('button', { name: 'Measure', exact: true }).click();
  if (!(await page.getByRole('heading', { name: /^Station S2/ }).isVisible())) await page.locator('#rail-S2').click();
}

/** Reads a rib height in through the screen, as a person does. */
async function type(page: Page, value: string): Promise<void> {
  await measuring(page);
  await page.getByRole('button', { name: HEIGHT }).click();
  const box = page.getByLabel('New height of M2, front end');
  await box.fill(value);
  await box.press('Enter');
  await page.getByRole('button', { name: HEIGHT }).filter({ hasText: value }).waitFor();
}

async function shown(page: Page): Promise<string> {
  await measuring(page);
  return (await page.getByRole('button', { name: HEIGHT }).textContent()) ?? '';
}

async function again(context: BrowserContext): Promise<Page> {
  const page = await context.newPage();
  await page.addInitScript(withoutWebGL);
  await page.goto(app.url);
  await page.waitForSelector('.card h1');
  return page;
}

/** Cuts off the newest state that is kept, as a bad disk would. */
function damageNewest(page: Page): Promise<void> {
  return page.evaluate(
    () =>
      new Promise<void>((done) => {
        const asked = indexedDB.open('ribtrue');
        asked.onsuccess = () => {
          const tx = asked.result.transaction(['kept', 'states'], 'readwrite');
          tx.objectStore('kept').getAll().onsuccess = (e) => {
            const [record] = (e.target as IDBRequest<{ id: string; head: number }[]>).result;
            tx.objectStore('states').put({
              panel: record!.id,
              seq: record!.head,
              step: 'damaged',
              at: 0,
              text: '{ "format": "ribtrue-panel", "ver',
            });
          };
          tx.oncomplete = () => {
            asked.result.close();
            done();
          };
        };
      }),
  );
}

const notice = (page: Page) => page.locator('.not-kept');

describe('a panel that was changed', () => {
  it('is there after a reload, and so is every step that undo takes back', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await type(page, '83.02');
    await keptHas(page, '83.02');
    await page.reload();
    expect(await shown(page)).toContain('83.02');
    await page.getByRole('button', { name: /^Undo: measured the height of M2/ }).click();
    expect(await shown(page)).toContain('83.01');
    await page.context().close();
  });

  it(`loses at most the last keystroke when its tab is killed at any moment (${KILLS} times)`, async () => {
    let { page } = await app.page({ flat: true });
    const context = page.context();
    await type(page, '83.00');
    await keptHas(page, '83');
    for (let i = 1; i <= KILLS; i++) {
      const now = 80 + i / 100;
      await type(page, now.toFixed(2));
      const before = await shown(page);
      expect(before).toContain(now.toFixed(2));
      const next = (now + 5).toFixed(2);
      const box = page.getByLabel('New height of M2, front end');
      await page.getByRole('button', { name: HEIGHT }).click();
      await box.fill(next);
      await keptHas(page, `"value": ${Number(now.toFixed(2))}`);
      const devtools = await context.newCDPSession(page);
      await box.press('Enter', { noWaitAfter: true });
      await new Promise((done) => setTimeout(done, (i * 7.3) % 40)); // a moment further on each time
      void devtools.send('Page.crash').catch(() => undefined);
      await page.waitForEvent('crash', { timeout: 10_000 }).catch(() => undefined);
      void page.close().catch(() => undefined);
      page = await again(context);
      const kept = await keptNewest(page);
      const read = parseModel(kept!.text);
      expect(read.ok, `kill ${i}`).toBe(true);
      expect(
        [now.toFixed(2), next].some((v) => kept!.text.includes(`"value": ${Number(v)}`)),
        `kill ${i}`,
      ).toBe(true);
    }
    await context.close();
  });

  it('is there after the whole browser was killed', async () => {
    const folder = mkdtempSync(join(tmpdir(), 'ribtrue-profile-'));
    const start = async (): Promise<{ child: ChildProcess; page: Page; close: () => Promise<void> }> => {
      const child = spawn(
        await findBrowser(),
        [...FLAGS, '--headless=new', '--remote-debugging-port=0', `--user-data-dir=${folder}`, 'about:blank'],
        { stdio: ['ignore', 'ignore', 'pipe'] },
      );
      const address = await new Promise<string>((done, fail) => {
        let said = '';
        child.stderr!.on('data', (d: Buffer) => {
          said += d.toString();
          const at = /DevTools listening on (ws:\S+)/.exec(said)?.[1];
          if (at) done(at);
        });
        child.on('exit', () => fail(new Error(`the browser stopped: ${said.slice(-500)}`)));
      });
      const browser = await chromium.connectOverCDP(address);
      const page = await again(browser.contexts()[0]!);
      return { child, page, close: () => browser.close() };
    };
    const first = await start();
    await type(first.page, '83.17');
    await keptHas(first.page, '83.17');
    const gone = new Promise((done) => first.child.once('exit', done));
    first.child.kill('SIGKILL');
    await gone;
    const second = await start();
    expect(await shown(second.page)).toContain('83.17');
    await second.close();
    const stopped = new Promise((done) => second.child.once('exit', done));
    second.child.kill('SIGKILL');
    await stopped;
    // The browser's children outlive it by a moment and still write there.
    for (let i = 0; i < 20; i++) {
      try {
        rmSync(folder, { recursive: true, force: true });
        break;
      } catch {
        await new Promise((done) => setTimeout(done, 250));
      }
    }
  });
});

describe('where the browser will not', () => {
  it('a full disk: says so, keeps the panel on screen, and keeps it as soon as there is room', async () => {
    const { page } = await app.page({ flat: true });
    const devtools = await page.context().newCDPSession(page);
    const origin = new URL(app.url).origin;
    // From before the first write: the browser remembers for a while how much room it saw.
    await devtools.send('Storage.overrideQuotaForOrigin', { origin, quotaSize: 1 });
    await type(page, '83.02');
    await notice(page)
      .getByText(/storage of this browser is full.*save a file, then remove a panel/)
      .waitFor();
    expect(await shown(page)).toContain('83.02');
    await devtools.send('Storage.overrideQuotaForOrigin', { origin });
    await type(page, '83.03');
    await keptHas(page, '83.03');
    await notice(page).waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('no storage at all: says so at once and works on', async () => {
    const { page } = await app.page({ flat: true });
    const context = page.context();
    await context.addInitScript(() => {
      IDBFactory.prototype.open = () => {
        throw new DOMException('not here', 'SecurityError');
      };
    });
    const shut = await again(context);
    await notice(shut)
      .getByText(/keeps nothing here.*save a file/)
      .waitFor();
    await type(shut, '83.02');
    expect(await shown(shut)).toContain('83.02');
    const [file] = await Promise.all([
      shut.waitForEvent('download'),
      notice(shut).getByRole('button', { name: 'Save a file' }).click(),
    ]);
    const saved = await textOf(file);
    expect(parseModel(saved).ok && saved.includes('83.02')).toBe(true);
    await context.close();
  });

  it('a database deleted under the app is made again at the next change', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    await page.evaluate(
      () =>
        new Promise<void>((done, fail) => {
          const asked = indexedDB.deleteDatabase('ribtrue');
          asked.onsuccess = () => done();
          asked.onblocked = () => fail(new Error('the app did not let go'));
        }),
    );
    expect(await keptNewest(page)).toBeNull();
    await type(page, '83.02');
    await keptHas(page, '83.02');
    await notice(page)
      .getByText(/was cleared while this page was open.*save a file as well/)
      .waitFor();
    await page.reload();
    expect(await shown(page)).toContain('83.02');
    await page.context().close();
  });

  it('a connection that dies under the app is opened again, and costs no state', async () => {
    const { page } = await app.page({ flat: true });
    for (const v of ['83.01', '83.02', '83.03', '83.04', '83.05', '83.06']) {
      await type(page, v);
      await keptHas(page, v);
    }
    const before = (await keptNewest(page))!.count;
    expect(before).toBeGreaterThan(5);
    await page.evaluate(() => {
      const own = IDBDatabase.prototype.transaction;
      IDBDatabase.prototype.transaction = () => {
        IDBDatabase.prototype.transaction = own;
        throw new DOMException('The database connection is closing.', 'InvalidStateError');
      };
    });
    await type(page, '83.07');
    await keptHas(page, '83.07');
    expect((await keptNewest(page))!.count).toBe(before + 1);
    await page.context().close();
  });

  it('a change made while the one before it is being kept is kept under its own panel, whatever is on screen by then', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    // A disk that takes its time: the first write waits until it is let go.
    await page.evaluate(() => {
      const own = IDBDatabase.prototype.transaction;
      let [first, open] = [true, true];
      (window as unknown as { letGo: () => void }).letGo = () => {
        open = false;
      };
      IDBDatabase.prototype.transaction = function (this: IDBDatabase, ...a: Parameters<IDBDatabase['transaction']>) {
        const tx = own.apply(this, a);
        if (!first || a[1] !== 'readwrite') return tx;
        first = false;
        // Kept alive by asking again and again, as a slow disk keeps it open.
        const again = (): void => {
          if (open) tx.objectStore('marks').get('current').onsuccess = again;
        };
        again();
        return tx;
      } as IDBDatabase['transaction'];
    });
    await type(page, '83.02');
    await type(page, '83.03');
    await page.locator('input[type=file]').first().setInputFiles('models/plain.json');
    await page
      .getByRole('button', { name: /^plain/ })
      .first()
      .waitFor();
    await page.evaluate(() => (window as unknown as { letGo: () => void }).letGo());
    await expect
      .poll(
        () =>
          page.evaluate(
            () =>
              new Promise<boolean>((done) => {
                const asked = indexedDB.open('ribtrue');
                asked.onsuccess = () => {
                  asked.result.transaction('states').objectStore('states').getAll().onsuccess = (e) =>
                    done(
                      (e.target as IDBRequest<{ text: string }[]>).result.some((s) =>
                        s.text.includes('"value": 83.03'),
                      ),
                    );
                  asked.result.close();
                };
              }),
          ),
        { timeout: 10_000 },
      )
      .toBe(true);
    await page.reload();
    await page
      .getByRole('button', { name: /^plain/ })
      .first()
      .waitFor();
    await page.context().close();
  });

  it('a kept state that can no longer be read stays where it is, with its sentences', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    await damageNewest(page);
    await page.reload();
    await page
      .getByRole('alertdialog')
      .getByText(/stops in the middle/)
      .waitFor();
    await notice(page)
      .getByText(/^narrow tail stays kept here as it is.*Open a file you saved/)
      .waitFor();
    await page.getByRole('button', { name: 'Back to the panel' }).click();
    expect((await keptNewest(page))!.text).toContain('"ver');
    await page.context().close();
  });

  it('where the last state kept cannot be read, the one before it is on screen, and the work goes on from there', async () => {
    const { page } = await app.page({ flat: true });
    for (const v of ['83.01', '83.02', '83.03']) {
      await type(page, v);
      await keptHas(page, v);
    }
    await damageNewest(page);
    await page.reload();
    await notice(page)
      .getByText(/^The last state kept of narrow tail cannot be read; the one before it/)
      .waitFor();
    expect(await page.getByRole('alertdialog').count()).toBe(0);
    expect(await shown(page)).toContain('83.02');
    await page.getByRole('button', { name: /^Undo: measured the height of M2/ }).click();
    expect(await shown(page)).toContain('83.01');
    await type(page, '83.04');
    await keptHas(page, '83.04');
    await page.reload();
    expect(await shown(page)).toContain('83.04');
    await page.context().close();
  });

  it('a database that never answers does not keep the first screen away', async () => {
    const { page } = await app.page({ flat: true });
    const context = page.context();
    await context.addInitScript(() => {
      IDBFactory.prototype.open = () => new EventTarget() as IDBOpenDBRequest;
    });
    const alone = await again(context);
    await notice(alone)
      .getByText(/did not hand over the panels kept in it.*yours are not touched/)
      .waitFor();
    await type(alone, '83.02');
    const [file] = await Promise.all([
      alone.waitForEvent('download'),
      notice(alone).getByRole('button', { name: 'Save a file' }).click(),
    ]);
    expect(await textOf(file)).toContain('83.02');
    await context.close();
  });
});

describe('more than one', () => {
  it('two tabs on one panel follow each other', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    const other = await again(page.context());
    expect(await shown(other)).toContain('83.01');
    await type(other, '83.02');
    await page
      .getByRole('button', { name: /^Change the height of M2, front end, 83.02/ })
      .first()
      .waitFor();
    await type(page, '83.03');
    await other
      .getByRole('button', { name: /^Change the height of M2, front end, 83.03/ })
      .first()
      .waitFor();
    await keptHas(page, '83.03');
    await page.context().close();
  });

  it('two tabs that change it in the same moment: both are kept, and the later is told', async () => {
    const { page } = await app.page({ flat: true });
    const context = page.context();
    await type(page, '83.01');
    await keptHas(page, '83.01');
    // A tab that does not hear of the other is as late as can be.
    const deaf = await context.newPage();
    await deaf.addInitScript(withoutWebGL);
    await deaf.addInitScript(() => {
      BroadcastChannel.prototype.addEventListener = () => undefined;
    });
    await deaf.goto(app.url);
    await deaf.waitForSelector('.card h1');
    await type(page, '83.02');
    await keptHas(page, '83.02');
    await type(deaf, '83.09');
    await notice(deaf)
      .getByText(/another tab at the same moment.*as a copy/)
      .waitFor();
    const texts = await deaf.evaluate(
      () =>
        new Promise<string[]>((done) => {
          const asked = indexedDB.open('ribtrue');
          asked.onsuccess = () => {
            asked.result.transaction('states').objectStore('states').getAll().onsuccess = (e) =>
              done((e.target as IDBRequest<{ text: string }[]>).result.map((s) => s.text));
            asked.result.close();
          };
        }),
    );
    expect(['83.01', '83.02', '83.09'].every((v) => texts.some((t) => t.includes(`"value": ${v}`)))).toBe(true);
    await context.close();
  });

  it('several panels: each is kept, listed, opened again and removed only when told twice', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    await page.getByRole('button', { name: /^narrow tail/ }).click();
    await page.getByRole('button', { name: 'plain, everything fits' }).click();
    await page
      .getByRole('button', { name: /^plain/ })
      .first()
      .click();
    await page
      .getByRole('list', { name: 'Panels kept in this browser' })
      .getByRole('button', { name: /^narrow tail/ })
      .click();
    expect(await shown(page)).toContain('83.01');
    await page
      .getByRole('button', { name: /^narrow tail/ })
      .first()
      .click();
    await page.getByRole('button', { name: /^Remove plain/ }).click();
    await page.getByRole('button', { name: 'Remove it' }).click();
    await page.getByRole('button', { name: /^Remove plain/ }).waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('an earlier state is gone back to, and that can be undone', async () => {
    const { page } = await app.page({ flat: true });
    for (const v of ['83.01', '83.02', '83.03']) {
      await type(page, v);
      await keptHas(page, v);
    }
    await page.getByRole('button', { name: /^narrow tail/ }).click();
    await page.getByText(/^Earlier states of this panel/).click();
    await page.locator('.kept-states li button').nth(1).click();
    expect(await shown(page)).toContain('83.01');
    await page.getByRole('button', { name: /^Undo: went back to/ }).click();
    expect(await shown(page)).toContain('83.03');
    await page.context().close();
  });
});

describe('versions and clocks', () => {
  /** A page of the same address that runs nothing, to prepare the database from. */
  async function bare(context: BrowserContext): Promise<Page> {
    const page = await context.newPage();
    await page.route('**/*', (route) => route.fulfill({ contentType: 'text/html', body: '<p>nothing</p>' }));
    await page.goto(app.url);
    return page;
  }

  it('brings over what version 1 kept', async () => {
    const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 } });
    const before = await bare(context);
    const text = readFileSync('models/narrow-tail.json', 'utf8').replaceAll('83.35', '83.11');
    await before.evaluate(
      (kept) =>
        new Promise<void>((done) => {
          const asked = indexedDB.open('ribtrue', 1);
          asked.onupgradeneeded = () => void asked.result.createObjectStore('panels');
          asked.onsuccess = () => {
            const tx = asked.result.transaction('panels', 'readwrite');
            tx.objectStore('panels').put(kept, 'current');
            tx.oncomplete = () => {
              asked.result.close();
              done();
            };
          };
        }),
      text,
    );
    await before.close();
    const page = await again(context);
    expect(await shown(page)).toContain('83.11');
    expect((await keptNewest(page))!.text).toBe(text);
    await context.close();
  });

  it('a newer version’s database is left alone, with a sentence', async () => {
    const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 } });
    const before = await bare(context);
    await before.evaluate(
      () =>
        new Promise<void>((done) => {
          const asked = indexedDB.open('ribtrue', 99);
          asked.onupgradeneeded = () => void asked.result.createObjectStore('later');
          asked.onsuccess = () => {
            asked.result.close();
            done();
          };
        }),
    );
    await before.close();
    const page = await again(context);
    await notice(page)
      .getByText(/newer Ribtrue.*reload/)
      .waitFor();
    await type(page, '83.02');
    expect(await shown(page)).toContain('83.02');
    expect(
      await page.evaluate(async () => (await indexedDB.databases()).find((d) => d.name === 'ribtrue')?.version),
    ).toBe(99);
    await context.close();
  });

  /** A tab of version 1, which keeps hold of its database and the panel in it. */
  async function olderTab(context: BrowserContext): Promise<Page> {
    const older = await bare(context);
    const text = readFileSync('models/narrow-tail.json', 'utf8').replaceAll('83.35', '83.11');
    await older.evaluate(
      (kept) =>
        new Promise<void>((done) => {
          const asked = indexedDB.open('ribtrue', 1);
          asked.onupgradeneeded = () => void asked.result.createObjectStore('panels');
          asked.onsuccess = () => {
            const tx = asked.result.transaction('panels', 'readwrite');
            tx.objectStore('panels').put(kept, 'current');
            tx.oncomplete = () => done();
          };
        }),
      text,
    );
    return older;
  }

  it('an older version open in another tab: the first screen comes, says what to close, and nothing is lost', async () => {
    const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 } });
    const older = await olderTab(context);
    const page = await again(context);
    await notice(page)
      .getByText(/older Ribtrue is open in another tab.*close that tab/)
      .waitFor();
    await type(page, '83.02');
    await older.close();
    // What was changed meanwhile is kept as its own panel, and the old one is there too.
    await keptHas(page, '83.02');
    await notice(page).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: /^narrow tail/ }).click();
    await page
      .getByRole('list', { name: 'Panels kept in this browser' })
      .getByRole('button', { name: /^narrow tail/ })
      .click();
    expect(await shown(page)).toContain('83.11');
    await context.close();
  });

  it('an older version closed before anything is done: what it kept comes by itself', async () => {
    const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 } });
    const older = await olderTab(context);
    const page = await again(context);
    await notice(page).waitFor();
    await older.close();
    await notice(page).waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Nothing to undo' }).waitFor();
    expect(await shown(page)).toContain('83.11');
    await context.close();
  });

  it('lets go when a newer version opens in another tab, and says so at the next change', async () => {
    const { page } = await app.page({ flat: true });
    await type(page, '83.01');
    await keptHas(page, '83.01');
    await page.evaluate(
      () =>
        new Promise<void>((done, fail) => {
          const asked = indexedDB.open('ribtrue', 99);
          asked.onblocked = () => fail(new Error('the app did not let go'));
          asked.onsuccess = () => {
            asked.result.close();
            done();
          };
        }),
    );
    await type(page, '83.02');
    await notice(page)
      .getByText(/newer Ribtrue/)
      .waitFor();
    expect(await shown(page)).toContain('83.02');
    await page.context().close();
  });

  it('a clock set back does not turn the order of states', async () => {
    const { page } = await app.page({ flat: true });
    const context = page.context();
    await type(page, '83.01');
    await keptHas(page, '83.01');
    await page.close();
    await context.addInitScript(() => {
      const real = Date.now;
      Date.now = () => real() - 400 * 86_400_000;
    });
    const back = await again(context);
    await type(back, '83.02');
    await keptHas(back, '83.02');
    await back.reload();
    expect(await shown(back)).toContain('83.02');
    await context.close();
  });
});

describe('what is thinned', () => {
  it('drops the oldest past the count and past the size, and never the newest few', () => {
    const of = (n: number, chars: number) => Array.from({ length: n }, (_, i) => [i, chars] as const);
    const most = { states: 10, chars: 1000, least: 3 };
    expect(tooMany(of(10, 1), most)).toBe(0);
    expect(tooMany(of(12, 1), most)).toBe(2);
    expect(tooMany(of(8, 200), most)).toBe(3);
    expect(tooMany(of(5, 5000), most)).toBe(2);
  });
});
