import AxeBuilder from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { ask, atRest } from './open-app.ts';
import { plainRead } from './plain-read.ts';
import { sharedApp } from './shared-app.ts';

/*
 * For everyone: a general reference library for accessibility finds nothing on any screen, in light and dark, wide and narrow;
 * the whole main job goes by keyboard alone; nothing is wider than the screen at 200 %; nothing is asked of the network.
 */

const app = sharedApp();

const QUESTIONS = ['Build', 'Measure', 'Fit', 'Remedy', 'Drill', 'True', 'Helper'] as const;

/** What the library finds, as one line a fault. */
async function faultsOn(page: Page): Promise<string[]> {
  const found = await new AxeBuilder({ page }).analyze();
  return found.violations.flatMap((v) =>
    v.nodes
      .slice(0, 3)
      .map((n) => `${v.id}: ${n.target.join(' ')}: ${n.failureSummary?.split('\n')[1]?.trim() ?? v.help}`),
  );
}

describe('axe finds nothing', () => {
  it.each(['light', 'dark'] as const)('on any question, whole and at a station, %s', async (colorScheme) => {
    const { page } = await app.page({ flat: true, colorScheme });
    const faults: string[] = [];
    for (const question of QUESTIONS) {
      await ask(page, question);
      faults.push(...(await faultsOn(page)).map((f) => `${question}: ${f}`));
      await page.locator('#rail-S6').click();
      await atRest(page);
      faults.push(...(await faultsOn(page)).map((f) => `${question} S6: ${f}`));
      await page.keyboard.press('Escape');
    }
    expect(faults).toEqual([]);
    await page.context().close();
  });

  it('on a phone, on the panel menu and on a refused file', async () => {
    const { page } = await app.page({ flat: true, viewport: { width: 390, height: 844 } });
    const faults = await faultsOn(page);
    await page.getByRole('button', { name: /^narrow tail/ }).click();
    await atRest(page);
    faults.push(...(await faultsOn(page)));
    await page.keyboard.press('Escape');
    await page
      .locator('input[type=file]')
      .first()
      .setInputFiles({ name: 'broken.json', mimeType: 'application/json', buffer: Buffer.from('{ "format"') });
    await page.getByRole('alertdialog').waitFor();
    faults.push(...(await faultsOn(page)));
    expect(faults).toEqual([]);
    await page.context().close();
  });
});

describe('narrow and large', () => {
  it.each<[number, string]>([
    [640, 'as at 200 %'],
    [390, 'a phone'],
    [820, 'a tablet upright'],
  ])('%i px wide (%s): no question is wider than the screen', async (width, _) => {
    const { page } = await app.page({ flat: true, viewport: { width, height: 800 } });
    for (const question of QUESTIONS) {
      await ask(page, question);
      expect(await page.evaluate(() => document.documentElement.scrollWidth), question).toBeLessThanOrEqual(width);
    }
    await page.context().close();
  });
});

/** Every tone of the page made one ink: what is told by colour only looks the same now. */
const oneInk = (page: Page): Promise<void> =>
  page.evaluate(() => {
    const sheet = new CSSStyleSheet();
    const tones = ['fits', 'watch', 'act', 'unsettled', 'watch-text', 'unsettled-text']
      .map((t) => `--${t}: var(--ink) !important`)
      .join('; ');
    sheet.replaceSync(`:root { ${tones} } .hole-symbol * { stroke-width: 1.5 !important }`);
    document.adoptedStyleSheets = [sheet];
  });

