import { lazy, Suspense, useMemo, useRef } from 'react';
import { type Finding, severity } from '../../checks/finding.ts';
import { fromNominal, nosesOf } from '../../checks/fit/noseLine.ts';
import { checksOf } from '../../checks/questions.ts';
import { alongAt } from '../../model/along.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { stancesOf } from '../../parts/placed/stance.ts';
import { planInWords } from '../../scene/inWords.ts';
import { awaited } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { useShownFindings, useShownModel } from '../state/trying.ts';
import { InWords } from '../widgets/InWords.tsx';
import { MarkShape, verdictWord } from '../widgets/Mark.tsx';
import { useSize } from '../widgets/useSize.ts';

const PlanLabels = lazy(() => awaited(import('./PlanLabels.tsx').then((m) => ({ default: m.PlanLabels }))));

type At = readonly [y: number, x: number];

/**
 * The skeleton from above in plain lines, every deviation enlarged as on the bench: first thing on screen, and with what is
 * off written beside it (`said`) all there is where the browser cannot draw in 3D.
 */
export function Plan({ said = false }: { said?: boolean }) {
  const model = useShownModel();
  const question = useApp((s) => s.question);
  const chosen = useApp((s) => s.station);
  const magnify = useApp((s) => s.magnify);
  const choose = useApp((s) => s.choose);
  const findings = useShownFindings();
  const box = useRef<HTMLDivElement>(null);
  const { width, height } = useSize(box);
  const skeleton = skeletonOf(model);
  const { bays } = skeleton;
  const stances = useMemo(() => stancesOf(skeleton, magnify), [skeleton, magnify]);
  const noses = useMemo(
    (): At[] =>
      nosesOf(skeleton, 'straight').map((n) => [n.bay.station.y, -n.bay.station.nose - magnify * fromNominal(n)]),
    [skeleton, magnify],
  );
  const [y0, y1] = [bays[0]!.station.y, bays[bays.length - 1]!.station.y];
  const s = (width - 80) / Math.max(1, y1 - y0);
  const nose = Math.max(...bays.map((b) => b.station.nose), ...noses.map(([, x]) => -x));
  const web = Math.max(...stances.map((t) => t.rear));
  const above = Math.max(40, (height - (nose + web) * s - 50) / 2);
  const X = (y: number): number => 40 + (y - y0) * s;
  const Y = (x: number): number => above + (x + nose) * s;
  const asked = findings.filter((f) => checksOf(question).includes(f.check));
  const worst = (id: string): Finding | undefined =>
    asked
      .filter((f) => f.station === id)
      .reduce<Finding | undefined>((a, f) => (a && severity(a.verdict) >= severity(f.verdict) ? a : f), undefined);
  const line = (points: readonly At[]): string =>
    points.map(([y, x], i) => `${i ? 'L' : 'M'}${X(y).toFixed(1)} ${Y(x).toFixed(1)}`).join('');
  const noseAt = new Map(noses.map(([y, x]) => [y, x]));
  return (
    <div ref={box} className="plan">
      <svg
        width={width}
        height={Math.max(height, Y(web) + 68)}
        role="img"
        aria-label="The skeleton from above; said in words after it"
      >
        {said && (
          <text x="16" y={Y(web) + 58} className="tiny">
            from above, nose up; deviations ×{magnify}
          </text>
        )}
        <path d={line(bays.map((b) => [b.station.y, -b.station.nose]))} className="drawn-line" />
        <path d={line(bays.map((b) => [b.station.y, 0]))} className="drawn-line" />
        <path d={line(noses)} className="nose-edge" />
        <path d={line(stances.map((t) => [t.bay.station.y, t.front]))} className="spar-line" />
        {model.spars.rear && (
          <path d={line(bays.map((b) => [b.station.y, alongAt(model.webToWeb, b.station.y)]))} className="drawn-line" />
        )}
        {model.spars.rear && <path d={line(stances.map((t) => [t.bay.station.y, t.rear]))} className="spar-line" />}
        {stances.map(
          ({
            bay: {
              station: { id, y, nose: drawn },
            },
            rear,
          }) => {
            const f = worst(id);
            return (
              <g key={id} className={id === chosen ? 'column chosen' : 'column'} onClick={() => choose(id)}>
                <line x1={X(y)} x2={X(y)} y1={Y(noseAt.get(y) ?? -drawn)} y2={Y(rear)} className="rib-line" />
                <text x={X(y)} y={Y(web) + 20} textAnchor="middle">
                  {id}
                </text>
                {f && (
                  <g className={f.verdict} transform={`translate(${X(y) - 7} ${Y(web) + 26})`}>
                    <title>{verdictWord(f.verdict)}</title>
                    <MarkShape verdict={f.verdict} />
                  </g>
                )}
              </g>
            );
          },
        )}
        {said && (
          <Suspense fallback={null}>
            <PlanLabels
              skeleton={skeleton}
              findings={findings}
              X={X}
              Y={Y}
              field={{ width, height: Math.max(height, Y(web) + 68) }}
              low={Y(web) + 34}
            />
          </Suspense>
        )}
      </svg>
      <InWords lines={planInWords(skeleton, asked)} />
    </div>
  );
}
