import { readdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from 'vitest';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import { changed, frozen, MODELS, panel } from '../panels.ts';

const files = readdirSync(MODELS).filter((f) => f.endsWith('.json') && f !== 'schema.json');

test.each(files)('models/%s: written again it is the same text, byte for byte', (file) => {
  const text = readFileSync(join(MODELS, file), 'utf8');
  const read = parseModel(text);
  if (!read.ok) throw new Error(read.faults.map((f) => f.sentence).join('\n'));
  expect(writeModel(frozen(read.model))).toBe(text);
});

test('what was changed is written, and nothing else', () => {
  const before = panel('plain');
  const after = changed(before, (m) => {
    m.revision = 'B';
    m.sheets[0]!.thickness = 0.51;
  });
  const differ = writeModel(after)
    .split('\n')
    .filter((line, i) => line !== writeModel(before).split('\n')[i]);
  expect(differ).toHaveLength(2);
  const again = parseModel(writeModel(after));
  expect(again.ok && again.model).toEqual(after);
});

test('names and notes with quotes, breaks and other alphabets come back', () => {
  const note = 'say "proud", not \\ short\n\tсо старой книги, 翼肋 — ½';
  const after = changed(panel('plain'), (m) => {
    m.note = note;
  });
  const again = parseModel(writeModel(after));
  expect(again.ok && again.model.note).toBe(note);
});

test('every number comes back to its last bit', () => {
  for (const y of [0.1 + 0.2, 1 / 3, 299.99999999999994, 1e-7, 123456.789e-3]) {
    const again = parseModel(
      writeModel(
        changed(panel('plain'), (m) => {
          m.stations[1]!.y = 1 + y;
        }),
      ),
    );
    expect(again.ok && again.model.stations[1]!.y).toBe(1 + y);
  }
});

test('the text ends with one newline and no line has trailing blanks', () => {
  for (const name of ['plain', 'narrow-tail'] as const) {
    const text = writeModel(panel(name));
    expect(text.endsWith('}\n')).toBe(true);
    expect(text).not.toMatch(/[ \t]\n/);
  }
});
