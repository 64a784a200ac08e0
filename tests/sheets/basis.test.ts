import { describe, expect, test } from 'vitest';
import { type BasisWord, basisOfFinding, basisText } from '../../src/checks/basis.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { reportOf, reportText } from '../../src/checks/report.ts';
import { gateRecords, ledgerOf, ledgerText } from '../../src/drilling/ledger.ts';
import { acted, afterLast } from '../../src/model/acts.ts';
import type { Model } from '../../src/model/schema.ts';
import { sizeBook } from '../../src/model/sizes.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { curePlain } from '../../src/remedies/search/cureText.ts';
import { leastWork } from '../../src/remedies/search/leastWork.ts';
import { finished } from '../../src/remedies/steps.ts';
import { SHEETS } from '../../src/sheets/all.ts';
import { marksIn } from '../../src/sheets/paper/basisMark.ts';
import type { Page, Sheet } from '../../src/sheets/paper/page.ts';
import { stepsOf } from '../../src/sheets/steps/steps.ts';
import { COUNTS } from '../counts.ts';
import { Draw, randomPanel } from '../random-panel.ts';
import { lookedAt } from '../shop/reader.ts';
import { job } from './panel.ts';
import { wordsOf } from './reading.ts';

/*
 * Laws: what a value rests on is said alike everywhere, and nothing that nobody read, or that has moved since, is ever called
 * measured. No outside numbers: a word on paper is held to the word in plain data, marks to what was done to the panel.
 */

const seeds = Array.from({ length: Math.ceil(COUNTS.panels / 6) }, (_, i) => i * 7 + 1);
const sheetsOf = (model: Model): Sheet[] => SHEETS.map((kind) => kind.build(job(model)));
const pagesOf = (model: Model): Page[] => sheetsOf(model).flatMap((s) => s.pages);

/** A panel somewhere on its way: at any stage, some of it read over after something was done, some of it only worked out. */
function onItsWay(seed: number): Model {
  const d = new Draw(seed);
  const start = randomPanel(seed);
  const read = d.chance(0.3) ? lookedAt(start, ['pilots']) : start;
  const stage = read.stages.length > 0 ? d.one(read.stages).id : undefined;
  const staged = stage === undefined ? read : { ...read, now: stage };
  if (d.chance(0.3)) return staged;
  const moved = staged.readings.filter(() => d.chance(0.4)).map((r) => ({ size: r.size }));
  const done = acted(staged, {
    kind: 'made',
    what: 'made something again',
    date: '2026-05-02',
    by: 'AB',
    moves: moved,
  });
  const after = afterLast(done);
  const again = done.readings.map((r) => {
    if (d.chance(0.3)) return { ...r, ...after };
    return d.chance(0.2) ? { ...r, ...after, worked: true as const } : r;
  });
  return { ...done, readings: again };
}

/** The same panel as nobody has looked at it. */
function unread(model: Model): Model {
  const { acts: _acts, ticks: _ticks, decisions: _decisions, ...rest } = model;
  return { ...rest, readings: [] };
}

