import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { sharedApp } from './shared-app.ts';

/* How sure, what next, is it true: what the demo panels' own list says must come out, read off the screens. */

const app = sharedApp();

const asking = async (question: string, panel?: RegExp) => {
  const opened = await app.page({ flat: true });
  const { page } = opened;
  if (panel) {
    await page.locator('.panel-name').click();
    await page.getByText(panel).first().click();
    await page.waitForFunction(
      () => !/narrow tail/.test(document.querySelector('.panel-name')?.textContent ?? 'narrow tail'),
    );
  }
  await page.getByRole('button', { name: question, exact: true }).click();
  return opened;
};
const card = (page: Page): Promise<string> => page.locator('.card').innerText();

describe('panel A', () => {
  it('items 12 and 13: the twist with the bench in it, what the bench hides, and the level agreeing', async () => {
    const { page, errors } = await asking('True');
    const whole = await card(page);
    expect(whole).toContain('The panel twists 0.59° nose down from S1 to S8 combined');
    expect(whole).toContain('Over the bench as it stands it reads 0.39° nose down; the bench hides 0.20°.');
    expect(await page.getByRole('img', { name: /^Twist along the span\..*bends by heights/ }).count()).toBe(1);
    await page.locator('#rail-S8').click();
    const here = await card(page);
    for (const words of [
      'S8 stands 0.50° nose down by heights',
      'Over the bench as it stands it reads 0.33° nose down',
      'S8 stands 0.50° nose down by level',
      'S8 stands 0.50° nose down combined',
    ])
      expect(here).toContain(words);
    expect(here).not.toContain('disagree');
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('once the skin is on: times stiffer, torque and shear flow, and the forced skin, always an estimate', async () => {
    const { page } = await asking('True');
    const skin = page.getByRole('region', { name: 'Once the skin is on' });
    const text = await skin.innerText();
    expect(text).toMatch(/60\s000 times stiffer in twist after the skin, an estimate/);
    expect(text).toMatch(/torque\s+0\.0036 N·m\s+220 N·m/);
    expect(text).toMatch(/shear flow, nose cell\s+4\.0 N\/mm/);
    expect(text).toMatch(/An estimate: the nose skin/);
    expect(
      await page
        .getByRole('img', { name: /estimate of the nose skin pulled onto the noses.*most strained at N4/ })
        .count(),
    ).toBe(1);
    // A kink that only repeats a neighbour's is drawn as one.
    expect(await page.locator('.echo-point').count()).toBeGreaterThan(0);
    await page.context().close();
  });

  it('item 14: the next measurement, and the card it opens', async () => {
    const { page } = await asking('Measure');
    await page
      .getByRole('heading', { level: 1, name: /^Stand M5 between the webs and feel the end gap: it settles/ })
      .waitFor();
    expect(await page.getByRole('list', { name: 'What to measure after that' }).getByRole('listitem').count()).toBe(4);
    await page.getByRole('button', { name: 'Read it: felt end gap of M5 between the webs' }).click();
    await page.getByRole('heading', { name: 'felt end gap of M5 between the webs' }).waitFor();
    await page.context().close();
  });
});

describe('panel B', () => {
  it('shows its levels as a hump at two stations, not a slope, in words and in the picture', async () => {
    const { page, errors } = await asking('True', /washed-out wing/);
    await page
      .getByText(/A hump at W6 and W7 by level, 0\.28° nose down, not a slope/)
      .first()
      .waitFor();
    expect(await page.getByRole('img', { name: /^Twist along the span\. A hump at W6 and W7/ }).count()).toBe(1);
    // As it stands: the washout line falls 2.2° from the first station to the last.
    await page.getByRole('button', { name: 'as it stands' }).click();
    const ends = await page
      .getByRole('img', { name: /^Twist along/ })
      .locator('path.line')
      .first()
      .evaluate((p) => [...p.getAttribute('d')!.matchAll(/[ML](\S+) (\S+?)(?=[ML]|$)/g)].map((m) => Number(m[2])));
    expect(ends).toHaveLength(9);
    expect(ends.every((y, i) => i === 0 || y > ends[i - 1]!)).toBe(true);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('squared ribs: what moved, and the step taken', async () => {
    const { page } = await asking('True', /washed-out wing/);
    await page.getByRole('button', { name: 'I squared W4, W6: what moved?' }).click();
    const moved = page.getByRole('region', { name: 'After squaring' });
    expect(await moved.getByRole('listitem').count()).toBeGreaterThan(0);
    await moved.getByRole('button', { name: 'It is done: take it' }).click();
    await page.waitForFunction(() => !document.querySelector('.card')!.textContent!.includes('M4 stands skewed'));
    await page.context().close();
  });

  it('diagonals, skew and lean are on the screen', async () => {
    const { page } = await asking('True', /washed-out wing/);
    await page.locator('#rail-W4').click();
    const here = await card(page);
    expect(here).toContain('M4 stands skewed: its rear end is 3.10 mm outboard');
    expect(here).toContain('1.54 mm short');
    await page.locator('#rail-W6').click();
    expect(await card(page)).toContain('M6 leans: its top is 1.10 mm');
    await page.context().close();
  });
});

describe('how sure is this?', () => {
  it('draws all sizes together, says so with its error, and lists the closest calls', async () => {
    const { page, errors } = await asking('Measure', /plain, everything fits/);
    const sure = page.getByRole('region', { name: 'How sure is this?' });
    await sure.getByRole('button', { name: 'Try all sizes together' }).click();
    await sure.getByText(/that the whole skeleton goes together as it is[.,]/).waitFor({ timeout: 60_000 });
    expect(await sure.innerText()).toMatch(/over 9999 in 10 000 that the whole skeleton goes together as it is/);
    expect(await sure.innerText()).toMatch(/All sizes tried together 16\s384 times/);
    expect(errors).toEqual([]);
    await page.context().close();
  });

  it('can be stopped, keeps what it has, and leads to the finding', async () => {
    const { page, errors } = await asking('Measure');
    const sure = page.getByRole('region', { name: 'How sure is this?' });
    await sure.getByRole('button', { name: 'Try all sizes together' }).click();
    // Four times as many, and again, until it takes long enough to be stopped on the way.
    const more = sure.getByRole('button', { name: /^Try (four times as often|them again)$/ });
    const stopped = sure.getByText(/, then stopped: one sheet/);
    let progress = false;
    for (let i = 0; i < 6 && !(await stopped.isVisible()); i++) {
      await more.click();
      progress =
        (await sure
          .getByText(/[1-9]\d? % tried/)
          .waitFor({ timeout: 10_000 })
          .then(
            () => true,
            () => false,
          )) || progress;
      await sure
        .getByRole('button', { name: 'Stop' })
        .click({ timeout: 2000 })
        .catch(() => undefined);
      await stopped.waitFor({ timeout: 3000 }).catch(() => undefined);
    }
    await stopped.waitFor();
    expect(progress).toBe(true);
    // M6's seat first among what is not surely to be acted on: 0.95 short with 0.27, and the seat is never negative.
    const row = sure.locator('.odds-list li').first();
    expect(await row.innerText()).toMatch(/M6, spar on the ribs/);
    await row.getByRole('button').click();
    await page.locator('.card h1', { hasText: 'Station S6' }).waitFor();
    expect(errors).toEqual([]);
    await page.context().close();
  });
});
