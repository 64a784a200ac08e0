import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ask, atRest } from './open-app.ts';
import { sharedApp } from './shared-app.ts';

/*
 * Large letters and wide ones: at 200 % (half the page at twice the pixels), on a tablet and on a phone, as it is and with the
 * spacing that WCAG 2.2, success criterion 1.4.12, says a page must bear, every question and a station are read whole: no
 * line is cut off, no button lies on another, and nothing has to be scrolled sideways.
 */

const app = sharedApp();

const QUESTIONS = ['Build', 'Measure', 'Fit', 'Remedy', 'Drill', 'True', 'Helper'] as const;

/** The criterion's own figures: lines 1.5, after a paragraph 2, letters 0.12, words 0.16 times the size of the letters. */
const SPACED =
  '* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important } p { margin-bottom: 2em !important }';

const space = (page: Page): Promise<void> =>
  page.evaluate((css) => {
    const sheet = new CSSStyleSheet();
    sheet.replaceSync(css);
    document.adoptedStyleSheets = [sheet];
  }, SPACED);

/** Words that are cut off or off the page, buttons that lie on each other, and a page wider than the screen. */
function faultsOn(page: Page): Promise<string[]> {
  return page.evaluate(() => {
    const faults: string[] = [];
    const wide = document.documentElement.scrollWidth;
    if (wide > innerWidth) faults.push(`the page is ${wide} px wide on ${innerWidth}`);
    const name = (e: Element): string => `${e.tagName.toLowerCase()}.${e.getAttribute('class') ?? ''}`;
    const seen = (e: Element): boolean =>
      e.closest('.unseen, svg, [data-bench], option, [hidden]') === null &&
      getComputedStyle(e).clipPath !== 'inset(50%)' &&
      e.checkVisibility({ visibilityProperty: true });
    const walker = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
    for (let node = walker.nextNode(); node; node = walker.nextNode()) {
      const own = node.parentElement!;
      if (!node.textContent!.trim() || !seen(own)) continue;
      const range = document.createRange();
      range.selectNodeContents(node);
      for (const r of range.getClientRects()) {
        if (r.width === 0) continue;
        let [left, right] = [false, false]; // sideways and downwards it can be scrolled to
        for (let e: Element | null = own; e && e !== document.body; e = e.parentElement) {
          const style = getComputedStyle(e);
          if (style.display === 'inline' || style.display === 'contents') continue;
          const box = e.getBoundingClientRect();
          const [x, y] = [style.overflowX, style.overflowY];
          if (x === 'auto' || x === 'scroll') left = true;
          if (y === 'auto' || y === 'scroll') right = true;
          const cutX =
            !left && (x === 'hidden' || x === 'clip') && (r.left < box.left - 1.5 || r.right > box.right + 1.5);
          const cutY = !right && (y === 'hidden' || y === 'clip') && (r.top < box.top - 3 || r.bottom > box.bottom + 3);
          if (cutX || cutY) faults.push(`"${node.textContent!.trim().slice(0, 40)}" is cut off by ${name(e)}`);
        }
        if (!left && (r.left < -1 || r.right > innerWidth + 1))
          faults.push(`"${node.textContent!.trim().slice(0, 40)}" runs off the page`);
      }
    }
    // Words in a drawing: inside it, and not on each other.
    const words = [...document.querySelectorAll<SVGTextElement>('svg text')].filter(
      (t) =>
        t.closest('.unseen, [data-bench], [hidden], [aria-hidden=true] .paper-sheet') === null &&
        t.textContent!.trim() !== '' &&
        t.checkVisibility({ visibilityProperty: true, opacityProperty: true }),
    );
    for (const t of words) {
      let svg = t.ownerSVGElement!;
      while (svg.ownerSVGElement) svg = svg.ownerSVGElement;
      const [r, box] = [t.getBoundingClientRect(), svg.getBoundingClientRect()];
      if (r.width === 0 || getComputedStyle(svg).overflow === 'visible') continue;
      if (r.left < box.left - 2 || r.right > box.right + 2 || r.top < box.top - 4 || r.bottom > box.bottom + 4)
        faults.push(`"${t.textContent!.trim().slice(0, 40)}" runs out of its drawing, ${name(svg)}`);
    }
    const over = document.querySelector('.sheet-view, .step-screen'); // what lies behind it cannot be pressed
    const buttons = [...(over ?? document).querySelectorAll('button, input, select, summary')].filter(
      (b) => seen(b) && b.getBoundingClientRect().width > 0,
    );
    const fixed = (e: Element): Element | null => {
      for (let p: Element | null = e; p; p = p.parentElement)
        if (['fixed', 'sticky'].includes(getComputedStyle(p).position)) return p;
      return null;
    };
    const held = buttons.map(fixed);
    const boxes = buttons.map((b) => b.getBoundingClientRect());
    for (let i = 0; i < buttons.length; i++)
      for (let j = i + 1; j < buttons.length; j++) {
        const [a, b] = [boxes[i]!, boxes[j]!];
        if (held[i] !== held[j] || buttons[i]!.contains(buttons[j]!) || buttons[j]!.contains(buttons[i]!)) continue;
        const [w, h] = [
          Math.min(a.right, b.right) - Math.max(a.left, b.left),
          Math.min(a.bottom, b.bottom) - Math.max(a.top, b.top),
        ];
        if (w > 3 && h > 3)
          faults.push(
            `"${buttons[i]!.textContent?.slice(0, 30)}" and "${buttons[j]!.textContent?.slice(0, 30)}" lie on each other`,
          );
      }
    return [...new Set(faults)];
  });
}

