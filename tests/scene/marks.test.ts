import { expect, test } from 'vitest';
import { BASIS, type BasisWord } from '../../src/checks/basis.ts';
import type { Verdict } from '../../src/checks/finding.ts';
import { fillOf, markStrokes, markWords } from '../../src/scene/marks.ts';

const VERDICTS: readonly Verdict[] = ['fits', 'watch', 'act', 'unsettled'];
const FILLS = ['full', 'gap', 'ruled', 'open'] as const;

test('what was not read is never drawn full, and nothing else is drawn as if it were not', () => {
  const notFull = (Object.keys(BASIS) as BasisWord[]).filter((b) => fillOf(b) !== 'full');
  expect(notFull.sort()).toEqual(['decided', 'drawing', 'predicted', 'stale']);
  expect(new Set(['measured', 'stale', 'predicted', 'drawing'].map((b) => fillOf(b as BasisWord))).size).toBe(4);
});

test('every verdict is told from every other, and every way of drawing it, by shape alone', () => {
  // In one ink: what is paper stays paper, what has a colour has the one ink.
  const shapes = VERDICTS.flatMap((v) => FILLS.map((f) => JSON.stringify(markStrokes(v, f))));
  expect(new Set(shapes).size).toBe(VERDICTS.length * FILLS.length);
});

test('a mark drawn with a gap lies on both sides of it, and the gap is as wide as a stroke', () => {
  for (const verdict of VERDICTS) {
    const [ground] = markStrokes(verdict, 'gap');
    expect(ground?.d.match(/M/g)).toHaveLength(2);
    expect(ground?.fill).toBe('tone');
  }
});

test('in words', () => {
  expect(markWords('fits')).toBe('fits');
  expect(markWords('fits', 'mixed')).toBe('fits');
  expect(markWords('act', 'stale')).toBe('act, read before something moved it');
  expect(markWords('fits', 'predicted')).toBe('fits, worked out, not read');
  expect(markWords('fits', 'drawing')).toBe('fits, by the drawing');
});
