import { AxeBuilder } from '@axe-core/playwright';
import { describe, expect, it } from 'vitest';
import { SHEETS } from '../../src/sheets/all.ts';
import { atRest, bytesOf, textOf } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/* Measure, as a builder with one hand uses it: the number pad, the walk, a pasted column, a table, paper. */

const app = sharedApp();

const measuring = async () => {
  const opened = await app.page({ flat: true });
  await opened.page.getByRole('button', { name: 'Measure', exact: true }).click();
  return opened;
};

describe('the measuring card', () => {
  it('keeps several readings of one size and shows their spread', async () => {
    const { page } = await measuring();
    await page.locator('#rail-S5').click();
    const box = page.getByLabel('Reading of the front spar depth at S5');
    for (const value of ['85.80', '85.90']) {
      await box.fill(value);
      await page.getByRole('button', { name: 'Take, once more' }).click();
    }
    await page.getByText(/mean 85\.84 mm, spread 0\.10 mm/).waitFor(); // with the 85.83 that was there
    await page.context().close();
  });

  it('questions a value that is off by a unit, and keeps it in the box', async () => {
    const { page } = await measuring();
    await page.locator('#rail-S5').click();
    await page.getByLabel('Reading of the front spar depth at S5').fill('85.8 in');
    await page.getByRole('button', { name: 'Take, next' }).click();
    await page.getByRole('alert').filter({ hasText: 'look exchanged' }).waitFor();
    expect(await page.getByLabel('Reading of the front spar depth at S5').inputValue()).toBe('85.8 in');
    await page.context().close();
  });

  it('asks about a value far from the drawing, and takes it on a plain yes', async () => {
    const { page, errors } = await measuring();
    await page.locator('#rail-S5').click();
    const box = page.getByLabel('Reading of the front spar depth at S5');
    await box.fill('60');
    await page.getByRole('button', { name: 'Take, next' }).click();
    await page.getByRole('alert').filter({ hasText: '60? The drawing says 86.00 mm: that is 30 % off.' }).waitFor();
    await page.getByRole('button', { name: 'No, change it' }).click();
    expect(await box.inputValue()).toBe('60');
    await page.getByRole('button', { name: 'Take, next' }).click();
    await page.getByRole('button', { name: 'Yes, that is what it reads' }).click();
    await page.getByRole('heading', { name: 'clear height in the front spar at S5' }).waitFor();
    await page.getByRole('button', { name: 'Size before' }).click();
    await page.getByText(/Read 60\.00 mm \(caliper, .*confirmed\)/).waitFor();
    // A pasted column is asked about as one.
    await page.getByText('Paste a column, or a table').click();
    await page.getByLabel('Values to paste').fill('85.8\n860');
    await page.getByRole('alert').filter({ hasText: 'a decimal point looks slipped' }).waitFor();
    expect(await page.getByRole('button', { name: 'Take them', exact: true }).isDisabled()).toBe(true);
    await page.getByRole('button', { name: 'Yes, that is what they read: take them' }).click();
    await page.getByPlaceholder('85.80 mm').waitFor();
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it.each([
    ['a desk', 1280, 800],
    ['a tablet upright', 820, 1180],
    ['a phone', 390, 844],
  ] as const)(
    'on %s the number, the question about a small size and both answers to it stand above the bar',
    async (_, width, height) => {
      const { page, errors } = await app.page({ flat: true, viewport: { width, height } });
      await page.getByRole('button', { name: 'Measure', exact: true }).click();
      await page.getByRole('button', { name: /^Next in the walk: thickness of sheet s020/ }).click();
      const box = page.getByLabel('Reading of the thickness of sheet s020');
      await box.fill('95.1');
      await page.getByRole('button', { name: 'Take, next' }).click();
      const asked = page
        .getByRole('alert')
        .filter({ hasText: '95.1? The drawing says 0.51 mm: that is 187 times as much. Is it another sheet?' });
      await asked.waitFor();
      const bar = width < 1100 ? (await page.getByRole('navigation', { name: 'Questions' }).boundingBox())!.y : height;
      for (const part of [
        box,
        asked,
        page.getByRole('button', { name: 'Yes, that is what it reads' }),
        page.getByRole('button', { name: 'No, change it' }),
      ]) {
        const at = (await part.boundingBox())!;
        expect(at.y).toBeGreaterThanOrEqual(0);
        expect(at.y + at.height).toBeLessThanOrEqual(bar + 1);
      }
      const { violations } = await new AxeBuilder({ page }).include('.card').analyze();
      expect(violations.map((v) => `${v.id}: ${v.nodes.map((n) => n.target.join(' ')).join(', ')}`)).toEqual([]);
      expect(errors).toEqual([]);
      await page.context().close();
    },
  );

  it('keeps instrument and temperature from the last one, and the length a lean was read over', async () => {
    const { page } = await measuring();
    await page.locator('#rail-S3').click();
    await page.getByLabel('Temperature, degrees C').fill('18');
    await page.getByLabel('Reading of the front spar depth at S3').fill('86.2');
    await page.getByRole('button', { name: 'Take, next' }).click();
    await page.getByRole('heading', { name: 'clear height in the front spar at S3' }).waitFor();
    await page.locator('#rail-S6').click();
    expect(await page.getByLabel('Temperature, degrees C').inputValue()).toBe('18');
    for (let go = 0; go < 60 && !(await page.getByRole('heading', { name: 'lean at S6' }).isVisible()); go++)
      await page.getByRole('button', { name: 'Next size' }).click();
    await page.getByLabel('Length it was read over').fill('140');
    await page.getByLabel('Reading of the lean at S6').fill('1.1');
    await page.getByRole('button', { name: 'Take, once more' }).click();
    await page.getByText(/Read 1\.10 mm \(rafter square/).waitFor();
    await page.getByRole('button', { name: 'True', exact: true }).click();
    await page.getByText('M6 leans: its top is 1.10 mm outboard over 140.00 mm').first().waitFor();
    await page.context().close();
  });

  it('takes a pasted column, and saves and takes back a table', async () => {
    const { page } = await measuring();
    await page.locator('#rail-S2').click();
    await page.getByText('Paste a column, or a table').click();
    await page.getByLabel('Values to paste').fill('86.1\n86.2\n86.3');
    await page.getByText('front.depth@S2 86.10 mm, front.depth@S3 86.20 mm, front.depth@S4 86.30 mm').waitFor();
    await page.getByRole('button', { name: 'Take them' }).click();
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save all readings as a table' }).click(),
    ]);
    const table = await textOf(saved);
    expect(table.split('\n')[0]).toBe('size,name,value,instrument,date,temperature,over,sure,note');
    expect(table).toMatch(/front\.depth@S3,front spar depth at S3,86\.2 mm,caliper/);
    await page.getByLabel('Values to paste').fill(table.replace('86.2 mm', '86.4 mm'));
    await page.getByRole('button', { name: 'Take them' }).click();
    await page.locator('#rail-S3').click();
    await page.getByPlaceholder('86.40 mm').waitFor();
    await page.context().close();
  });

  it('shows, prints and saves a measuring card with the same names', async () => {
    const { page, errors } = await measuring();
    await page.addInitScript(() => {
      window.print = () => {
        (window.top as unknown as { printed: string }).printed = document.body.textContent ?? '';
      };
    });
    await page.reload();
    await page.waitForSelector('.card h1');
    await page.getByRole('button', { name: 'Measure', exact: true }).click();
    await page.getByRole('button', { name: 'Print the whole walk' }).click();
    const dialog = page.getByRole('dialog');
    await dialog.locator('.sheet-page svg').first().waitFor();
    await atRest(page);
    const text = (await dialog.locator('.sheet-page svg').allTextContents()).join('\n');
    for (const words of ['M2.front.height', 'height of M2, front end', '83.10', 'does not check strength'])
      expect(text).toContain(words);
    // A text is as wide on the screen as it was laid out, but for what letters hang over, whatever the font.
    const odd = await dialog
      .locator('.sheet-page text')
      .evaluateAll((all) =>
        all
          .filter(
            (t) =>
              !t.hasAttribute('transform') &&
              Math.abs((t as SVGTextElement).getBBox().width - Number(t.getAttribute('textLength'))) > 0.7,
          )
          .map((t) => t.textContent),
      );
    expect(odd).toEqual([]);
    await dialog.getByLabel('Paper').selectOption('a4');
    await dialog.getByRole('button', { name: 'Print', exact: true }).click();
    await page.waitForFunction(() => (window as unknown as { printed?: string }).printed?.includes('M2.front.height'));
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      dialog.getByRole('button', { name: 'Save PDF' }).click(),
    ]);
    expect(saved.suggestedFilename()).toBe('narrow-tail-measuring-walk.pdf');
    expect((await bytesOf(saved)).subarray(0, 5).toString()).toBe('%PDF-');
    await dialog.getByRole('button', { name: 'Close the sheet' }).click();
    await dialog.waitFor({ state: 'detached' });
    await page.getByRole('button', { name: 'Helper', exact: true }).click();
    await page.locator('.paper li').first().waitFor();
    expect(await page.locator('.paper li b').allTextContents()).toEqual(SHEETS.map((s) => s.title));
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
