import { describe, expect, test } from 'vitest';
import { quantile } from '../../src/chains/normal.ts';
import { jointSample, type SampleOptions, sampled } from '../../src/chance/jointSample.ts';
import { sampleAnswer } from '../../src/chance/sampleAnswer.ts';
import { rearranged, type SamplePlan, samplePlan } from '../../src/chance/samplePlan.ts';
import { buffersOf, merged, type Tally } from '../../src/chance/tally.ts';
import { rowsOfStep } from '../../src/chance/wholeChance.ts';
import { checkAll } from '../../src/checks/checkAll.ts';
import { circlesOf } from '../../src/checks/holes/cleanUpDrill.ts';
import { smallestHolding } from '../../src/geometry/circle.ts';
import { type Kind, QUANTITIES } from '../../src/model/quantities.ts';
import type { Model } from '../../src/model/schema.ts';
import { instrumentUncertainty, sizeBook } from '../../src/model/sizes.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import { changed, panel } from '../model/panels.ts';

const A = panel('narrow-tail');
/** All drawing sizes taken as exact, so that every doubt is a reading's. */
const sure = (model: Model): Model =>
  changed(model, (m) => {
    for (const kind of Object.keys(QUANTITIES)) m.tolerances[kind] = 0;
    for (const s of m.sheets) s.tolerance = 0;
  });
const run = (model: Model, options: SampleOptions): Tally => {
  const g = sampled(samplePlan(model), options);
  for (;;) {
    const step = g.next();
    if (step.done) return step.value;
  }
};

describe('marginal chances', () => {
  // Every chain here is a sum of normal readings: its chance beyond the limit has a closed form.
  test('of plain sums are those of the closed form', () => {
    const model = sure(A);
    const answer = jointSample(model, { seed: 7, points: 4096, replicates: 8 });
    const closed = new Map(checkAll(model).map((f) => [f.id, f]));
    const linear = new Set([
      'cap-gap',
      'chord-gap',
      'nose-kink',
      'nose-line',
      'skin-step',
      'twist',
      'twist-step',
      'bow',
      'grip',
      'edge-distance',
    ]);
    let compared = 0;
    for (const s of answer.findings) {
      const f = closed.get(s.id)!;
      if (!linear.has(f.check)) continue;
      expect(Math.abs(s.beyond.chance - f.chance), s.id).toBeLessThan(0.003 + 5 * s.beyond.error);
      compared++;
    }
    expect(compared).toBeGreaterThan(100);
    expect(answer.samples).toBe(8 * 4096);
  });

  test('quantiles of a plain sum are the normal ones', () => {
    const model = sure(A);
    const answer = jointSample(model, { seed: 8 });
    const f = checkAll(model).find((x) => x.id === 'chord-gap:M5')!;
    for (const p of [0.025, 0.5, 0.975]) expect(answer.quantile(f.id, p)).toBeCloseTo(f.value + f.u * quantile(p), 2);
    expect(answer.quantile('no such', 0.5)).toBeUndefined();
  });
});

/** Mulberry32 and Box-Muller: a generator of its own for the slow twins. */
function normals(seed: number): () => number {
  let s = seed;
  const next = (): number => {
    s = (s + 0x6d2b79f5) | 0;
    let t = Math.imul(s ^ (s >>> 15), 1 | s);
    t = (t + Math.imul(t ^ (t >>> 7), 61 | t)) ^ t;
    return ((t ^ (t >>> 14)) >>> 0) / 4294967296;
  };
  return () => Math.sqrt(-2 * Math.log(1 - next())) * Math.cos(2 * Math.PI * next());
}

