import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ask, atRest } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/* What holds for every screen of the app, whatever the question. */

const app = sharedApp();

const QUESTIONS = ['Build', 'Measure', 'Fit', 'Remedy', 'Drill', 'True', 'Helper'] as const;

/** How far the document goes on below the last thing it shows, px. */
const blankBelow = (page: Page): Promise<number> =>
  page.evaluate(() => {
    const parts = [...document.querySelectorAll('.app > *, .app > .landmark > *')];
    const shown = Math.max(...parts.map((e) => e.getBoundingClientRect().bottom)) + scrollY;
    return Math.floor(document.documentElement.scrollHeight - Math.max(shown, innerHeight));
  });

describe('the document is never taller than what it shows', () => {
  it.each([
    { width: 1440, height: 900, foot: 0 },
    { width: 820, height: 1180, foot: 56 },
    // Seven words in two lines at the foot.
    { width: 360, height: 740, foot: 112 },
  ])('$width × $height, every question, the whole panel and a station', async ({ width, height, foot }) => {
    const { page, errors } = await app.page({ flat: true, viewport: { width, height } });
    const look = async (what: string) => {
      await atRest(page);
      expect(await blankBelow(page), what).toBeLessThanOrEqual(foot);
    };
    for (const question of QUESTIONS) {
      await ask(page, question);
      await look(question);
      await page.locator('#rail-S4').click();
      await look(`${question} at S4`);
      await page.locator('#rail-S4').click();
    }
    // All that moves with a station, each row with words for the ear.
    await ask(page, 'Remedy');
    await page.locator('#rail-S4').click();
    await page.getByText('Move M4 along the span').click();
    await page.getByLabel('Move station S4 by').fill('45');
    await page.locator('.changes').first().waitFor();
    const more = page.getByRole('button', { name: /^All \d+ that move/ });
    while ((await more.filter({ visible: true }).count()) > 0) await more.filter({ visible: true }).first().click();
    await look('Remedy, M4 moved by 45 mm');
    if (width >= 1100) {
      await page.mouse.move(700, 400);
      await page.mouse.wheel(0, 4000);
      await page.mouse.move(1200, 500);
      await page.mouse.wheel(0, 40_000);
      await atRest(page);
      expect(await page.evaluate(() => scrollY)).toBe(0);
    }
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
