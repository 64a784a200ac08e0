import { best } from '../../chains/chain.ts';
import { isAt } from '../../checks/at.ts';
import { basisOfFinding, basisOfSizes } from '../../checks/basis.ts';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { atNose, fromNominal, type Nose, nosesOf } from '../../checks/fit/noseLine.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { spanOf } from '../../parts/layout/span.ts';
import { figure, signedFigure, sizeCell } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line, segment } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { textAt } from '../paper/text.ts';
import { leadOf, riseOf, textWidth } from '../paper/type.ts';
import { notRight } from './notRight.ts';

/*
 * G. The leading edge survey: how far each nose stands forward of the front web, what the string says, and how it kinks
 * against its neighbours, with the line drawn enlarged.
 */

const FORM: Form = { id: 'leading-edge', title: 'Leading edge survey', marks: true };
const BLANK: Cell = { blank: true };

/** How many times life size departures are drawn: 20, or less where they would not go on the page. */
const TIMES = [20, 10, 5, 2, 1] as const;
const MOST_HEIGHT = 78;
/** Departures that may have a line of their own, mm. */
const STEPS = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20] as const;

const WORD = { fits: 'fits', watch: 'WATCH', act: 'ACT', unsettled: 'UNSETTLED' } as const;

/** Where departures of the nose line come on the page. */
interface Plan {
  readonly box: Box;
  readonly left: number;
  readonly right: number;
  /** How tall the drawn departures are, mm of page. */
  readonly tall: number;
  /** From a place along the span, mm. */
  across(y: number): number;
  /** From a departure, mm, forward positive. */
  down(v: number): number;
}

/** Lines of equal departure with their figures; that of the drawing is solid. */
function scaleInk(job: Job, plan: Plan, [low, high]: readonly [number, number], times: number): Ink[] {
  const step = STEPS.find((s) => s * times >= 5) ?? 50;
  const under = Math.floor(-low / step);
  const over = Math.floor(high / step);
  const marks = Array.from({ length: over + under + 1 }, (_, i) => (i - under) * step);
  return marks.flatMap((m) => {
    const y = plan.down(m);
    const text = m === 0 ? '0' : signedFigure(job.model, m);
    return [
      segment([plan.left, y], [plan.right, y], m === 0 ? 'outline' : 'hidden'),
      textAt(text, [plan.left - 1.2, y + 1.25], { align: 'end' }),
    ];
  });
}

/** A point for each nose, and under it its name and departure where they do not run into the ones before. */
function pointsInk(job: Job, plan: Plan, noses: readonly Nose[], findings: readonly Finding[]): Ink[] {
  let clear = Number.NEGATIVE_INFINITY;
  const under = plan.box.y + 8 + plan.tall + 8 + riseOf();
  return noses.flatMap((n): Ink[] => {
    const v = fromNominal(n);
    const x = plan.across(n.bay.station.y);
    const kink = findings.find((f) => f.check === 'nose-kink' && isAt(f.at, atNose(n)));
    const kinks = kink !== undefined && !kink.echoOf && kink.verdict !== 'fits';
    const point: Ink = { kind: 'circle', x, y: plan.down(v), r: 1.3, stroke: 'outline', fill: kinks ? 'ink' : 'paper' };
    const value = signedFigure(job.model, v);
    const half = Math.max(textWidth(n.mark, { bold: true }), textWidth(value)) / 2;
    if (x - half < clear + 1) return [point];
    clear = x + half;
    return [
      point,
      textAt(n.mark, [x, under], { bold: true, align: 'middle' }),
      textAt(value, [x, under + leadOf()], { align: 'middle' }),
    ];
  });
}

