import { describe, expect, it } from 'vitest';
import { readingsTable } from '../../../src/model/tables/readingTable.ts';
import { Hands } from '../hands.ts';
import { ask } from '../open-app.ts';
import { CELL_BY_CELL, enterPanelB } from '../panel-b.ts';
import { bare, FILE, said, saved } from '../saved-panel.ts';
import { sharedApp } from '../shared-app.ts';

/* What am I building? Panel B from its drawing, through the screens alone. */

const app = sharedApp();

describe('panel B from its drawing, through the screens alone', () => {
  it('says what the file says, without readings and with them', async () => {
    const { page, errors } = await app.page({ flat: true, viewport: { width: 1440, height: 900 } });
    const h = new Hands(page);
    await enterPanelB(h);
    console.log(`panel B entered with ${h.clicks} clicks and ${h.keys} keystrokes, ${h.count} in all`);
    expect(h.count, 'less than half of the way cell by cell').toBeLessThan(CELL_BY_CELL / 2);
    const own = await saved(page);
    expect(said(own)).toEqual(said(bare(FILE)));

    await ask(page, 'Measure');
    await page.locator('#rail-W2').click();
    await page.getByText('Paste a column, or a table').click();
    await page.getByLabel('Values to paste').fill(readingsTable(FILE));
    await page.getByRole('button', { name: 'Take them' }).click();
    await ask(page, 'True');
    const measured = await saved(page);
    expect(measured.readings.length).toBe(FILE.readings.length);
    expect(said(measured)).toEqual(said(FILE));
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
