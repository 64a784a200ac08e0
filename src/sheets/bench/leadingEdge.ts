import { best } from '../../chains/chain.ts';
import { isAt } from '../../checks/at.ts';
import { checkAll } from '../../checks/checkAll.ts';
import type { Finding } from '../../checks/finding.ts';
import { atNose, fromNominal, type Nose, nosesOf } from '../../checks/fit/noseLine.ts';
import { groupsOf } from '../../checks/questions.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { figure, signedFigure } from '../paper/figures.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Box, Ink, Sheet } from '../paper/page.ts';
import { line } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { LEAST_SIZE, leadOf, riseOf, textWidth } from '../paper/type.ts';

/*
 * G. The leading edge survey: how far each nose stands forward of the front web, what the string says, and how it kinks
 * against its neighbours, with the line drawn enlarged.
 */

const FORM: Form = { id: 'leading-edge', title: 'Leading edge survey' };
const BLANK: Cell = { blank: true };

/** How many times life size departures are drawn: 20, or less where they would not go on the page. */
const TIMES = [20, 10, 5, 2, 1] as const;
const MOST_HEIGHT = 78;

const WORD = { fits: 'fits', watch: 'WATCH', act: 'ACT', unsettled: 'UNSETTLED' } as const;

/** The nose line from above, departures from the drawing enlarged, forward up; the ends joined by a chain line. */
function linePicture(job: Job, noses: readonly Nose[], findings: readonly Finding[]): Block[] {
  if (noses.length < 2) return [];
  const values = noses.map(fromNominal);
  const [low, high] = [Math.min(0, ...values), Math.max(0, ...values)];
  const times = TIMES.find((t) => (high - low) * t <= MOST_HEIGHT) ?? MOST_HEIGHT / (high - low);
  const tall = (high - low) * times;
  const [first, last] = [noses[0]!.bay.station.y, noses.at(-1)!.bay.station.y];
  const step = [0.1, 0.2, 0.5, 1, 2, 5, 10, 20].find((s) => s * times >= 5) ?? 50;
  const kinked = (n: Nose): Finding | undefined =>
    findings.find((f) => f.check === 'nose-kink' && isAt(f.at, atNose(n)));
  return [
    words(
      `Departures from the drawing drawn ${Number.isInteger(times) ? times : times.toFixed(2)} times their size, forward is up; the span is not to that scale. Solid: the line a skin would have to follow. Chain line: straight through both ends. A filled point kinks, or may; an open one fits, or only echoes a neighbour.`,
    ),
    picture(tall + 27, (box: Box): Ink[] => {
      const left = box.x + 17;
      const right = box.x + box.width - 8;
      const X = (y: number): number => left + 4 + ((y - first) / (last - first)) * (right - left - 8);
      const Y = (v: number): number => box.y + 8 + (high - v) * times;
      const marks = Array.from(
        { length: Math.floor(high / step) + Math.floor(-low / step) + 1 },
        (_, i) => (i - Math.floor(-low / step)) * step,
      );
      const points = noses.map((n, i): readonly [number, number] => [X(n.bay.station.y), Y(values[i]!)]);
      const ink: Ink[] = [
        ...marks.flatMap((m): Ink[] => [
          line(
            [
              [left, Y(m)],
              [right, Y(m)],
            ],
            m === 0 ? 'outline' : 'hidden',
          ),
          {
            kind: 'text',
            x: left - 1.2,
            y: Y(m) + 1.25,
            text: m === 0 ? '0' : signedFigure(job.model, m),
            size: LEAST_SIZE,
            align: 'end',
          },
        ]),
        line([points[0]!, points.at(-1)!], 'centre'),
        line(points, 'heavy'),
      ];
      let clear = Number.NEGATIVE_INFINITY;
      noses.forEach((n, i) => {
        const [x, y] = points[i]!;
        const f = kinked(n);
        ink.push({
          kind: 'circle',
          x,
          y,
          r: 1.3,
          stroke: 'outline',
          fill: f && !f.echoOf && f.verdict !== 'fits' ? 'ink' : 'paper',
        });
        const value = signedFigure(job.model, values[i]!);
        const half = Math.max(textWidth(n.mark, { bold: true }), textWidth(value)) / 2;
        if (x - half < clear + 1) return;
        clear = x + half;
        ink.push(
          {
            kind: 'text',
            x,
            y: box.y + 8 + tall + 8 + riseOf(),
            text: n.mark,
            size: LEAST_SIZE,
            bold: true,
            align: 'middle',
          },
          {
            kind: 'text',
            x,
            y: box.y + 8 + tall + 8 + leadOf() + riseOf(),
            text: value,
            size: LEAST_SIZE,
            align: 'middle',
          },
        );
      });
      return ink;
    }),
  ];
}

export function leadingEdge(job: Job): Sheet {
  const { model } = job;
  const skeleton = skeletonOf(model);
  const noses = nosesOf(skeleton, 'straight');
  const findings = checkAll(model);
  if (noses.length === 0) return flowed(job, FORM, [words('No nose stands on this panel.')]);
  const of = (check: Finding['check'], n: Nose): Finding | undefined =>
    findings.find((f) => f.check === check && isAt(f.at, atNose(n)));
  const off = (f: Finding | undefined): Cell => (f ? signedFigure(model, f.value) : '');
  const said = groupsOf(
    findings.filter(
      (f) => (f.check === 'nose-kink' || f.check === 'nose-line' || f.check === 'forced-fit') && !f.echoOf,
    ),
  );
  return flowed(job, FORM, [
    words(
      `Protrusion: from the front web’s forward face to the nose, spars held straight. + is forward (proud), - is back (short). Kink: against the straight line through both neighbours; a skin follows a straight line even if it is skewed, it cannot follow a kink.`,
    ),
    ...linePicture(job, noses, findings),
    heading(`Every nose, ${model.units === 'mm' ? 'mm' : 'inches'}`),
    table({
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
      rows: noses.map((n): Cell[] => {
        const { id, nose } = n.bay.station;
        const string = skeleton.book.find(`nose@${id}`);
        const kink = of('nose-kink', n);
        const verdict =
          kink === undefined
            ? 'an end'
            : kink.echoOf
              ? `echo of ${noses.find((m) => m.bay.station.id === kink.echoOf)?.mark ?? kink.echoOf}`
              : WORD[kink.verdict];
        return [
          id,
          n.mark,
          figure(model, nose),
          figure(model, best(n.protrusion)),
          signedFigure(model, fromNominal(n)),
          string ? figure(model, string.best) : BLANK,
          off(of('nose-line', n)),
          off(kink),
          { text: verdict, bold: kink !== undefined && !kink.echoOf && kink.verdict !== 'fits' },
          BLANK,
        ];
      }),
    }),
    ...(said.length > 0
      ? [
          heading('What is not right'),
          ...said.map((g) =>
            words(
              `${g.worst.sentence}${
                g.all.length > 1
                  ? ` Also: ${g.all
                      .slice(1)
                      .map((f) => f.place)
                      .join(', ')}.`
                  : ''
              }`,
            ),
          ),
        ]
      : [words('No nose kinks.')]),
  ]);
}