/** The share of points that differ between each two of the drawings, in a picture of each on the same ground. */
async function apart(page: Page, drawings: Readonly<Record<string, string>>): Promise<Record<string, number>> {
  const pictures: Record<string, string> = {};
  for (const [name, selector] of Object.entries(drawings))
    pictures[name] = (await page.locator(selector).first().screenshot({ scale: 'css' })).toString('base64');
  return page.evaluate(async (all) => {
    const points = await Promise.all(
      Object.entries(all).map(async ([name, data]) => {
        const image = new Image();
        image.src = `data:image/png;base64,${data}`;
        await image.decode();
        const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
        context.drawImage(image, 0, 0);
        const { data: rgba } = context.getImageData(0, 0, image.width, image.height);
        const side = Math.min(image.width, image.height);
        return { name, side, at: (x: number, y: number) => rgba[4 * (y * image.width + x)]! };
      }),
    );
    const found: Record<string, number> = {};
    for (const [i, a] of points.entries())
      for (const b of points.slice(i + 1)) {
        const side = Math.min(a.side, b.side);
        let differing = 0;
        for (let y = 0; y < side; y++)
          for (let x = 0; x < side; x++) if (Math.abs(a.at(x, y) - b.at(x, y)) > 60) differing++;
        found[`${a.name}, ${b.name}`] = differing / side ** 2;
      }
    return found;
  }, pictures);
}

/** The looks of holes that are on the page, each told apart from every other by its shape. */
async function looksApart(page: Page): Promise<string[]> {
  await oneInk(page);
  const said = await page.locator('.hole-counts span').allInnerTexts();
  const looks = said.map((l) => l.replace(/^\s*\d+ /, '').trim());
  const drawings = looks.map((l, i) => [l, `.hole-counts span:nth-child(${i + 1}) svg`]);
  const holes = await apart(page, Object.fromEntries(drawings));
  for (const [pair, share] of Object.entries(holes)) expect(share, pair).toBeGreaterThan(0.05);
  return looks;
}

describe('in one ink', () => {
  it.each(['light', 'dark'] as const)(
    'verdicts and the answers for holes are told apart by their shapes, %s',
    async (colorScheme) => {
      const { page } = await app.page({ flat: true, colorScheme });
      await oneInk(page);
      const verdicts = Object.fromEntries(
        ['fits', 'watch', 'act', 'unsettled'].map((v) => [v, `.counts svg.mark.${v}`]),
      );
      const marks = await apart(page, verdicts);
      expect(Object.keys(marks)).toHaveLength(6);
      // A twentieth of the mark: two strokes of a pen. Common practice, no source.
      for (const [pair, share] of Object.entries(marks)) expect(share, pair).toBeGreaterThan(0.05);
      await ask(page, 'Drill');
      await page.getByRole('button', { name: 'Stage after' }).click();
      await page.getByRole('button', { name: 'Stage after' }).click();
      const ahead = await looksApart(page);
      // The plain panel with one row's edges looked at, and the other's not.
      await page.locator('input[type=file]').first().setInputFiles(plainRead());
      await page.getByRole('button', { name: 'Stage after' }).click();
      await page.getByRole('button', { name: 'This is where I am' }).click();
      await page.locator('#rail-S2').click();
      await page.getByRole('checkbox', { name: 'edges of F2 gauged in every layer' }).check();
      await page.getByRole('button', { name: 'Back to the whole panel' }).click();
      await page.getByText('3 drill now').waitFor();
      const now = await looksApart(page);
      expect([...new Set([...ahead, ...now])].sort()).toEqual([
        'done by then',
        'drill now',
        'in doubt',
        'not asked',
        'not yet',
      ]);
      await page.context().close();
    },
  );

  it('every finding named on the page has its mark or its word beside it', async () => {
    const { page } = await app.page({ flat: true });
    for (const question of ['Fit', 'Remedy', 'Drill', 'True'] as const) {
      await ask(page, question);
      const bare = await page
        .locator('main, .card')
        .evaluateAll((parts) =>
          parts.flatMap((part) =>
            [...part.querySelectorAll<HTMLElement>('.fits, .watch, .act, .unsettled')]
              .filter(
                (e) =>
                  !(e instanceof SVGElement) &&
                  e.checkVisibility() &&
                  !/\b(fits|watch|act|unsettled)\b/i.test(`${e.textContent} ${e.getAttribute('aria-label') ?? ''}`) &&
                  e.querySelector('svg') === null &&
                  e.closest('li, tr, p, section, figure')?.querySelector('svg') === null,
              )
              .map((e) => `${e.className}: ${e.textContent?.slice(0, 60)}`),
          ),
        );
      expect(bare, question).toEqual([]);
    }
    await page.context().close();
  });
});

