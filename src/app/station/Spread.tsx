import { show } from '../../checks/describe.ts';
import type { Finding } from '../../checks/finding.ts';
import { checkRow } from '../../model/checkTable.ts';
import { useApp } from '../state/store.ts';

const W = 340;
const H = 64;
/** About how wide a letter of the small type is. */
const LETTER = 7.2;

interface Label {
  readonly v: number;
  readonly x: number;
  readonly text: string;
}

/** The limits by their figures, the last with its unit: those to act at first, and no two into each other. */
function labelsOf(
  values: readonly number[],
  act: readonly (number | null)[],
  at: (v: number) => number,
  print: (v: number) => string,
): readonly Label[] {
  const shown: Label[] = [];
  const last = values.filter((v) => act.includes(v)).at(-1) ?? values.at(-1);
  for (const v of [...values].sort((p, q) => Number(act.includes(q)) - Number(act.includes(p)) || q - p)) {
    const text = v === last ? print(v) : print(v).replace(/ (mm|in|D).*/, '');
    const half = (text.length * LETTER) / 2;
    const x = Math.min(Math.max(at(v), half), W - half);
    if (shown.every((o) => Math.abs(o.x - x) > half + (o.text.length * LETTER) / 2 + 4)) shown.push({ v, x, text });
  }
  return shown;
}

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
  const named = labelsOf(labels, act, at, (v) => show(model, v, finding.unit));
  const ends = checkRow(finding.check).ends;
  return (
    <svg
      className={`spread ${finding.verdict}`}
      viewBox={`0 0 ${W} ${H}`}
      role="img"
      aria-label={`${show(model, finding.value, finding.unit)}, between ${show(model, finding.low, finding.unit)} and ${show(model, finding.high, finding.unit)}`}
    >
      <rect x="8" y="14" width={Math.max(0, actLow - 8)} height="14" fill="url(#hatch-act)" className="zone-act" />
      <rect
        x={actHigh}
        y="14"
        width={Math.max(0, W - 8 - actHigh)}
        height="14"
        fill="url(#hatch-act)"
        className="zone-act"
      />
      <rect
        x={actLow}
        y="14"
        width={Math.max(0, fitLow - actLow)}
        height="14"
        fill="url(#hatch-watch)"
        className="zone-watch"
      />
      <rect
        x={fitHigh}
        y="14"
        width={Math.max(0, actHigh - fitHigh)}
        height="14"
        fill="url(#hatch-watch)"
        className="zone-watch"
      />
      <rect x={fitLow} y="14" width={Math.max(0, fitHigh - fitLow)} height="14" className="zone-fits" />
      {labels.map((v) => (
        <line key={v} x1={at(v)} x2={at(v)} y1="12" y2="34" className="hair" />
      ))}
      {named.map((l) => (
        <text key={l.v} x={l.x} y="46" textAnchor="middle" className="tiny">
          {l.text}
        </text>
      ))}
      {ends && <text x="8" y="61" className="tiny">{`◂ ${ends[0]}`}</text>}
      {ends && <text x={W - 8} y="61" textAnchor="end" className="tiny">{`${ends[1]} ▸`}</text>}
      <line
        x1={at(finding.value - 2 * finding.u)}
        x2={at(finding.value + 2 * finding.u)}
        y1="21"
        y2="21"
        className="interval"
      />
      <circle cx={at(finding.value)} cy="21" r="4.5" className="dot" />
    </svg>
  );
}

/** Hatches used by the drawings: one definition for the page. */
export function Hatches() {
  return (
    <svg width="0" height="0" aria-hidden="true" style={{ position: 'absolute' }}>
      <defs>
        <pattern id="hatch-watch" width="6" height="6" patternUnits="userSpaceOnUse" patternTransform="rotate(45)">
          <line x1="0" y1="0" x2="0" y2="6" stroke="var(--watch)" strokeWidth="2" />
        </pattern>
        <pattern id="hatch-act" width="7" height="7" patternUnits="userSpaceOnUse">
          <path d="M0 0 L7 7 M7 0 L0 7" stroke="var(--act)" strokeWidth="1.4" fill="none" />
        </pattern>
        <pattern id="hatch-unsettled" width="4" height="4" patternUnits="userSpaceOnUse">
          <line x1="1" y1="0" x2="1" y2="4" stroke="var(--unsettled)" strokeWidth="1.3" />
        </pattern>
      </defs>
    </svg>
  );
}
