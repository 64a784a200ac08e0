import type { Locator, Page } from 'playwright-core';
import { ask } from './open-app.ts';

/** The card that answers the question. */
export const card = (page: Page): Locator => page.locator('.card');

/** Opens a station's finding under Remedy and waits until every remedy was tried. */
export async function open(page: Page, station: string, words: string): Promise<void> {
  await ask(page, 'Remedy');
  await page.locator(`#rail-${station}`).click();
  await card(page).locator('.groups .row').filter({ hasText: words }).first().click();
  await card(page).locator('.remedies').first().waitFor();
}

/** The remedy whose name starts with some words, opened. */
export async function remedy(page: Page, name: string): Promise<Locator> {
  const row = card(page)
    .locator('.remedies > li')
    .filter({ has: page.locator('summary b', { hasText: new RegExp(`^${name}`) }) })
    .first();
  if (!(await row.locator('details').evaluate((d) => (d as HTMLDetailsElement).open)))
    await row.locator('summary').click();
  return row;
}

/** The row of a before-and-after table that is about a place and a check. */
export const change = (at: Locator, place: string, check: string): Locator =>
  at
    .locator('.changes tr')
    .filter({ has: at.page().locator('th', { hasText: new RegExp(`^${place}${check}`) }) })
    .first();
