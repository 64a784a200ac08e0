import { type At, isAt } from '../../checks/at.ts';
import { basisOfFinding, sentenceWithBasis } from '../../checks/basis.ts';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { nominalDiagonals } from '../../checks/fit/square.ts';
import { twistsOf } from '../../checks/fit/twistRead.ts';
import type { Model } from '../../model/schema.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { neighbours } from '../../parts/layout/span.ts';
import { formatAngle } from '../../units.ts';
import { figure, nose, signedFigure, sizeCell } from '../paper/figures.ts';
import { type Block, flowed, heading, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import type { Cell } from '../paper/table.ts';
import { notRight } from './notRight.ts';

/*
 * E. Squaring and twist survey: what was read at each station and what follows from it, blanks where nothing was read
 * yet, and a second column to read it all again after packing. Signs are said in words.
 */

const FORM: Form = { id: 'survey', title: 'Squaring and twist survey', marks: true };

/** Room for a pencil: least height of a row, mm. */
const PENCIL = 7.5;
const BLANK: Cell = { blank: true };

const degrees = (v: number): string => formatAngle((v * Math.PI) / 180, { signed: true });

function findingOf(all: readonly Finding[], check: Finding['check'], at: At): Finding | undefined {
  return all.find((f) => f.check === check && isAt(f.at, at));
}

/** A finding's value with the mark of what it rests on; a blank to write in where there is none. */
const valueCell = (model: Model, f: Finding | undefined, printed: (v: number) => string): Cell =>
  f ? { text: printed(f.value), basis: basisOfFinding(skeletonOf(model), f) } : BLANK;

function heights({ model }: Job, all: readonly Finding[]): Block[] {
  const { bays, book } = skeletonOf(model);
  const read = (key: string): Cell => sizeCell(model, book.find(key));
  const twist = (bay: Bay): Cell =>
    valueCell(model, findingOf(all, 'twist', { station: bay.station.id, way: 'heights' }), nose);
  const whole = findingOf(all, 'twist', { station: undefined, way: 'heights' });
  const { reference } = model.survey;
  return [
    heading('Heights over the bench'),
    words(
      `Touch the ${model.survey.touch === 'chord' ? 'chord line' : 'bottom of each spar'}. Rear high = nose down. Bench high is written +, bench low -. Twist = (front + bench) - (rear + bench) + what the drawing puts the rear higher, over web to web, less the drawing's washout${reference ? `, and less the twist of ${reference}` : ''}. ${whole ? sentenceWithBasis(skeletonOf(model), whole) : ''}`,
    ),
    table({
      rowHeight: PENCIL,
      columns: [
        { head: 'station' },
        { head: `front ${model.units}`, align: 'end', least: 14 },
        { head: `rear ${model.units}`, align: 'end', least: 14 },
        { head: 'bench front', align: 'end', least: 14 },
        { head: 'bench rear', align: 'end', least: 14 },
        { head: 'twist off the drawing', least: 20 },
        { head: 'after packing: front', least: 20 },
        { head: 'rear', least: 20 },
        { head: 'twist', least: 20 },
      ],
      rows: bays.map((bay): Cell[] => {
        const { id } = bay.station;
        return [
          id,
          read(`height.front@${id}`),
          read(`height.rear@${id}`),
          read(`bench.front@${id}`),
          read(`bench.rear@${id}`),
          twist(bay),
          BLANK,
          BLANK,
          BLANK,
        ];
      }),
    }),
  ];
}

function levels({ model }: Job, all: readonly Finding[]): Block[] {
  const { bays, book } = skeletonOf(model);
  const plumbed = twistsOf(skeletonOf(model), 'plumb').length > 0;
  return [
    heading('Level on the chord board'),
    words(
      'Read it, turn the level end for end, read again: the chord angle is half the difference of the two, the level’s own error half their sum. Nose up is +, nose down -.',
    ),
    table({
      rowHeight: PENCIL,
      columns: [
        { head: 'station' },
        { head: 'drawing washout', align: 'end' },
        { head: 'one way', least: 20 },
        { head: 'turned', least: 20 },
        { head: 'chord angle', align: 'end', least: 18 },
        { head: 'twist off the drawing', least: 20 },
        ...(plumbed ? [{ head: 'by plumb line' }] : []),
        { head: 'after packing: one way', least: 20 },
        { head: 'turned', least: 20 },
      ],
      rows: bays.map(({ station: { id, washout } }): Cell[] => {
        const read = book.find(`level@${id}`);
        const [level, plumb] = [
          findingOf(all, 'twist', { station: id, way: 'level' }),
          findingOf(all, 'twist', { station: id, way: 'plumb' }),
        ];
        return [
          id,
          degrees(washout),
          BLANK,
          BLANK,
          sizeCell(model, read, degrees),
          valueCell(model, level, nose),
          ...(plumbed ? [plumb ? valueCell(model, plumb, nose) : ''] : []),
          BLANK,
          BLANK,
        ];
      }),
    }),
  ];
}

function leans({ model }: Job, all: readonly Finding[]): Block[] {
  const { bays, book } = skeletonOf(model);
  return [
    heading('Lean and skew'),
    words(
      'Lean: top of the rib against its bottom, by a square on the bench; say over what height. Skew: rear end against front end in plan. “out” = outboard, “in” = inboard.',
    ),
    table({
      rowHeight: PENCIL,
      columns: [
        { head: 'rib' },
        { head: `lean of the top ${model.units}`, least: 24 },
        { head: `over ${model.units}`, align: 'end', least: 16 },
        { head: 'in 100 mm', align: 'end' },
        { head: `skew of the rear ${model.units}`, least: 24 },
        { head: 'after squaring: lean', least: 24 },
        { head: 'skew', least: 24 },
      ],
      rows: bays.flatMap((bay): Cell[][] => {
        const rib = bay.main ?? bay.tip;
        if (!rib) return [];
        const { id } = bay.station;
        const way = (v: number): string =>
          figure(model, v) === figure(model, 0)
            ? figure(model, 0)
            : `${figure(model, Math.abs(v))} ${v < 0 ? 'in' : 'out'}`;
        const size = (v: number): string => figure(model, Math.abs(v));
        const [lean, skew] = [book.find(`lean@${id}`), book.find(`skew@${id}`)];
        const found = findingOf(all, 'lean', { part: rib.id });
        const over = book.readingsOf(`lean@${id}`).at(-1)?.over ?? bay.main?.front.height ?? bay.tip?.rear.height;
        return [
          [
            rib.id,
            sizeCell(model, lean, way),
            lean && over ? figure(model, over) : BLANK,
            found ? valueCell(model, found, size) : '',
            sizeCell(model, skew, way),
            BLANK,
            BLANK,
          ],
        ];
      }),
    }),
  ];
}

function diagonals({ model }: Job, all: readonly Finding[]): Block[] {
  const { bays, book } = skeletonOf(model);
  if (!model.spars.rear || bays.length < 2) return [];
  return [
    heading('Bay diagonals'),
    words(
      'From the front web at one station to the rear web at the next, on the same feature. A tapered bay’s diagonals differ when it is square: each is held against its own drawing length.',
    ),
    table({
      rowHeight: PENCIL,
      columns: [
        { head: 'front to rear' },
        { head: `drawing ${model.units}`, align: 'end' },
        { head: `read ${model.units}`, align: 'end', least: 20 },
        { head: 'off', align: 'end', least: 14 },
        { head: 'front to rear' },
        { head: `drawing ${model.units}`, align: 'end' },
        { head: `read ${model.units}`, align: 'end', least: 20 },
        { head: 'off', align: 'end', least: 14 },
        { head: 'apart', align: 'end', least: 14 },
        { head: 'after, apart', least: 18 },
      ],
      rows: neighbours(bays).map(([a, b]): Cell[] => {
        const [p, q] = [a.station.id, b.station.id];
        const drawn = nominalDiagonals(
          b.station.y - a.station.y,
          book.nominal(`webs@${p}`) ?? 0,
          book.nominal(`webs@${q}`) ?? 0,
        );
        const side = (key: string, nominal: number): Cell[] => {
          const read = book.find(key);
          const off = (v: number): string => signedFigure(model, v - nominal);
          return [figure(model, nominal), sizeCell(model, read), sizeCell(model, read, off)];
        };
        const f = findingOf(all, 'diagonals', { from: p, to: q });
        return [
          `${p} to ${q}`,
          ...side(`diagonal@${p}-${q}`, drawn.ab),
          `${q} to ${p}`,
          ...side(`diagonal@${q}-${p}`, drawn.ba),
          valueCell(model, f, (v) => figure(model, Math.abs(v))),
          BLANK,
        ];
      }),
    }),
    ...all
      .filter((f) => f.check === 'diagonals' && f.verdict !== 'fits')
      .map((f) => words(sentenceWithBasis(skeletonOf(model), f))),
  ];
}

/** What is not right, worst of each kind first, with the places that share it. */
function wrong({ model }: Job, all: readonly Finding[]): Block[] {
  const asked = new Set<Finding['check']>([
    'twist',
    'twist-step',
    'bow',
    'lean',
    'skew',
    'temperature',
    'disagreement',
  ]);
  const told = notRight(
    skeletonOf(model),
    all.filter((f) => asked.has(f.check)),
  );
  return told.length > 0 ? [heading('What is not right'), ...told] : [];
}

export function survey(job: Job): Sheet {
  const all = checkAll(job.model);
  return flowed(job, FORM, [
    ...heights(job, all),
    ...levels(job, all),
    ...leans(job, all),
    ...diagonals(job, all),
    ...wrong(job, all),
  ]);
}
