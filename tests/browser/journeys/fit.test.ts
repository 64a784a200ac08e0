import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { keptHas, metalCut } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* Will it fit? A reading changes what is said at once, on the bench drawn in 3D, and is still there after a reload. */

const app = sharedApp();
const card = (page: Page) => page.locator('.card');
const choose = (page: Page, station: string) => page.locator(`#rail-${station}`).click();

describe('working with it', () => {
  it('takes a new reading in inches, echoes it, changes findings and colours at once, undoes, redoes, and survives a reload', async () => {
    const { page, errors } = await app.page({ viewport: { width: 760, height: 560 } });
    await metalCut(page);
    await choose(page, 'S2');
    await card(page)
      .getByRole('button', { name: /Change the height of M2, front end/ })
      .first()
      .click();
    await page.getByLabel('New height of M2, front end').fill('3.268 in');
    await page.getByText('83.007 mm = 3.268 in').waitFor();
    await page.getByRole('button', { name: 'Take', exact: true }).click();
    await card(page).getByText('M2 front end is loose between the caps by 0.02 mm').first().waitFor();
    expect(await page.locator('#rail-S2').getAttribute('aria-label')).not.toContain('between the caps act');
    await page.keyboard.press('Escape');
    await page.getByRole('button', { name: /^Undo: measured the height of M2/ }).click();
    await choose(page, 'S2');
    await card(page).getByText('M2 front end binds').first().waitFor();
    await page.getByRole('button', { name: /^Redo: measured the height of M2/ }).click();
    await card(page).getByText('loose between the caps by 0.02 mm').first().waitFor();
    await keptHas(page, '83.0072');
    await page.reload();
    await choose(page, 'S2');
    await card(page).getByText('loose between the caps by 0.02 mm').first().waitFor();
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
