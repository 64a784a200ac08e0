import { mkdirSync, readFileSync, statSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { faultText, LONGEST, parseModel } from '../model/file/parse.ts';
import type { Model } from '../model/schema.ts';
import { BadCall } from './badCall.ts';

/* Files of the terminal: the panel it reads, the folder it writes into, the day it writes on what it prints. */

function textOf(file: string): string {
  try {
    const { size } = statSync(file);
    if (size <= LONGEST) return readFileSync(file, 'utf8');
    throw new BadCall(
      `${file}: the file has ${Math.round(size / 1e6)} MB; expected at most ${LONGEST / 1e6}; choose another`,
    );
  } catch (e) {
    if (e instanceof BadCall) throw e;
    throw new BadCall(`${file} could not be read; expected a panel file there; check the name`);
  }
}

/** The panel of a file; a bad one ends the call with every fault it has. */
export function readPanel(file: string): Model {
  const read = parseModel(textOf(file));
  if (read.ok) return read.model;
  throw new BadCall(read.faults.map((f) => `${file}: ${faultText(f)}`).join('\n'));
}

export interface NamedFile {
  readonly name: string;
  readonly bytes: Uint8Array | string;
}

/** Writes files into a folder, made where it is not, one after another as they come; how many there were. */
export async function writeInto(
  folder: string,
  files: AsyncIterable<NamedFile> | Iterable<NamedFile>,
): Promise<number> {
  let count = 0;
  for await (const { name, bytes } of files) {
    try {
      mkdirSync(folder, { recursive: true });
      writeFileSync(join(folder, name), bytes);
    } catch {
      throw new BadCall(`${folder} could not be written to; expected a folder that can be; choose another`);
    }
    count++;
  }
  return count;
}

/** How many files, in words: `1 file`, `12 files`. */
export const filesIn = (count: number): string => `${count} ${count === 1 ? 'file' : 'files'}`;

/** The day where the person is. */
export function dayHere(): string {
  const now = new Date();
  return [now.getFullYear(), now.getMonth() + 1, now.getDate()].map((n) => String(n).padStart(2, '0')).join('-');
}
