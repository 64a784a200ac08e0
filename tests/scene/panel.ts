import { readFileSync } from 'node:fs';
import { parseModel } from '../../src/model/file/parse.ts';
import type { Model } from '../../src/model/schema.ts';

/** A demo panel, parsed; a fault in the file is a failure of the test that asked. */
export function demo(name: string): Model {
  const read = parseModel(readFileSync(new URL(`../../models/${name}.json`, import.meta.url), 'utf8'));
  if (!read.ok) throw new Error(read.faults.map((f) => f.sentence).join('; '));
  return read.model;
}

/** Freezes everything a value holds, so that changing any of it throws. */
export function frozen<T>(value: T): T {
  if (value !== null && typeof value === 'object' && !Object.isFrozen(value)) {
    Object.freeze(value);
    for (const part of Object.values(value)) frozen(part);
  }
  return value;
}
