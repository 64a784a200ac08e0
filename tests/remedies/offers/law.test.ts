import { describe, expect, it } from 'vitest';
import { checkAll } from '../../../src/checks/checkAll.ts';
import type { Finding } from '../../../src/checks/finding.ts';
import { applyEdit } from '../../../src/model/edits/edits.ts';
import { parseModel } from '../../../src/model/file/parse.ts';
import { writeModel } from '../../../src/model/file/write.ts';
import type { Doubler, Model } from '../../../src/model/schema.ts';
import { sizeBook } from '../../../src/model/sizes.ts';
import { STARTS } from '../../../src/model/starts/starts.ts';
import { isDisputed } from '../../../src/remedies/disputed.ts';
import { effectOf } from '../../../src/remedies/effect.ts';
import { remediesFor } from '../../../src/remedies/offers/offers.ts';
import type { Remedy } from '../../../src/remedies/remedy.ts';
import { leastWork } from '../../../src/remedies/search/leastWork.ts';
import { OBJECTIVES } from '../../../src/remedies/search/objectives.ts';
import { finished } from '../../../src/remedies/steps.ts';
import { COUNTS } from '../../counts.ts';
import { Draw } from '../../random-panel.ts';
import { wrongPanel, wrongStart } from '../workshop.ts';

/*
 * Laws of remedies over made-up panels: what is offered does to every finding what its effect said, and nothing is offered
 * that the trade forbids.
 */

/** Panels of each start, and random ones. */
const STARTED = Math.ceil(COUNTS.panels / 30);
const RANDOM = Math.ceil(COUNTS.panels / 3);
/** Remedies tried of one panel at most: by the thousand panels a few of each, for every kind comes often enough. */
const TRIED = COUNTS.panels < 1000 ? 24 : 6;

interface Case {
  readonly name: string;
  readonly model: Model;
}

const CASES: readonly Case[] = [
  ...Array.from({ length: RANDOM }, (_, k) => ({ name: `random ${k + 1}`, model: wrongPanel(k + 1) })),
  ...STARTS.flatMap((start) =>
    Array.from({ length: STARTED }, (_, k) => ({ name: `${start.id} ${k + 1}`, model: wrongStart(start, k + 1) })),
  ),
].flatMap(({ name, model }) => (model ? [{ name, model }] : []));

/** Every remedy offered for some finding of a panel, each once. */
function offeredIn(model: Model): Remedy[] {
  const all = checkAll(model).flatMap((f) => remediesFor(model, f));
  return [...new Map(all.map((r) => [r.id, r])).values()];
}

/** So many of a list by chance, in its order. */
function some<T>(list: readonly T[], seed: number): T[] {
  const d = new Draw(seed);
  return list.filter(() => d.chance(TRIED / Math.max(TRIED, list.length)));
}

type Said = Pick<Finding, 'value' | 'u' | 'verdict'>;

/** Every finding of a model read back from its file: nothing remembered. */
function afresh(model: Model): Map<string, Said> {
  const read = parseModel(writeModel(model));
  if (!read.ok) throw new Error(read.faults.map((f) => `${f.path}: ${f.sentence}`).join('\n'));
  return new Map(checkAll(read.model).map((f) => [f.id, f]));
}

/** What an effect says of every finding: what it was, unless it says otherwise. */
function told(model: Model, remedy: Remedy): { model: Model; findings: Map<string, Said> } | undefined {
  const done = effectOf(model, [remedy]);
  if (!done.ok) return undefined;
  const findings = new Map<string, Said>(checkAll(model).map((f) => [f.id, f]));
  for (const { id, after } of done.effect.changes) {
    if (after) findings.set(id, after);
    else findings.delete(id);
  }
  return { model: done.effect.model, findings };
}

/** Findings that came out otherwise than they were told. */
function otherwise(said: ReadonlyMap<string, Said>, came: ReadonlyMap<string, Said>): string[] {
  return [...new Set([...said.keys(), ...came.keys()])].filter((id) => {
    const [a, b] = [said.get(id), came.get(id)];
    if (!a || !b) return true;
    return a.verdict !== b.verdict || Math.abs(a.value - b.value) > 2e-6 || Math.abs(a.u - b.u) > 2e-6;
  });
}

/** Packers and shims in each stack, counted the slow way: through a web all that lie against that spar there, on a cap each rib end alone. */
function stacks(model: Model): Map<string, number> {
  const held = new Map<string, number>();
  const count = (key: string): void => void held.set(key, (held.get(key) ?? 0) + 1);
  const faces = (d: Doubler): string[] => (d.form === 'channel' ? ['web', 'top', 'bottom'] : [d.on]);
  for (const d of model.doublers.filter((x) => !x.designed)) {
    const station = model.ribs.find((r) => r.id === d.part)!.station;
    for (const face of faces(d))
      count(face === 'web' ? `${station} ${d.end === 'rear'}` : `${d.part} ${d.end} ${face}`);
  }
  return held;
}

/** Whether a part had a hole of that size somewhere: a rib exchanged brings its own along. */
const hadHole = (m: Model, part: string, size: number): boolean =>
  m.joints.some((j) => j.holes.some((h) => h.layers.some((l) => l.part === part && l.size === size)));

