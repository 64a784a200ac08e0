import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { atRest } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* What first, tonight? The app opens on one list, and each line is done from the line. */

const app = sharedApp();
const first = (page: Page) => page.getByRole('list', { name: 'First' }).getByRole('listitem');
const head = (page: Page) => page.locator('.card h1');

describe('the list', () => {
  it('opens on the narrow tail: causes first, drilling last, five lines open; decided, made and read from the line', async () => {
    const { page, errors } = await app.page({ flat: true, asks: 'Tonight' });
    expect(await head(page).innerText()).toMatch(/^Tonight: make six doublers anew .* Drill nothing yet\.$/);
    expect(await first(page).count()).toBe(5);
    expect(await first(page).first().innerText()).toContain('D2, D3, D4, D5, D6 and D7');
    expect(errors.join()).toBe('');
    // Decided is work to do; made is another step, and then the list goes on.
    await first(page).first().getByRole('button', { name: 'Decide on it' }).click();
    await first(page).first().getByRole('button', { name: 'It is made' }).waitFor();
    await first(page).first().getByRole('button', { name: 'It is made' }).click();
    await page.waitForFunction(() => !document.querySelector('.card h1')?.textContent?.includes('six doublers'));
    await atRest(page);
    expect(errors.join()).toBe('');
    // A reading opens its pad.
    await page
      .getByRole('button', { name: /^Read it: / })
      .first()
      .click();
    await page.getByRole('button', { name: 'Take, next' }).waitFor();
    expect(errors.join()).toBe('');
    await page.context().close();
  });

  it('an evening of an hour leaves the rest for another', async () => {
    const { page } = await app.page({ flat: true, asks: 'Tonight' });
    const all = Number(await page.locator('.acts .act').count());
    await page.getByLabel('I have').selectOption('1.5');
    await page.getByText(/^Then, another evening: \d+$/).waitFor();
    expect(await page.locator('.acts .act').count()).toBe(all);
    await page.context().close();
  });

  it.each([
    ['a phone', 390, 844],
    ['a tablet', 1024, 768],
  ])('on %s nothing lies outside the page', async (_, width, height) => {
    const { page } = await app.page({ flat: true, asks: 'Tonight', viewport: { width, height } });
    const wide = await page.evaluate(() => document.documentElement.scrollWidth);
    expect(wide).toBeLessThanOrEqual(width);
    await page.context().close();
  });
});
