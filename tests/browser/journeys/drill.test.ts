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
    // Nothing may be drilled at a stage that is only looked ahead to; every hole is counted once.
    const said = (await label()) ?? '';
    expect(said).toMatch(/1 in doubt, .*17 done by then/);
    expect(said).not.toMatch(/drill now|may be drilled/);
    const counts = [...said.matchAll(/(\d+) (?:in doubt|not asked|not yet|never|done by then)/g)].map((m) =>
      Number(m[1]),
    );
    expect(counts.reduce((sum, n) => sum + n, 0)).toBe(50);
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
