import type { Page } from 'playwright-core';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { type OwnApp, openOwnApp } from './open-app.ts';

/*
 * The app asks for nothing but its own files, ever, and opens with its server gone: page, solids worker, kernel, printing.
 */

let app: OwnApp;

beforeAll(async () => {
  app = await openOwnApp();
});
afterAll(() => app?.close());

async function work(page: Page): Promise<void> {
  await page.getByRole('navigation', { name: 'Questions' }).getByRole('button', { name: 'Helper' }).click();
  // A picture needs the worker and the kernel's wasm.
  await page.waitForSelector('svg.step-picture', { timeout: 60_000 });
  const [log] = await Promise.all([
    page.waitForEvent('download', { timeout: 60_000 }),
    page.getByRole('button', { name: 'Print the log' }).click(),
  ]);
  expect(log.suggestedFilename()).toContain('log');
}

test('everything works with the server stopped, and no request leaves the machine', async () => {
  const { page, errors } = await app.page({ flat: true, serviceWorkers: 'allow' });
  const context = page.context();
  const asked: string[] = [];
  context.on('request', (r) => asked.push(r.url()));
  await page.waitForFunction(() => navigator.serviceWorker.controller !== null, null, { timeout: 60_000 });

  // The manifest is there, its icons too, and the page has no script of its own: a strict policy can hold.
  const manifest = await page.evaluate(
    async () =>
      (await (await fetch(document.querySelector<HTMLLinkElement>('link[rel=manifest]')!.href)).json()) as {
        name: string;
        icons: { src: string }[];
      },
  );
  expect(manifest.name).toBe('Ribtrue');
  for (const icon of manifest.icons)
    expect((await page.request.get(new URL(icon.src, app.url).href)).ok(), icon.src).toBe(true);
  expect(await page.evaluate(() => [...document.scripts].filter((s) => !s.src).length)).toBe(0);

  await app.stopServing();
  await expect(fetch(app.url)).rejects.toThrow();

  await page.reload();
  await page.waitForSelector('.card h1');
  await work(page);
  // A second window opens too, at the app's bare address, and draws the other panel.
  const other = await context.newPage();
  await other.goto(app.url.replace('?test', ''));
  await other.waitForSelector('.card h1');
  await other.getByRole('button', { name: /narrow tail/ }).click();
  await other.getByRole('button', { name: /wing/i }).click();
  await other.waitForFunction(() => document.querySelector('.panel-name')?.textContent?.includes('wing'));
  await work(other);

  const own = new URL(app.url).origin;
  const strange = asked.filter(
    (url) => !url.startsWith(`${own}/`) && !url.startsWith(`blob:${own}/`) && !url.startsWith('data:'),
  );
  expect(strange).toEqual([]);
  expect(asked.length).toBeGreaterThan(5);
  expect(errors).toEqual([]);
});
