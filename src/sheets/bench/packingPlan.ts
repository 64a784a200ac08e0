import { type BasisWord, basisOfSize, weakest } from '../../checks/basis.ts';
import { show } from '../../checks/describe.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { spanOf } from '../../parts/layout/span.ts';
import { packing } from '../../truing/packing.ts';
import type { PackingPlan } from '../../truing/packingPlan.ts';
import { figure, nose } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { rectangle, segment } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { textAt } from '../paper/text.ts';
import { riseOf, textWidth } from '../paper/type.ts';

/*
 * F. The packing plan: which packs go under which block, made of which pieces, and what the height stand should read
 * then.
 */

const FORM: Form = { id: 'packing-plan', title: 'Packing plan', marks: true };
const BLANK: Cell = { blank: true };

const piecesText = (job: Job, pieces: readonly number[]): string => pieces.map((p) => figure(job.model, p)).join(' + ');

const SIDES = ['front', 'rear'] as const;

/** Both spars from above with their blocks; the packs in words at theirs. */
function blocksPicture(job: Job, plan: PackingPlan): Block {
  const { first, last } = spanOf(skeletonOf(job.model).bays);
  const draw = (box: Box): Ink[] => {
    const left = box.x + 22;
    const width = box.width - 22 - 16;
    const down = { front: box.y + 10, rear: box.y + 26 };
    const across = (y: number): number => left + (last === first ? width / 2 : ((y - first) / (last - first)) * width);
    const spars = SIDES.flatMap((side) => [
      segment([left - 3, down[side]], [left + width + 3, down[side]], 'heavy'),
      textAt(`${side} spar`, [box.x, down[side] + 1.2]),
    ]);
    return [
      ...spars,
      ...packsInk(job, plan, down, across),
      textAt('From above, leading edge at the top. Black blocks get packs.', [left, box.y + 36 + 1]),
    ];
  };
  return picture(40, draw);
}

/** A square for each block under each spar, black where packs go, with its words. */
function packsInk(
  { model }: Job,
  { packs, side: packed }: PackingPlan,
  down: Readonly<Record<PackingPlan['side'], number>>,
  across: (y: number) => number,
): Ink[] {
  const { bays } = skeletonOf(model);
  let clear = Number.NEGATIVE_INFINITY;
  return packs.flatMap((pack): Ink[] => {
    const y = bays.find((b) => b.station.id === pack.station)?.station.y;
    if (y === undefined) return [];
    const x = across(y);
    const has = pack.total > 0;
    const blocks = SIDES.map((side) =>
      rectangle(x - 2.5, down[side] - 2.5, 5, 5, 'outline', side === packed && has ? 'ink' : 'paper'),
    );
    const text = `${pack.station} ${has ? show(model, pack.total) : 'none'}`;
    const half = textWidth(text, { bold: true }) / 2;
    // A name that would run into the one before it is left to the table.
    if (x - half < clear + 1) return blocks;
    clear = x + half;
    return [...blocks, textAt(text, [x, down[packed] + 4 + riseOf()], { bold: true, align: 'middle' })];
  });
}

/** What packs will do was not read by anybody. */
const WORKED_OUT: BasisWord = 'predicted';

/** Heights and twist at each station, now and with the packs in, with blanks for what is then read. */
function heightsTable(job: Job, { before, after }: PackingPlan): Block {
  const { model } = job;
  const { book } = skeletonOf(model);
  const length = (mm: number | undefined, basis: BasisWord): Cell =>
    mm === undefined ? '' : { text: figure(model, mm), basis };
  const read = (key: string): BasisWord => {
    const size = book.find(key);
    return size ? basisOfSize(size) : 'not asked';
  };
  const twistAt = (attitude: PackingPlan['before'], station: string, basis: BasisWord): Cell => {
    const twist = attitude.twist.find((t) => t.station === station);
    return twist ? { text: nose(twist.value), basis } : '';
  };
  return table({
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
    rows: after.heights.map(({ station, front, rear }): Cell[] => {
      const was = before.heights.find((b) => b.station === station);
      const [frontRead, rearRead] = [read(`height.front@${station}`), read(`height.rear@${station}`)];
      return [
        station,
        length(was?.front, frontRead),
        length(front, WORKED_OUT),
        BLANK,
        length(was?.rear, rearRead),
        length(rear, WORKED_OUT),
        BLANK,
        twistAt(before, station, weakest([frontRead, rearRead])),
        twistAt(after, station, WORKED_OUT),
      ];
    }),
  });
}

function planBlocks(job: Job, plan: PackingPlan): Block[] {
  const { model } = job;
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
    heightsTable(job, plan),
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
