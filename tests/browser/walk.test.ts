import type { Page } from 'playwright-core';
import { describe, expect, it } from 'vitest';
import { parseModel } from '../../src/model/file/parse.ts';
import { Keyboard } from './keyboard.ts';
import { atRest, bytesOf, keptHas, textOf } from './open-app.ts';
import { type FilePayload, plainRead } from './plain-read.ts';
import { sharedApp } from './shared-app.ts';

/*
 * The whole main job by keyboard alone, going by nothing but the roles and names the browser hands to a screen reader: no
 * pointer, no look at the page's own elements. At every stop on the way the focus must be on something, marked, on the screen
 * and under nothing else (WCAG 2.2: 2.1.1, 2.1.2, 2.4.3, 2.4.7, 2.4.11, 3.2.1, 4.1.2, 4.1.3).
 */

const app = sharedApp();

/** Asks a question of the panel, from wherever one is. */
async function ask(kb: Keyboard, question: string): Promise<void> {
  await kb.tabTo('button', question, { back: true });
  await kb.press('Enter');
}

/** Goes to the rail and along it to a station. */
async function stationBy(kb: Keyboard, id: string): Promise<void> {
  await kb.tabTo('listbox', 'Stations along the span');
  await kb.press('Home');
  for (let i = 0; i < 80 && !(await kb.option()).name.startsWith(`${id}:`); i++) await kb.press('ArrowRight');
  expect((await kb.option()).name).toMatch(new RegExp(`^${id}:`));
}

/** Opens a file from the panel's menu, which stands open. */
async function openFile(kb: Keyboard, file: FilePayload): Promise<void> {
  const { page } = kb;
  page.on('filechooser', () => undefined); // listened to well before it is asked for: the browser learns of it in its own time
  await kb.tabTo('button', 'Open a file…');
  const [chooser] = await Promise.all([page.waitForEvent('filechooser'), page.keyboard.press('Enter')]);
  await chooser.setFiles(file);
}

const heading = (page: Page) => page.getByRole('heading', { level: 1 }).first().innerText();

