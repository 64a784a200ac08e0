import { useRef } from 'react';
import { checksOf } from '../../checks/answer.ts';
import { severity, type Finding } from '../../checks/finding.ts';
import { alongAt } from '../../model/along.ts';
import { skeletonOf } from '../../parts/skeleton.ts';
import { useApp } from '../store.ts';
import { useShownFindings, useShownModel } from '../trying.ts';
import { planInWords } from '../../scene/inWords.ts';
import { InWords } from './InWords.tsx';
import { MarkShape, verdictWord } from './Mark.tsx';
import { useWidth } from './useWidth.ts';

/** The skeleton from above in plain lines: first thing on screen, and all there is where the browser cannot draw in 3D. */
export function Plan() {
  const model = useShownModel();
  const question = useApp((s) => s.question);
  const chosen = useApp((s) => s.station);
  const choose = useApp((s) => s.choose);
  const findings = useShownFindings();
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const skeleton = skeletonOf(model);
  const { bays } = skeleton;
  const [y0, y1] = [bays[0]!.station.y, bays[bays.length - 1]!.station.y];
  const s = (width - 80) / Math.max(1, y1 - y0);
  const nose = Math.max(...bays.map((b) => b.station.nose));
  const web = Math.max(...bays.map((b) => alongAt(model.webToWeb, b.station.y)));
  const X = (y: number): number => 40 + (y - y0) * s;
  const Y = (x: number): number => 40 + (x + nose) * s;
  const asked = findings.filter((f) => checksOf(question).includes(f.check));
  const worst = (id: string): Finding | undefined => asked.filter((f) => f.station === id).reduce<Finding | undefined>((a, f) => (a && severity(a.verdict) >= severity(f.verdict) ? a : f), undefined);
  const line = (of: (y: number) => number): string => bays.map((b, i) => `${i ? 'L' : 'M'}${X(b.station.y)} ${Y(of(b.station.y))}`).join('');
  return (
    <div ref={box} className="plan">
      <svg width={width} height={Y(web) + 50} role="img" aria-label="The skeleton from above; said in words after it">
        <path d={line(() => 0)} className="spar-line" />
        {model.spars.rear && <path d={line((y) => alongAt(model.webToWeb, y))} className="spar-line" />}
        {bays.map((b) => {
          const f = worst(b.station.id);
          return (
            <g key={b.station.id} className={b.station.id === chosen ? 'column chosen' : 'column'} onClick={() => choose(b.station.id)}>
              <line x1={X(b.station.y)} x2={X(b.station.y)} y1={Y(-b.station.nose)} y2={Y(alongAt(model.webToWeb, b.station.y))} className="rib-line" />
              <text x={X(b.station.y)} y={Y(web) + 20} textAnchor="middle">{b.station.id}</text>
              {f && <g className={f.verdict} transform={`translate(${X(b.station.y) - 7} ${Y(web) + 26})`}><title>{verdictWord(f.verdict)}</title><MarkShape verdict={f.verdict} /></g>}
            </g>
          );
        })}
      </svg>
      <InWords lines={planInWords(skeleton, asked)} />
    </div>
  );
}