describe('read whole', () => {
  it.each<[string, number, number, number]>([
    ['at 200 %', 640, 400, 2],
    ['a wide page', 1280, 800, 1],
    ['a tablet upright', 820, 1180, 1],
    ['a phone', 390, 844, 2],
    ['at 400 %', 320, 640, 2],
  ])('%s (%i × %i), as it is and with wide spacing', async (_, width, height, deviceScaleFactor) => {
    const { page } = await app.page({ flat: true, viewport: { width, height }, deviceScaleFactor });
    const faults: string[] = [];
    const look = async (where: string): Promise<void> => {
      await atRest(page);
      faults.push(...(await faultsOn(page)).map((f) => `${where}: ${f}`));
    };
    for (const spaced of [false, true]) {
      if (spaced) await space(page);
      const how = spaced ? ', spaced' : '';
      for (const question of QUESTIONS) {
        await ask(page, question);
        await look(question + how);
        await page.locator('#rail-S6').click();
        await look(`${question} S6${how}`);
        await page.keyboard.press('Escape');
      }
      await page.getByRole('button', { name: /^narrow tail/ }).click();
      await look(`the panel's menu${how}`);
      await page.keyboard.press('Escape');
      // What lies over the page: a step at full size, a sheet, the questions of a new panel, a refused file.
      await ask(page, 'Helper');
      await page.getByRole('button', { name: 'Show full size' }).click();
      await page.getByRole('dialog', { name: /^Step / }).waitFor();
      await look(`a step at full size${how}`);
      await page.keyboard.press('Escape');
      await page
        .getByRole('button', { name: /^Station map/i })
        .first()
        .click();
      await page.locator('.sheet-view .sheet-page').first().waitFor();
      await look(`a sheet${how}`);
      await page.keyboard.press('Escape');
      await page.getByRole('button', { name: /^narrow tail/ }).click();
      await page.getByRole('button', { name: 'Start a new panel…' }).click();
      await page.getByRole('heading', { name: 'What are you building?' }).waitFor();
      await look(`what to start from${how}`);
      const starts = page.locator('.start-sheet button').filter({ has: page.locator('svg') });
      expect(await starts.count()).toBeGreaterThan(3);
      await starts.first().click();
      await page.getByRole('button', { name: 'Lay it on the bench' }).waitFor();
      await look(`the questions of a new panel${how}`);
      await page.keyboard.press('Escape'); // back to what to start from
      await page.getByRole('heading', { name: 'What are you building?' }).waitFor();
      await page.keyboard.press('Escape'); // and to the bench
      await page.locator('.start-sheet').waitFor({ state: 'detached' });
      await page
        .locator('input[type=file]')
        .first()
        .setInputFiles({ name: 'broken.json', mimeType: 'application/json', buffer: Buffer.from('{ "format"') });
      await page.getByRole('alertdialog').waitFor();
      await look(`a refused file${how}`);
      await page.keyboard.press('Escape');
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });
});
