import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Finding } from '../../checks/finding.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { sceneOf } from '../../scene/scene.ts';
import { useApp } from '../state/store.ts';
import { laidOut } from '../view3d/labels/layout.ts';
import { MarkShape } from '../widgets/Mark.tsx';

/** Room for the mark and the edges of a label, and a letter at 14 px, near enough to keep labels off one another. */
const ROUND = 34;
const LETTER = 7.6;
/** What is measured to know how wide letters are: never a label itself, which comes and goes with the room there is. */
const PROBE = 'M6nsedwn0.50mhua';
const TALL = 26;

interface Props {
  readonly skeleton: Skeleton;
  readonly findings: readonly Finding[];
  /** Along the span and aft, from millimetres to the drawing. */
  readonly X: (y: number) => number;
  readonly Y: (x: number) => number;
  readonly field: { readonly width: number; readonly height: number };
  /** Under the rear spar's marks; what the drawing is stands under that. */
  readonly low: number;
}

/** What is off, written beside the plan as on the bench in 3D: the same labels, each pointing at its place from above. */
export function PlanLabels({ skeleton, findings, X, Y, field, low }: Props) {
  const question = useApp((s) => s.question);
  const station = useApp((s) => s.station);
  const finding = useApp((s) => s.finding);
  const ahead = useApp((s) => s.ahead);
  const magnify = useApp((s) => s.magnify);
  const choose = useApp((s) => s.choose);
  const { labels } = useMemo(
    () =>
      sceneOf(skeleton, findings, {
        magnify,
        question,
        station,
        stage: ahead,
        ...(finding === null ? {} : { finding }),
      }),
    [skeleton, findings, magnify, question, station, ahead, finding],
  );
  // Letters spaced wider by whoever reads take more room.
  const [wide, setWide] = useState(1);
  const probe = useRef<SVGTextElement>(null);
  useLayoutEffect(() => {
    const now = Math.max(1, (probe.current?.getComputedTextLength() ?? 0) / (LETTER * PROBE.length));
    if (Math.abs(now - wide) > 0.03) setWide(now);
  });
  const wanted = labels.map((l) => ({
    id: l.id,
    x: X(l.anchor[1]),
    y: Y(l.anchor[0]),
    width: ROUND + LETTER * wide * l.text.length,
    height: TALL,
  }));
  const edge = skeleton.bays.flatMap(({ station: { y, nose } }): [number, number][] => [
    [X(y), Y(-nose) - 4],
    [X(y), low],
  ]);
  const hull = [...edge.filter((_, i) => i % 2 === 0), ...edge.filter((_, i) => i % 2 === 1).reverse()];
  const laid = new Map(
    laidOut(wanted, {
      ...field,
      hull,
      taken: [
        { left: 0, top: 0, width: field.width, height: 44 },
        { left: 10, top: low + 12, width: 270, height: 18 },
      ],
    }).map((p) => [p.id, p]),
  );
  return (
    <g aria-hidden="true" className="plan-label">
      <text ref={probe} x="0" y="20" visibility="hidden">
        {PROBE}
      </text>
      {labels.map((l, i) => {
        const [at, w] = [laid.get(l.id), wanted[i]!];
        if (!at) return null;
        return (
          <g
            key={l.id}
            className={`plan-label ${l.verdict ?? ''}${l.findingId !== null && l.findingId === finding ? ' chosen' : ''}`}
            onClick={() => choose(l.station, l.findingId)}
          >
            <line x1={at.fromX} y1={at.fromY} x2={w.x} y2={w.y} />
            <circle cx={w.x} cy={w.y} r="3" />
            <rect x={at.left} y={at.top} width={w.width} height={TALL} rx="2" />
            {l.verdict && (
              <g transform={`translate(${at.left + 6} ${at.top + 6})`}>
                <MarkShape verdict={l.verdict} />
              </g>
            )}
            <text x={at.left + (l.verdict ? 26 : 8)} y={at.top + 18}>
              {l.text}
            </text>
          </g>
        );
      })}
    </g>
  );
}
