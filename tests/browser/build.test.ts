import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Finding } from '../../src/checks/finding.ts';
import { parseModel } from '../../src/model/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { readingsTable } from '../../src/model/table.ts';
import { Hands } from './hands.ts';
import { type OpenApp, openApp } from './open-app.ts';
import { enterPanelB, enterPanelBCellByCell } from './panel-b.ts';

/*
 * What am I building? From a drawing to an own panel, through the screens alone. What must come out is the file of panel B,
 * whose sizes come from its page (worked by a script of its own) and which was written by hand, not by these screens.
 */

let app: OpenApp;
beforeAll(async () => {
  app = await openApp();
}, 180_000);
afterAll(() => app?.close());

function modelOf(text: string): Model {
  const read = parseModel(text);
  if (!read.ok) throw new Error(read.faults.map((f) => `${f.path} ${f.sentence}`).join('\n'));
  return read.model;
}
const FILE = modelOf(readFileSync('models/washed-out-wing.json', 'utf8'));

/** The panel on the bench, as saving writes it. */
async function saved(page: Page): Promise<Model> {
  await page.locator('.panel-name').click();
  const [file] = await Promise.all([page.waitForEvent('download'), page.getByRole('button', { name: 'Save a file' }).click()]);
  return modelOf(readFileSync((await file.path())!, 'utf8'));
}

const bare = (m: Model): Model => ({ ...m, readings: [] });

/** What is said of a panel, to a hundredth of a millimetre: the same words, the same verdicts. */
function said(m: Model): string[] {
  return checkAll(m).map((f: Finding) => `${f.id} at ${f.station ?? 'all'}: ${f.verdict}, ${f.basis}. ${f.sentence}`).sort();
}

/** Clicks and keystrokes of the long way, typed cell by cell, as the run with COUNT=1 printed them. */
const CELL_BY_CELL = 1542;

describe('panel B from its drawing, through the screens alone', () => {
  it('says what the file says, without readings and with them', async () => {
    const { page, errors } = await app.page({ flat: true, viewport: { width: 1440, height: 900 } });
    const h = new Hands(page);
    await enterPanelB(h);
    console.log(`panel B entered with ${h.clicks} clicks and ${h.keys} keystrokes, ${h.count} in all`);
    expect(h.count, 'less than half of the way cell by cell').toBeLessThan(CELL_BY_CELL / 2);
    const own = await saved(page);
    expect(said(own)).toEqual(said(bare(FILE)));

    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.locator('#rail-W2').click();
    await page.getByText('Paste a column, or a table').click();
    await page.getByLabel('Values to paste').fill(readingsTable(FILE));
    await page.getByRole('button', { name: 'Take them' }).click();
    await page.getByRole('button', { name: 'True', exact: true }).click();
    const measured = await saved(page);
    expect(measured.readings.length).toBe(FILE.readings.length);
    expect(said(measured)).toEqual(said(FILE));
    expect(errors).toEqual([]);
    await page.context().close();
  }, 180_000);

  it.runIf(process.env['COUNT'] === '1')('takes more than twice as much cell by cell', async () => {
    const { page } = await app.page({ flat: true, viewport: { width: 1440, height: 1600 } });
    const h = new Hands(page);
    await enterPanelBCellByCell(h, FILE, () => saved(page));
    console.log(`cell by cell: ${h.clicks} clicks and ${h.keys} keystrokes, ${h.count} in all`);
    expect(said(await saved(page))).toEqual(said(bare(FILE)));
    await page.context().close();
  }, 1_800_000);
});