/** What the trade forbids that came of a change. */
function forbidden(before: Model, after: Model): string[] {
  const wrong: string[] = [];
  if (JSON.stringify(after.spars) !== JSON.stringify(before.spars)) wrong.push('metal off a spar');
  const had = stacks(before);
  for (const [key, n] of stacks(after))
    if (n > 2 && n > (had.get(key) ?? 0)) wrong.push(`${n} packers in stack ${key}`);
  for (const j of after.joints) {
    const old = before.joints.find((o) => o.id === j.id);
    if (!old) continue;
    if (old.rivet.kind !== j.rivet.kind) wrong.push(`${old.rivet.kind} for ${j.rivet.kind} at ${j.id}`);
    for (const h of j.holes)
      for (const l of h.layers) {
        const was = old.holes.find((o) => o.id === h.id)?.layers.find((o) => o.part === l.part);
        if (l.size > (was?.size ?? 0) && !hadHole(before, l.part, l.size))
          wrong.push(`a larger hole in ${l.part} at ${j.id} ${h.id}`);
      }
  }
  return wrong;
}

it('the panels have something wrong of every kind that a remedy answers, and readings that disagree', () => {
  const kinds = new Set(CASES.flatMap(({ model }) => offeredIn(model).map((r) => r.kind)));
  for (const kind of [
    'shim',
    'channel',
    'flat',
    'packer',
    'without',
    'resheet',
    'easier',
    'remake',
    'fit',
    'shorter',
    'trim',
    'joggle',
    'bias',
    'swap',
    'straight',
    'packing',
    'bag',
    'step',
  ] as const)
    expect(kinds, kind).toContain(kind);
  expect(CASES.filter(({ model }) => disputes(model).length > 0).length).toBeGreaterThan(3);
  expect(CASES.filter(({ model }) => model.joints.some((j) => j.rivet.kind === 'solid')).length).toBeGreaterThan(3);
});

/** Length of a rib, as known. */
const lengthOf = (model: Model, rib: string): number => sizeBook(model).get(`${rib}.length`).best;

/** Sentences that tell what is so, not what to do. */
const FACTS = /^(Act: beyond|A slope of|Held in the middle|Felt )/;

const disputes = (model: Model): Finding[] =>
  checkAll(model).filter((f) => f.check === 'disagreement' && f.verdict === 'act');

describe.each(CASES.map((c) => [c.name, c.model] as const))('%s', (name, model) => {
  it('what is offered does to every finding what its effect said, and nothing the trade forbids', () => {
    for (const remedy of some(offeredIn(model), name.length)) {
      const said = told(model, remedy);
      const done = applyEdit(model, remedy.edit);
      expect(done.ok, remedy.id).toBe(said !== undefined);
      if (!said || !done.ok) continue;
      expect(otherwise(said.findings, afresh(done.model)), remedy.id).toEqual([]);
      expect(forbidden(model, done.model), remedy.id).toEqual([]);
      if (remedy.kind === 'shorter' || remedy.kind === 'trim')
        expect(lengthOf(model, remedy.part) - lengthOf(done.model, remedy.part), remedy.id).toBeGreaterThan(0.3 - 1e-6);
    }
  });

  it('whatever is at act has a remedy, or says what is done by hand', () => {
    for (const f of checkAll(model)) {
      if (f.verdict !== 'act' || f.echoOf || isDisputed(model, f)) continue;
      if (remediesFor(model, f).length > 0) continue;
      const byHand = f.said.rest.filter((s) => !FACTS.test(s));
      expect(byHand, f.sentence).not.toEqual([]);
    }
  });

  it('nothing is offered where readings disagree', () => {
    for (const d of disputes(model)) {
      const { part, end, what } = d.at;
      const about = what === 'webs' ? ['chord-gap'] : ['cap-gap', 'cap-split'];
      const there = checkAll(model).filter(
        (f) => about.includes(f.check) && f.at.part === part && (what === 'webs' || f.at.end === end),
      );
      for (const f of there) expect(remediesFor(model, f), f.id).toEqual([]);
    }
  });
});

/** The work of a search goes as stations: the small panels alone. */
const SMALL = CASES.filter(({ model }) => model.stations.length < 4).slice(0, Math.ceil(COUNTS.panels / 8));

describe.each(SMALL.map((c) => [c.name, c.model] as const))('plans for %s', (_, model) => {
  it('do nothing the trade forbids', () => {
    const { plans } = finished(leastWork(model, { objectives: OBJECTIVES.slice(0, 1), swaps: false }));
    for (const p of plans) expect(forbidden(model, p.model), p.id).toEqual([]);
  });

  it('make no part again and shim it too', () => {
    const { plans } = finished(leastWork(model, { objectives: OBJECTIVES.slice(0, 1), swaps: false }));
    for (const { id, remedies } of plans) {
      const again = new Set(remedies.filter((r) => r.kind === 'remake' || r.kind === 'fit').map((r) => r.part));
      const madeUp = remedies.filter((r) => ['shim', 'channel', 'joggle'].includes(r.kind) && again.has(r.part));
      expect(madeUp, id).toEqual([]);
    }
  });
});
