import { readFileSync } from 'node:fs';
import type { Page } from 'playwright-core';
import { checkAll } from '../../src/checks/checkAll.ts';
import type { Finding } from '../../src/checks/finding.ts';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import { textOf } from './open-app.ts';

function modelOf(text: string): Model {
  const read = parseModel(text);
  if (!read.ok) throw new Error(read.faults.map((f) => `${f.path} ${f.sentence}`).join('\n'));
  return read.model;
}

/** Panel B as its file has it. */
export const FILE = modelOf(readFileSync('models/washed-out-wing.json', 'utf8'));

/** The panel on the bench, as saving writes it. */
export async function saved(page: Page): Promise<Model> {
  await page.locator('.panel-name').click();
  const [file] = await Promise.all([
    page.waitForEvent('download'),
    page.getByRole('button', { name: 'Save a file' }).click(),
  ]);
  return modelOf(await textOf(file));
}

/** The panel with nothing read of it. */
export const bare = (m: Model): Model => ({ ...m, readings: [] });

/** What is said of a panel, to a hundredth of a millimetre: the same words, the same verdicts. */
export function said(m: Model): string[] {
  return checkAll(m)
    .map((f: Finding) => `${f.id} at ${f.station ?? 'all'}: ${f.verdict}, ${f.basis}. ${f.sentence}`)
    .sort();
}
