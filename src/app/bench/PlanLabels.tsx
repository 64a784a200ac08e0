import { useLayoutEffect, useMemo, useRef, useState } from 'react';
import type { Finding } from '../../checks/finding.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { sceneOf } from '../../scene/scene.ts';
import type { Scene } from '../../scene/shown.ts';
import { useApp } from '../state/store.ts';
import { type Field, type Laid, laidOut, type Wanted } from '../view3d/labels/layout.ts';
import { MarkShape } from '../widgets/Mark.tsx';
import { Tap } from '../widgets/Tap.tsx';
import type { Scale } from './planScale.ts';

type Label = Scene['labels'][number];

/** Room for the mark and the edges of a label, and a letter at 14 px, near enough to keep labels off one another. */
const ROUND = 34;
const LETTER = 7.6;
/** What is measured to know how wide letters are: never a label itself, which comes and goes with the room there is. */
const PROBE = 'M6nsedwn0.50mhua';
const TALL = 26;
/** Under the rear spar's names and marks; what the drawing is stands under that. */
const UNDER = 34;

interface Props {
  readonly skeleton: Skeleton;
  readonly findings: readonly Finding[];
  readonly scale: Scale;
  readonly field: { readonly width: number; readonly height: number };
}

/** The labels of the bench as it is shown now. */
function useLabels(skeleton: Skeleton, findings: readonly Finding[]): readonly Label[] {
  const question = useApp((s) => s.question);
  const station = useApp((s) => s.station);
  const finding = useApp((s) => s.finding);
  const stage = useApp((s) => s.ahead);
  const magnify = useApp((s) => s.magnify);
  return useMemo(() => {
    const open = finding === null ? {} : { finding };
    return sceneOf(skeleton, findings, { magnify, question, station, stage, ...open }).labels;
  }, [skeleton, findings, magnify, question, station, stage, finding]);
}

/** How much wider than usual letters are spaced by whoever reads, measured on a text that is never seen. */
function useLetterWidth() {
  const [wide, setWide] = useState(1);
  const probe = useRef<SVGTextElement>(null);
  useLayoutEffect(() => {
    const now = Math.max(1, (probe.current?.getComputedTextLength() ?? 0) / (LETTER * PROBE.length));
    if (Math.abs(now - wide) > 0.03) setWide(now);
  });
  return { wide, probe };
}

/** Where labels may go: off the skeleton where there is room, and off what else is written. */
function fieldOf({ skeleton, scale, field }: Props): Field {
  const low = scale.rear + UNDER;
  const { toX, toY } = scale;
  const noses = skeleton.bays.map(({ station: { y, nose } }) => [toX(y), toY(-nose) - 4] as const);
  const tails = skeleton.bays.map(({ station: { y } }) => [toX(y), low] as const);
  return {
    ...field,
    hull: [...noses, ...tails.reverse()],
    taken: [
      { left: 0, top: 0, width: field.width, height: 44 },
      { left: 10, top: low + 12, width: 270, height: 18 },
    ],
  };
}

function PlanLabel({ label: l, at, to }: { label: Label; at: Laid; to: Wanted }) {
  const finding = useApp((s) => s.finding);
  const choose = useApp((s) => s.choose);
  const chosen = l.findingId !== null && l.findingId === finding ? ' chosen' : '';
  return (
    <Tap className={`plan-label ${l.verdict ?? ''}${chosen}`} onTap={() => choose(l.station, l.findingId)}>
      <line x1={at.fromX} y1={at.fromY} x2={to.x} y2={to.y} />
      <circle cx={to.x} cy={to.y} r="3" />
      <rect x={at.left} y={at.top} width={to.width} height={TALL} rx="2" />
      {l.verdict && (
        <g transform={`translate(${at.left + 6} ${at.top + 6})`}>
          <MarkShape verdict={l.verdict} basis={l.basis ?? 'measured'} />
        </g>
      )}
      <text x={at.left + (l.verdict ? 26 : 8)} y={at.top + 18}>
        {l.text}
      </text>
    </Tap>
  );
}

/**
 * What is off, written beside the plan as on the bench in 3D: the same labels, each pointing at its place from above.
 */
export function PlanLabels(props: Props) {
  const { skeleton, findings, scale } = props;
  const labels = useLabels(skeleton, findings);
  const { wide, probe } = useLetterWidth();
  const wanted = labels.map((label) => ({
    label,
    id: label.id,
    x: scale.toX(label.anchor[1]),
    y: scale.toY(label.anchor[0]),
    width: ROUND + LETTER * wide * label.text.length,
    height: TALL,
  }));
  const laid = new Map(laidOut(wanted, fieldOf(props)).map((p) => [p.id, p]));
  return (
    <g className="plan-label">
      <text ref={probe} x="0" y="20" visibility="hidden">
        {PROBE}
      </text>
      {wanted.map((w) => {
        const at = laid.get(w.id);
        return at && <PlanLabel key={w.id} label={w.label} at={at} to={w} />;
      })}
    </g>
  );
}
