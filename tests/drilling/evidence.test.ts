import { describe, expect, test } from 'vitest';
import { askHoles } from '../../src/drilling/drill.ts';
import type { Gate } from '../../src/drilling/gate.ts';
import { gatesOf } from '../../src/drilling/gates.ts';
import { acted } from '../../src/model/acts.ts';
import { madeIt } from '../../src/model/edits/work.ts';
import { QUANTITIES } from '../../src/model/quantities.ts';
import type { Model } from '../../src/model/schema.ts';
import { STARTS, startPanel } from '../../src/model/starts/starts.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { taken, takingOf } from '../../src/remedies/decision.ts';
import { packer } from '../../src/remedies/offers/packer.ts';
import { COUNTS } from '../counts.ts';
import { Draw, randomPanel } from '../random-panel.ts';
import { lookedAt } from '../shop/reader.ts';

/*
 * No yes without evidence, as laws over made-up panels of every start and layout: nothing that is taken away, decided or
 * less well known ever lets a gate say yes or a hole be drilled. Laws, no expected values.
 */

const PANELS = Math.min(COUNTS.panels, 400);

const stages = (m: Model): (string | undefined)[] => [undefined, ...m.stages.map((s) => s.id)];
const yeses = (m: Model): string[] =>
  stages(m).flatMap((stage) => gatesOf(m, stage).flatMap((g) => (g.answer === 'yes' ? [`${stage} ${g.id}`] : [])));
const nows = (m: Model): string[] =>
  stages(m).flatMap((stage) =>
    askHoles(skeletonOf(m), stage === undefined ? {} : { stage }).flatMap((h) => (h.state === 'now' ? [h.id] : [])),
  );
const said = (m: Model): Set<string> => new Set([...yeses(m), ...nows(m)]);
const answer = (m: Model, id: Gate['id']): string => gatesOf(m).find((g) => g.id === id)!.answer;

const started = STARTS.map((start) => {
  const panel = startPanel(start, {});
  if (!panel.ok) throw new Error(`${start.name} has doubts about its own usual answers`);
  return [start.name, panel.model] as const;
});

describe('nothing read', () => {
  test.each(started)('%s: no yes and no now at any stage', (_, model) => {
    expect(yeses(model)).toEqual([]);
    expect(nows(model)).toEqual([]);
  });

  test('on panels of every layout: no yes and no now at any stage', () => {
    for (let seed = 1; seed <= PANELS; seed++) {
      const model: Model = { ...randomPanel(seed), readings: [] };
      expect([seed, ...yeses(model), ...nows(model)]).toEqual([seed]);
    }
  });
});

describe('a panel that was looked at', () => {
  const seen = started.map(([name, model]) => [name, lookedAt(model, ['pilots'])] as const);

  test.each(seen)('%s: found as drawn, its pilots may be drilled', (_, model) => {
    expect(answer(model, 'pilots')).toBe('yes');
    expect(nows(model).length).toBeGreaterThan(0);
  });

  test.each(seen)('%s: take away any reading or tick and no gate becomes yes, no hole becomes now', (_, model) => {
    const before = said(model);
    const d = new Draw(7);
    for (let i = 0; i < 12; i++) {
      const r = d.one(model.readings);
      const less = { ...model, readings: model.readings.filter((x) => x !== r) };
      expect([r.size, ...[...said(less)].filter((y) => !before.has(y))]).toEqual([r.size]);
    }
    for (const t of model.ticks ?? []) {
      const less = { ...model, ticks: (model.ticks ?? []).filter((x) => x !== t) };
      expect([t.step, ...[...said(less)].filter((y) => !before.has(y))]).toEqual([t.step]);
      expect(said(less).size, t.step).toBeLessThan(before.size);
    }
  });

  test.each(seen)('%s: with every instrument worse, nothing becomes yes or now', (_, model) => {
    const before = said(model);
    const used = [...new Set(model.readings.map((r) => r.instrument))];
    const u = Object.fromEntries(
      Object.entries(QUANTITIES).map(([kind, q]) => [kind, 1.7 * Math.max(...Object.values<number>(q.u))]),
    );
    const worse = { ...model, instruments: used.map((id) => ({ id, name: id, u })) };
    expect([...said(worse)].filter((y) => !before.has(y))).toEqual([]);
  });

  test.each(seen)('%s: metal moved after it undoes what was ticked of the rows', (_, model) => {
    const act = { kind: 'squared', what: 'squared a rib', date: '', by: '', moves: [] } as const;
    const moved = acted(model, { ...act, moves: [] });
    expect(answer(moved, 'pilots')).not.toBe('yes');
    expect(nows(moved)).toEqual([]);
  });

  test('no yes of the twist while the reference was not read the way the others were', () => {
    for (const [name, model] of seen) {
      const had = new Set(model.readings.map((r) => r.size));
      const unread = model.stations.find((s) => !had.has(`height.front@${s.id}`) && !had.has(`level@${s.id}`));
      if (!unread) continue;
      const m: Model = { ...model, survey: { ...model.survey, reference: unread.id } };
      expect([name, answer(m, 'pilots')]).not.toEqual([name, 'yes']);
    }
    expect(
      seen.some(([, m]) => m.stations.length > m.readings.filter((r) => /^(level|height.front)@/.test(r.size)).length),
    ).toBe(true);
  });

  test('a packer decided, or ticked as made and not read, opens no gate; made, it closes the one it moved', () => {
    for (const [name, model] of seen) {
      const rib = model.ribs.find((r) => r.kind === 'main');
      if (rib?.kind !== 'main' || !model.spars.rear) continue;
      const remedy = packer(model, { rib, end: 'rear', sheet: model.sheets[0]!.id });
      const decided = taken(takingOf([remedy], []), { why: '', asked: 'the designer: yes', date: '' }).apply(model);
      const before = said(model);
      expect([name, ...[...said(decided)].filter((y) => !before.has(y))]).toEqual([name]);
      const made = madeIt('d1', { by: 'AB', date: '' }).apply(decided);
      expect([name, ...[...said(made)].filter((y) => !before.has(y))]).toEqual([name]);
      expect([name, answer(made, 'pilots')]).not.toEqual([name, 'yes']);
    }
  });
});
