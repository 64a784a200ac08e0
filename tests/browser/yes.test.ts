import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { writeModel } from '../../src/model/file/write.ts';
import type { Model, Reading } from '../../src/model/schema.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { readingsTable } from '../../src/model/tables/readingTable.ts';
import { fullSurvey, lookedAt, Reader } from '../shop/reader.ts';
import { ask, atRest } from './open-app.ts';
import { card, open, remedy } from './remedy-card.ts';
import { saved } from './saved-panel.ts';
import { sharedApp } from './shared-app.ts';

/*
 * Within reach of who gathers it: a yes. Decided, made, measured, yes, walked on the screen for packs, for a part made again
 * and for a bend, each state told from the others in one ink; and a panel of each start taken from unread to "may I skin".
 * What is read comes from the shop's reader, who knows the panel's truth; it is entered as a builder enters it.
 */

const app = sharedApp();
/** Few stations: the way is the same, and shorter. */
const FEW = 4;

/** Chooses a station, whether or not it is chosen already. */
async function choose(page: Page, station: string): Promise<void> {
  const column = page.locator(`#rail-${station}`);
  if ((await column.getAttribute('aria-selected')) !== 'true') await column.click();
  await atRest(page);
}

/** Puts a chosen station away. */
async function whole(page: Page): Promise<void> {
  const back = page.getByRole('button', { name: 'Back to the whole panel' });
  if ((await back.count()) > 0) await back.first().click();
  await atRest(page);
}

/** Readings pasted as a table on the measuring card. */
async function paste(page: Page, model: Model, readings: Reading[]): Promise<void> {
  await ask(page, 'Measure');
  await choose(page, model.stations[0]!.id);
  const fold = page.locator('.paste');
  if (!(await fold.evaluate((d) => (d as HTMLDetailsElement).open))) await fold.locator('summary').click();
  await page.getByLabel('Values to paste').fill(readingsTable({ ...model, readings }, model.units));
  await fold.getByRole('button', { name: 'Take them', exact: true }).click();
  await expect.poll(() => page.getByLabel('Values to paste').inputValue()).toBe('');
  await whole(page);
}

/** Ticks of rows and stations set on the Drill card, station by station. */
async function tick(page: Page, model: Model, steps: readonly string[]): Promise<void> {
  await ask(page, 'Drill');
  const titles = new Map(
    model.joints.flatMap(({ id, station }) => [
      [`edges ${id}`, { station, title: `edges of ${id} gauged in every layer` }],
      [`through ${id}`, { station, title: `holes of ${id} looked through: they line up` }],
    ]),
  );
  for (const { id } of model.stations) {
    titles.set(`deburred ${id}`, { station: id, title: `every hole at ${id} deburred` });
    titles.set(`steps ${id}`, { station: id, title: `skin steps at ${id} felt` });
  }
  const wanted = steps.map((step) => titles.get(step) ?? { station: '', title: step });
  for (const { id } of model.stations) {
    const here = wanted.filter((w) => w.station === id);
    if (here.length === 0) continue;
    await choose(page, id);
    for (const { title } of here) {
      const box = page.getByLabel(title, { exact: true });
      // What was looked at before something moved it is looked at anew.
      if (await box.isChecked()) await box.uncheck();
      await box.check();
    }
  }
  expect(wanted.filter((w) => w.station === '')).toEqual([]);
  await whole(page);
}

/** Enters what a builder read and ticked since a panel was saved; how many readings. */
async function enter(page: Page, before: Model, after: Model): Promise<number> {
  const had = new Set(before.readings);
  const fresh = after.readings.filter((r) => !had.has(r));
  const sizes = new Set(fresh.map((r) => r.size));
  // A size read once more is entered with all its readings: a table takes the place of what was there.
  if (fresh.length > 0)
    await paste(
      page,
      before,
      after.readings.filter((r) => sizes.has(r.size) && !r.worked),
    );
  const ticks = new Set(before.ticks ?? []);
  const steps = (after.ticks ?? []).filter((t) => !ticks.has(t)).map((t) => t.step);
  if (steps.length > 0) await tick(page, before, steps);
  return fresh.length;
}

