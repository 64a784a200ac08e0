import { show } from '../../checks/describe.ts';
import { bagOf } from '../../checks/holes/rivets.ts';
import { earliestStage, opensAt } from '../../checks/holes/stages.ts';
import { askHoles } from '../../drilling/drill.ts';
import { gatesOf } from '../../drilling/gates.ts';
import { type HoleAnswer } from '../../drilling/hole.ts';
import { type LedgerRow, ledgerOf } from '../../drilling/ledger.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatPercent } from '../../units.ts';
import { figure } from '../paper/figures.ts';
import { flowed, heading, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Row } from '../paper/table.ts';

/*
 * B. The hole ledger: every hole in drilling order, what may be done with it now and why, and a square to tick. Rows that
 * must not be drilled are bold.
 */

const FORM: Form = { id: 'hole-ledger', title: 'Hole ledger' };

const RANK = { now: 0, 'not yet': 1, 'not asked': 2, 'in doubt': 3, never: 4, done: 5 } as const;
const ANSWER = {
  now: 'drill now',
  'not yet': 'NOT YET',
  'not asked': 'NOT YET, not asked',
  'in doubt': 'IN DOUBT',
  never: 'NEVER at this size',
  done: 'done',
} as const;

/**
 * Joints in drilling order: what may be drilled now, then by the stage that opens it, then what has no good step, then what
 * is done; within one, from the middle of the span outward (NAVEDTRA 14018: from the centre outward), front before rear.
 */
function drillingOrder(job: Job): (readonly HoleAnswer[])[] {
  const skeleton = skeletonOf(job.model);
  const { stages } = job.model;
  const [first, last] = [skeleton.bays[0]!.station.y, skeleton.bays.at(-1)!.station.y];
  const off = new Map(skeleton.bays.map((b) => [b.station.id, Math.abs(b.station.y - (first + last) / 2)]));
  const answers = askHoles(skeleton);
  const joints = [...new Set(answers.map((a) => a.joint))].map((joint) => answers.filter((a) => a.joint === joint));
  const stageOf = ({ joint }: HoleAnswer): number => {
    const earliest = earliestStage(job.model, joint);
    return opensAt(job.model, joint) ?? (earliest ? stages.indexOf(earliest) : 0);
  };
  const least = (holes: readonly HoleAnswer[]): number => Math.min(...holes.map((h) => RANK[h.state]));
  return joints.sort(
    (a, b) =>
      least(a) - least(b) ||
      stageOf(a[0]!) - stageOf(b[0]!) ||
      off.get(a[0]!.joint.station)! - off.get(b[0]!.joint.station)! ||
      (a[0]!.joint.id < b[0]!.joint.id ? -1 : 1),
  );
}

/** Within a joint from the middle of the row outward. */
function fromMiddle(holes: readonly HoleAnswer[]): HoleAnswer[] {
  const mean = (of: (h: HoleAnswer) => number): number => holes.reduce((sum, h) => sum + of(h), 0) / holes.length;
  const [along, up] = [mean((h) => h.hole.along), mean((h) => h.hole.up)];
  const off = (h: HoleAnswer): number => Math.hypot(h.hole.along - along, h.hole.up - up);
  return [...holes].sort((a, b) => RANK[a.state] - RANK[b.state] || off(a) - off(b) || b.hole.up - a.hole.up);
}

const capital = (text: string): string => `${text[0]?.toUpperCase() ?? ''}${text.slice(1)}`;
const diameters = (d: number | null): string => (d === null ? '' : d.toFixed(2));

