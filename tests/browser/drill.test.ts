import { readFileSync } from 'node:fs';
import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { plainRead } from './plain-read.ts';
import { sharedApp } from './shared-app.ts';

/* May I drill? as a builder meets it, before match drilling: panel A's items 8, 10 and 11, and panel B's F5, in words on the screen. */

const app = sharedApp();

const drilling = async (options = {}) => {
  const opened = await app.page({ flat: true, ...options });
  await opened.page.getByRole('button', { name: 'Drill', exact: true }).click();
  await opened.page.getByText('May I drill?', { exact: true }).waitFor();
  return opened;
};
const card = (page: Page) => page.locator('.card').innerText();

describe('the Drill question', () => {
  it('names first, and large, which holes to leave alone tonight', async () => {
    const { page, errors } = await drilling();
    const head = page.getByRole('heading', { level: 1 });
    expect(await head.innerText()).toBe('Drill no hole yet. F6 h2 is in doubt, and no larger size is left.');
    expect(await head.evaluate((h) => parseFloat(getComputedStyle(h).fontSize))).toBeGreaterThanOrEqual(22);
    const list = page.getByRole('region', { name: 'Which holes' });
    const said = await list.innerText();
    expect(said).toContain('F6 h2: in doubt, and no larger size is left');
    expect(said).toMatch(
      /F2, F3, F4, F5, F6 h1, F6 h3 and F7: N2, N3, N4, N5, N6 and N7 are not in yet; in at “Nose ribs on/,
    );
    // All of it on the first screen, without scrolling.
    const box = (await list.boundingBox())!;
    expect(box.y + box.height).toBeLessThan(800);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('item 10: S3, following the spar 0.1287 in, too close to call; midway 0.1134 in, 0.19 mm to spare', async () => {
    const { page } = await drilling();
    await page.locator('#rail-S3').click();
    const said = await card(page);
    for (const words of [
      '0.1287 in',
      '0.1134 in',
      '0.19 mm',
      '49 %',
      'M3 pilot 2.49 mm, 0.39 mm off',
      "its bushing midway between the layers' holes",
    ])
      expect(said).toContain(words);
    await page.context().close();
  });

  it('item 11: S6, opened early, needs 0.1310 in, no larger size is left: a new M6 is one cure for both faults', async () => {
    const { page } = await drilling();
    await page.getByRole('region', { name: 'Which holes' }).getByRole('button', { name: /F6 h2/ }).click();
    const said = await card(page);
    for (const words of [
      'F6 h2: in doubt',
      '0.1310 in',
      'front opened early',
      'D6 opened early',
      'M6 pilot',
      '6.80 mm to the edge',
      'wants 7.94 mm',
      'the way out is a new M6',
      'one cure for both',
    ])
      expect(said).toContain(words);
    const edges = await page
      .getByRole('img', { name: /M6: .* to the edge/ })
      .first()
      .getAttribute('aria-label');
    expect(edges).toMatch(/M6: 6\.77 mm to the edge, 2\.13 D/);
    await page.context().close();
  });

  it('item 8: with the packer behind N4 the bag of F4 goes into the next range, with the caution beside it', async () => {
    const text = readFileSync('models/narrow-tail.json', 'utf8');
    const panel = JSON.parse(text) as {
      doublers: unknown[];
      joints: { id: string; layers: string[] }[];
      stages: { brings: string[] }[];
    };
    panel.doublers.push({
      id: 'P4',
      form: 'flat',
      on: 'web',
      sheet: 's032',
      part: 'N4',
      end: 'tail',
      height: 70,
      width: 28,
      designed: false,
    });
    panel.joints.find((j) => j.id === 'F4')!.layers.splice(1, 0, 'P4');
    panel.stages[2]!.brings.push('P4');
    const { page } = await drilling();
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles({ name: 'packed.json', mimeType: 'application/json', buffer: Buffer.from(JSON.stringify(panel)) });
    await page.getByText(/^Rivet bags, 1 changed/).waitFor();
    const said = await card(page);
    expect(said).toMatch(
      /F4: 3 of 1\/8 in blind, grip 0\.126 to 0\.187 in, grip 3\.53 mm; was 1\/8 in blind, grip 0\.063 to 0\.125 in before P4 went in\. Not the one in the bag/,
    );
    expect(said).toContain('not approved on certificated structure');
    await page.context().close();
  });

  it('panel B, F5: the bracket at W6, opened to #11, 0.9 off, leaning: no larger size is left', async () => {
    const { page } = await drilling();
    await page.locator('input[type=file]').first().setInputFiles('models/washed-out-wing.json');
    await page
      .getByText(/K6 h1 is in doubt, and no larger size is left/)
      .first()
      .waitFor();
    await page.locator('#rail-W6').click();
    const said = await card(page);
    for (const words of [
      'K6 h1: in doubt',
      '0.1952 in',
      '#11 (0.1910 in)',
      'this is the largest rivet of the design',
      'squaring M6 first carries its hole 0.24 mm inboard',
    ])
      expect(said).toContain(words);
    await page.context().close();
  });

  it('records a pilot drilled, and one drilled apart, as one step each', async () => {
    const { page } = await drilling();
    await page.locator('input[type=file]').first().setInputFiles(plainRead());
    await page.getByRole('heading', { level: 1, name: /^Drill no hole yet/ }).waitFor();
    await page.getByRole('button', { name: 'Stage after' }).click();
    await page.getByRole('button', { name: 'This is where I am' }).click();
    const apart = page.getByRole('button', { name: 'marked and drilled apart' });
    // Everything is read, but nobody looked at the edges yet: nothing may be drilled, and nothing recorded.
    await page.locator('#rail-S2').click();
    await page.getByText('F2 h1', { exact: false }).first().waitFor();
    expect(await apart.count()).toBe(0);
    await page.getByRole('checkbox', { name: 'edges of F2 gauged in every layer' }).check();
    await apart.first().waitFor();
    const n = await apart.count();
    expect(n).toBeGreaterThan(0);
    await apart.first().click();
    await expect.poll(() => apart.count()).toBe(n - 1);
    const marked = page.locator('.hole-row').filter({ hasText: 'F2 h1: not asked' });
    await marked.getByText('Circles, margins and edges').click();
    await marked.getByText('drilled apart').first().waitFor();
    await page.keyboard.press('Control+z');
    await expect.poll(() => apart.count()).toBe(n);
    await page.getByRole('button', { name: 'Pilot drilled in N2' }).first().click();
    await expect.poll(() => apart.count()).toBe(n - 1);
    await page.keyboard.press('Control+z');
    await expect.poll(() => apart.count()).toBe(n);
    await page.context().close();
  });

  it.each([
    ['light', { width: 1280, height: 800 }],
    ['dark', { width: 390, height: 844 }],
  ] as const)('is accessible, %s at %o', async (theme, viewport) => {
    const { page } = await drilling({ viewport });
    await page.evaluate((t) => {
      document.documentElement.dataset.theme = t;
    }, theme);
    await page.locator('#rail-S6').click();
    const { violations } = await new AxeBuilder({ page }).include('.card').analyze();
    expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`)).toEqual([]);
    expect(await page.evaluate(() => document.documentElement.scrollWidth <= window.innerWidth)).toBe(true);
    await page.context().close();
  });
});