/** What a gate says on the screen: `yes, 6 of 6 rows`. */
async function gate(page: Page, question: string): Promise<string> {
  await ask(page, 'Drill');
  await whole(page);
  const row = page.locator('.gate').filter({ hasText: question });
  const said = await row.locator('.gate-answer').innerText();
  return said.replace(/^\W+/, '').split('\n')[0]!.split(':')[0]!.trim();
}
const pilots = (page: Page): Promise<string> => gate(page, 'May I drill pilots?');

async function load(page: Page, model: Model): Promise<void> {
  await page
    .locator('input[type=file]')
    .first()
    .setInputFiles({ name: 'panel.json', mimeType: 'application/json', buffer: Buffer.from(writeModel(model)) });
  await page.locator('.panel-name').filter({ hasText: model.name }).waitFor();
  await atRest(page);
}

/** A small tail, made as drawn and looked at until pilots may be drilled. */
function goodTail(change: (m: Model) => Model = (m) => m): Model {
  const laid = startPanel(STARTS[0]!, { ribs: FEW, span: 1000, doubler: 'yes' });
  if (!laid.ok) throw new Error(laid.doubts.map((d) => d.sentence).join(' '));
  const last = laid.model.stages.at(-1)!.id;
  return lookedAt(change({ ...laid.model, now: last }), ['pilots']);
}

const reread = (m: Model, value: (r: Reading) => number): Model => ({
  ...m,
  readings: m.readings.map((r) => ({ ...r, value: value(r), sure: true })),
});

/** Both spars' heights over the bench read at the jig blocks: the tip stands nose down, the root level. */
function nosedDown(m: Model): Model {
  const heights = m.survey.supports.flatMap((id, i) => [
    { size: `height.front@${id}`, value: 60 - 2.4 * i, instrument: 'height-gauge', sure: true as const },
    { size: `height.rear@${id}`, value: 60 + 17, instrument: 'height-gauge', sure: true as const },
  ]);
  return { ...m, readings: [...m.readings.filter((r) => !r.size.startsWith('level@')), ...heights] };
}

/** What a check's mark at a station says on the rail: its verdict, and what that rests on where it is no reading that holds. */
async function markOf(page: Page, station: string, check: string): Promise<string> {
  const said = (await page.locator(`#rail-${station}`).getAttribute('aria-label')) ?? '';
  const found = new RegExp(
    `${check} (fits|watch|act|unsettled)((?:, (?:by the drawing|worked out, not read|read before something moved it))?)`,
  );
  const [, verdict = 'nothing', basis = ''] = found.exec(said) ?? [];
  return `${verdict}${basis}`;
}