describe('the focus', () => {
  it('stays on the screen when something comes in above it, and where it is when it was scrolled away from', async () => {
    const { page } = await app.page({ flat: true, viewport: { width: 390, height: 844 } });
    const last = page.locator('.card button.row').last();
    await last.focus();
    await page.keyboard.press('Shift'); // at the keyboard
    const comesIn = (): Promise<void> =>
      page.evaluate(() => {
        const tall = document.createElement('div');
        tall.style.cssText = 'height: 1200px; overflow-anchor: none';
        const style = new CSSStyleSheet();
        style.replaceSync('* { overflow-anchor: none }'); // a browser that does not hold the place by itself
        document.adoptedStyleSheets = [style];
        document.querySelector('.card')!.prepend(tall);
      });
    const onScreen = (): Promise<boolean> =>
      last.evaluate((e) => {
        const r = e.getBoundingClientRect();
        return document.activeElement === e && r.bottom > 0 && r.top < innerHeight;
      });
    expect(await onScreen()).toBe(true);
    await comesIn();
    await expect.poll(onScreen).toBe(true);
    await page.mouse.wheel(0, -5000);
    await expect.poll(onScreen).toBe(false);
    await atRest(page);
    await comesIn();
    await atRest(page);
    expect(await onScreen()).toBe(false);
    await page.context().close();
  });
});

describe('by keyboard alone', () => {
  it('finds what binds, reads a new size in, takes it back, and gets to the other questions', async () => {
    const { page } = await app.page({ flat: true });
    const tabTo = async (name: RegExp): Promise<void> => {
      for (let i = 0; i < 120; i++) {
        await page.keyboard.press('Tab');
        const here = await page.evaluate(() => {
          const e = document.activeElement;
          return `${e?.getAttribute('aria-label') ?? ''} ${e?.textContent ?? ''}`.trim();
        });
        if (name.test(here)) return;
      }
      throw new Error(`${name} is never reached by Tab`);
    };
    await tabTo(/^The span|stations/i).catch(() => undefined);
    await page.locator('#rail-S2').waitFor();
    await page.evaluate(() => (document.querySelector('[role=listbox]') as HTMLElement | null)?.focus());
    for (let i = 0; i < 8 && !(await page.getByRole('heading', { name: /^Station S2/ }).isVisible()); i++)
      await page.keyboard.press('ArrowRight');
    await page.getByRole('heading', { name: /^Station S2/ }).waitFor();
    await tabTo(/^Change the height of M2, front end/);
    await page.keyboard.press('Enter');
    await page.keyboard.type('83.02');
    await page.keyboard.press('Enter');
    await page.getByText('M2 front end is loose between the caps by 0.01 mm').first().waitFor();
    await page.keyboard.press('Control+z');
    await page
      .getByText(/M2 front end binds/)
      .first()
      .waitFor();
    await tabTo(/^Drill$/);
    await page.keyboard.press('Enter');
    await page.locator('.questions button[aria-current]').filter({ hasText: 'Drill' }).waitFor();
    await page.keyboard.press('Escape');
    await page.getByText('May I drill?').first().waitFor();
    await page.context().close();
  });
});

describe('the strict policy', () => {
  it('is in the page, allows no script in it and none made from text, and nothing breaks it', async () => {
    const { page, errors } = await app.page({ flat: true });
    const policy = await page.locator('meta[http-equiv="Content-Security-Policy"]').getAttribute('content');
    expect(policy).toMatch(/default-src 'none'; script-src 'self' 'wasm-unsafe-eval';/);
    expect(await page.locator('script:not([src])').count()).toBe(0);
    const asked: string[] = [];
    page.on('request', (r) => asked.push(r.url()));
    for (const question of QUESTIONS) await ask(page, question);
    const broke = await page.evaluate(() => {
      const s = document.createElement('script');
      s.textContent = 'window.broke = true';
      document.body.append(s);
      return (window as unknown as { broke?: boolean }).broke === true;
    });
    expect(broke).toBe(false);
    const own = new URL(app.url).origin;
    expect(asked.filter((u) => !u.startsWith(own) && !/^(blob|data):/.test(u))).toEqual([]);
    expect(errors.filter((e) => !e.includes('Executing inline script violates'))).toEqual([]);
    await page.context().close();
  });
});
