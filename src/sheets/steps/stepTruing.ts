import { gatesOf } from '../../drilling/gates.ts';
import type { Model } from '../../model/schema.ts';
import { packing } from '../../truing/packing.ts';
import type { Draft, Work } from './stepDraft.ts';

/*
 * Steps that make the panel true before it is drilled, and the gates at which the builder is asked.
 */

/** More blocks than this and the search for packs is left to the packing plan. */
const MOST_BLOCKS = 12;

export function truing(work: Work, all: readonly string[]): Draft[] {
  const { model } = work;
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
  const drafts: Draft[] = [
    {
      id: 'square',
      kind: 'square',
      title: 'Square every rib from the bench',
      station: null,
      chosen: all.filter((p) => work.skeleton.part(p) && model.ribs.some((r) => r.id === p && r.kind === 'main')),
      standing: 'behind',
      lines: [
        'Stand the rafter square on the bench against the rib web.',
        'Move the rib until no daylight shows. Clamp again.',
      ],
    },
    survey('survey:twist', 'Survey the twist'),
  ];
  const plan =
    model.survey.supports.length > 0 && model.survey.supports.length <= MOST_BLOCKS ? packing(model) : undefined;
  const packs = (plan?.packs ?? []).filter((p) => p.total > 0);
  for (const p of packs) {
    drafts.push({
      id: `pack:${p.station}`,
      kind: 'pack',
      title: `Pack the ${plan!.side} block at ${p.station}`,
      station: p.station,
      chosen: [plan!.side],
      standing: plan!.side === 'front' ? 'ahead' : 'behind',
      lines: [`Between the block and the ${plan!.side} spar, under the web.`, 'Lift gently. Nothing is pinned yet.'],
      check: { kind: 'pack', total: p.total, pieces: p.pieces },
    });
  }
  if (packs.length > 0) drafts.push(survey('survey:twist-again', 'Survey the twist again'));
  drafts.push({
    id: 'sight',
    kind: 'survey',
    title: 'Look along the rows of holes',
    station: null,
    chosen: [],
    standing: 'left end',
    lines: ['One eye, along the front row, then along the rear row.', 'Each row must look like one straight line.'],
  });
  drafts.push(askGate(model, 'pilots'));
  return drafts;
}

/** A gate: the builder must say yes. What the list says today is named, without numbers. */
export function askGate(model: Model, id: 'pilots' | 'final' | 'skin', stage = ''): Draft {
  const gate = gatesOf(model).find((g) => g.id === id)!;
  const open = gate.items.filter((i) => i.answer !== 'yes').map((i) => i.says);
  const verb = id === 'pilots' ? 'drill pilots' : id === 'final' ? 'open to final' : 'skin';
  return {
    id: `ask:${id}${stage}`,
    kind: 'ask',
    title: `Ask the builder: may we ${verb}?`,
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
