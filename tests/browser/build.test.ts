import { AxeBuilder } from '@axe-core/playwright';
import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { COUNTS } from '../counts.ts';
import { Hands } from './hands.ts';
import { atRest, metalCut } from './open-app.ts';
import { enterPanelBCellByCell } from './panel-b.ts';
import { bare, FILE, said, saved } from './saved-panel.ts';
import { sharedApp } from './shared-app.ts';

/*
 * What am I building? From a drawing to an own panel, through the screens alone. What must come out is the file of panel B,
 * whose sizes come from its page (worked by a script of its own) and which was written by hand, not by these screens.
 */

const app = sharedApp();

describe('panel B from its drawing, through the screens alone', () => {
  it.runIf(COUNTS.longWay)(
    'takes more than twice as much cell by cell',
    async () => {
      const { page } = await app.page({ flat: true, viewport: { width: 1440, height: 1600 } });
      const h = new Hands(page);
      await enterPanelBCellByCell(h, FILE, () => saved(page));
      console.log(`cell by cell: ${h.clicks} clicks and ${h.keys} keystrokes, ${h.count} in all`);
      expect(said(await saved(page))).toEqual(said(bare(FILE)));
      await page.context().close();
    },
    1_800_000,
  );
});

describe('a first visit', () => {
  it('lays a panel from the usual answers and comes to its first own finding', async () => {
    const { page, errors } = await app.page({ flat: true });
    const h = new Hands(page);
    await h.click(h.button('Build'));
    await h.click(h.button('Start a new panel'));
    await h.click(page.getByText('Control surface on one spar'));
    await h.click(h.button('Lay it on the bench'));
    await page.getByText('On paper everything fits.').first().waitFor();
    await h.click(h.button(/^Measure the first size/));
    await h.fill(/^Reading of/, '.53');
    await h.click(h.button('Take, next'));
    await page.getByRole('button', { name: 'Fit', exact: true }).click();
    await page.locator('.card h1').waitFor();
    const own = await saved(page);
    expect(own.readings).toHaveLength(1);
    expect(checkAll(own).some((f) => f.restsOn.some((t) => t.size.origin === 'measured'))).toBe(true);
    expect(h.count, 'clicks and keystrokes to it').toBeLessThan(12);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('says at the question what is wrong with an answer, keeps it, and will not lay the panel until it is right', async () => {
    const { page } = await app.page({ flat: true });
    const h = new Hands(page);
    await h.click(page.locator('.panel-name'));
    await h.click(h.button('Start a new panel…'));
    await h.click(page.getByText('Tapered tail'));
    await h.fill('What sheet are the main ribs?', '16 ga');
    await page.getByRole('alert').filter({ hasText: 'gauge' }).waitFor();
    expect(await h.button('Lay it on the bench').isDisabled()).toBe(true);
    await page.getByLabel('What sheet are the main ribs?').fill('.025');
    await h.fill('Where does each rib stand, from one datum?', '20 240 240 240 240');
    await h.click(h.button(/^These look like distances from rib to rib/));
    expect(await page.getByLabel('Where does each rib stand, from one datum?').inputValue()).toBe(
      '20  260  500  740  980',
    );
    await h.click(page.getByLabel('And how deep at the tip?').first());
    await page.getByText('The spar’s own drawing, or its section.').waitFor();
    expect(await h.button('Lay it on the bench').isEnabled()).toBe(true);
    await page.context().close();
  });
});

describe('the questions of a start', () => {
  const asking = async (start: string) => {
    const { page, errors } = await app.page({ flat: true });
    await page.getByRole('button', { name: 'Build', exact: true }).click();
    await page.getByRole('button', { name: 'Start a new panel' }).click();
    await page.getByText(start).click();
    return { page, errors };
  };

  it('keep a field of a folded group under the fingers while its answer is half typed', async () => {
    const { page, errors } = await asking('Tapered tail');
    const h = new Hands(page);
    const ribs = page.getByRole('group', { name: 'Ribs and skin' });
    await h.unfold(ribs, 'What sheet is the skin?');
    const tab = ribs.getByLabel('How wide are the ribs’ flanges?');
    await tab.click();
    // 5 is too narrow, 5/ is no length, 5/8 is 15.875 mm: the group must not close at any of them.
    for (const key of '5/8') await page.keyboard.press(key);
    expect(await tab.inputValue()).toBe('5/8');
    expect(await tab.evaluate((e) => e === document.activeElement)).toBe(true);
    await page.getByText('You have 15.875 mm = 0.625 in.').waitFor();
    // What is wrong in a folded group brings it out, and the focus stays where it is typed.
    await ribs.getByText('More:').click();
    const sheet = ribs.getByLabel('What sheet are the main ribs?');
    await sheet.click();
    await page.getByRole('group', { name: 'Rivets through the webs' }).getByText('More:').click();
    await sheet.fill('0.7');
    expect(await sheet.evaluate((e) => e === document.activeElement)).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('ask the unit first, and every length follows it', async () => {
    const { page } = await asking('Tapered tail');
    const boxes = page.locator('.start-questions input:not([type=radio])');
    const lengths = async (): Promise<string[]> =>
      (await boxes.evaluateAll((all) => all.map((b) => (b as HTMLInputElement).value))).filter((v) =>
        / (mm|in)$/.test(v),
      );
    expect(await page.locator('.start-questions .ask').first().innerText()).toContain(
      'Which unit does the drawing use?',
    );
    expect(new Set((await lengths()).map((v) => v.split(' ')[1]))).toEqual(new Set(['mm']));
    const many = (await lengths()).length;
    await page.getByRole('radio', { name: 'inches' }).click();
    expect(
      (await lengths()).every((v) => /^\d+(\.\d{1,3})? in$/.test(v)),
      (await lengths()).join(),
    ).toBe(true);
    expect((await lengths()).length).toBe(many);
    await page.getByText('On paper everything fits.').waitFor();
    // Written like the most that fits, it is that: 0.008 in.
    await page.getByLabel('How much lower is a rib end than the room between the caps?').fill('.008');
    await page.getByText('On paper everything fits.').waitFor();
    // Half the room and more lower is a slip; 1.4 mm lower is a rib, and Fit says what comes of it.
    await page.getByLabel('How much lower is a rib end than the room between the caps?').fill('1.4 mm');
    await page.getByText(/^On paper: T1 rear end is loose between the caps by 0.055 in/).waitFor();
    await page.getByRole('button', { name: 'Lay it on the bench' }).click();
    await page.getByRole('grid', { name: 'the stations' }).waitFor();
    await page.getByText(/^On paper \d+ things do not fit\./).waitFor();
    await page.context().close();
  });
});

describe('what lies over the page, and beside it', () => {
  const focused = (page: Page) =>
    page.evaluate(() => document.activeElement?.textContent?.replace(/\s+/g, ' ').trim() ?? '');

  it('the questions of a new panel hold the focus, and give it back', async () => {
    const { page, errors } = await app.page({ flat: true });
    await page.getByRole('button', { name: 'Build', exact: true }).click();
    await page.getByRole('button', { name: 'Start a new panel' }).click();
    const dialog = page.getByRole('dialog', { name: 'Start a new panel' });
    await dialog.waitFor();
    expect(await dialog.evaluate((d) => d.matches('dialog:modal'))).toBe(true);
    expect(await focused(page)).toBe('What are you building?');
    const reached = await page.evaluate(() => {
      document.querySelector<HTMLElement>('.panel-name')?.focus();
      return document.activeElement?.className;
    });
    expect(reached, 'the page behind is out of reach').not.toBe('panel-name');
    await page.getByText('Tapered tail').click();
    await expect.poll(() => focused(page)).toBe('Tapered tail');
    await page.keyboard.press('Escape');
    await expect.poll(() => focused(page)).toBe('What are you building?');
    await page.keyboard.press('Escape');
    await dialog.waitFor({ state: 'detached' });
    await expect.poll(() => focused(page)).toBe('Start a new panel');
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('a sheet of the panel takes the focus, lets the bench be worked, and gives the focus back', async () => {
    const { page, errors } = await app.page({ flat: true });
    await page.getByRole('button', { name: 'Build', exact: true }).click();
    await page.locator('.build-sheets button').nth(6).click();
    const dialog = page.getByRole('dialog', { name: 'limits' });
    await dialog.waitFor();
    expect(await dialog.evaluate((d) => d.matches('dialog[open]:not(:modal)'))).toBe(true);
    expect(await focused(page)).toBe('limits');
    await page.getByRole('button', { name: 'on hand', exact: true }).click();
    await page.getByLabel('Add to the drills').fill('#40');
    await page.locator('#rail-S2').click();
    await page.getByRole('heading', { name: /^Station S2/ }).waitFor();
    await page.getByLabel('Add to the drills').press('Escape');
    await dialog.waitFor({ state: 'detached' });
    expect(await page.evaluate(() => document.activeElement !== document.body)).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe('the drawings of a start', () => {
  it('show the root for a question about the root and the tip for one about the tip, of either hand', async () => {
    const { page } = await app.page({ flat: true });
    const h = new Hands(page);
    await h.click(h.button('Build'));
    await h.click(h.button('Start a new panel'));
    await h.click(page.getByText('Tapered tail'));
    // The usual answers: front depth 96 and 70, webs 330 and 230, nose 120 and 85. S1 is the root of either hand.
    for (const hand of ['right', 'left']) {
      await page.getByRole('radio', { name: hand, exact: true }).click();
      for (const [asks, station, mm] of [
        [/How deep is it over the caps, at the root/, 'S1', '96.00 mm'],
        [/And how deep at the tip/, 'S6', '70.00 mm'],
        [/front web to the rear web, at the root/, 'S1', '330.00 mm'],
        [/from web to web at the tip/, 'S6', '230.00 mm'],
        [/ahead of the front web, at the root/, 'S1', '120.00 mm'],
        [/stand ahead at the tip/, 'S6', '85.00 mm'],
      ] as const) {
        await page.getByLabel(asks).first().click();
        const section = page.getByRole('img', { name: `Section at ${station}`, exact: true });
        await section.waitFor();
        expect(await section.locator('.pointed text').textContent(), `${hand}: ${asks}`).toBe(mm);
        const above = page.getByRole('img', { name: /^The panel from above/ });
        if (asks.source.includes('deep')) continue;
        expect(await above.locator('.pointed text').textContent(), `${hand}: ${asks}`).toBe(mm);
        // The root of a left half lies to the right as seen from above.
        const [mark, arrow] = [
          await above.getByText(station, { exact: true }).boundingBox(),
          await above.locator('.pointed path').boundingBox(),
        ];
        expect(Math.abs(mark!.x + mark!.width / 2 - arrow!.x), `${hand}: ${asks}`).toBeLessThan(60);
      }
    }
    await page.context().close();
  });
});

describe('the tables', () => {
  const open = async () => {
    const opened = await app.page({ flat: true, viewport: { width: 1440, height: 900 } });
    const h = new Hands(opened.page);
    await opened.page.locator('.panel-name').click();
    await opened.page.getByRole('button', { name: 'washed-out wing, nine ribs' }).click();
    await h.button('Build').click();
    await opened.page.locator('.build-sheets button').first().click();
    return { ...opened, h };
  };
  const cell = (page: Page, name: string) => page.getByRole('button', { name: new RegExp(`^${name}, `) });

  it('tries a value while it is typed, gives it up with Esc, takes it with Enter as one step, and undoes it', async () => {
    const { page, h, errors } = await open();
    await cell(page, 'web to web of W3').click();
    await h.type('591');
    await page.getByRole('button', { name: /^Undo: changed the web to web of W3/ }).waitFor();
    await page.getByText('591.000 mm = 23.268 in').first().waitFor();
    await h.key('Escape');
    await page.getByRole('button', { name: /^Undo: opened/ }).waitFor();
    await page.getByRole('button', { name: 'Nothing to redo' }).waitFor();
    await h.type('591.5');
    await h.key('Enter');
    expect((await saved(page)).webToWeb).toContainEqual([680, 591.5]);
    await page.getByRole('button', { name: /^Undo: changed the web to web of W3/ }).click();
    expect(await saved(page)).toEqual(FILE);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('says at the cell why a value is not taken, and keeps it there', async () => {
    const { page, h } = await open();
    await cell(page, 'place of W3').click();
    for (const [typed, words] of [
      ['2000', 'crossed'],
      ['12 ga', 'gauge'],
      ['x', 'not a length'],
    ] as const) {
      await page.getByLabel('place of W3', { exact: true }).fill(typed);
      await h.key('Enter');
      await page.locator('.cell-note.refused').filter({ hasText: words }).waitFor();
      expect(await page.getByLabel('place of W3', { exact: true }).inputValue()).toBe(typed);
    }
    await h.key('Escape');
    expect(await saved(page)).toEqual(FILE);
    await page.context().close();
  });

  it('marks on paper what the drawing itself does not fit, at the cell', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'ribs and pieces' }).click();
    expect(await cell(page, 'front end height of M5').getAttribute('aria-label')).toMatch(
      /on paper: M5 front end binds between the caps by 3\.00 mm/,
    );
    expect(await cell(page, 'front end height of M4').getAttribute('aria-label')).not.toMatch(/on paper/);
    await page.context().close();
  });

  it('copies down, tapers and pastes a block, each one step', async () => {
    const { page, h } = await open();
    await cell(page, 'front cap width of W2').click();
    await h.type('21');
    await h.key('Enter');
    await cell(page, 'front cap width of W2').click();
    for (let i = 0; i < 3; i++) await h.key('Shift+ArrowDown');
    await page.getByRole('button', { name: 'Copy down' }).click();
    await cell(page, 'nose protrusion of W1').click();
    await h.paste('229\t0\n222\t-0.3\n');
    const own = await saved(page);
    expect(own.spars.front.capWidth).toEqual([
      [30, 22],
      [355, 21],
      [680, 21],
      [1010, 21],
      [1340, 21],
      [1670, 22],
      [1995, 22],
      [2320, 22],
      [2650, 22],
    ]);
    expect(own.stations.slice(0, 3).map((s) => [s.nose, s.washout])).toEqual([
      [229, 0],
      [222, -0.3],
      [213.86, -0.55],
    ]);
    for (const name of [
      /^Undo: pasted 4 cells/,
      /^Undo: copied the front cap width down 4 rows/,
      /^Undo: changed the front cap width of W2/,
    ])
      await page.getByRole('button', { name }).click();
    expect(await saved(page)).toEqual(FILE);
    await page.context().close();
  });

  it('changes a limit only with a reason, and shows where each comes from', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'limits', exact: true }).click();
    const row = page.getByRole('table', { name: 'Limits' }).getByRole('row').filter({ hasText: 'nose kink' });
    expect(await row.innerText()).toContain('common practice for 1 to 2 mm');
    await row.getByRole('button', { name: 'Change' }).click();
    await page.getByLabel('act beyond').fill('0.8');
    await page.getByRole('button', { name: 'Take', exact: true }).click();
    await page.getByRole('alert').filter({ hasText: 'Write why' }).waitFor();
    await page.getByLabel('because').fill('sheet 4, note 7');
    await page.getByRole('button', { name: 'Take', exact: true }).click();
    await page.getByText('drawing: sheet 4, note 7').waitFor();
    expect((await saved(page)).limits).toEqual([
      { check: 'nose-kink', fits: [-0.5, 0.5], act: [-1, 0.8], origin: 'drawing', reason: 'sheet 4, note 7' },
    ]);
    await page.context().close();
  });

  it('lays the panel beside another file and its earlier self, and lists what differs', async () => {
    const { page, h } = await open();
    await cell(page, 'nose protrusion of W4').click();
    await h.type('207');
    await h.key('Enter');
    await page.getByRole('button', { name: 'compare', exact: true }).click();
    await page.getByLabel('A file to compare with').setInputFiles('models/washed-out-wing.json');
    await page.getByText('things differ from washed-out-wing.json').waitFor();
    const told = page.getByRole('table', { name: 'Drawing sizes' });
    expect(await told.innerText()).toMatch(/nose protrusion of W4\s+207\.00\s+206\.68\s+\+0\.32/);
    await page.getByLabel('Its earlier self').selectOption({ index: 1 });
    await page.getByText(/differ from before “changed the nose protrusion of W4”/).waitFor();
    await told.getByRole('button', { name: 'nose protrusion of W4' }).click();
    await page.getByRole('heading', { name: /Station W4/ }).waitFor();
    await page.context().close();
  });

  it('bends the noses to pasted coordinates, refuses torn ones, and keeps stock', async () => {
    const { page } = await open();
    await page.getByRole('button', { name: 'shapes', exact: true }).click();
    const box = page.locator('#shape-text');
    await box.fill('1 0\n0.5 abc');
    await page.getByRole('alert').filter({ hasText: 'two numbers' }).waitFor();
    await box.fill(
      'a section\n1 0.00126\n0.6 0.0456\n0.3 0.06\n0.1 0.0468\n0.025 0.0261\n0 0\n0.025 -0.0261\n0.1 -0.0468\n0.3 -0.06\n0.6 -0.0456\n1 -0.00126',
    );
    await page.getByRole('button', { name: 'Bend the ribs to it' }).click();
    await page.getByRole('button', { name: 'on hand', exact: true }).click();
    await page.getByLabel('Add to the drills').fill('#40');
    await page.getByLabel('Add to the packs for the jig blocks').fill('5 mm');
    await page.getByLabel('Add to the packs for the jig blocks').press('Enter');
    const own = await saved(page);
    expect(
      own.ribs
        .filter((r) => r.kind !== 'main')
        .every((r) => r.profile.kind === 'points' && r.profile.points.length === 11),
    ).toBe(true);
    expect(own.ribs.filter((r) => r.kind !== 'nose').every((r) => r.contour?.kind === 'points')).toBe(true);
    expect(own.stock.packs).toContain(5);
    await page.context().close();
  });

  it('keeps what was answered when one goes back to look at another start', async () => {
    const { page } = await app.page({ flat: true });
    await page.getByRole('button', { name: 'Build', exact: true }).click();
    await page.getByRole('button', { name: 'Start a new panel' }).click();
    await page.getByText('Fin or rudder skeleton').click();
    const first = page.getByRole('textbox').first();
    await first.fill('my own fin');
    await page.keyboard.press('Escape');
    await page.getByRole('heading', { name: 'What are you building?' }).waitFor();
    await page.locator('.start-list button').first().click();
    expect(await page.getByRole('textbox').first().inputValue()).not.toBe('my own fin');
    await page.getByRole('button', { name: 'Choose another start' }).click();
    await page.getByText('Fin or rudder skeleton').click();
    expect(await first.inputValue()).toBe('my own fin');
    await page.keyboard.press('Escape');
    await page.locator('.start-list button').first().waitFor();
    await page.keyboard.press('Escape');
    await page.locator('.start-sheet').waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('says what its columns are in, and Esc puts the sheet away unless a cell is being typed in', async () => {
    const { page, h } = await open();
    await page.getByRole('columnheader', { name: 'web to web mm', exact: true }).waitFor();
    await page.getByRole('columnheader', { name: 'twist °', exact: true }).waitFor();
    await page.getByRole('button', { name: 'in', exact: true }).click();
    await page.getByRole('columnheader', { name: 'web to web in', exact: true }).waitFor();
    await page.getByRole('button', { name: 'mm', exact: true }).click();
    await cell(page, 'web to web of W3').click();
    await h.type('591');
    await h.key('Escape'); // gives up what is typed
    await h.key('Escape'); // puts the cell down
    await page.getByRole('grid', { name: 'the stations' }).waitFor();
    await h.key('Escape');
    await page.locator('.build-sheet').waitFor({ state: 'detached' });
    await page.context().close();
  });

  it('fits a tablet and a phone without sideways scrolling, with nothing that axe can find', async () => {
    for (const [width, height] of [
      [820, 1180],
      [390, 844],
    ] as const) {
      const { page, errors } = await app.page({ flat: true, viewport: { width, height }, colorScheme: 'dark' });
      await page.getByRole('button', { name: 'Build', exact: true }).click();
      const clean = async (what: string) => {
        const { violations } = await new AxeBuilder({ page }).withTags(['wcag2a', 'wcag2aa']).analyze();
        expect(violations.map((v) => `${what}: ${v.id}: ${v.nodes[0]?.html}`)).toEqual([]);
      };
      const wide = () => page.evaluate(() => document.documentElement.scrollWidth - window.innerWidth);
      expect(await wide(), `Build at ${width}`).toBeLessThanOrEqual(0);
      if (width < 500) {
        // Where the rail has no room for all marks of a station: the worst first, and how many more there are.
        const rank = ['fits', 'watch', 'unsettled', 'act'];
        for (const column of await page.locator('.rail .column').all()) {
          const marks = await column
            .locator('g')
            .evaluateAll((all) =>
              all.map((g) => g.getAttribute('class') ?? '').filter((c) => /fits|watch|act|unsettled/.test(c)),
            );
          const said = (await column.getAttribute('aria-label'))!.split(': ')[1]!.split('; ').length;
          const more = await column.locator('.rail-more').allTextContents();
          expect(marks.length + Number(more[0]?.slice(1) ?? 0)).toBe(said);
          expect(
            marks.map((m) => rank.indexOf(m)),
            marks.join(),
          ).toEqual(marks.map((m) => rank.indexOf(m)).sort((a, b) => b - a));
        }
      }
      await page.getByRole('button', { name: 'Start a new panel' }).click();
      expect(await wide(), `the starts at ${width}`).toBeLessThanOrEqual(0);
      await page.getByText('Fin or rudder skeleton').click();
      expect(await wide(), `the questions at ${width}`).toBeLessThanOrEqual(0);
      await clean('the questions');
      await page.getByRole('button', { name: 'Lay it on the bench' }).click();
      await page.getByRole('grid', { name: 'the stations' }).waitFor();
      expect(await wide(), `the table at ${width}`).toBeLessThanOrEqual(0);
      await clean('the table');
      if (width < 500) {
        // On a phone the table takes the screen between the head and the questions: six ribs and more can be read.
        const rows = await page.locator('.grid tbody tr').evaluateAll(
          (all) =>
            all.filter((r) => {
              const b = r.getBoundingClientRect();
              return b.top > 48 && b.bottom < innerHeight - 56;
            }).length,
        );
        expect(rows).toBeGreaterThan(4);
      }
      expect(errors).toEqual([]);
      await page.context().close();
    }
  });
});

describe('a rib slid along its spars by hand', () => {
  it('reads out what changes while it is held, stays with Esc, moves as one step when let go, and undoes', async () => {
    const { page, errors } = await app.page({ viewport: { width: 900, height: 620 } });
    await page.locator('.panel-name').click();
    await page.getByRole('button', { name: 'washed-out wing, nine ribs' }).click();
    await page.getByRole('button', { name: 'Build', exact: true }).click();
    await page.keyboard.press('2');
    await metalCut(page);
    await page.locator('#rail-W5').click();
    const grip = page.locator('[data-rib-grip=W5]');
    await grip.waitFor();
    await atRest(page);
    const box = (await grip.boundingBox())!;
    const [x, y] = [box.x + box.width / 2, box.y + box.height / 2];
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 20, y, { steps: 4 });
    await page.getByText(/^W5 at 1\d\d\d\.\d\d mm, moved \+/).waitFor();
    await page.keyboard.press('Escape');
    await page.mouse.up();
    expect((await saved(page)).stations).toEqual(FILE.stations);
    await page.mouse.move(x, y);
    await page.mouse.down();
    await page.mouse.move(x + 20, y, { steps: 4 });
    await page.mouse.up();
    await page.getByRole('button', { name: /^Undo: moved station W5/ }).waitFor();
    const moved = await saved(page);
    const to = moved.stations.find((s) => s.id === 'W5')!.y;
    expect(to).toBeGreaterThan(1345);
    expect(to).toBeLessThan(1640);
    // The spar stays as it is drawn: only the rib went.
    expect(moved.spars.front.depth).toEqual(FILE.spars.front.depth);
    await page.getByRole('button', { name: /^Undo: moved station W5/ }).click();
    expect(await saved(page)).toEqual(FILE);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
