import { basisOfSizes, basisText } from '../../checks/basis.ts';
import type { GateId } from '../../drilling/gate.ts';
import { gatesOf } from '../../drilling/gates.ts';
import type { Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { packing as packingPlan } from '../../truing/packing.ts';
import type { Draft, Work } from './stepDraft.ts';

/*
 * Steps that make the panel true before it is drilled, and the gates at which the builder is asked.
 */

/** More blocks than this and the search for packs is left to the packing plan. */
const MOST_BLOCKS = 12;

const survey = (id: string, title: string): Draft => ({
  id,
  kind: 'survey',
  title,
  station: null,
  chosen: [],
  standing: 'behind',
  lines: [
    'At each station read the height of the front spar, then of the rear spar.',
    'Write both on the twist sheet. Do not lean on the panel.',
  ],
});

/** Packs under their blocks, where the heights tell which, and the survey read again over them. */
function packing(model: Model): Draft[] {
  const blocks = model.survey.supports.length;
  const plan = blocks > 0 && blocks <= MOST_BLOCKS ? packingPlan(model) : undefined;
  if (!plan) return [];
  const { side } = plan;
  const { bays, book } = skeletonOf(model);
  const heights = bays.flatMap((b) => ['front', 'rear'].map((spar) => book.find(`height.${spar}@${b.station.id}`)));
  const basis = basisOfSizes(heights.filter((h) => h !== undefined));
  const packs = plan.packs
    .filter((p) => p.total > 0)
    .map(
      (p): Draft => ({
        id: `pack:${p.station}`,
        kind: 'pack',
        title: `Pack the ${side} block at ${p.station}`,
        station: p.station,
        chosen: [side],
        standing: side === 'front' ? 'ahead' : 'behind',
        lines: [`Between the block and the ${side} spar, under the web.`, 'Lift gently. Nothing is pinned yet.'],
        check: { kind: 'pack', total: p.total, pieces: p.pieces, basis },
      }),
    );
  return packs.length > 0 ? [...packs, survey('survey:twist-again', 'Survey the twist again')] : [];
}

export function truing({ model }: Work, all: readonly string[]): Draft[] {
  const mainRibs = new Set(model.ribs.filter((r) => r.kind === 'main').map((r) => r.id));
  const square: Draft = {
    id: 'square',
    kind: 'square',
    title: 'Square every rib from the bench',
    station: null,
    chosen: all.filter((p) => mainRibs.has(p)),
    standing: 'behind',
    lines: [
      'Stand the rafter square on the bench against the rib web.',
      'Move the rib until no daylight shows. Clamp again.',
    ],
  };
  const sight: Draft = {
    id: 'sight',
    kind: 'survey',
    title: 'Look along the rows of holes',
    station: null,
    chosen: [],
    standing: 'left end',
    lines: ['One eye, along the front row, then along the rear row.', 'Each row must look like one straight line.'],
  };
  return [square, survey('survey:twist', 'Survey the twist'), ...packing(model), sight, askGate(model, 'pilots')];
}

const MAY_WE: Readonly<Record<GateId, string>> = { pilots: 'drill pilots', final: 'open to final', skin: 'skin' };

/** A gate: the builder must say yes. What the list says today is named, without numbers. */
export function askGate(model: Model, id: GateId, stage = ''): Draft {
  const items = gatesOf(model).find((g) => g.id === id)?.items ?? [];
  const open = items.filter((i) => i.answer !== 'yes').map((i) => `${i.says} (${basisText(i.basis)})`);
  return {
    id: `ask:${id}${stage}`,
    kind: 'ask',
    title: `Ask the builder: may we ${MAY_WE[id]}?`,
    station: null,
    chosen: [],
    standing: 'behind',
    lines: ['Wait for a yes. Then tick.'],
    ...(open.length > 0 ? { held: open.join('; ') } : {}),
  };
}

/** After the nose ribs stand: the leading edge. */
export function noseSurvey(): Draft {
  return {
    id: 'survey:noses',
    kind: 'survey',
    title: 'Read every nose against the string line',
    station: null,
    chosen: [],
    standing: 'ahead',
    lines: ['String from tip to tip, held off by two equal blocks.', 'Write each reading on the leading edge sheet.'],
  };
}