/** The nose line from above, departures from the drawing enlarged, forward up; the ends joined by a chain line. */
function linePicture(job: Job, noses: readonly Nose[], findings: readonly Finding[]): Block[] {
  const { first, last } = spanOf(noses.map((n) => n.bay));
  if (noses.length < 2) return [];
  const values = noses.map(fromNominal);
  const [low, high] = [Math.min(0, ...values), Math.max(0, ...values)];
  const times = TIMES.find((t) => (high - low) * t <= MOST_HEIGHT) ?? MOST_HEIGHT / (high - low);
  const tall = (high - low) * times;
  const draw = (box: Box): Ink[] => {
    const left = box.x + 17;
    const right = box.x + box.width - 8;
    const plan: Plan = {
      box,
      left,
      right,
      tall,
      across: (y) => left + 4 + ((y - first) / (last - first)) * (right - left - 8),
      down: (v) => box.y + 8 + (high - v) * times,
    };
    const points = noses.map((n) => [plan.across(n.bay.station.y), plan.down(fromNominal(n))] as const);
    const ends = [points[0], points.at(-1)].filter((p) => p !== undefined);
    return [
      ...scaleInk(job, plan, [low, high], times),
      line(ends, 'centre'),
      line(points, 'heavy'),
      ...pointsInk(job, plan, noses, findings),
    ];
  };
  return [
    words(
      `Departures from the drawing drawn ${Number.isInteger(times) ? times : times.toFixed(2)} times their size, forward is up; the span is not to that scale. Solid: the line a skin would have to follow. Chain line: straight through both ends. A filled point kinks, or may; an open one fits, or only echoes a neighbour.`,
    ),
    picture(tall + 27, draw),
  ];
}

/** What is said of a nose's kink: an end has none, an echo names the nose that is really off. */
function kinkText(kink: Finding | undefined, noses: readonly Nose[]): string {
  if (!kink) return 'an end';
  if (!kink.echoOf) return WORD[kink.verdict];
  return `echo of ${noses.find((n) => n.bay.station.id === kink.echoOf)?.mark ?? kink.echoOf}`;
}

/** Every nose with what its parts, the string and its neighbours say. */
function nosesTable(job: Job, noses: readonly Nose[], findings: readonly Finding[]): Block {
  const { model } = job;
  const skeleton = skeletonOf(model);
  const { book } = skeleton;
  const of = (check: Finding['check'], n: Nose): Finding | undefined =>
    findings.find((f) => f.check === check && isAt(f.at, atNose(n)));
  const off = (f: Finding | undefined): Cell =>
    f ? { text: signedFigure(model, f.value), basis: basisOfFinding(skeleton, f) } : '';
  const row = (n: Nose): Cell[] => {
    const { id, nose } = n.bay.station;
    const string = book.find(`nose@${id}`);
    const basis = basisOfSizes(n.protrusion.map((t) => t.size));
    const kink = of('nose-kink', n);
    return [
      id,
      n.mark,
      figure(model, nose),
      { text: figure(model, best(n.protrusion)), basis },
      { text: signedFigure(model, fromNominal(n)), basis },
      sizeCell(model, string),
      off(of('nose-line', n)),
      off(kink),
      { text: kinkText(kink, noses), bold: kink !== undefined && !kink.echoOf && kink.verdict !== 'fits' },
      BLANK,
    ];
  };
  return table({
    rowHeight: 7.5,
    columns: [
      { head: 'station' },
      { head: 'nose' },
      { head: 'drawing', align: 'end' },
      { head: 'stands at', align: 'end' },
      { head: 'off the drawing', align: 'end' },
      { head: 'string reading', align: 'end', least: 22 },
      { head: 'off the line of the ends', align: 'end' },
      { head: 'kink', align: 'end' },
      { head: 'kink is' },
      { head: 'after', least: 22 },
    ],
    rows: noses.map(row),
  });
}

/** Checks that ask how the nose line runs. */
const ASKED: ReadonlySet<Finding['check']> = new Set<Finding['check']>(['nose-kink', 'nose-line', 'forced-fit']);

export function leadingEdge(job: Job): Sheet {
  const { model } = job;
  const noses = nosesOf(skeletonOf(model), 'straight');
  const findings = checkAll(model);
  if (noses.length === 0) return flowed(job, FORM, [words('No nose stands on this panel.')]);
  const said = notRight(
    skeletonOf(model),
    findings.filter((f) => ASKED.has(f.check) && !f.echoOf),
  );
  return flowed(job, FORM, [
    words(
      `Protrusion: from the front web’s forward face to the nose, spars held straight. + is forward (proud), - is back (short). Kink: against the straight line through both neighbours; a skin follows a straight line even if it is skewed, it cannot follow a kink.`,
    ),
    ...linePicture(job, noses, findings),
    heading(`Every nose, ${model.units === 'mm' ? 'mm' : 'inches'}`),
    nosesTable(job, noses, findings),
    ...(said.length > 0 ? [heading('What is not right'), ...said] : [words('No nose kinks.')]),
  ]);
}
