import { describe, expect, it } from 'vitest';
import { card, change, open, remedy } from '../remedy-card.ts';
import { sharedApp } from '../shared-app.ts';

/* What puts it right? A remedy tried, taken and taken back. */

const app = sharedApp();

describe('a remedy', () => {
  it('item 4: M6’s packer is tried, seen before and after, decided with a why, made, and undone', async () => {
    const { page, errors } = await app.page({ flat: true });
    await open(page, 'S6', 'M6 is 0.95 mm short between the webs');
    await card(page).getByText('M6 itself makes 0.90 mm of the 0.95 mm.').waitFor();
    const row = await remedy(page, 'Flat packer of 0.032 in on the web at M6 rear');
    await expect
      .poll(() => change(row, 'M6', 'between the webs').innerText())
      .toMatch(/0\.95 mm loose[\s\S]*0\.14 mm loose/);
    await row.getByRole('button', { name: 'Try it' }).click();
    const bar = page.getByRole('region', { name: 'Tried, not taken' });
    await bar.getByText('flat packer of 0.032 in on the web at M6 rear').waitFor();
    // Tried is not taken: there is nothing to undo, and the card still says what is.
    expect(await page.getByRole('button', { name: 'Nothing to undo' }).count()).toBe(1);
    await card(page).getByText('M6 is 0.95 mm short between the webs').first().waitFor();
    await bar.getByRole('button', { name: 'before' }).click();
    expect(await bar.getByRole('button', { name: 'before' }).getAttribute('aria-pressed')).toBe('true');
    await row.getByLabel('Why').fill('the drawing allows one packer');
    await row.getByLabel('The designer said').fill('yes, by letter');
    await row.getByRole('button', { name: 'Decide on this' }).click();
    // Decided is not made: the panel still says what is.
    await card(page).getByText('M6 is 0.95 mm short between the webs').first().waitFor();
    expect(await bar.count()).toBe(0);
    const decided = card(page).getByRole('region', { name: 'What was decided' });
    await decided.getByText('the drawing allows one packer').waitFor();
    await decided.getByText('decided, not made yet').waitFor();
    await decided.getByText('Asked: yes, by letter').waitFor();
    await decided.getByText('0.95 mm, loose: unsettled').waitFor();
    await decided.getByRole('button', { name: 'It is made' }).click();
    await card(page).getByText('M6 is 0.14 mm short between the webs').first().waitFor();
    expect(await decided.getByRole('button', { name: 'Take the decision back' }).count()).toBe(0);
    await page.getByRole('button', { name: /^Undo: ticked what was decided as made/ }).click();
    await card(page).getByText('M6 is 0.95 mm short between the webs').first().waitFor();
    await page.getByRole('button', { name: /^Undo: put a flat packer on M6 rear/ }).click();
    await card(page).getByText('M6 is 0.95 mm short between the webs').first().waitFor();
    expect(await card(page).getByRole('region', { name: 'What was decided' }).count()).toBe(0);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
