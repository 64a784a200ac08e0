import { describe, expect, test } from 'vitest';
import { FORMAT, STEPS, type UpgradeStep, upgrade, VERSION } from '../../../src/model/file/upgrade.ts';
import { frozen } from '../panels.ts';

/** Invented steps, to prove the mechanism while there is no older version yet. */
const invented: readonly UpgradeStep[] = [
  {
    from: 2,
    name: 'the spar has its own sheet',
    apply: (f) => ({ ...f, sheet: (f.spars as { sheet: string }).sheet }),
  },
  { from: 1, name: 'spar is called spars', apply: ({ spar, ...rest }) => ({ ...rest, spars: spar }) },
  { from: 3, name: 'lengths in mm', apply: (f) => ({ ...f, length: (f.length as number) * 25.4 }) },
];
const old = frozen({ format: FORMAT, version: 1, spar: { sheet: 's032' }, length: 10 });

describe('bringing a file up', () => {
  test('steps run in order of version, whatever the order of the list, and are named', () => {
    const { file, taken } = upgrade(old, 1, invented, 4);
    expect(taken).toEqual(['spar is called spars', 'the spar has its own sheet', 'lengths in mm']);
    expect(file).toEqual({ format: FORMAT, version: 4, spars: { sheet: 's032' }, sheet: 's032', length: 254 });
  });

  test('from a later version only the later steps run', () => {
    expect(upgrade({ version: 3, length: 1 }, 3, invented, 4)).toEqual({
      file: { version: 4, length: 25.4 },
      taken: ['lengths in mm'],
    });
  });

  test('the input is not touched', () => {
    upgrade(old, 1, invented, 4);
    expect(old).toEqual({ format: FORMAT, version: 1, spar: { sheet: 's032' }, length: 10 });
  });

  test('a missing step is said, with the version it is missing from', () => {
    expect(() =>
      upgrade(
        old,
        1,
        invented.filter((s) => s.from !== 2),
        4,
      ),
    ).toThrow(new RangeError('no upgrade step leads on from version 2'));
  });

  test('a step that forgets the version cannot stall', () => {
    expect(upgrade({ version: 1 }, 1, [{ from: 1, name: 'forgets', apply: () => ({}) }], 2)).toEqual({
      file: { version: 2 },
      taken: ['forgets'],
    });
  });

  test('a file of the present version is handed back as it is', () => {
    const now = { version: VERSION };
    expect(upgrade(now, VERSION)).toEqual({ file: now, taken: [] });
    expect(upgrade(now, VERSION).file).toBe(now);
  });
});

test('there is one step for each version before the present one', () => {
  expect(STEPS.map((s) => s.from).sort((a, b) => a - b)).toEqual(Array.from({ length: VERSION - 1 }, (_, i) => i + 1));
});
