import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { atRest, frames, metalCut, SECOND } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/* The skeleton cut open and pulled apart on the bench, and the station card's section cut from the same solids. */

const app = sharedApp();

const SMALL = { viewport: { width: 760, height: 560 } };
const press = (page: Page, name: string) => page.getByRole('button', { name, exact: true }).click();
const bench = (page: Page, what: string) => page.locator('[data-bench]').getAttribute(`data-${what}`);
const capped = (page: Page) => page.waitForSelector('[data-bench][data-caps]', { timeout: 30_000 });

describe('the cut', () => {
  it('caps every part it meets, says where it is, and is moved from the keyboard', async () => {
    const { page, errors } = await app.page(SMALL);
    await metalCut(page);
    await page.locator('#rail-S2').click();
    await press(page, 'cut');
    await capped(page);
    expect(Number(await bench(page, 'caps'))).toBe(6);
    expect(Number(await bench(page, 'shared'))).toBeGreaterThan(0);
    const slider = page.getByRole('slider', { name: 'Where the skeleton is cut' });
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/750\.\d\d mm, through the flanges of S2/);
    await press(page, 'in');
    expect(await slider.getAttribute('aria-valuetext')).toMatch(/29\.5\d\d in, through the flanges of S2/);
    await press(page, 'mm');
    await slider.focus();
    await page.keyboard.press('PageUp');
    expect(await slider.getAttribute('aria-valuetext')).toContain('through the flanges of S3');
    await page.keyboard.press('ArrowRight');
    const at = Number(await bench(page, 'cut'));
    await page.keyboard.press('ArrowLeft');
    expect(at - Number(await bench(page, 'cut'))).toBeCloseTo(0.5, 3);
    await page.waitForFunction(() => document.querySelector('[data-bench]')?.getAttribute('data-caps') === '5');
    await press(page, 'cut');
    expect(await bench(page, 'caps')).toBeNull();
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('writes the true sizes on it along the span, and hatches what two parts share', async () => {
    const { page, errors } = await app.page({ viewport: { width: 1280, height: 800 } });
    await metalCut(page);
    await page.locator('#rail-S2').click();
    await press(page, 'along');
    await capped(page);
    await page.waitForFunction(() =>
      [...document.querySelectorAll<SVGGElement>('g[data-size]')].some((g) => g.style.visibility === 'visible'),
    );
    const texts = await page.locator('g[data-size]').allTextContents();
    for (const text of ['84.30 clear', '83.35 M2', '264.00 web to web', 'binds 0.16']) expect(texts).toContain(text);
    // Act colour on the canvas: the metal that the rib end and the caps both want.
    expect(await near(page, [0x9b, 0x1b, 0x6e])).toBeGreaterThan(40);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('is dragged on the bench itself, seen from above', async () => {
    const { page, errors } = await app.page(SMALL);
    await metalCut(page);
    await page.keyboard.press('2');
    await press(page, 'cut');
    await capped(page);
    await atRest(page);
    const before = Number(await bench(page, 'cut'));
    const grip = (await page.locator('[data-grip]').boundingBox())!;
    await page.mouse.move(grip.x + grip.width / 2, grip.y + 15);
    await page.mouse.down();
    await page.mouse.move(grip.x + grip.width / 2 + 120, grip.y + 15, { steps: 4 });
    await page.mouse.up();
    const after = Number(await bench(page, 'cut'));
    expect(after - before).toBeGreaterThan(150);
    await capped(page);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe('pulled apart', () => {
  it('shows marks alone with the way their flanges point, and comes back', async () => {
    const { page, errors } = await app.page({ ...SMALL, reducedMotion: 'reduce' });
    await metalCut(page);
    const labels = () =>
      page
        .locator('[data-bench] button[data-id]')
        .evaluateAll((list) => list.map((b) => b.getAttribute('data-id') ?? ''));
    const together = await labels();
    expect(together.some((id) => id.startsWith('cap-gap:'))).toBe(true);
    await press(page, 'apart');
    expect(await bench(page, 'apart')).toBe('1');
    expect((await labels()).every((id) => id.startsWith('mark:'))).toBe(true);
    await page.getByRole('button', { name: 'M2, flange to the left' }).waitFor({ state: 'attached' });
    const slider = page.getByRole('slider', { name: 'How far the parts stand apart' });
    await slider.focus();
    await page.keyboard.press('ArrowLeft');
    expect(await slider.getAttribute('aria-valuetext')).toBe('95 percent');
    const drawn = await bench(page, 'drawn');
    await frames(page, SECOND);
    expect(Number(await bench(page, 'drawn')) - Number(drawn), 'frames drawn while nothing moves').toBeLessThanOrEqual(
      1,
    );
    // One at a time: the cut puts the parts together again.
    await press(page, 'cut');
    expect(await bench(page, 'apart')).toBeNull();
    await press(page, 'cut');
    expect(await labels()).toEqual(together);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe('the section on the station card', () => {
  it('is cut from the solids, whole and at each nesting end, under the names the sketch had', async () => {
    const { page, errors } = await app.page({ flat: true });
    await page.locator('#rail-S2').click();
    await page.waitForSelector('.sections[data-cut]', { timeout: 30_000 });
    const whole = page.getByRole('img', { name: 'Section at S2, to scale' });
    expect(await whole.locator('path.cut-thin').count()).toBeGreaterThanOrEqual(6);
    const corner = page.getByRole('img', {
      name: /^Layers at the top corner of M2 front end: front spar cap 0\.81 mm, .*binds 0\.16 mm/,
    });
    expect(await corner.locator('path.cut-metal').count()).toBeGreaterThanOrEqual(4);
    expect(await corner.locator('path.cut-shared').count()).toBeGreaterThan(0);
    expect(
      new Set(await corner.locator('path.cut-metal').evaluateAll((list) => list.map((p) => p.getAttribute('fill'))))
        .size,
    ).toBeGreaterThan(2);
    expect(await corner.locator('text').allTextContents()).toEqual(
      expect.arrayContaining(['front spar cap', 'binds', 'D2', 'M2 flange', '-0.16 mm']),
    );
    const rear = page.getByRole('img', { name: /^Layers at the top corner of M2 rear end/ });
    expect(await rear.locator('path.cut-daylight').count()).toBe(1);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('is the plain sketch where no worker can be had', async () => {
    const { page } = await app.page({ flat: true });
    await page.addInitScript(() => {
      Reflect.deleteProperty(window, 'Worker');
    });
    await page.reload();
    await page.locator('#rail-S2').click();
    await page.getByRole('img', { name: /^Layers at the top corner of M2 front end/ }).waitFor();
    await atRest(page);
    expect(await page.locator('.sections[data-cut]').count()).toBe(0);
    await page.context().close();
  });
});

/** How many pixels of the bench are near a colour. */
async function near(page: Page, colour: readonly [number, number, number]): Promise<number> {
  const picture = (await page.locator('.bench canvas').first().screenshot()).toString('base64');
  return page.evaluate(
    async ({ data, rgb }) => {
      const image = new Image();
      image.src = `data:image/png;base64,${data}`;
      await image.decode();
      const canvas = document.createElement('canvas');
      canvas.width = image.width;
      canvas.height = image.height;
      const pen = canvas.getContext('2d')!;
      pen.drawImage(image, 0, 0);
      const { data: bytes } = pen.getImageData(0, 0, canvas.width, canvas.height);
      let found = 0;
      for (let i = 0; i < bytes.length; i += 4)
        if ([0, 1, 2].every((k) => Math.abs(bytes[i + k]! - rgb[k]!) < 14)) found++;
      return found;
    },
    { data: picture, rgb: colour },
  );
}
