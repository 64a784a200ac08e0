import type { Finding } from '../../checks/finding.ts';
import { show } from '../../checks/describe.ts';
import { useApp } from '../store.ts';

const W = 340;
const H = 58;

/** A finding against its limits on one line: where it fits, where to watch, beyond which to act, and the interval ± 2u. Readable in black and white. */
export function Spread({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const { fits, act } = finding.limits;
  const marks = [...fits, ...act].filter((v): v is number => v !== null);
  const low = Math.min(finding.value - 2.4 * finding.u, ...marks);
  const high = Math.max(finding.value + 2.4 * finding.u, ...marks);
  const pad = (high - low || 1) * 0.12;
  const [a, b] = [low - pad, high + pad];
  const at = (v: number): number => 8 + ((v - a) / (b - a)) * (W - 16);
  const edge = (v: number | null, open: number): number => (v === null ? open : at(v));
  const [actLow, actHigh] = [edge(act[0], 8), edge(act[1], W - 8)];
  const [fitLow, fitHigh] = [edge(fits[0], 8), edge(fits[1], W - 8)];
  const labels = [...new Set(marks)].sort((p, q) => p - q);
  const named = labels.filter((v) => act.includes(v) || !labels.some((o) => act.includes(o) && Math.abs(at(o) - at(v)) < 38));
  return (
    <svg className={`spread ${finding.verdict}`} viewBox={`0 0 ${W} ${H}`} role="img" aria-label={`${show(model, finding.value, finding.unit)}, between ${show(model, finding.low, finding.unit)} and ${show(model, finding.high, finding.unit)}`}>
      <rect x="8" y="14" width={Math.max(0, actLow - 8)} height="14" fill="url(#hatch-act)" className="zone-act" />
      <rect x={actHigh} y="14" width={Math.max(0, W - 8 - actHigh)} height="14" fill="url(#hatch-act)" className="zone-act" />
      <rect x={actLow} y="14" width={Math.max(0, fitLow - actLow)} height="14" fill="url(#hatch-watch)" className="zone-watch" />
      <rect x={fitHigh} y="14" width={Math.max(0, actHigh - fitHigh)} height="14" fill="url(#hatch-watch)" className="zone-watch" />
      <rect x={fitLow} y="14" width={Math.max(0, fitHigh - fitLow)} height="14" className="zone-fits" />
      {labels.map((v) => (
        <g key={v}>
          <line x1={at(v)} x2={at(v)} y1="12" y2="34" className="hair" />
          {named.includes(v) && <text x={at(v)} y="46" textAnchor="middle" className="tiny">{show(model, v, finding.unit).replace(/ (mm|in|D).*/, '')}</text>}
        </g>
      ))}
      <line x1={at(finding.value - 2 * finding.u)} x2={at(finding.value + 2 * finding.u)} y1="21" y2="21" className="interval" />
      <circle cx={at(finding.value)} cy="21" r="4.5" className="dot" />
    </svg>
  );
}

/** Hatches used by the drawings: one definition for the page. */
export function Hatches() {
  return (
    <svg width="0" height="0" aria-hidden="true" style={{ position: 'absolute' }}>
      <defs>
        <pattern id="hatch-watch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)"><line x1="0" y1="0" x2="0" y2="6" stroke="var(--watch)" strokeWidth="2" /></pattern>
        <pattern id="hatch-act" width="7" height="7" patternUnits="userSpaceOnUse"><path d="M0 0 L7 7 M7 0 L0 7" stroke="var(--act)" strokeWidth="1.4" fill="none" /></pattern>
        <pattern id="hatch-unsettled" width="4" height="4" patternUnits="userSpaceOnUse"><line x1="1" y1="0" x2="1" y2="4" stroke="var(--unsettled)" strokeWidth="1.3" /></pattern>
      </defs>
    </svg>
  );
}
