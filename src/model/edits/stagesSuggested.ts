import type { Model, Stage } from '../schema.ts';
import type { Edit } from './edits.ts';

/** What the last stage is called, by what it brings. */
function lastName(noses: boolean, brackets: boolean): string {
  if (!noses && !brackets) return 'Open to final';
  const brought = noses ? `Nose ribs${brackets ? ' and brackets' : ''}` : 'Brackets';
  return `${brought} on, open to final`;
}

/**
 * The usual order of assembly for what a panel has: spars, ribs and what lies between them first, dry; then squared and
 * piloted; nose ribs and brackets last, and only then is any hole opened to final, for each has its last layer in.
 * Common practice; move parts between stages as the drawing says.
 */
export function suggestStages(model: Pick<Model, 'spars' | 'ribs' | 'doublers' | 'brackets' | 'joints'>): Stage[] {
  const of = (kind: string): string[] => model.ribs.filter((r) => r.kind === kind).map((r) => r.id);
  const spars = ['front', ...(model.spars.rear ? ['rear'] : [])];
  const last = [...of('nose'), ...model.brackets.map((b) => b.id)];
  const first = [...spars, ...of('tip'), ...of('main'), ...model.doublers.map((d) => d.id)];
  return [
    {
      id: 'dry-fit',
      name: `${spars.length > 1 ? 'Spars' : 'Spar'} on the blocks, ribs standing`,
      brings: first,
      opens: [],
    },
    { id: 'pilots', name: 'Square, untwist, pilot the webs', brings: [], opens: [] },
    {
      id: 'final',
      name: lastName(of('nose').length > 0, model.brackets.length > 0),
      brings: last,
      opens: model.joints.map((j) => j.id),
    },
  ];
}

/** Puts the suggested stages in place of a panel's own; the present stage stays by its place in the order. */
export function takeSuggestedStages(model: Model): Edit {
  const stages = suggestStages(model);
  const at = model.stages.findIndex((s) => s.id === model.now);
  const now = stages[Math.min(Math.max(at, 0), stages.length - 1)];
  return {
    name: 'took the suggested stages',
    apply: (m) => ({ ...m, stages, ...(now ? { now: now.id } : {}) }),
  };
}
