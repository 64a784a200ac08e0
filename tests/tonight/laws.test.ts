import { describe, expect, test } from 'vitest';
import { checkAll } from '../../src/checks/checkAll.ts';
import { askHoles } from '../../src/drilling/drill.ts';
import { mirrorModel } from '../../src/model/edits/mirror.ts';
import type { Model } from '../../src/model/schema.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { type Act, PHASES } from '../../src/tonight/act.ts';
import { type TonightList, tonightOf, tonightPlain } from '../../src/tonight/tonight.ts';
import { COUNTS } from '../counts.ts';
import { randomPanel } from '../random-panel.ts';

/* What the list keeps to on any panel, whatever is wrong with it. */

const seeds = Array.from({ length: COUNTS.panels }, (_, i) => i + 1);
const starts = STARTS.flatMap((start) => {
  const begun = startPanel(start, {});
  return begun.ok ? [[start.id, begun.model] as const] : [];
});
const lists = new Map<number, TonightList>();
/** The list of a panel, worked out once for all laws. */
function listOf(seed: number): TonightList {
  const list = lists.get(seed) ?? tonightOf(randomPanel(seed));
  lists.set(seed, list);
  return list;
}
const everything = ({ acts, later }: { acts: readonly Act[]; later: readonly Act[] }): Act[] => [...acts, ...later];

/** The same panel with every list the other way round. */
const reversed = (m: Model): Model => ({
  ...m,
  sheets: [...m.sheets].reverse(),
  stations: [...m.stations].reverse(),
  ribs: [...m.ribs].reverse(),
  brackets: [...m.brackets].reverse(),
  joints: [...m.joints].reverse(),
  readings: [...m.readings].reverse(),
});

const saidOf = ({ acts }: TonightList): string[] => acts.map((a) => `${a.kind} ${a.key} ${a.settles.length}`);

describe('on random panels', () => {
  test('numbers count up from one, and no act rests on a later one', () => {
    for (const seed of seeds) {
      const all = everything(listOf(seed));
      expect(all.map((a) => a.n)).toEqual(all.map((_, i) => i + 1));
      for (const a of all) for (const n of a.after) expect(n, `${seed} ${a.key}`).toBeLessThan(a.n);
      expect(new Set(all.map((a) => a.key)).size).toBe(all.length);
    }
  });

  test('the rules of order hold: disputes first, rests before, states in order', () => {
    for (const seed of seeds) {
      const { acts } = listOf(seed);
      const at = new Map(acts.map((a) => [a.key, a.n]));
      const undisputed = acts.findIndex((a) => a.phase !== 'disputed');
      expect(acts.slice(undisputed).every((a) => a.phase !== 'disputed')).toBe(true);
      for (const a of acts) {
        for (const key of a.rests) if (at.has(key)) expect(at.get(key), `${seed} ${a.key}`).toBeLessThan(a.n);
        const early = acts.find((b) => b.n > a.n && PHASES.indexOf(b.phase) < PHASES.indexOf(a.phase));
        if (early) expect(a.rests.length + early.rests.length + a.after.length + early.after.length).toBeGreaterThan(0);
      }
    }
  });

  test('metal once: no part is made or bent by two acts', () => {
    for (const seed of seeds) {
      const made = listOf(seed).acts.filter((a) => a.kind === 'make' || a.kind === 'bend');
      const parts = made.flatMap((a) => a.parts);
      expect(parts.length, String(seed)).toBe(new Set(parts).size);
      for (const a of made) if (a.remedies.some((r) => r.cost.remade > 0)) expect(a.remedies).toHaveLength(1);
    }
  });

  test('no hole is drilled that askHoles does not say is now', () => {
    for (const seed of seeds) {
      const model = randomPanel(seed);
      const now = new Set(
        askHoles(skeletonOf(model))
          .filter((h) => h.state === 'now')
          .map((h) => h.id),
      );
      const { acts, drill } = listOf(seed);
      for (const a of acts.filter((x) => x.kind === 'drill' || x.kind === 'open'))
        for (const id of a.holes) expect(now.has(id)).toBe(true);
      expect(drill.yes).toBe(now.size > 0);
    }
  });

  test('every finding at act is settled by some act, or muted behind its cause', () => {
    for (const seed of seeds) {
      const model = randomPanel(seed);
      const { acts, muted } = listOf(seed);
      const settled = new Set(acts.flatMap((a) => a.settles));
      for (const f of checkAll(model)) {
        if (f.verdict !== 'act' || f.echoOf !== undefined) continue;
        expect(settled.has(f.id) || muted.has(f.id), `${seed} ${f.id}`).toBe(true);
        if (muted.has(f.id)) expect(muted.get(f.id)?.words).toMatch(/^after /);
      }
    }
  });

  test('lists in any order, and the other hand of a half, give the same list', () => {
    for (const seed of seeds) {
      const model = randomPanel(seed);
      const list = saidOf(listOf(seed));
      expect(saidOf(tonightOf(reversed(model))), String(seed)).toEqual(list);
      if (model.hand !== 'both') expect(saidOf(tonightOf(mirrorModel(model))), String(seed)).toEqual(list);
    }
  });

  test('cut to any hours it is the same list, and nothing is lost', () => {
    for (const seed of seeds.slice(0, 10)) {
      const model = randomPanel(seed);
      const all = tonightOf(model).acts.map((a) => a.key);
      for (const hours of [0.1, 1, 5]) expect(everything(tonightOf(model, { hours })).map((a) => a.key)).toEqual(all);
    }
  });
});