describe.each(seeds)('panel %i on its way', (seed) => {
  const model = onItsWay(seed);
  const skeleton = skeletonOf(model);
  const findings = checkAll(model);
  const wordOf = new Map(findings.map((f) => [f.id, basisOfFinding(skeleton, f)]));

  test('has one word for a finding in every answer of the terminal', () => {
    for (const f of reportOf(model, findings).findings) expect(f.basis, f.id).toBe(wordOf.get(f.id));
    for (const gate of gateRecords(model))
      for (const { finding } of gate.items) if (finding) expect(finding.basis, finding.id).toBe(wordOf.get(finding.id));
    const text = reportText(model, findings, true);
    for (const f of findings) expect(text).toMatch(followed(f.sentence, wordOf.get(f.id)));
    for (const row of ledgerOf(model)) {
      const found = findings.find((f) => f.check === 'hole-cleanup' && `${f.at.joint} ${f.at.hole}` === row.hole);
      expect(row.basis, row.hole).toBe(found ? wordOf.get(found.id) : 'not asked');
    }
  });

  test('has the same word after its sentence on every sheet', () => {
    for (const page of pagesOf(model)) {
      const said = wordsOf(page);
      for (const f of findings) {
        // A gate's open item says what to do first, after its own word.
        const at = said.indexOf(`${f.sentence} (`);
        if (at < 0) continue;
        expect(said.slice(at + f.sentence.length + 1)).toMatch(followed('', wordOf.get(f.id)));
      }
    }
  });

  test('has no mark on a page without its words at the foot, and none in any step that no finding has', () => {
    for (const page of pagesOf(model)) {
      const said = wordsOf(page);
      for (const basis of marksIn(page.ink)) expect(said).toContain(basisText(basis));
    }
    const held = stepsOf(model).flatMap((s) => (s.held ? [s.held] : []));
    const words = new Set([...wordOf.values(), ...ITEMS].map(basisText));
    for (const text of held)
      for (const [, word = ''] of text.matchAll(/\(([^)]*)\)/g)) expect([...words], text).toContain(word);
  });

  test('with nothing read is nowhere called measured, read before or worked out', () => {
    const bare = unread(model);
    const said = [
      ...reportOf(bare, checkAll(bare)).findings.map((f) => f.basis),
      ...gateRecords(bare).flatMap((g) => g.items.flatMap((i) => [i.basis, ...(i.finding ? [i.finding.basis] : [])])),
      ...ledgerOf(bare).flatMap((r) => [r.basis, r.edgeBasis]),
      ...pagesOf(bare).flatMap((p) => marksIn(p.ink)),
    ];
    for (const basis of ['measured', 'ticked', 'mixed', 'stale'] satisfies BasisWord[]) {
      expect(said).not.toContain(basis);
      const texts = [reportText(bare, checkAll(bare), true), ledgerText(bare), ...pagesOf(bare).map(wordsOf)];
      for (const text of texts) expect(text).not.toContain(`(${basisText(basis)})`);
      for (const step of stepsOf(bare)) expect(step.held ?? '').not.toContain(`(${basisText(basis)})`);
    }
  });

  test('with everything moved since it was read has no value called measured', () => {
    const { book } = skeletonOf(model);
    const moves = [...book.entries.keys()].map((size) => ({ size }));
    const moved = acted(model, { kind: 'moved', what: 'moved it all', date: '2026-06-01', by: 'AB', moves });
    for (const { key } of sizeBook(moved).entries.values()) {
      const size = skeletonOf(moved).book.find(key);
      if (size && size.origin === 'measured') expect(size.aged, key).toBeDefined();
    }
    const words = SHEETS.filter((s) => s.id !== 'log');
    for (const sheet of words.map((kind) => kind.build(job(moved))))
      for (const page of sheet.pages) expect(marksIn(page.ink), sheet.id).not.toContain('measured');
  });
});

/** Words that a gate's item may have besides those of findings. */
const ITEMS: readonly BasisWord[] = [
  'recorded',
  'not asked',
  'mixed',
  'measured',
  'ticked',
  'stale',
  'predicted',
  'drawing',
  'named',
];

/** A text with a word in brackets after it, with or without its mark. */
function followed(text: string, basis: BasisWord | undefined): RegExp {
  const escaped = (t: string): string => t.replace(/[.*+?^${}()|[\]\\]/g, '\\$&');
  return new RegExp(`${escaped(text)} ?\\((\\S )?${escaped(basis ? basisText(basis) : '?')}\\)`);
}

test('what a plan changes rests on what the finding does before, and is worked out after', () => {
  let asked = 0;
  for (const seed of seeds.slice(0, 3)) {
    const model = onItsWay(seed);
    const skeleton = skeletonOf(model);
    const wordOf = new Map(checkAll(model).map((f) => [f.id, basisOfFinding(skeleton, f)]));
    const outcome = finished(leastWork(model, { plans: 2, stop: () => ++asked > 400 }));
    const plain = curePlain(model, outcome, []) as {
      plans: { changes: { id: string; before?: { basis: string }; after?: { basis: string } }[] }[];
    };
    for (const { id, before, after } of plain.plans.flatMap((p) => p.changes)) {
      if (before) expect(before.basis, id).toBe(wordOf.get(id));
      if (after) expect(after.basis, id).toBe('predicted');
    }
  }
});
