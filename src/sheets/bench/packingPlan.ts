import { show } from '../../checks/describe.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type PackingPlan, packing } from '../../truing/packing.ts';
import { figure, nose } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line, rectangle } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { LEAST_SIZE, riseOf, textWidth } from '../paper/type.ts';

/*
 * F. The packing plan: which packs go under which block, made of which pieces, and what the height stand should read then.
 */

const FORM: Form = { id: 'packing-plan', title: 'Packing plan' };
const BLANK: Cell = { blank: true };

const piecesText = (job: Job, pieces: readonly number[]): string => pieces.map((p) => figure(job.model, p)).join(' + ');

/** Both spars from above with their blocks; the packs in words at theirs. */
function blocksPicture(job: Job, plan: PackingPlan): Block {
  const { bays } = skeletonOf(job.model);
  const [first, last] = [bays[0]!.station.y, bays.at(-1)!.station.y];
  return picture(40, (box: Box): Ink[] => {
    const left = box.x + 22;
    const width = box.width - 22 - 16;
    const X = (y: number): number => left + (last === first ? width / 2 : ((y - first) / (last - first)) * width);
    const rows = { front: box.y + 10, rear: box.y + 26 };
    const ink: Ink[] = (['front', 'rear'] as const).flatMap((side): Ink[] => [
      line(
        [
          [left - 3, rows[side]],
          [left + width + 3, rows[side]],
        ],
        'heavy',
      ),
      { kind: 'text', x: box.x, y: rows[side] + 1.2, text: `${side} spar`, size: LEAST_SIZE },
    ]);
    let clear = Number.NEGATIVE_INFINITY;
    for (const pack of plan.packs) {
      const bay = bays.find((b) => b.station.id === pack.station)!;
      const x = X(bay.station.y);
      for (const side of ['front', 'rear'] as const)
        ink.push(
          rectangle(x - 2.5, rows[side] - 2.5, 5, 5, 'outline', side === plan.side && pack.total > 0 ? 'ink' : 'paper'),
        );
      const text = pack.total > 0 ? `${pack.station} ${show(job.model, pack.total)}` : `${pack.station} none`;
      const half = textWidth(text, { bold: true }) / 2;
      // A name that would run into the one before it is left to the table.
      if (x - half < clear + 1) continue;
      clear = x + half;
      ink.push({
        kind: 'text',
        x,
        y: rows[plan.side] + 4 + riseOf(),
        text,
        size: LEAST_SIZE,
        bold: true,
        align: 'middle',
      });
    }
    ink.push({
      kind: 'text',
      x: left,
      y: box.y + 36 + 1,
      text: 'From above, leading edge at the top. Black blocks get packs.',
      size: LEAST_SIZE,
    });
    return ink;
  });
}

function planBlocks(job: Job, plan: PackingPlan): Block[] {
  const { model } = job;
  const by = (lie: PackingPlan['before'], station: string): number | undefined =>
    lie.twist.find((t) => t.station === station)?.value;
  return [
    ...plan.sentences.map((s) => words(s, { size: 11 })),
    blocksPicture(job, plan),
    heading(`Packs under the ${plan.side} spar`),
    table({
      whole: true,
      rowHeight: 6.2,
      columns: [
        { head: 'in place', align: 'middle' },
        { head: 'block at' },
        { head: 'under the' },
        { head: `pack ${model.units}`, align: 'end' },
        { head: 'made of' },
      ],
      rows: plan.packs.map((p): Cell[] => [
        { tick: true },
        p.station,
        plan.side,
        { text: p.total > 0 ? figure(model, p.total) : 'none', bold: p.total > 0 },
        piecesText(job, p.pieces),
      ]),
    }),
    words(
      plan.left.length > 0
        ? `Pieces left on hand: ${plan.left.map((t) => figure(model, t)).join(', ')} ${model.units}.`
        : 'No piece is left on hand.',
    ),
    heading('What the height stand should read then'),
    words(
      'Pack, read both heights at every station, write them here. Only when they agree with the plan may anything be pinned. Rear high = nose down.',
    ),
    table({
      whole: true,
      rowHeight: 6.6,
      columns: [
        { head: 'station' },
        { head: `front now ${model.units}`, align: 'end' },
        { head: 'front then', align: 'end' },
        { head: 'front read', least: 22 },
        { head: `rear now ${model.units}`, align: 'end' },
        { head: 'rear then', align: 'end' },
        { head: 'rear read', least: 22 },
        { head: 'twist now' },
        { head: 'twist then' },
      ],
      rows: plan.after.heights.map((h): Cell[] => {
        const before = plan.before.heights.find((b) => b.station === h.station)!;
        const [was, is] = [by(plan.before, h.station), by(plan.after, h.station)];
        return [
          h.station,
          figure(model, before.front),
          figure(model, h.front),
          BLANK,
          figure(model, before.rear),
          figure(model, h.rear),
          BLANK,
          was === undefined ? '' : nose(was),
          is === undefined ? '' : nose(is),
        ];
      }),
    }),
  ];
}

export function packingPlan(job: Job): Sheet {
  const { model } = job;
  const plan = packing(model);
  if (plan) return flowed(job, FORM, planBlocks(job, plan));
  const { supports } = model.survey;
  return flowed(job, FORM, [
    words(
      supports.length === 0
        ? 'No jig blocks are given for this panel, so there is nothing to pack.'
        : 'The heights of both spars over the bench were not read, so no pack can be worked out. Read them (squaring and twist survey), then print this sheet again.',
      { size: 11 },
    ),
    ...(supports.length === 0
      ? []
      : [
          heading('Packs as they are put in'),
          table({
            rowHeight: 8,
            columns: [
              { head: 'block at' },
              { head: `under the front ${model.units}`, least: 40 },
              { head: `under the rear ${model.units}`, least: 40 },
              { head: 'front then reads', least: 30 },
              { head: 'rear then reads', least: 30 },
            ],
            rows: supports.map((s): Cell[] => [s, BLANK, BLANK, BLANK, BLANK]),
          }),
        ]),
  ]);
}
