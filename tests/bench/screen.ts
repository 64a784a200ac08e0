import type { Page } from 'playwright-core';
import type { Model } from '../../src/model/schema.ts';
import { writeModel } from '../../src/model/write.ts';
import { metalCut, openApp } from '../browser/open-app.ts';
import { repeated } from './repeat.ts';

/*
 * The bench on screen with a long, busy panel: what a frame draws, what an idle screen draws, how long after all is enlarged
 * anew the metal is. Draws and triangles are counted at the browser's own drawing calls; milliseconds are of software drawing
 * where there is no graphics card, so the counts say more.
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
  proto.drawElements = function (mode, n, ...rest) { note(mode, n, 1); return drawElements.call(this, mode, n, ...rest); };
  proto.drawArrays = function (mode, first, n) { note(mode, n, 1); return drawArrays.call(this, mode, first, n); };
  proto.drawElementsInstanced = function (mode, n, type, offset, copies) { note(mode, n, copies); return drawElementsInstanced.call(this, mode, n, type, offset, copies); };
  proto.drawArraysInstanced = function (mode, first, n, copies) { note(mode, n, copies); return drawArraysInstanced.call(this, mode, first, n, copies); };
}

const taken = (page: Page): Promise<Counted> => page.evaluate(() => {
  const seen = (window as unknown as { drawn: Counted }).drawn;
  const now = { ...seen };
  Object.assign(seen, { draws: 0, triangles: 0, frames: 0 });
  return now;
});

export async function screen(base: Model): Promise<void> {
  const app = await openApp();
  try {
    console.log('\nthe bench on screen  stations  holes  triangles a frame  draws a frame  idle frames in 2 s  magnify to new metal ms');
    for (const n of [8, 80]) {
      const model = repeated(base, n);
      const { page } = await app.page({ viewport: { width: 1280, height: 800 } });
      const context = page.context();
      await page.close();
      const fresh = await context.newPage();
      await fresh.addInitScript('globalThis.__name = (f) => f;'); // what the runner wraps named functions in
      await fresh.addInitScript(count);
      await fresh.goto(app.url);
      await metalCut(fresh);
      await fresh.locator('input[type=file]').first().setInputFiles({ name: 'long.json', mimeType: 'application/json', buffer: Buffer.from(writeModel({ ...model, name: 'long' })) });
      await fresh.getByRole('button', { name: /^long/ }).first().waitFor();
      await fresh.waitForTimeout(500);
      await fresh.waitForFunction(() => document.querySelector('.bench-note[role=status]') === null, null, { timeout: 240_000 });
      await fresh.waitForTimeout(4000);
      await taken(fresh);
      await fresh.waitForTimeout(2000);
      const idle = await taken(fresh);
      await fresh.keyboard.press('2');
      await fresh.waitForTimeout(5000);
      const moved = await taken(fresh);
      const took = await fresh.evaluate(() => new Promise<number>((done) => {
        const from = performance.now();
        const drawn = (window as unknown as { drawn: Counted }).drawn;
        const before = drawn.frames;
        document.querySelector<HTMLButtonElement>('button[aria-label^="Undo"], .magnify')?.focus();
        const range = document.querySelector<HTMLInputElement>('.magnify input')!;
        Object.getOwnPropertyDescriptor(HTMLInputElement.prototype, 'value')!.set!.call(range, '4');
        range.dispatchEvent(new Event('input', { bubbles: true }));
        const look = (): void => {
          if (drawn.frames > before + 1 && document.querySelector('.bench-note[role=status]') === null && performance.now() - from > 300) done(performance.now() - from);
          else setTimeout(look, 10);
        };
        setTimeout(look, 50);
      }));
      const holes = model.joints.reduce((sum, j) => sum + j.holes.length, 0);
      console.log(`${String(model.stations.length).padStart(29)}${String(holes).padStart(7)}${Math.round(moved.triangles / Math.max(moved.frames, 1)).toString().padStart(19)}${(moved.draws / Math.max(moved.frames, 1)).toFixed(1).padStart(15)}${String(idle.frames).padStart(20)}${took.toFixed(0).padStart(22)}`);
      await context.close();
    }
  } finally {
    await app.close();
  }
}