describe('at the ends', () => {
  test.each(starts)('the start %s, with nothing read, begins with what to read and drills nothing', (_, model) => {
    const { acts, drill } = tonightOf(model);
    expect(acts[0]?.kind).toBe('read');
    expect(acts[0]?.reads.length).toBeGreaterThan(0);
    expect(acts.some((a) => a.kind === 'drill' || a.kind === 'open')).toBe(false);
    expect(drill.yes).toBe(false);
  });

  test.each(starts)('the start %s without stages begins with what to read, and says so', (_, model) => {
    const { now: _now, ...rest } = model;
    const { acts, sentence } = tonightOf({ ...rest, stages: [] });
    expect(acts[0]?.kind).toBe('read');
    expect(sentence).toContain('No stages');
  });

  test('a panel with stations and spars alone has a list that is no error', () => {
    const [start] = starts;
    if (!start) throw new Error('there is no start');
    const bare: Model = { ...start[1], ribs: [], doublers: [], brackets: [], joints: [], stages: [], readings: [] };
    const { now: _now, ...rest } = bare;
    const list = tonightOf(rest);
    expect(list.drill.yes).toBe(false);
    expect(list.sentence.length).toBeGreaterThan(0);
  });
});

test('a panel of which nobody read anything is never said to be inside its limits', () => {
  for (const start of STARTS) {
    const laid = startPanel(start, {});
    if (!laid.ok) throw new Error(start.id);
    const bare = { ...laid.model, ribs: [], doublers: [], brackets: [], joints: [], stages: [] };
    const { acts, sentence } = tonightOf(bare);
    if (acts.length > 0) continue;
    expect(sentence, start.id).toMatch(/no answers read and inside their limits/);
    if (checkAll(bare).length > 0) expect(sentence, start.id).toMatch(/on paper only: nobody looked/);
  }
});

test('the plain data has the published keys, and no others', () => {
  const model = randomPanel(3);
  const plain = JSON.parse(JSON.stringify(tonightPlain(model, tonightOf(model, { hours: 1 }))));
  expect(Object.keys(plain)).toEqual(['panel', 'sentence', 'drill', 'acts', 'later', 'unasked', 'caution']);
  expect(Object.keys(plain.drill)).toEqual(['yes', 'why']);
  const keys = 'n kind what why tool minutes parts stations settles holes size remedy after'.split(' ');
  for (const a of [...plain.acts, ...plain.later]) expect(Object.keys(a)).toEqual(keys);
});
