import type { Page } from 'playwright-core';
import { writeModel } from '../../src/model/file/write.ts';
import type { Model } from '../../src/model/schema.ts';
import { metalCut, type OpenApp } from '../browser/open-app.ts';
import { repeated } from './repeat.ts';
import type { Row } from './rows.ts';
import { plainRounds } from './yardstick.ts';

/*
 * The app on screen: how soon the first screen can be used, what a frame of a long, busy panel draws, what an idle screen
 * draws, how long after all is enlarged anew the metal is. Draws and triangles are counted at the browser's own drawing calls;
 * milliseconds are of software drawing where there is no graphics card, so the counts say more.
 */

interface Counted {
  draws: number;
  triangles: number;
  frames: number;
}

/** Runs in the page before anything else: counts every drawing call. */
function count(): void {
  const seen = { draws: 0, triangles: 0, frames: 0 };
  (window as unknown as { drawn: Counted }).drawn = seen;
  const proto = WebGL2RenderingContext.prototype;
  let last = -1;
  const note = (mode: number, n: number, copies: number): void => {
    const now = (document.timeline.currentTime as number) ?? 0;
    if (now !== last) seen.frames++;
    last = now;
    seen.draws++;
    if (mode === 4) seen.triangles += (n / 3) * copies;
  };
  const { drawElements, drawArrays, drawElementsInstanced, drawArraysInstanced } = proto;
  proto.drawElements = function (mode, n, ...rest) {
    note(mode, n, 1);
    return drawElements.call(this, mode, n, ...rest);
  };
  proto.drawArrays = function (mode, first, n) {
    note(mode, n, 1);
    return drawArrays.call(this, mode, first, n);
  };
  proto.drawElementsInstanced = function (mode, n, type, offset, copies) {
    note(mode, n, copies);
    return drawElementsInstanced.call(this, mode, n, type, offset, copies);
  };
  proto.drawArraysInstanced = function (mode, first, n, copies) {
    note(mode, n, copies);
    return drawArraysInstanced.call(this, mode, first, n, copies);
  };
}

/** Runs in the page before anything else: when the card's first sentence and the stations to tap were there. */
function noteFirst(): void {
  const seen = { ms: 0 };
  (window as unknown as { firstScreen: typeof seen }).firstScreen = seen;
  const look = new MutationObserver(() => {
    if (!document.querySelector('.card h1') || !document.querySelector('[id^="rail-"]')) return;
    look.disconnect();
    // Usable once the script has come to rest and it is painted.
    let rested = 0;
    setTimeout(() => {
      rested = performance.now();
    }, 0);
    const painted = (): void => {
      const paint = performance.getEntriesByName('first-contentful-paint')[0]?.startTime;
      if (paint === undefined || rested === 0) setTimeout(painted, 20);
      else seen.ms = Math.max(rested, paint);
    };
    painted();
  });
  look.observe(document, { childList: true, subtree: true });
}

const SHIM = 'globalThis.__name = (f) => f;'; // what the runner wraps named functions in

const taken = (page: Page): Promise<Counted> =>
  page.evaluate(() => {
    const seen = (window as unknown as { drawn: Counted }).drawn;
    const now = { ...seen };
    Object.assign(seen, { draws: 0, triangles: 0, frames: 0 });
    return now;
  });

/** The plain loop by the page's own clock, the least of some. */
async function loopIn(page: Page): Promise<number> {
  return page.evaluate(
    `(() => { const rounds = ${plainRounds.toString()}; let least = Infinity; for (let i = 0; i < 15; i++) { const t = performance.now(); rounds(); least = Math.min(least, performance.now() - t); } return least; })()`,
  );
}

/** From navigation until the first screen can be used, everything loaded anew each time: the least of some visits. */
export async function firstScreenRows(app: OpenApp): Promise<Row[]> {
  const visits: { ms: number; paint: number; loop: number }[] = [];
  for (let i = 0; i < 7; i++) {
    const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: 'block' });
    const page = await context.newPage();
    const loop = await loopIn(page); // while the page is blank and nothing else is cut or drawn
    await page.addInitScript(SHIM);
    await page.addInitScript(noteFirst);
    await page.goto(app.url);
    await page.waitForFunction(() => (window as unknown as { firstScreen: { ms: number } }).firstScreen.ms > 0);
    const { ms, paint } = await page.evaluate(() => ({
      ms: (window as unknown as { firstScreen: { ms: number } }).firstScreen.ms,
      paint: performance.getEntriesByName('first-contentful-paint')[0]?.startTime ?? Number.NaN,
    }));
    visits.push({ ms, paint, loop });
    await context.close();
  }
  const leastOf = (of: (v: (typeof visits)[number]) => number): number =>
    Math.min(...visits.map(of).filter(Number.isFinite));
  const [ms, loop] = [leastOf((v) => v.ms), leastOf((v) => v.loop)];
  return [
    {
      what: 'navigation to first screen usable, before 3D',
      figure: ms,
      unit: 'ms',
      ratio: ms / loop,
      against: 'plain loop in Chromium',
      sense: 'time',
      note: `least of ${visits.length} first visits; first paint ${leastOf((v) => v.paint).toFixed(0)} ms`,
    },
  ];
}

