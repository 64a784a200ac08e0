import { describe, expect, it } from 'vitest';
import { ask } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* Is it true? The packs that take the twist out. */

const app = sharedApp();

describe('panel A', () => {
  it('the packing plan: shown before and after, decided, put in, and undone', async () => {
    const { page, errors } = await app.page({ flat: true });
    await ask(page, 'True');
    await page.getByRole('button', { name: 'Where do the packs go?' }).click();
    const plan = page.getByRole('region', { name: 'Packing plan' });
    await plan.getByText(/^Pack under the front spar: .*S8 2\.\d+ mm/).waitFor();
    expect(await page.locator('.packed circle').count()).toBe(8);
    await plan.getByText(/S1 stands 0\.\d+ mm too high: plane its front block/).waitFor();
    await plan.getByRole('button', { name: 'Decide on these packs' }).click();
    // Decided is not packed: the twist stands as it was read.
    const decided = page.getByRole('region', { name: 'Packs decided' });
    await decided.getByRole('button', { name: 'The packs are in' }).waitFor();
    expect(await page.locator('.card').innerText()).toContain('0.59° nose down from S1');
    await decided.getByRole('button', { name: 'The packs are in' }).click();
    await page.waitForFunction(
      () => !document.querySelector('.card')!.textContent!.includes('0.59° nose down from S1'),
    );
    const after = await page.locator('.card').innerText();
    expect(after).not.toMatch(/S8 stands .* Act/);
    await page.getByRole('button', { name: /^Undo/ }).click();
    await page.waitForFunction(() => document.querySelector('.card')!.textContent!.includes('0.59° nose down from S1'));
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
