import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import { ask, atRest, frames, metalCut, SECOND, textOf } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/* The built app in a real Chromium, used as a builder would: no knowledge of the code but labels and words. */

const app = sharedApp();

const card = (page: Page) => page.locator('.card');
const choose = (page: Page, station: string) => page.locator(`#rail-${station}`).click();

describe('the first minute', () => {
  it('opens on panel A and says why S2 binds, that M6 is short and that the panel is twisted', async () => {
    const { page, errors } = await app.page({ flat: true });
    await card(page).getByText('binds between the caps by 0.32 mm').first().waitFor();
    await card(page).getByText('M6 is 0.95 mm short between the webs').first().waitFor();
    await ask(page, 'True');
    await card(page).getByText('The panel twists 0.59° nose down from S1 to S8 combined').first().waitFor();
    await card(page).getByRole('button', { name: 'whole panel by heights' }).click();
    await card(page).getByText('The panel twists 0.59° nose down from S1 to S8 by heights').first().waitFor();
    await ask(page, 'Fit');
    await choose(page, 'S2');
    const text = await card(page).innerText();
    for (const words of ['Station S2', 'M2 front end binds', '84.30 mm', '83.35 mm', '0.64 mm'])
      expect(text).toContain(words);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('says on screen what the engine says', async () => {
    const { page } = await app.page({ flat: true });
    const read = parseModel(readFileSync('models/narrow-tail.json', 'utf8'));
    if (!read.ok) throw new Error('panel A does not parse');
    const said = checkAll(read.model).filter((f) => f.station === 'S6' && f.check === 'chord-gap');
    await choose(page, 'S6');
    for (const f of said) await card(page).getByText(f.sentence).first().waitFor();
    await page.context().close();
  });
});

describe('the bench', () => {
  it('draws the skeleton in 3D, then stands still', async () => {
    const { page, errors } = await app.page();
    await metalCut(page);
    const shades = await coloursOf(page);
    expect(shades).toBeGreaterThan(20);
    const drawn = () => page.locator('[data-bench]').getAttribute('data-drawn');
    const before = await drawn();
    expect(Number(before)).toBeGreaterThan(0);
    await frames(page, SECOND);
    expect(await drawn(), 'frames drawn while nothing moves').toBe(before);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('shows the same panel in every view, with and without the skin', async () => {
    const { page, errors } = await app.page({ viewport: { width: 760, height: 560 } });
    await metalCut(page);
    for (const key of ['2', '3', '4', '1']) {
      await page.keyboard.press(key);
      await atRest(page);
      expect(await coloursOf(page), `view ${key}`).toBeGreaterThan(20);
    }
    await page.getByRole('button', { name: 'skin', exact: true }).click();
    await metalCut(page);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('does the job in plain lines where nothing can be drawn in 3D', async () => {
    const { page } = await app.page({ flat: true });
    await page.getByText('cannot draw in 3D').waitFor();
    await choose(page, 'S2');
    await card(page).getByText('M2 front end binds').first().waitFor();
    await page.context().close();
  });
});

/** How many different colours the bench shows; a blank canvas has one. */
async function coloursOf(page: Page): Promise<number> {
  const picture = (await page.locator('.bench canvas').first().screenshot()).toString('base64');
  return page.evaluate(async (data) => {
    const image = new Image();
    image.src = `data:image/png;base64,${data}`;
    await image.decode();
    const canvas = document.createElement('canvas');
    canvas.width = image.width;
    canvas.height = image.height;
    const pen = canvas.getContext('2d')!;
    pen.drawImage(image, 0, 0);
    const { data: bytes } = pen.getImageData(0, 0, canvas.width, canvas.height);
    const seen = new Set<number>();
    for (let i = 0; i < bytes.length; i += 4) seen.add((bytes[i]! << 16) | (bytes[i + 1]! << 8) | bytes[i + 2]!);
    return seen.size;
  }, picture);
}

describe('working with it', () => {
  it('keeps what was typed when it cannot be taken, and says why', async () => {
    const { page } = await app.page({ flat: true });
    await choose(page, 'S2');
    await card(page)
      .getByRole('button', { name: /Change the height of M2, front end/ })
      .first()
      .click();
    const box = page.getByLabel('New height of M2, front end');
    for (const [typed, words] of [
      ['16 ga', 'gauge'],
      ['abc', 'abc'],
      ['83.35 in', 'millimetres and inches look exchanged'],
    ] as const) {
      await box.fill(typed);
      await page.getByRole('button', { name: 'Take', exact: true }).click();
      await page.getByRole('alert').filter({ hasText: words }).waitFor();
      expect(await box.inputValue()).toBe(typed);
    }
    await page.context().close();
  });

  it('refuses a broken file with its sentences and leaves the panel alone', async () => {
    const { page } = await app.page({ flat: true });
    const broken = readFileSync('models/plain.json', 'utf8').replace('"thickness": 0.635', '"thickness": -0.635');
    await page
      .locator('input[type=file]')
      .setInputFiles({ name: 'broken.json', mimeType: 'application/json', buffer: Buffer.from(broken) });
    await page
      .getByRole('alertdialog')
      .getByText(/thickness.*cannot be negative/)
      .waitFor();
    await page.getByText('broken.json was not opened: one fault').waitFor();
    await page.getByRole('button', { name: 'Back to the panel' }).click();
    await page.getByRole('button', { name: /^narrow tail/ }).waitFor();
    await page.context().close();
  });

  it('opens a file by dropping it, and saves it byte for byte', async () => {
    const { page } = await app.page({ flat: true });
    const text = readFileSync('models/washed-out-wing.json', 'utf8');
    const drop = await page.evaluateHandle((body) => {
      const data = new DataTransfer();
      data.items.add(new File([body], 'washed-out-wing.json'));
      return data;
    }, text);
    await page.dispatchEvent('.app', 'drop', { dataTransfer: drop });
    await page.getByRole('button', { name: /^washed-out wing/ }).click();
    const [saved] = await Promise.all([
      page.waitForEvent('download'),
      page.getByRole('button', { name: 'Save a file' }).click(),
    ]);
    expect(await textOf(saved)).toBe(text);
    await page.context().close();
  });

  it('is worked by the keyboard alone', async () => {
    const { page } = await app.page({ viewport: { width: 760, height: 560 } });
    await page.getByRole('listbox', { name: 'Stations along the span' }).focus();
    await page.keyboard.press('ArrowRight');
    await page.keyboard.press('ArrowRight');
    await card(page)
      .getByRole('heading', { name: /Station S2/ })
      .waitFor();
    await page.keyboard.press('Escape');
    await card(page).getByRole('heading', { name: /place/ }).waitFor();
    await page.keyboard.press('2');
    expect(await page.getByRole('button', { name: 'above', exact: true }).getAttribute('aria-pressed')).toBe('true');
    await page.context().close();
  });

  it('fits a tablet and a phone without sideways scrolling, light and dark', async () => {
    for (const [width, height] of [
      [820, 1180],
      [390, 844],
    ] as const) {
      const { page, errors } = await app.page({ flat: true, viewport: { width, height }, colorScheme: 'dark' });
      expect(await page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth)).toBeLessThanOrEqual(
        0,
      );
      expect(await page.evaluate(() => document.documentElement.dataset.theme)).toBe('dark');
      expect(errors).toEqual([]);
      await page.context().close();
    }
  });
});
