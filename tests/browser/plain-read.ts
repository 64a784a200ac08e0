import { readFileSync } from 'node:fs';
import { parseModel } from '../../src/model/file/parse.ts';
import { writeModel } from '../../src/model/file/write.ts';
import { lookedAt } from '../shop/reader.ts';

/** A file as a browser is given one. */
export interface FilePayload {
  readonly name: string;
  readonly mimeType: string;
  readonly buffer: Buffer;
}

/**
 * The file of the plain panel, at its first stage, with every reading that the pilots of its nose ribs ask for. What a builder
 * ticks, the edges of its rows, is left to be ticked: until then no hole of it may be drilled.
 */
export function plainRead(): FilePayload {
  const plain = parseModel(readFileSync('models/plain.json', 'utf8'));
  if (!plain.ok) throw new Error('the plain panel has faults');
  const read = lookedAt({ ...plain.model, now: 'noses' }, ['pilots']);
  const text = writeModel({ ...read, now: plain.model.now, ticks: plain.model.ticks });
  return { name: 'plain-read.json', mimeType: 'application/json', buffer: Buffer.from(text) };
}