describe('against the slow twin: every reading moved, every question asked again', () => {
  const model = sure(A);
  test('chances of every finding but holes, reliefs and seats included, and of the whole', () => {
    const normal = normals(17);
    const n = 500;
    const beyond = new Map<string, number>();
    const entries = sizeBook(model).entries;
    const skip = new Set(['hole-cleanup', 'temperature', 'disagreement', 'bend-radius']);
    for (let i = 0; i < n; i++) {
      const moved = {
        ...model,
        readings: model.readings.map((r) => ({
          ...r,
          value: r.value + normal() * instrumentUncertainty(model, entries.get(r.size)!.kind as Kind, r.instrument)!,
        })),
      };
      for (const f of checkAll(moved)) {
        const [a, b] = f.limits.act;
        if ((a !== null && f.value < a) || (b !== null && f.value > b)) beyond.set(f.id, (beyond.get(f.id) ?? 0) + 1);
      }
    }
    const answer = jointSample(model, { seed: 3 });
    const far = answer.findings
      .filter((s) => !skip.has(s.id.split(':')[0]!))
      .map((s) => ({ id: s.id, sampled: s.beyond.chance, twin: (beyond.get(s.id) ?? 0) / n }))
      .filter((s) => Math.abs(s.sampled - s.twin) > 0.005 + 4.5 * Math.sqrt((s.sampled * (1 - s.sampled)) / n));
    expect(far).toEqual([]);
  });

  test('holes: the smallest circle round the layers, each where it may be', () => {
    const s = skeletonOf(A);
    const answer = jointSample(A, { seed: 5 });
    for (const [id, hole] of [
      ['F3', 'h1'],
      ['F4', 'h2'],
      ['F6', 'h2'],
    ] as const) {
      const joint = A.joints.find((j) => j.id === id)!;
      const circles = circlesOf(s, joint, joint.holes.find((h) => h.id === hole)!);
      const normal = normals(23);
      const n = 6000;
      let outside = 0;
      for (let i = 0; i < n; i++) {
        const r = smallestHolding(
          circles.map((c) => ({
            x: c.along.best + c.along.u * normal(),
            y: c.up.best + c.up.u * normal(),
            r: c.diameter / 2,
          })),
        ).r;
        if (joint.final / 2 - r < 0.1) outside++;
      }
      const found = answer.findings.find((f) => f.id === `hole-cleanup:${id}-hole-${hole}`)!.outside.chance;
      expect(Math.abs(found - outside / n), `${id} ${hole}`).toBeLessThan(
        0.005 + 4.5 * Math.sqrt((found * (1 - found)) / n),
      );
    }
  });
});

describe('the whole skeleton', () => {
  test('goes together no more often than its worst finding, and at least as often as the sum of chances leaves', () => {
    const answer = jointSample(panel('plain'), { seed: 2 });
    const worst = Math.max(...answer.findings.map((f) => f.beyond.chance));
    const sum = answer.findings.reduce((a, f) => a + f.beyond.chance, 0);
    expect(answer.goesTogether.chance).toBeLessThanOrEqual(1 - worst + 1e-12);
    expect(answer.goesTogether.chance).toBeGreaterThanOrEqual(1 - sum - 1e-4);
    expect(answer.allFit.chance).toBeLessThanOrEqual(answer.goesTogether.chance);
    expect(jointSample(A, { seed: 2, points: 512 }).goesTogether.chance).toBe(0);
    expect(answer.sentence).toMatch(
      /^With every size where it may be, all drawn together \d+ times: .* that the whole skeleton goes together as it is\./,
    );
  });

  // One sheet in two gaps that bind together: with independent sheets the chance would be the product.
  test('what shares a sheet fails together', () => {
    const shared = changed(panel('plain'), (m) => {
      m.readings = [];
      for (const kind of Object.keys(QUANTITIES)) m.tolerances[kind] = 0;
      m.sheets.find((s) => s.id === 's025')!.tolerance = 0.1;
      m.limits = [];
    });
    const answer = jointSample(shared, { seed: 4 });
    const gaps = answer.findings.filter((f) => f.id.startsWith('cap-gap:') && f.outside.chance > 0.02);
    if (gaps.length > 1)
      expect(answer.allFit.chance).toBeGreaterThan(gaps.reduce((p, g) => p * (1 - g.outside.chance), 1) - 0.01);
    expect(answer.findings.every((f) => f.beyond.chance >= 0 && f.beyond.chance <= 1)).toBe(true);
  });

  test('the largest kink lies above each kink', () => {
    const answer = jointSample(A, { seed: 6 });
    const single = checkAll(A)
      .filter((f) => f.check === 'nose-kink')
      .map((f) => Math.abs(f.value));
    expect(answer.largestKink(0.5)!).toBeGreaterThan(Math.max(...single) - 0.05);
    expect(answer.largestKink(0.9)!).toBeGreaterThan(answer.largestKink(0.1)!);
  });
});

