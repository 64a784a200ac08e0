import { show } from '../../checks/describe.ts';
import { bagOf } from '../../checks/holes/rivets.ts';
import { earliestStage, opensAt } from '../../checks/holes/stages.ts';
import { askHoles } from '../../drilling/drill.ts';
import { gatesOf } from '../../drilling/gates.ts';
import type { HoleAnswer } from '../../drilling/hole.ts';
import { ledgerRow } from '../../drilling/ledger.ts';
import type { Joint, Model } from '../../model/schema.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { spanOf } from '../../parts/layout/span.ts';
import { formatPercent } from '../../units.ts';
import { figure } from '../paper/figures.ts';
import { flowed, heading, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Cell, Row } from '../paper/table.ts';

/*
 * B. The hole ledger: every hole in drilling order, what may be done with it now and why, and a square to tick. Rows
 * that must not be drilled are bold.
 */

const FORM: Form = { id: 'hole-ledger', title: 'Hole ledger', marks: true };

const RANK = { now: 0, 'not yet': 1, 'not asked': 2, 'in doubt': 3, never: 4, done: 5 } as const;
const ANSWER = {
  now: 'drill now',
  'not yet': 'NOT YET',
  'not asked': 'NOT YET, not asked',
  'in doubt': 'IN DOUBT',
  never: 'NEVER at this size',
  done: 'done',
} as const;
/** The same at the head of a line. */
const HEAD = { ...ANSWER, now: 'DRILL NOW', done: 'Done' } as const;

/** A joint's holes with their answers; every joint that is asked of has one at least. */
interface RowOfHoles {
  readonly joint: Joint;
  readonly holes: readonly HoleAnswer[];
}

function rowsOf(answers: readonly HoleAnswer[]): RowOfHoles[] {
  const joints = [...new Set(answers.map((a) => a.joint))];
  return joints.map((joint) => ({ joint, holes: answers.filter((a) => a.joint === joint) }));
}

/**
 * Joints in drilling order: what may be drilled now, then by the stage that opens it, then what has no good step,
 * then what is done; within one, from the middle of the span outward (NAVEDTRA 14018: from the centre outward), front
 * before rear.
 */
function drillingOrder({ model }: Job): RowOfHoles[] {
  const skeleton = skeletonOf(model);
  const { middle } = spanOf(skeleton.bays);
  const yOf = new Map(skeleton.bays.map((b) => [b.station.id, b.station.y]));
  const ordered = rowsOf(askHoles(skeleton)).map((row) => {
    const earliest = earliestStage(model, row.joint);
    const first = earliest ? model.stages.indexOf(earliest) : 0;
    return {
      row,
      least: Math.min(...row.holes.map((h) => RANK[h.state])),
      stage: opensAt(model, row.joint) ?? first,
      off: Math.abs((yOf.get(row.joint.station) ?? middle) - middle),
    };
  });
  ordered.sort(
    (a, b) => a.least - b.least || a.stage - b.stage || a.off - b.off || (a.row.joint.id < b.row.joint.id ? -1 : 1),
  );
  return ordered.map(({ row }) => row);
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
const isTrouble = (h: HoleAnswer): boolean => h.state === 'in doubt' || h.state === 'never';

/** The line over holes of one joint that stand alike: what may be done, with which of them, and why. */
function whyRow(alike: readonly HoleAnswer[], all: number): Row[] {
  const h = alike[0];
  if (!h) return [];
  const who = alike.length === all ? '' : `, ${alike.map((a) => a.hole.id).join(', ')}`;
  return [{ across: `${HEAD[h.state]}${who}: ${h.why}.`, bold: isTrouble(h) }];
}

function holeRow(model: Model, h: HoleAnswer): Row {
  const r = ledgerRow(skeletonOf(model), h);
  const bold = isTrouble(h);
  const length = (mm: number | null): string => (mm === null ? '' : figure(model, mm));
  const plain = (text: string): Cell => ({ text, bold });
  const edge = (d: number | null): Cell => ({ text: diameters(d), bold, basis: r.edgeBasis });
  const offset = (text: string): Cell => ({ text, bold, basis: r.basis });
  return [
    h.state === 'done' ? 'yes' : { tick: true },
    plain(r.hole),
    plain(r.now),
    plain(r.final),
    offset(length(r.offset)),
    offset(length(r.margin)),
    offset(r.chance === null ? '' : formatPercent(r.chance)),
    edge(r.edge),
    edge(r.edgeNext),
    plain(ANSWER[h.state]),
  ];
}

function jointRows({ model }: Job, row: RowOfHoles): Row[] {
  const { joint } = row;
  const bag = bagOf(skeletonOf(model), joint);
  const holes = fromMiddle(row.holes);
  const head: Row = {
    across: `${joint.id} at ${joint.station}, ${joint.end} spar: ${joint.layers.join(' / ')}, guide ${joint.guide}. Grip ${show(model, bag.grip)}: ${bag.take}.`,
    band: true,
  };
  const reasonOf = (h: HoleAnswer): string => `${h.state} ${h.why}`;
  const reasons = [...new Set(holes.map(reasonOf))];
  const told = reasons.flatMap((reason): Row[] => {
    const alike = holes.filter((h) => reasonOf(h) === reason);
    return [...whyRow(alike, holes.length), ...alike.map((h) => holeRow(model, h))];
  });
  return [head, ...told];
}

export function holeLedger(job: Job): Sheet {
  const { model } = job;
  const order = drillingOrder(job);
  if (order.length === 0) return flowed(job, FORM, [words('No holes are laid out on this panel yet.')]);
  const all = order.flatMap((row) => row.holes);
  const count = (state: HoleAnswer['state']): number => all.filter((a) => a.state === state).length;
  const stage = model.stages.find((s) => s.id === model.now);
  const [pilots, final] = gatesOf(model);
  const trouble = all.filter(isTrouble);
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
      rows: order.flatMap((row) => jointRows(job, row)),
    }),
  ]);
}