interface Seen {
  readonly triangles: number;
  readonly draws: number;
  readonly idle: number;
  readonly magnify: number;
  readonly loop: number;
}

async function seenWith(app: OpenApp, base: Model, n: number): Promise<Seen> {
  const context = await app.browser.newContext({ viewport: { width: 1280, height: 800 }, serviceWorkers: 'block' });
  const page = await context.newPage();
  page.setDefaultTimeout(120_000);
  await page.addInitScript(SHIM);
  await page.addInitScript(count);
  await page.goto(app.url);
  await metalCut(page);
  const loop = await loopIn(page);
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({
      name: 'long.json',
      mimeType: 'application/json',
      buffer: Buffer.from(writeModel({ ...repeated(base, n), name: 'long' })),
    });
  await page.getByRole('button', { name: /^long/ }).first().waitFor();
  await page.waitForTimeout(500);
  await page.waitForFunction(() => document.querySelector('.bench-note[role=status]') === null, null, {
    timeout: 240_000,
  });
  await page.waitForTimeout(4000);
  await taken(page);
  await page.waitForTimeout(2000);
  const idle = await taken(page);
  await page.keyboard.press('2');
  await page.waitForTimeout(5000);
  const moved = await taken(page);
  const magnify = await page.evaluate(
    () =>
      new Promise<number>((done) => {
        const from = performance.now();
        const drawn = (window as unknown as { drawn: Counted }).drawn;
        const before = drawn.frames;
        const range = document.querySelector<HTMLInputElement>('.magnify input')!;
        Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!.call(range, '4');
        range.dispatchEvent(new Event('input', { bubbles: true }));
        const look = (): void => {
          if (
            drawn.frames > before + 1 &&
            document.querySelector('.bench-note[role=status]') === null &&
            performance.now() - from > 300
          )
            done(performance.now() - from);
          else setTimeout(look, 10);
        };
        setTimeout(look, 50);
      }),
  );
  await context.close();
  const frames = Math.max(moved.frames, 1);
  return { triangles: moved.triangles / frames, draws: moved.draws / frames, idle: idle.frames, magnify, loop };
}

export async function screenRows(app: OpenApp, base: Model): Promise<Row[]> {
  const [few, many] = [await seenWith(app, base, 8), await seenWith(app, base, 80)];
  return [
    {
      what: 'triangles a frame, 8 stations',
      figure: few.triangles,
      unit: '',
      ratio: few.triangles / 8,
      against: 'one a station',
      sense: 'amount',
    },
    {
      what: 'triangles a frame, 80 stations',
      figure: many.triangles,
      unit: '',
      ratio: many.triangles / few.triangles,
      against: '8 stations',
      sense: 'amount',
    },
    {
      what: 'draws a frame, 8 stations',
      figure: few.draws,
      unit: '',
      ratio: few.draws / 8,
      against: 'one a station',
      sense: 'amount',
    },
    {
      what: 'draws a frame, 80 stations',
      figure: many.draws,
      unit: '',
      ratio: many.draws / few.draws,
      against: '8 stations',
      sense: 'amount',
      note: 'aim the same at any length',
    },
    {
      what: 'frames an idle screen draws in 2 s, 80 stations',
      figure: many.idle,
      unit: '',
      ratio: many.idle / 120,
      against: '60 frames a second',
      sense: 'amount',
      note: `aim none; ${few.idle} with 8 stations`,
    },
    {
      what: 'enlarged anew to new metal, 8 stations',
      figure: few.magnify,
      unit: 'ms',
      ratio: few.magnify / few.loop,
      against: 'plain loop in Chromium',
      sense: 'time',
    },
    {
      what: 'enlarged anew to new metal, 80 stations',
      figure: many.magnify,
      unit: 'ms',
      ratio: many.magnify / few.magnify,
      against: '8 stations',
      sense: 'time',
    },
  ];
}