function jointRows(job: Job, all: readonly HoleAnswer[], ledger: ReadonlyMap<string, LedgerRow>): Row[] {
  const { model } = job;
  const { joint } = all[0]!;
  const bag = bagOf(skeletonOf(model), joint);
  const holes = fromMiddle(all);
  const why = (alike: readonly HoleAnswer[]): Row => {
    const h = alike[0]!;
    const who = alike.length === holes.length ? '' : `, ${alike.map((a) => a.hole.id).join(', ')}`;
    return {
      across: `${h.state === 'now' ? 'DRILL NOW' : h.state === 'done' ? 'Done' : ANSWER[h.state]}${who}: ${h.why}.`,
      bold: h.state === 'in doubt' || h.state === 'never',
    };
  };
  const head: Row = {
    across: `${joint.id} at ${joint.station}, ${joint.end} spar: ${joint.layers.join(' / ')}, guide ${joint.guide}. Grip ${show(model, bag.grip)}: ${bag.take}.`,
    band: true,
  };
  const row = (h: HoleAnswer): Row => {
    const r = ledger.get(`${joint.id} ${h.hole.id}`)!;
    const bold = h.state === 'in doubt' || h.state === 'never';
    const cell = (text: string) => ({ text, bold });
    return [
      h.state === 'done' ? 'yes' : { tick: true },
      cell(r.hole),
      cell(r.now),
      cell(r.final),
      cell(r.offset === null ? '' : figure(model, r.offset)),
      cell(r.margin === null ? '' : figure(model, r.margin)),
      cell(r.chance === null ? '' : formatPercent(r.chance)),
      cell(diameters(r.edge)),
      cell(diameters(r.edgeNext)),
      cell(ANSWER[h.state]),
    ];
  };
  const reasons = [...new Set(holes.map((h) => `${h.state} ${h.why}`))];
  return [
    head,
    ...reasons.flatMap((reason): Row[] => {
      const alike = holes.filter((h) => `${h.state} ${h.why}` === reason);
      return [why(alike), ...alike.map(row)];
    }),
  ];
}

export function holeLedger(job: Job): Sheet {
  const { model } = job;
  const order = drillingOrder(job);
  if (order.length === 0) return flowed(job, FORM, [words('No holes are laid out on this panel yet.')]);
  const ledger = new Map(ledgerOf(model).map((r) => [r.hole, r]));
  const all = order.flat();
  const count = (state: HoleAnswer['state']): number => all.filter((a) => a.state === state).length;
  const stage = model.stages.find((s) => s.id === model.now);
  const [pilots, final] = gatesOf(model);
  const trouble = all.filter((a) => a.state === 'never' || a.state === 'in doubt');
  const unit = model.units;
  return flowed(job, FORM, [
    words(
      `${stage ? `Stage: ${stage.name}. ` : ''}${all.length} holes: ${count('now')} may be drilled now, ${count('not yet')} not yet, ${count('not asked')} not asked, ${count('in doubt')} in doubt, ${count('never')} never at this size, ${count('done')} done. ${pilots.question} ${capital(pilots.answer)}. ${final.question} ${capital(final.answer)}.`,
    ),
    ...(trouble.length > 0
      ? [
          words(
            `In trouble: ${trouble.map((a) => `${a.joint.id} ${a.hole.id}`).join(', ')}. Keep the drill away from ${trouble.length > 1 ? 'them' : 'it'}.`,
            { bold: true },
          ),
        ]
      : []),
    words(
      `Drill only what says "drill now". Bold: never at this size, or in doubt. Layers stand from the drill side, the drill follows the guide. Order: what may be drilled now, then by the stage that opens it, from the middle of the span outward. Offset: the layer that lies farthest off the guide. Margin: half of what the final drill has to spare on the best axis; cleans up: how likely every layer does, there. Edge: least of the layers, from where the drill goes to the edge, in rivet diameters D, at final size and at the next size; least 2 D.`,
    ),
    heading('Holes in drilling order'),
    table({
      columns: [
        { head: 'done', align: 'middle' },
        { head: 'hole' },
        { head: 'size now', breaks: true },
        { head: 'final size' },
        { head: `offset ${unit}`, align: 'end' },
        { head: `margin ${unit}`, align: 'end' },
        { head: 'cleans up', align: 'end' },
        { head: 'edge D', align: 'end' },
        { head: 'edge next D', align: 'end' },
        { head: 'answer' },
      ],
      rows: order.flatMap((joint) => jointRows(job, joint, ledger)),
    }),
  ]);
}