// Two normal causes that enter everything in one proportion are one normal cause: fewer dimensions, the same spreads.
test('causes that always go together are one dimension, and no spread changes', () => {
  const plan = samplePlan(A);
  const findings = new Map(checkAll(A).map((f) => [f.id, f]));
  // The room and the length of M5 enter its gap, its seat and its relief alike, so they are one.
  const gap = plan.steps[plan.ids.indexOf('chord-gap:M5')]!;
  const terms = gap.kind === 'sum' ? plan.sums.start[gap.row + 1]! - plan.sums.start[gap.row]! : 0;
  expect(terms).toBeGreaterThan(0);
  expect(terms).toBeLessThan(findings.get('chord-gap:M5')!.restsOn.filter((t) => t.size.u > 0).length);
  plan.steps.forEach((step, i) => {
    const f = findings.get(plan.ids[i]!)!;
    if (step.kind !== 'sum' || f.check === 'hole-cleanup') return;
    let v = 0;
    for (let j = plan.sums.start[step.row]!; j < plan.sums.start[step.row + 1]!; j++) v += plan.sums.weight[j]! ** 2;
    expect(Math.sqrt(v), f.id).toBeCloseTo(f.u, 9);
  });
});

describe('the chance of the whole as a product over clusters', () => {
  // Every limit moved to where a given share of the samples is beyond it, so that the whole hangs on all findings at once.
  const around = (model: Model, share: number): SamplePlan => {
    const plan = samplePlan(model);
    const bounds = plan.bounds.slice();
    const sampledOnce = jointSample(model, { seed: 12, points: 2048 });
    plan.ids.forEach((id, i) => {
      const [low, high] = [plan.bins[2 * i]!, plan.bins[2 * i]! + 512 * plan.bins[2 * i + 1]!];
      const [a, b] = [sampledOnce.quantile(id, share)!, sampledOnce.quantile(id, 1 - share)!];
      // What hardly moves, or has no normal spread to be seen by, is left free.
      if (!(b - a > 1e-3) || a <= low || b >= high) bounds.set([-Infinity, Infinity, -Infinity, Infinity], 4 * i);
      // Daylight is never under nothing, and often is nothing: only its far side can be moved.
      else if (plan.steps[i]!.kind === 'seat') bounds.set([-Infinity, b, -Infinity, b - 0.02 * (b - a)], 4 * i);
      else bounds.set([a, b, a + 0.02 * (b - a), b - 0.02 * (b - a)], 4 * i);
    });
    return rearranged(plan, { bounds });
  };
  const answer = (plan: SamplePlan, options: SampleOptions) => {
    const g = sampled(plan, { ...options, histograms: false });
    for (;;) {
      const step = g.next();
      if (step.done) return sampleAnswer(plan, step.value);
    }
  };

  // The slow and obvious twin: plain pseudo-random samples, each counted whole.
  test.each([
    ['narrow-tail', 0.003],
    ['washed-out-wing', 0.002],
    ['plain', 0.01],
  ] as const)('is what plain counting finds: %s', (name, share) => {
    const plan = around(panel(name), share);
    const product = answer(plan, { seed: 3, points: 4096, replicates: 8 });
    const plain = answer(plan, { seed: 4, points: 4096, replicates: 8, kind: 'random', whole: 'counted' });
    for (const of of ['goesTogether', 'allFit', 'rest'] as const) {
      expect(plain[of].chance, of).toBeGreaterThan(0.02);
      expect(Math.abs(product[of].chance - plain[of].chance), of).toBeLessThan(
        4.5 * Math.sqrt((plain[of].chance * (1 - plain[of].chance)) / plain.samples) + 4.5 * product[of].error,
      );
    }
  });

  test('clusters share nothing but common errors, and every finding is in one place', () => {
    const plan = samplePlan(A);
    const { order, start, split } = plan.clusters;
    expect([...order].sort((a, b) => a - b)).toEqual([...plan.ids.keys()]);
    const home = new Map<number, number>();
    for (let g = 0; g + 1 < start.length; g++) {
      for (const f of order.subarray(start[g]!, start[g + 1]!)) {
        for (const row of rowsOfStep(plan.steps[f]!)) {
          for (let j = plan.sums.start[row]!; j < split[row]!; j++) {
            const cause = plan.sums.cause[j]!;
            expect(home.get(cause) ?? g).toBe(g);
            home.set(cause, g);
          }
        }
      }
    }
    expect(start.length).toBeGreaterThan(10);
  });

  test('inside one cluster no two causes share a dimension', () => {
    const { causes, sums, steps, clusters } = samplePlan(A);
    for (let g = 0; g + 1 < clusters.start.length; g++) {
      const used = new Set<number>();
      for (const f of clusters.order.subarray(clusters.start[g]!, clusters.start[g + 1]!))
        for (const row of rowsOfStep(steps[f]!))
          for (let j = sums.start[row]!; j < sums.start[row + 1]!; j++) used.add(sums.cause[j]!);
      expect(new Set([...used].map((k) => causes.dimension![k])).size).toBe(used.size);
    }
  });
});

