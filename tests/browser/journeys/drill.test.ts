import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ask } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* May I drill? Looking ahead through the stages. */

const app = sharedApp();
const card = (page: Page) => page.locator('.card').innerText();

describe('the Drill question', () => {
  it('changes the holes as the stages are tapped through, and goes there', async () => {
    const { page } = await app.page({ flat: true });
    await ask(page, 'Drill');
    const strip = page.getByRole('img', { name: /^Holes along the span/ });
    const label = () => strip.getAttribute('aria-label');
    expect(await label()).toMatch(/1 in doubt, 49 not yet/);
    await page.getByRole('button', { name: 'Stage after' }).click();
    expect(await label()).toMatch(/Nose ribs on, match drill the front web: 1 in doubt, 49 not yet/);
    expect(await card(page)).toContain('looking ahead');
    expect(await page.getByRole('heading', { level: 1 }).innerText()).toMatch(
      /^At stage 3, if all before it goes as planned: planned then: F2/,
    );
    expect(await card(page)).not.toMatch(/tonight|drill now/);
    await page.getByRole('region', { name: 'Looking ahead' }).waitFor();
    await page.getByRole('button', { name: 'Stage after' }).click();
    expect(await label()).toMatch(/1 in doubt, 32 not yet, 17 done by then/);
    expect(await page.getByRole('button', { name: 'Stage after' }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Back to now' }).click();
    expect(await label()).toMatch(/49 not yet/);
    await page.getByRole('button', { name: 'Stage after' }).click();
    await page.getByRole('button', { name: 'This is where I am' }).click();
    expect(await card(page)).toContain('Stage 3 of 4, where you are');
    expect(await card(page)).toContain('first put this right'); // the present is not taken as put right
    await page.context().close();
  });
});
