import { describe, expect, it } from 'vitest';
import { ask } from '../open-app.ts';
import { sharedApp } from '../shared-app.ts';

/* What did I measure? A reading taken with one hand. */

const app = sharedApp();

describe('the measuring card', () => {
  it('takes a reading from the pad alone, echoes it in both units and walks on', async () => {
    const { page, errors } = await app.page({ flat: true });
    await ask(page, 'Measure');
    await page.locator('#rail-S5').click();
    await page.getByRole('heading', { name: 'front spar depth at S5' }).waitFor();
    const pad = page.getByRole('group', { name: 'Number pad' });
    for (const key of ['3', 'Space', '3', 'slash', '8', 'in'])
      await pad.getByRole('button', { name: key, exact: true }).click();
    await page.getByText('85.725 mm = 3.375 in').waitFor();
    await pad.getByRole('button', { name: 'Take, next' }).click();
    await page.getByRole('heading', { name: 'clear height in the front spar at S5' }).waitFor();
    await page.getByRole('button', { name: 'Size before' }).click();
    await page.getByText('Read 85.72 mm (caliper').or(page.getByText('Read 85.73 mm (caliper')).waitFor();
    const key = await pad.getByRole('button', { name: '5', exact: true }).boundingBox();
    expect(Math.min(key!.width, key!.height)).toBeGreaterThanOrEqual((12 / 25.4) * 96); // 12 mm keys
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