describe('the run', () => {
  const plan = samplePlan(A);
  const options = { seed: 9, points: 1024, replicates: 4 } as const;

  test('two workers count the same samples as one', () => {
    const one = run(A, options);
    const two = merged([0, 1].map((part) => run(A, { ...options, share: { part, parts: 2 } })));
    expect(two).toEqual(one);
  });

  test('a plan is plain data: a copy of it, as a worker gets it, counts the same', () => {
    const g = sampled(structuredClone(plan), options);
    let step = g.next();
    while (!step.done) step = g.next();
    expect(step.value).toEqual(run(A, options));
    expect(buffersOf(step.value as Tally).every((b) => b instanceof ArrayBuffer)).toBe(true);
  });

  test('tells how far it is after each block, and can be given up there', () => {
    const g = sampled(plan, options);
    const first = g.next();
    expect(first.done).toBe(false);
    if (first.done) return;
    expect([first.value.done, first.value.of]).toEqual([1, 8]);
    expect(sampleAnswer(plan, first.value.tally).samples).toBe(512);
    g.return(first.value.tally);
    expect(g.next().done).toBe(true);
  });

  test('one seed, one answer; the stated error is the scatter of seeds', () => {
    expect(run(A, options)).toEqual(run(A, options));
    const answers = [1, 2, 3, 4, 5, 6, 7, 8, 9, 10].map(
      (seed) => sampleAnswer(plan, run(A, { ...options, seed })).findings.find((f) => f.id === 'chord-gap:M5')!.beyond,
    );
    const mean = answers.reduce((s, a) => s + a.chance, 0) / answers.length;
    const scatter = Math.sqrt(answers.reduce((s, a) => s + (a.chance - mean) ** 2, 0) / (answers.length - 1));
    const stated = Math.sqrt(answers.reduce((s, a) => s + a.error ** 2, 0) / answers.length);
    expect(stated / scatter).toBeGreaterThan(0.4);
    expect(stated / scatter).toBeLessThan(2.5);
  });

  test('felt gaps: tied sizes are sampled tied', () => {
    const felt = changed(A, (m) => {
      m.readings.push({ size: 'chord.M5', value: -0.1, instrument: 'feeler' });
    });
    const f = checkAll(felt).find((x) => x.id === 'chord-gap:M5')!;
    const answer = jointSample(felt, { seed: 10 });
    expect((answer.quantile(f.id, 0.975)! - answer.quantile(f.id, 0.025)!) / (2 * 1.96)).toBeCloseTo(f.u, 2);
    expect(Math.abs(answer.findings.find((x) => x.id === f.id)!.outside.chance - 0.5)).toBeLessThan(0.2);
  });
});
