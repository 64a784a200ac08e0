import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { ask, atRest } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* Who does what? A step done, ticked and signed. */

const app = sharedApp();
const title = (page: Page): Promise<string | null> => page.locator('.step-screen h1').textContent();

describe('the seventh question', () => {
  test('a tick with initials stays after a reload, and undo takes it back', async () => {
    const { page } = await app.page({ flat: true });
    await ask(page, 'Helper');
    await page.waitForSelector('svg.step-picture');
    await page.getByRole('button', { name: 'Show full size' }).click();
    await page.getByLabel('Initials').fill('ab');
    const name = (await title(page))!.replace(/^\d+\. /, '');
    await page.locator('.step-screen').getByRole('checkbox', { name: 'Done' }).click();
    await page.locator('.step-screen').getByRole('checkbox', { name: 'Done, ab' }).waitFor();
    await atRest(page);
    await page.reload();
    await page.waitForSelector('.card h1');
    await ask(page, 'Helper');
    const row = page.getByRole('checkbox', { name: `${name}: done` });
    expect(await row.isChecked()).toBe(true);
    await row.click();
    expect(await row.isChecked()).toBe(false);
    await page.keyboard.press('Control+z');
    expect(await row.isChecked()).toBe(true);
    await page.context().close();
  });
});
