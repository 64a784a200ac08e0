import { lazy, Suspense, useMemo, useRef } from 'react';
import type { BasisWord } from '../../checks/basis.ts';
import type { Finding, Verdict } from '../../checks/finding.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { checksOf } from '../../checks/questions.ts';
import { alongAt } from '../../model/along.ts';
import type { Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Stance, stancesOf } from '../../parts/placed/stance.ts';
import { planInWords } from '../../scene/inWords.ts';
import { markWords, shownBasis } from '../../scene/marks.ts';
import { awaited } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { useShownFindings, useShownModel } from '../state/trying.ts';
import { pathThrough } from '../widgets/alongSpan.ts';
import { InWords } from '../widgets/InWords.tsx';
import { MarkShape } from '../widgets/Mark.tsx';
import { Tap } from '../widgets/Tap.tsx';
import { useSize } from '../widgets/useSize.ts';
import { worst } from '../widgets/worst.ts';
import { type At, type Lines, type Scale, scaleOf, UNDER } from './planScale.ts';
import './plan.css';

const PlanLabels = lazy(() => awaited(import('./PlanLabels.tsx').then((m) => ({ default: m.PlanLabels }))));

function useLines(skeleton: Skeleton, magnify: number): Lines {
  return useMemo(() => {
    const noses = nosesOf(skeleton, 'straight').map((n): At => {
      const { y, nose } = n.bay.station;
      return [y, -nose - magnify * fromNominal(n)];
    });
    return { noses, stances: stancesOf(skeleton, magnify) };
  }, [skeleton, magnify]);
}

/** Spars and nose line, each beside the drawing's. */
function SparLines({ skeleton, lines, scale }: { skeleton: Skeleton; lines: Lines; scale: Scale }) {
  const { bays, model } = skeleton;
  const { noses, stances } = lines;
  const path = (points: readonly At[]): string => pathThrough(points.map(([y, x]) => [scale.toX(y), scale.toY(x)]));
  const drawn = (x: (y: number, nose: number) => number): string =>
    path(bays.map(({ station: { y, nose } }) => [y, x(y, nose)]));
  const spar = (x: (stance: Stance) => number): string => path(stances.map((t) => [t.bay.station.y, x(t)]));
  return (
    <>
      <path d={drawn((_, nose) => -nose)} className="drawn-line" />
      <path d={drawn(() => 0)} className="drawn-line" />
      <path d={path(noses)} className="nose-edge" />
      <path d={spar((t) => t.front)} className="spar-line" />
      {model.spars.rear && (
        <>
          <path d={drawn((y) => alongAt(model.webToWeb, y))} className="drawn-line" />
          <path d={spar((t) => t.rear)} className="spar-line" />
        </>
      )}
    </>
  );
}

interface ColumnProps {
  readonly stance: Stance;
  readonly nose: number;
  /** The worst there, and what it rests on. */
  readonly mark: { readonly verdict: Verdict; readonly basis: BasisWord } | undefined;
  readonly scale: Scale;
}

/** A station: its rib, its name under the rear spar, and the mark of the worst there. */
function Column({ stance, nose, mark, scale }: ColumnProps) {
  const chosen = useApp((s) => s.station);
  const choose = useApp((s) => s.choose);
  const { id, y } = stance.bay.station;
  const { toX, toY, rear } = scale;
  const x = toX(y);
  return (
    <Tap className={id === chosen ? 'column chosen' : 'column'} onTap={() => choose(id)}>
      <line x1={x} x2={x} y1={toY(nose)} y2={toY(stance.rear)} className="rib-line" />
      <text x={x} y={rear + 20} textAnchor="middle">
        {id}
      </text>
      {mark && (
        <g className={mark.verdict} transform={`translate(${x - 7} ${rear + 26})`}>
          <title>{markWords(mark.verdict, mark.basis)}</title>
          <MarkShape {...mark} />
        </g>
      )}
    </Tap>
  );
}

interface ColumnsProps {
  readonly skeleton: Skeleton;
  readonly lines: Lines;
  readonly asked: readonly Finding[];
  readonly scale: Scale;
}

function Columns({ skeleton, lines, asked, scale }: ColumnsProps) {
  const noseAt = new Map(lines.noses);
  const markAt = (id: string): ColumnProps['mark'] => {
    const f = worst(asked.filter((g) => g.station === id));
    return f && { verdict: f.verdict, basis: shownBasis(skeleton, f) };
  };
  return lines.stances.map((t) => {
    const { id, y, nose } = t.bay.station;
    return <Column key={id} stance={t} nose={noseAt.get(y) ?? -nose} scale={scale} mark={markAt(id)} />;
  });
}

/** With what is off written beside the plan, and what the plan is. */
function Said({
  skeleton,
  findings,
  scale,
  field,
}: {
  skeleton: Skeleton;
  findings: readonly Finding[];
  scale: Scale;
  field: { readonly width: number; readonly height: number };
}) {
  const magnify = useApp((s) => s.magnify);
  return (
    <>
      <text x="16" y={scale.rear + 58} className="tiny">
        from above, nose up; deviations ×{magnify}
      </text>
      <Suspense fallback={null}>
        <PlanLabels skeleton={skeleton} findings={findings} scale={scale} field={field} />
      </Suspense>
    </>
  );
}

/**
 * The skeleton from above in plain lines, every deviation enlarged as on the bench: first thing on screen, and with
 * what is off written beside it (`said`) all there is where the browser cannot draw in 3D.
 */
export function Plan({ said = false }: { said?: boolean }) {
  const model = useShownModel();
  const question = useApp((s) => s.question);
  const magnify = useApp((s) => s.magnify);
  const findings = useShownFindings();
  const box = useRef<HTMLDivElement>(null);
  const size = useSize(box);
  const skeleton = skeletonOf(model);
  const lines = useLines(skeleton, magnify);
  const scale = scaleOf(skeleton, lines, size.width, size.height);
  const asked = findings.filter((f) => checksOf(question).includes(f.check));
  const field = { width: size.width, height: Math.max(size.height, scale.rear + UNDER) };
  return (
    <div ref={box} className="plan">
      <svg {...field} role="img" aria-label="The skeleton from above; said in words after it">
        <SparLines skeleton={skeleton} lines={lines} scale={scale} />
        <Columns skeleton={skeleton} lines={lines} asked={asked} scale={scale} />
        {said && <Said skeleton={skeleton} findings={findings} scale={scale} field={field} />}
      </svg>
      <InWords lines={planInWords(skeleton, asked)} />
    </div>
  );
}
