import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, test } from 'vitest';
import { ask, type OpenApp } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

const app = sharedApp();

async function helper(options: Parameters<OpenApp['page']>[0] = {}): Promise<{ page: Page; errors: string[] }> {
  const opened = await app.page({ flat: true, ...options });
  await ask(opened.page, 'Helper');
  await opened.page.waitForSelector('svg.step-picture', { timeout: 60_000 });
  return opened;
}

const title = (page: Page): Promise<string | null> => page.locator('.step-screen h1').textContent();

describe('the seventh question', () => {
  test('shows the next step with its picture, and opens it full size', async () => {
    const { page, errors } = await helper();
    expect(await page.locator('.card h1').first().textContent()).toMatch(/^Next: \d+\. /);
    expect(await page.locator('.step-row').count()).toBeGreaterThan(100);
    await page.getByRole('button', { name: 'Show full size' }).click();
    await page.waitForSelector('.step-screen svg.step-picture');
    expect(await page.locator('.step-screen svg.step-picture path').count()).toBeGreaterThan(3);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test('at 1280 by 800 the picture shrinks first: where to stand is above the buttons', async () => {
    const { page } = await helper();
    await page.getByRole('button', { name: 'Show full size' }).click();
    await page.waitForSelector('.step-screen svg.step-picture');
    const words = (await page.locator('.step-screen figcaption').boundingBox())!;
    expect(words.y + words.height).toBeLessThanOrEqual((await page.locator('.step-foot').boundingBox())!.y);
    await page.context().close();
  });

  test('stages behind are taken as done, and a gate asked after its pilots says so', async () => {
    const { page } = await helper();
    await page.getByText('all 40 taken as done').waitFor();
    expect(await page.locator('.card').innerText()).toContain('40 of them taken as done');
    const gate = page.locator('.step-row', { hasText: 'may we drill pilots?' }).first();
    expect(await gate.innerText()).toContain('the pilots are in; the gate was not clean');
    expect(await gate.innerText()).not.toContain('not yet');
    await page.context().close();
  });

  test('next and back by key, as a foot switch sends them, and by tap', async () => {
    const { page } = await helper();
    await page
      .locator('.step-stage')
      .first()
      .evaluate((d: HTMLDetailsElement) => {
        d.open = true;
      });
    await page.locator('.step-row .row-plain').first().click();
    await page.waitForSelector('.step-screen');
    expect(await title(page)).toContain('1. ');
    for (const [key, expected] of [
      ['PageDown', 2],
      ['ArrowRight', 3],
      [' ', 4],
      ['ArrowDown', 5],
      ['PageUp', 4],
      ['ArrowLeft', 3],
      ['ArrowUp', 2],
    ] as const) {
      await page.keyboard.press(key);
      expect(await title(page), key).toMatch(new RegExp(`^${expected}\\. `));
    }
    await page.locator('.step-screen').getByRole('button', { name: 'Next' }).click();
    expect(await title(page)).toMatch(/^3\. /);
    // A foot switch goes on also when a button has just been tapped.
    await page.keyboard.press(' ');
    expect(await title(page)).toMatch(/^4\. /);
    for (let i = 0; i < 6; i++) await page.keyboard.press('PageUp');
    expect(await title(page)).toMatch(/^1\. /);
    await page.keyboard.press('Escape');
    expect(await page.locator('.step-screen').count()).toBe(0);
    await page.context().close();
  });

  test.each([
    ['a tablet', 1180, 820],
    ['a tablet upright', 820, 1180],
    ['a phone', 390, 844],
  ] as const)(
    'full size on %s: nothing under 28 px, nothing out of the side, and no fault for a screen reader',
    async (_, width, height) => {
      const { page } = await helper({ viewport: { width, height } });
      await page.getByRole('button', { name: 'Show full size' }).click();
      await page.waitForSelector('.step-screen svg.step-picture');
      const small = await page.evaluate(() => {
        const walker = document.createTreeWalker(document.querySelector('.step-screen')!, NodeFilter.SHOW_TEXT);
        const found: string[] = [];
        while (walker.nextNode()) {
          const box = walker.currentNode.parentElement!;
          if (box.closest('svg') || box.closest('label') || walker.currentNode.textContent!.trim() === '') continue;
          if (Number.parseFloat(getComputedStyle(box).fontSize) < 28) found.push(walker.currentNode.textContent!);
        }
        return found;
      });
      expect(small).toEqual([]);
      const wide = await page.evaluate(() =>
        [...document.querySelectorAll('.step-screen *')]
          .filter((e) => e.getBoundingClientRect().right > innerWidth + 1 && !e.closest('svg'))
          .map((e) => `${e.tagName} ${e.className} ${e.textContent?.slice(0, 20)}`),
      );
      expect(wide).toEqual([]);
      const buttons = await page
        .locator('.step-foot button')
        .evaluateAll((all) => all.map((b) => b.getBoundingClientRect().height));
      for (const h of buttons) expect(h).toBeGreaterThanOrEqual(64);
      const axe = await new AxeBuilder({ page }).include('.step-screen').analyze();
      expect(axe.violations.map((v) => `${v.id}: ${v.nodes[0]?.html}`)).toEqual([]);
      await page.context().close();
    },
  );

  test('the cards of a stage come as a PDF, the log as a PDF and as a table', async () => {
    const { page, errors } = await helper();
    await page.locator('.cards-print select').first().selectOption('brackets');
    const [cards] = await Promise.all([
      page.waitForEvent('download', { timeout: 120_000 }),
      page.getByRole('button', { name: 'Save them as PDF' }).click(),
    ]);
    expect(cards.suggestedFilename()).toBe('narrow-tail-step-cards.pdf');
    const [log] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Print the log' }).click(),
    ]);
    expect(log.suggestedFilename()).toBe('narrow-tail-log.pdf');
    const [table] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save it as a table' }).click(),
    ]);
    expect(table.suggestedFilename()).toBe('narrow-tail-log.csv');
    expect(errors).toEqual([]);
    await page.context().close();
  });

  test('a change is in the log with its day', async () => {
    const { page } = await helper();
    await page.getByRole('button', { name: 'in', exact: true }).click(); // only a look: not in the log
    await page.getByText('Read it here').click();
    const before = await page.locator('.log tbody tr').count();
    expect(before).toBeGreaterThan(20);
    expect(await page.locator('.log tbody').textContent()).not.toContain('showed');
    await page.context().close();
  });
});