describe('the demo panel, by keyboard and by ear', () => {
  it('is measured, judged, cured, drilled, trued, handed to the helper, printed and saved', async () => {
    const { page, errors } = await app.page({ flat: true });
    const kb = await Keyboard.at(page);

    // Measure: a reading with its instrument at a station; a doubtful one is asked about, and answered both ways.
    await kb.tabTo('button', 'Measure');
    await kb.press('Enter');
    await kb.hears(/^What did I measure\? .*better measurement/);
    await stationBy(kb, 'S2');
    await kb.hears(/^Station S2\./);
    const first = await kb.tabTo('textbox', /^Reading of the front spar depth at S2/);
    await kb.tabTo('combobox', 'With which instrument');
    const before = await kb.press('ArrowDown');
    expect(before.role).toBe('combobox');
    await kb.tabTo('textbox', first.name, { back: true });
    await kb.type('863');
    await kb.press('Enter');
    await page
      .getByRole('alert')
      .getByText(/^863\?/)
      .waitFor();
    await kb.tabTo('button', 'No, change it');
    expect((await kb.press('Enter')).name).toBe(first.name);
    for (let i = 0; i < 3; i++) await kb.press('Backspace');
    await kb.type('86.3');
    const next = await kb.press('Enter');
    expect(next.role).toBe('textbox');
    expect(next.name).not.toBe(first.name);
    await kb.hears(/^Measured the front spar depth at S2\. .*(verdict|was ).*On the measuring card: clear height/i);
    await kb.type('54.5');
    await kb.press('Enter');
    await page
      .getByRole('alert')
      .getByText(/^54\.5\?/)
      .waitFor();
    await kb.tabTo('button', 'Yes, that is what it reads');
    expect((await kb.press('Enter')).role).toBe('textbox');
    await kb.press('Control+z'); // in a box being typed in, the panel stays
    await kb.tabTo('button', /^Undo: measured the clear height/, { back: true });
    await kb.press('Enter');
    await kb.hears(/^Took back: measured the clear height/);
    // A size in the list, changed where it is shown: the verdict that turns is said.
    await kb.tabTo('button', /^Change the height of M2, front end/);
    expect((await kb.press('Enter')).role).toBe('textbox');
    await kb.tabTo('combobox', 'Instrument');
    await kb.tabTo('textbox', /^New height of M2, front end/, { back: true });
    await kb.type('83.02');
    expect((await kb.press('Enter')).name).toMatch(/^Change the height of M2, front end, 83\.02/);
    await kb.hears(/M2 front, between the caps: \w+, was act\./);
    await kb.press('Enter');
    expect((await kb.press('Escape')).name).toMatch(/^Change the height of M2, front end, 83\.02/);
    await kb.press('Control+z');
    await kb.hears(/^Took back: .*M2 front, between the caps: act, was /);

    // Fit: station by station along the rail, then a finding out of the list.
    await ask(kb, 'Fit');
    await kb.hears(/^Will it fit\? /);
    await kb.tabTo('listbox', 'Stations along the span');
    await kb.press('Home');
    const walked: string[] = [];
    for (let i = 0; i < 8; i++) {
      const option = await kb.option();
      expect(option.role).toBe('option');
      expect(option.states.selected).toBe(true);
      expect(option.name).toMatch(/: .*(fits|watch|act|unsettled)/);
      walked.push(option.name.split(':')[0]!);
      await kb.hears(new RegExp(`^Station ${walked.at(-1)}\\. (fits|watch|act|unsettled): `));
      await kb.press('ArrowRight');
    }
    expect(walked).toEqual(['S1', 'S2', 'S3', 'S4', 'S5', 'S6', 'S7', 'S8']);
    await kb.press('Escape');
    await kb.hears(/^The whole panel\./);
    await kb.tabTo('button', /^act M2 front end binds/);
    const opened = await kb.press('Enter');
    expect([opened.role, opened.name]).toEqual(['heading', expect.stringMatching(/^Station S2 /)]);

    // Remedy: what is tried is shown and put back, then taken, then undone.
    await ask(kb, 'Remedy');
    await kb.hears(/^What puts it right\? /);
    await kb.tabTo('button', 'Try it');
    expect((await kb.press('Enter')).name).toBe('Put it back');
    await page.getByRole('region', { name: 'Tried, not taken' }).waitFor();
    expect((await kb.press('Enter')).name).toBe('Try it');
    await kb.tabTo('button', 'Decide on this');
    await kb.press('Enter');
    await kb.tabTo('button', 'It is made');
    await kb.press('Enter');
    await kb.hears(/M2 front, between the caps: \w+, was act\./);
    await kb.press('Control+z');
    await kb.hears(/^Took back: .*between the caps: act, was/);
    await kb.press('Control+z');
    await kb.tabTo('button', 'Back to the whole panel', { back: true });
    expect((await kb.press('Enter')).role).toBe('heading');
    await kb.tabTo('button', 'Find the least work');
    expect((await kb.press('Enter')).name).toBe('What is the least work?');
    await page
      .getByRole('status')
      .getByText(/^The least work:|stay beyond act whatever/)
      .waitFor();
    await kb.tabTo('button', 'Decide on this');
    await kb.press('Enter');
    await kb.tabTo('button', 'It is made');
    await kb.press('Enter');
    await kb.hears(/, was act\. .*\d+ more better/);
    await kb.tabTo('button', /^Undo: /, { back: true });
    const undo = await kb.press('Enter');
    expect(undo.name).toMatch(/^(Undo: |Nothing to undo)/);
    await kb.hears(/^Took back: /);

    // Drill: which holes to leave alone, and what becomes of them; each station's holes are read.
    await ask(kb, 'Drill');
    await kb.hears(/^May I drill\? Drill no hole yet\./);
    await kb.tabTo('button', 'Stage after');
    await kb.press('Enter');
    await kb.tabTo('button', 'Back to now');
    await kb.press('Enter');
    await kb.tabTo('button', /^F6 h2: in doubt/, { back: true });
    expect((await kb.press('Enter')).role).toBe('heading');
    await page.getByRole('heading', { name: /^F6 / }).waitFor();

    // True: the findings, and where the packs go.
    await ask(kb, 'True');
    await kb.hears(/^Is it true\? /);
    await kb.tabTo('listbox', 'Stations along the span');
    await kb.press('Escape');
    await kb.tabTo('button', 'Where do the packs go?');
    await kb.press('Enter');
    await page.getByRole('heading', { name: 'Packing plan' }).waitFor();
    await kb.tabTo('button', 'Decide on these packs');
    await kb.press('Enter');
    await kb.tabTo('button', 'The packs are in');
    await kb.press('Enter');
    await kb.hears(/, was (act|unsettled|watch)\./);

    // Helper: the step over the whole screen holds the focus, and gives it back.
    await ask(kb, 'Helper');
    await kb.hears(/^Who does what\? Next: /);
    await kb.tabTo('button', 'Show full size');
    const dialog = await kb.press('Enter');
    expect([dialog.role, dialog.name]).toEqual(['dialog', expect.stringMatching(/^Step \d+: /)]);
    const inside = new Set<string>();
    for (let i = 0; i < 12; i++) {
      await page.keyboard.press('Tab');
      inside.add((await kb.here()).name);
    }
    expect([...inside].filter((n) => ['Build', 'Helper', 'Show full size'].includes(n))).toEqual([]);
    await kb.tabTo('checkbox', /^Done/);
    expect((await kb.press(' ')).states.checked).toBe('true');
    await kb.press('PageDown');
    expect((await kb.press('Escape')).name).toBe('Show full size');

    // A sheet to look at, and on paper.
    await kb.tabTo('button', /^Station map/i);
    const sheet = await kb.press('Enter');
    expect(sheet.faults).toEqual([]);
    expect((await kb.press('Escape')).name).toMatch(/^Station map/i);
    await kb.tabTo('button', /^Save Station map.* as PDF/i);
    const [pdf] = await Promise.all([page.waitForEvent('download'), kb.press('Enter')]);
    expect((await bytesOf(pdf)).subarray(0, 5).toString()).toBe('%PDF-');
    expect((await kb.here()).name).toMatch(/^Save Station map/i);

    // The panel file; a refused one; the menu that closes.
    await kb.tabTo('button', /^narrow tail/, { back: true });
    const menu = await kb.press('Enter');
    expect([menu.role, menu.name]).toEqual(['button', 'Start a new panel…']);
    await page.getByRole('dialog', { name: 'Panel', exact: true }).waitFor();
    expect(await page.locator('.panel-name').getAttribute('aria-expanded')).toBe('true');
    await kb.tabTo('button', 'Save a file');
    const [file] = await Promise.all([page.waitForEvent('download'), kb.press('Enter')]);
    const read = parseModel(await textOf(file));
    expect(read.ok && read.model.readings.some((r) => r.size === 'front.depth@S2' && r.value === 86.3)).toBe(true);
    expect((await kb.here()).name).toMatch(/^narrow tail/);
    await kb.press('Enter');
    await openFile(kb, { name: 'broken.json', mimeType: 'application/json', buffer: Buffer.from('{ "format"') });
    await page.getByRole('alertdialog', { name: 'broken.json was not opened' }).waitFor();
    expect((await kb.here()).name).toBe('Back to the panel');
    expect((await kb.press('Escape')).name).toMatch(/^narrow tail/);
    await kb.press('Enter');
    await kb.tabTo('button', 'Start a new panel…');
    expect((await kb.press('Escape')).name).toMatch(/^narrow tail/);

    expect(kb.faults).toEqual([]);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

describe('a hole, by keyboard and by ear', () => {
  it('is asked about, drilled, marked, and taken back', async () => {
    const { page } = await app.page({ flat: true });
    const kb = await Keyboard.at(page);
    await kb.tabTo('button', /^narrow tail/);
    await kb.press('Enter');
    await kb.tabTo('button', 'plain, everything fits');
    await kb.press('Enter');
    await kb.hears(/^Opened plain/);
    await kb.tabTo('button', 'Drill');
    await kb.press('Enter');
    await kb.hears(/^May I drill\? Drill no hole yet\./);
    // The same panel with everything read that its pilots rest on; what is only ticked is left to do.
    await kb.tabTo('button', /^plain/, { back: true });
    await kb.press('Enter');
    await openFile(kb, plainRead());
    await kb.hears(/^Opened plain/);
    await kb.tabTo('button', 'Stage after');
    await kb.press('Enter');
    await kb.tabTo('button', 'This is where I am');
    await kb.press('Enter');
    await kb.hears(/^Moved to stage noses\./);
    await stationBy(kb, 'S2');
    const drilled = page.getByRole('button', { name: /^Pilot drilled in / });
    expect(await drilled.count(), 'nobody looked at its edges yet').toBe(0);
    await kb.tabTo('checkbox', 'edges of F2 gauged in every layer');
    expect((await kb.press(' ')).states.checked).toBe('true');
    await expect.poll(() => drilled.count()).toBeGreaterThan(0);
    const many = await drilled.count();
    expect(many).toBeGreaterThan(0);
    await kb.tabTo('button', /^Pilot drilled in /, { back: true });
    const after = await kb.press('Enter');
    expect(after.name, 'the same hole or the next').toMatch(/^(Circles|Edges|Pilot|marked|[A-Z]\d )/);
    await expect.poll(() => drilled.count()).toBe(many - 1);
    await kb.hears(/^(Drilled|Pilot|Marked|[A-Z]\d).* /);
    await kb.press('Control+z');
    await kb.hears(/^Took back: /);
    expect(await drilled.count()).toBe(many);
    expect(kb.faults).toEqual([]);
    await page.context().close();
  });
});

describe('an own panel, by keyboard and by ear', () => {
  it('is started, answered, laid on the bench, measured and kept', async () => {
    const { page, errors } = await app.page({ flat: true });
    const kb = await Keyboard.at(page);
    await kb.tabTo('button', /^narrow tail/);
    await kb.press('Enter');
    await kb.tabTo('button', 'Start a new panel…');
    await kb.press('Enter');
    await page.getByRole('heading', { name: 'What are you building?' }).waitFor();
    await expect.poll(async () => (await kb.here()).name).toBe('What are you building?');
    const start = await kb.tabTo('button', /./);
    await kb.press('Enter');
    const asked = await kb.here();
    expect(asked.role).toBe('heading');
    expect(start.name.startsWith(asked.name)).toBe(true);
    // Every answer has its question as its name; the first length is made one millimetre longer.
    const box = await kb.tabTo('textbox', /./);
    expect(box.name.length).toBeGreaterThan(5);
    await kb.tabTo('button', 'Lay it on the bench');
    await kb.press('Enter');
    await kb.hears(/^Opened a new /);
    expect((await kb.here()).role).not.toBe('RootWebArea');
    await ask(kb, 'Measure');
    await kb.hears(/^What did I measure\?/);
    await kb.tabTo('button', /^Next in the walk: /);
    await kb.press('Enter');
    const reading = await kb.tabTo('textbox', /^Reading of the /);
    const drawn = await page
      .getByText(/drawing [\d.]+ mm/)
      .first()
      .innerText();
    await kb.type(/drawing ([\d.]+) mm/.exec(drawn)![1]!);
    const next = await kb.press('Enter');
    expect(next.name).not.toBe(reading.name);
    await kb.hears(/^Measured the /);
    await keptHas(page, '"readings"');
    await ask(kb, 'Fit');
    await kb.hears(/^Will it fit\? /);
    await stationBy(kb, 'S2');
    expect(await heading(page)).toMatch(/^Station S2/);
    expect(kb.faults).toEqual([]);
    expect(errors).toEqual([]);
    await page.context().close();
  });
});

const QUESTIONS = ['Build', 'Measure', 'Fit', 'Remedy', 'Drill', 'True', 'Helper'] as const;

describe('every stop of every question', () => {
  it.each<[number, number]>([
    [1280, 800],
    [820, 1180],
    [390, 844],
  ])('is named, marked, seen, in order and left again, %i px wide', async (width, height) => {
    const { page } = await app.page({ flat: true, viewport: { width, height } });
    const kb = await Keyboard.at(page);
    for (const question of QUESTIONS) {
      await page
        .getByRole('navigation', { name: 'Questions' })
        .getByRole('button', { name: question, exact: true })
        .press('Enter');
      await atRest(page);
      const stops = await kb.tour();
      expect(stops.at(-1)!.name.length, question).toBeGreaterThan(0);
      expect(stops.length, question).toBeGreaterThan(5);
    }
    expect(kb.faults).toEqual([]);
    expect(await page.locator('[tabindex]:not([tabindex="0"]):not([tabindex="-1"])').count()).toBe(0);
    await page.context().close();
  });
});
