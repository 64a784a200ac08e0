import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { Keyboard } from './keyboard.ts';
import { ask, frames, metalCut, SECOND } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/*
 * The bench for everyone: the same in words for whoever cannot see it; still for whoever asked for less motion; and gone
 * without harm when the browser takes its 3D drawing back (the WEBGL_lose_context extension of the WebGL registry does what a
 * driver that gives up does), or never had one.
 */

const app = sharedApp();

const words = (page: Page) => page.getByRole('list', { name: 'The bench in words' });

describe('in words', () => {
  it('says what the picture shows: every station, every label, every hole', async () => {
    const { page, errors } = await app.page();
    await metalCut(page);
    const picture = page.getByRole('img', {
      name: /^The skeleton in 3D, from where you stand at the bench, deviations times 10;/,
    });
    await picture.waitFor();
    const lines = await words(page).getByRole('listitem').allInnerTexts();
    expect(lines.filter((l) => /^[TSM]?\w+ at /.test(l)).length).toBe(8);
    // What is written in the picture is the picture's own saying of it: each label stands in the words with its number and verdict.
    const labels = await page
      .locator('[data-bench] button[data-id]')
      .evaluateAll((all) => all.map((b) => b.getAttribute('aria-label')!));
    expect(labels.length).toBeGreaterThan(3);
    for (const l of labels.filter((t) => /, (act|watch|unsettled|fits)$/.test(t)))
      expect(lines.join('\n')).toContain(l);
    await page.getByRole('button', { name: 'above', exact: true }).click();
    await page.getByRole('img', { name: /^The skeleton in 3D, from above,/ }).waitFor();
    await ask(page, 'Drill');
    await expect.poll(() => words(page).innerText()).toMatch(/Holes: (\d+ in doubt, )?\d+ not yet\./);
    const holes = [
      ...(await words(page).innerText()).matchAll(
        /(\d+) (?:drill now|in doubt|not yet|not asked|never at this size|done)/g,
      ),
    ].reduce((n, m) => n + Number(m[1]), 0);
    // The panel file's own count of holes.
    expect(holes).toBe(50);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

/** Takes the drawing away as a failing driver would. */
const lose = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const canvas = document.querySelector<HTMLCanvasElement>('.bench canvas')!;
    canvas.getContext('webgl2')!.getExtension('WEBGL_lose_context')!.loseContext();
  });

describe('3D taken back', () => {
  it('says so in one sentence, goes on in plan and section, and comes back when asked', async () => {
    const { page, errors } = await app.page();
    await metalCut(page);
    for (let time = 1; time <= 2; time++) {
      await lose(page);
      const said = page.getByRole('status').filter({
        hasText: 'The browser took its 3D drawing back; the plan and the section do the same job, and nothing is lost.',
      });
      await said.waitFor();
      expect(await page.locator('.bench canvas').count()).toBe(0);
      await page.getByRole('img', { name: /^The skeleton from above/ }).waitFor();
      expect(await words(page).getByRole('listitem').count()).toBe(8);
      // The job goes on: a station, its section, a reading, and back.
      await ask(page, 'Fit');
      if (!(await page.getByRole('heading', { name: /^Station S2/ }).isVisible()))
        await page.locator('#rail-S2').click();
      await page.locator('.sections svg:visible').first().waitFor();
      await ask(page, 'Measure');
      await page.getByRole('button', { name: /^Change the height of M2, front end/ }).click();
      await page.getByLabel('New height of M2, front end').fill(`83.0${time}`);
      await page.keyboard.press('Enter');
      await page
        .getByRole('button', { name: new RegExp(`^Change the height of M2, front end, 83\\.0${time}`) })
        .waitFor();
      // It stays flat until it is asked: nothing draws in a loop behind it.
      await frames(page, SECOND);
      expect(await page.locator('.bench canvas').count()).toBe(0);
      const kb = await Keyboard.at(page);
      await kb.tabTo('button', 'Draw in 3D again', { back: true });
      await page.keyboard.press('Enter');
      await metalCut(page);
      expect(await said.count()).toBe(0);
      expect(
        await page.evaluate(() =>
          document.querySelector<HTMLCanvasElement>('.bench canvas')!.getContext('webgl2')!.isContextLost(),
        ),
      ).toBe(false);
    }
    // The browser itself writes a line when a drawing is lost; the app throws nothing.
    expect(errors.filter((e) => !/context lost|CONTEXT_LOST/i.test(e))).toEqual([]);
    await page.context().close();
  });

  it('where it still cannot be had, says that, and can be asked again', async () => {
    const { page } = await app.page();
    await metalCut(page);
    await page.evaluate(() => {
      const get = HTMLCanvasElement.prototype.getContext;
      (window as unknown as { give: () => void }).give = () => {
        HTMLCanvasElement.prototype.getContext = get;
      };
      const canvas = document.querySelector<HTMLCanvasElement>('.bench canvas')!;
      const lost = canvas.getContext('webgl2')!.getExtension('WEBGL_lose_context')!;
      HTMLCanvasElement.prototype.getContext = (() => null) as typeof get;
      lost.loseContext();
    });
    await page.getByRole('button', { name: 'Draw in 3D again' }).click();
    await page.getByText('The browser still does not draw in 3D').waitFor();
    await page.evaluate(() => (window as unknown as { give: () => void }).give());
    await page.getByRole('button', { name: 'Draw in 3D again' }).click();
    await metalCut(page);
    await page.context().close();
  });

  it('a drawing that cannot be begun does not take the page with it', async () => {
    const { page } = await app.page();
    await metalCut(page);
    // Asked whether it can, the browser says yes; asked for the drawing itself, it fails: as when too many tabs draw.
    await page.evaluate(() => {
      const get = HTMLCanvasElement.prototype.getContext as (...a: unknown[]) => unknown;
      HTMLCanvasElement.prototype.getContext = function (this: HTMLCanvasElement, kind: string, ...rest: unknown[]) {
        return this.isConnected && kind.startsWith('webgl') ? null : get.call(this, kind, ...rest);
      } as typeof HTMLCanvasElement.prototype.getContext;
      (document.querySelector<HTMLCanvasElement>('.bench canvas')!.getContext as unknown) = get;
      const canvas = document.querySelector<HTMLCanvasElement>('.bench canvas')!;
      (get.call(canvas, 'webgl2') as WebGL2RenderingContext).getExtension('WEBGL_lose_context')!.loseContext();
    });
    await page.getByRole('button', { name: 'Draw in 3D again' }).click();
    await page
      .getByText('The 3D drawing stopped; the plan and the section do the same job, and nothing is lost.')
      .waitFor();
    await page.locator('#rail-S2').click();
    await page.getByRole('heading', { name: /^Station S2/ }).waitFor();
    await page.context().close();
  });
});

describe('less motion', () => {
  /** Pictures drawn of the bench in the half second after something was done, and whether the last is like the first. */
  async function drawnAfter(page: Page, name: string): Promise<{ frames: number; labels: number }> {
    const before = Number(await page.locator('[data-bench]').getAttribute('data-drawn'));
    await page.evaluate((second) => {
      const seen = new Set<string>();
      (window as unknown as { seen: Set<string> }).seen = seen;
      let left = second;
      const look = (): void => {
        const marks = [...document.querySelectorAll<HTMLElement>('[data-bench] button[data-id]')].filter(
          (b) => b.style.visibility === 'visible',
        );
        seen.add(marks.map((b) => b.style.transform).join(' '));
        if (--left > 0) requestAnimationFrame(look);
      };
      look();
    }, SECOND);
    await page.getByRole('button', { name, exact: true }).click();
    await frames(page, SECOND);
    return {
      frames: Number(await page.locator('[data-bench]').getAttribute('data-drawn')) - before,
      labels: await page.evaluate(() => (window as unknown as { seen: Set<string> }).seen.size),
    };
  }

  it('nothing glides and nothing fades: no transition, no animation, the view and the parts jump', async () => {
    const { page } = await app.page({ reducedMotion: 'reduce' });
    await metalCut(page);
    const moving = () =>
      page.evaluate(() =>
        [...document.querySelectorAll('*')]
          .filter((e) => {
            const s = getComputedStyle(e);
            return (
              s.transitionDuration.split(',').some((d) => parseFloat(d) > 0) ||
              s.animationName !== 'none' ||
              s.scrollBehavior === 'smooth'
            );
          })
          .map((e) => `${e.tagName}.${e.getAttribute('class')}`),
      );
    for (const question of ['Build', 'Measure', 'Fit', 'Remedy', 'Drill', 'True', 'Helper']) {
      await ask(page, question);
      expect(await moving(), question).toEqual([]);
      expect(await page.evaluate(() => document.getAnimations().length), question).toBe(0);
    }
    await ask(page, 'Fit');
    // Where labels stand is where the camera looks: as it was, and as it is; nothing between.
    for (const name of ['above', 'behind', 'bench'])
      expect((await drawnAfter(page, name)).labels, name).toBeLessThanOrEqual(2);
    // A pull glides over 180 ms; a jump is drawn once or twice.
    expect((await drawnAfter(page, 'apart')).frames).toBeLessThanOrEqual(4);
    await page.context().close();
  });
});
