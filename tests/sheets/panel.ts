import { readFileSync } from 'node:fs';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';
import type { Job } from '../../src/sheets/paper/frame.ts';

export function panel(name: 'plain' | 'narrow-tail' | 'washed-out-wing'): Model {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(`${name} does not parse`);
  return read.model;
}

export const job = (model: Model, paper: 'a4' | 'letter' = 'a4'): Job => ({ model, date: '2026-05-16', paper });