describe('decided, made, measured, yes', () => {
  interface Story {
    readonly name: string;
    readonly panel: Model;
    readonly question: string;
    readonly station: string;
    readonly check: string;
    decide(page: Page): Promise<void>;
    made(page: Page): Promise<void>;
    /** What is read afterwards, where it came out otherwise than asked. */
    readonly found?: (r: Reading) => number;
  }

  const taken = async (page: Page, station: string, words: string, name: string): Promise<void> => {
    await open(page, station, words);
    await (await remedy(page, name)).getByRole('button', { name: 'Decide on this' }).click();
    await card(page).getByText('decided, not made yet').first().waitFor();
  };
  const isMade = (page: Page): Promise<void> =>
    card(page).getByRole('region', { name: 'What was decided' }).getByRole('button', { name: 'It is made' }).click();

  const stories: readonly Story[] = [
    {
      name: 'packs under the jig',
      panel: nosedDown(goodTail()),
      question: 'True',
      station: 'S4',
      check: 'twist',
      decide: async (page) => {
        await page.getByRole('button', { name: 'Where do the packs go?' }).click();
        await page
          .getByRole('region', { name: 'Packing plan' })
          .getByRole('button', { name: 'Decide on these packs' })
          .click();
        await page.getByRole('button', { name: 'The packs are in' }).waitFor();
      },
      made: (page) => page.getByRole('button', { name: 'The packs are in' }).click(),
    },
    {
      name: 'a rib made again',
      panel: reread(goodTail(), (r) => (r.size === 'M2.front.height' ? r.value + 0.8 : r.value)),
      question: 'Remedy',
      station: 'S2',
      check: 'between the caps',
      decide: (page) => taken(page, 'S2', 'M2 front end binds', 'Make M2 again$'),
      made: isMade,
    },
    {
      name: 'a doubler bent anew',
      panel: goodTail((m) => ({
        ...m,
        doublers: m.doublers.map((d) => (d.id === 'D2' ? { ...d, radius: 0.5 } : d)),
      })),
      question: 'Remedy',
      station: 'S2',
      check: 'riding on the bend',
      decide: (page) => taken(page, 'S2', 'D2 rides', 'Make D2 new'),
      made: isMade,
      // Bent a little easier than the least that does.
      found: (r) => (r.size === 'D2.radius' ? 1.9844 : r.value),
    },
  ];

  it.each(stories)('$name', async ({ panel, question, station, check, decide, made, found }) => {
    const { page, errors } = await app.page({ flat: true });
    await load(page, panel);
    expect(await pilots(page)).not.toMatch(/^yes/);
    await ask(page, question);
    const before = await markOf(page, station, check);
    expect(before).toMatch(/^(act|unsettled)$/);
    await decide(page);
    await atRest(page);
    // Decided changes nothing that is: the same mark, no yes.
    expect(await markOf(page, station, check)).toBe(before);
    const decided = await shapes(page, station);
    expect(await pilots(page)).not.toMatch(/^yes/);
    await ask(page, question);
    await made(page);
    await atRest(page);
    expect(await markOf(page, station, check)).toMatch(/, worked out, not read$/);
    const worked = await shapes(page, station);
    expect(await alikeInOneInk(page)).toEqual([]);
    expect(await pilots(page)).not.toMatch(/^yes/);
    // Measured: what the gate asks for now, read.
    const own = await saved(page);
    const now = lookedAt(own, ['pilots']);
    const read = await enter(page, own, {
      ...now,
      readings: now.readings.map((r) => (own.readings.includes(r) || !found ? r : { ...r, value: found(r) })),
    });
    expect(read).toBeGreaterThan(0);
    await ask(page, question);
    expect(await markOf(page, station, check)).toMatch(/^(fits|watch)$/);
    const measured = await shapes(page, station);
    expect(await pilots(page)).toBe('yes, 6 of 6 rows');
    // In black and white each state has marks of its own.
    expect(ruled(decided)).toBe(0);
    expect(ruled(worked)).toBeGreaterThan(ruled(measured));
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

/** Each mark of a station's column, by what it is drawn as. */
const shapes = (page: Page, station: string): Promise<string[]> =>
  page.locator(`#rail-${station} [data-mark]`).evaluateAll((all) => all.map((g) => g.getAttribute('data-mark') ?? ''));

/**
 * The marks on the rail that look alike in one ink: of every two kinds of mark, at least one point in twelve must differ, from
 * paper to ink or back.
 */
async function alikeInOneInk(page: Page): Promise<string[]> {
  const tones = ['fits', 'watch', 'act', 'unsettled'].map((t) => `--${t}: var(--ink) !important`).join('; ');
  const style = await page.addStyleTag({ content: `:root { ${tones} }` });
  const kinds = [
    ...new Set(
      await page.locator('.rail [data-mark]').evaluateAll((all) => all.map((g) => g.getAttribute('data-mark') ?? '')),
    ),
  ];
  const pictures: [kind: string, png: string][] = [];
  for (const kind of kinds) {
    const box = (await page.locator(`.rail [data-mark="${kind}"]`).first().boundingBox())!;
    // A point more all round: outlines lie on the edge of a mark's field.
    const clip = {
      x: Math.round(box.x + box.width / 2) - 8,
      y: Math.round(box.y + box.height / 2) - 8,
      width: 16,
      height: 16,
    };
    pictures.push([kind, (await page.screenshot({ clip, scale: 'css' })).toString('base64')]);
  }
  await style.evaluate((s) => (s as HTMLStyleElement).remove());
  return page.evaluate(async (all) => {
    const inks = await Promise.all(
      all.map(async ([kind, png]) => {
        const image = await createImageBitmap(new Blob([Uint8Array.from(atob(png), (c) => c.charCodeAt(0))]));
        const context = new OffscreenCanvas(image.width, image.height).getContext('2d')!;
        context.drawImage(image, 0, 0);
        const { data } = context.getImageData(0, 0, image.width, image.height);
        return { kind, dark: Array.from({ length: data.length / 4 }, (_, i) => data[4 * i]!) };
      }),
    );
    return inks.flatMap((a, i) =>
      inks.slice(i + 1).flatMap((b) => {
        const differing = a.dark.filter((d, at) => Math.abs(d - b.dark[at]!) > 60).length;
        return differing * 12 < a.dark.length ? [`${a.kind} and ${b.kind}: ${differing} points`] : [];
      }),
    );
  }, pictures);
}

const ruled = (marks: readonly string[]): number => marks.filter((m) => m.endsWith(' ruled')).length;

describe('from unread to may I skin', () => {
  it.each(STARTS.map((s) => [s.name, s] as const))('%s', async (name, start) => {
    const { page, errors } = await app.page({ flat: true });
    await layFew(page, name);
    let panel = await saved(page);
    expect(panel.readings).toEqual([]);
    expect(await pilots(page)).not.toMatch(/^yes/);
    const builder = new Reader(panel, 1);
    let readings = 0;
    await reachLast(page, panel);
    const until = async (id: 'pilots' | 'final' | 'skin'): Promise<void> => {
      panel = await saved(page);
      builder.model = panel;
      expect(builder.settle(id).answer).toBe('yes');
      readings += await enter(page, panel, builder.model);
    };
    await until('pilots');
    expect(await pilots(page)).toMatch(/^yes/);
    await drilled(page, 'pilot');
    await until('final');
    expect(await gate(page, 'May I open to final?')).toMatch(/^yes/);
    await drilled(page, 'final');
    panel = await saved(page);
    const rows = panel.joints.filter((j) => !j.layers.includes('skin'));
    await tick(page, panel, [...new Set(rows.map((j) => `deburred ${j.station}`))]);
    await until('skin');
    expect(await gate(page, 'May I skin?')).toBe('yes');
    expect(readings, `${start.id}: readings`).toBeLessThanOrEqual(1.5 * fullSurvey(panel));
    console.log(`${name}: ${readings} readings from unread to may I skin; a full survey takes ${fullSurvey(panel)}`);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

/** A start's usual answers, with few ribs. */
async function layFew(page: Page, name: string): Promise<void> {
  await ask(page, 'Build');
  await page.getByRole('button', { name: 'Start a new panel' }).click();
  await page.getByText(name, { exact: true }).click();
  await page.getByLabel('How many ribs stand along it, both ends counted?').fill(String(FEW));
  await page.getByRole('button', { name: 'Lay it on the bench' }).click();
  await page.locator('.start-sheet').waitFor({ state: 'detached' });
  await atRest(page);
}

/** Everything stands on the bench: the last stage. */
async function reachLast(page: Page, panel: Model): Promise<void> {
  const last = panel.stages.at(-1);
  if (!last) return;
  await ask(page, 'Fit');
  await page.locator('.settings label').filter({ hasText: 'Stage' }).locator('select').selectOption(last.id);
  await atRest(page);
}

/** What was drilled, put down for all holes at once in the table of holes. */
async function drilled(page: Page, state: 'pilot' | 'final'): Promise<void> {
  await ask(page, 'Build');
  await page.locator('.build-sheet [data-word="joints and holes"], [data-takes-out=joints]').first().click();
  await page.getByRole('button', { name: /^holes \d/ }).click();
  for (let layer = 1; layer <= 6; layer++) {
    const cell = page.getByRole('button', { name: new RegExp(`^state in layer ${layer} of all in common`) });
    if ((await cell.count()) === 0 || (await cell.isDisabled())) continue;
    await cell.click();
    await page.getByLabel(`state in layer ${layer} of all in common`).selectOption(state);
    await atRest(page);
  }
  await page.getByRole('button', { name: 'Put the sheet away' }).click();
  await atRest(page);
}
