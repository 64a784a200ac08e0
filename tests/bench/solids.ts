import { type Kernel, openKernel } from '../../src/geometry/kernel.ts';
import { applyEdit, measure } from '../../src/model/edits/edits.ts';
import type { Model } from '../../src/model/schema.ts';
import { skeletonOf } from '../../src/parts/layout/skeleton.ts';
import type { PlacedSolid } from '../../src/parts/placed/build.ts';
import { solidsOf } from '../../src/parts/placed/solids.ts';
import { boxPairs, sharedIn } from '../../src/solidChecks/overlap.ts';
import { repeated } from './repeat.ts';
import type { Row, Said } from './rows.ts';
import { wasmMemories } from './wasmMemory.ts';
import { PLAIN, plainLoop, timed } from './yardstick.ts';

/*
 * Figures for the solids: a full build, a rebuild after one reading and after all is enlarged anew, every pair asked for what
 * it shares once all are built, and what 200 readings leave in memory. The kernel remembers equal recipes, so a fresh panel is
 * made by changing every sheet a little.
 */

const partsOf = (model: Model, magnify = 1): readonly PlacedSolid[] => solidsOf(skeletonOf(model), { magnify });

/** The same panel with every sheet a millionth thicker than last time: nothing of it has been built before. */
let turn = 0;
function fresh(base: Model): Model {
  turn++;
  return {
    ...base,
    sheets: base.sheets.map((s) => ({ ...s, thickness: s.thickness + turn * 1e-6 })),
    readings: base.readings.filter((r) => !r.size.startsWith('sheet.')),
  };
}

const build = (kernel: Kernel, parts: readonly PlacedSolid[]): void =>
  kernel.together(() => {
    for (const p of parts) kernel.build(p.solid);
  });

function edited(model: Model, value: number): Model {
  const key = model.readings.find((r) => r.size.endsWith('.front.height'))!.size;
  const done = applyEdit(model, measure(model, key, [value], { instrument: 'caliper' }));
  if (!done.ok) throw new Error(done.faults[0]?.sentence);
  return done.model;
}

interface Case {
  readonly parts: number;
  readonly pairs: number;
  readonly full: number;
  readonly edit: number;
  readonly magnify: number;
  readonly shared: number;
}

/** The least of some goes of everything, on fresh panels of so many stations. */
function measured(kernel: Kernel, base: Model, stations: number, many: number): Case {
  const goes = Array.from({ length: many }, (_, go): Case => {
    const model = fresh(repeated(base, stations));
    const parts = partsOf(model);
    const full = timed(() => build(kernel, parts));
    // As the screen does it: what is asked for, laid out and built, from the edit on.
    const edit = timed(() => build(kernel, partsOf(edited(model, 83.2 + go / 100))));
    const magnify = timed(() => build(kernel, partsOf(model, 10)));
    const { pairs, shared } = kernel.together(() => {
      const other = partsOf(fresh(repeated(base, stations)));
      build(kernel, other);
      return { pairs: boxPairs(other, kernel).length, shared: timed(() => sharedIn(other, kernel)) };
    });
    return { parts: parts.length, pairs, full, edit, magnify, shared };
  });
  const leastOf = (of: (c: Case) => number): number => Math.min(...goes.map(of));
  return {
    ...goes[0]!,
    full: leastOf((c) => c.full),
    edit: leastOf((c) => c.edit),
    magnify: leastOf((c) => c.magnify),
    shared: leastOf((c) => c.shared),
  };
}

export async function solidsRows(base: Model): Promise<(Row | Said)[]> {
  const memories = wasmMemories();
  const kernel = await openKernel();
  const loop = plainLoop();
  build(kernel, partsOf(fresh(base)));
  const rows: (Row | Said)[] = [];
  const left = memoryRows(kernel, base, memories); // first, while nothing larger has been built
  const small = wasmOf(memories);
  const [few, many] = [measured(kernel, base, 8, 2), measured(kernel, base, 80, 1)];
  const both = (what: string, of: (c: Case) => number, yard: number, against: string, note = ''): void => {
    rows.push({
      what: `${what}, 8 stations`,
      figure: of(few),
      unit: 'ms',
      ratio: of(few) / yard,
      against,
      sense: 'time',
      note,
    });
    rows.push({
      what: `${what}, 80 stations`,
      figure: of(many),
      unit: 'ms',
      ratio: of(many) / of(few),
      against: '8 stations',
      sense: 'time',
    });
  };
  both('full build', (c) => c.full, loop, PLAIN, `${few.parts} and ${many.parts} parts`);
  both('rebuild after one edit', (c) => c.edit, few.full, 'full build, 8 stations');
  rows.push({
    what: 'rebuild after one edit, of the whole at 80',
    figure: (100 * many.edit) / many.full,
    unit: '%',
    ratio: many.edit / many.full,
    against: 'full build, 80 stations',
    sense: 'time',
  });
  rows.push({
    what: 'enlarged anew (x1 to x10), 80 stations',
    figure: many.magnify,
    unit: 'ms',
    ratio: many.magnify / many.full,
    against: 'full build, 80 stations',
    sense: 'time',
  });
  both(
    'every pair asked, boxes first',
    (c) => c.shared,
    few.full,
    'full build, 8 stations',
    `${few.pairs} and ${many.pairs} pairs`,
  );
  for (const [what, of] of [
    ['full build', (c: Case) => c.full],
    ['every pair', (c: Case) => c.shared],
    ['rebuild after one edit', (c: Case) => c.edit],
  ] as const) {
    const exponent = Math.log10(of(many) / of(few));
    rows.push({
      what: `growth exponent of ${what}, 8 to 80`,
      figure: exponent,
      unit: '',
      ratio: exponent,
      against: 'in step with the panel',
      sense: 'amount',
      ...(what === 'every pair' && { note: 'aim at most 1.15' }),
      ...(what !== 'every pair' && what !== 'full build' && { note: 'aim near 0' }),
    });
  }
  rows.push(...left);
  if (memories.length > 0)
    rows.push({
      what: "kernel's own memory (WASM) at its most, every pair of 80 stations",
      figure: wasmOf(memories),
      unit: 'MB',
      ratio: wasmOf(memories) / small,
      against: '8 stations',
      sense: 'size',
    });
  return rows;
}

const wasmOf = (memories: readonly WebAssembly.Memory[]): number =>
  memories.reduce((sum, m) => sum + m.buffer.byteLength, 0) / 1e6;

/** What 200 readings leave behind once the garbage is collected. */
function memoryRows(kernel: Kernel, base: Model, memories: readonly WebAssembly.Memory[]): (Row | Said)[] {
  const collect = globalThis.gc;
  if (!collect)
    return [
      { what: 'memory after 200 edits', said: 'not measured; it needs node --expose-gc, as npm run bench starts it' },
    ];
  let model = base;
  const edit = (k: number): void => {
    model = edited(model, 83 + k * 1e-3);
    build(kernel, partsOf(model));
  };
  const now = (): { heap: number; wasm: number; arrays: number } => {
    collect();
    collect();
    const { heapUsed, arrayBuffers } = process.memoryUsage();
    return { heap: heapUsed / 1e6, arrays: arrayBuffers / 1e6, wasm: wasmOf(memories) };
  };
  for (let k = 0; k < 320; k++) edit(k); // until what is remembered has reached its bounds
  const before = now();
  for (let k = 320; k < 520; k++) edit(k);
  const after = now();
  const row = (what: string, was: number, is: number, note: string): Row => ({
    what,
    figure: is - was,
    unit: 'MB',
    ratio: is / was,
    against: 'before',
    sense: 'size',
    note: `${was.toFixed(1)} MB before, ${is.toFixed(1)} after${note}`,
  });
  return [
    row('memory 200 edits leave: heap', before.heap, after.heap, ''),
    row(
      'memory 200 edits leave: surfaces remembered',
      before.arrays,
      after.arrays,
      '; bounded at 1.5 million triangles',
    ),
    memories.length > 0
      ? row("memory 200 edits leave: kernel's own (WASM)", before.wasm, after.wasm, '')
      : {
          what: "memory 200 edits leave: kernel's own (WASM)",
          said: 'the kernel was opened before this could look on',
        },
  ];
}
