import { show } from '../../checks/describe.ts';
import type { CheckId, Finding } from '../../checks/finding.ts';
import { checkRow } from '../../model/checkTable.ts';
import { useApp } from '../state/store.ts';
import './spread.css';

const W = 340;
const H = 64;
/** Left free at either end. */
const SIDE = 8;
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

interface Zone {
  readonly from: number;
  readonly to: number;
  readonly kind: 'act' | 'watch' | 'fits';
}

/** The line's zones from its one end to the other, in the drawing; a limit that is not there lies at the end. */
function zonesOf({ limits: { fits, act } }: Finding, at: (v: number) => number): readonly Zone[] {
  const edge = (v: number | null, open: number): number => (v === null ? open : at(v));
  const [left, right] = [SIDE, W - SIDE];
  const [actLow, actHigh] = [edge(act[0], left), edge(act[1], right)];
  const [fitLow, fitHigh] = [edge(fits[0], left), edge(fits[1], right)];
  return [
    { from: left, to: actLow, kind: 'act' },
    { from: actHigh, to: right, kind: 'act' },
    { from: actLow, to: fitLow, kind: 'watch' },
    { from: fitHigh, to: actHigh, kind: 'watch' },
    { from: fitLow, to: fitHigh, kind: 'fits' },
  ];
}

/** From a value to the drawing: wide enough for the interval and every limit. */
function scaleOf({ value, u }: Finding, marks: readonly number[]): (v: number) => number {
  const low = Math.min(value - 2.4 * u, ...marks);
  const high = Math.max(value + 2.4 * u, ...marks);
  const pad = (high - low || 1) * 0.12;
  const [a, b] = [low - pad, high + pad];
  return (v) => SIDE + ((v - a) / (b - a)) * (W - 2 * SIDE);
}

/** What either end of the line means. */
function Ends({ check }: { check: CheckId }) {
  const { ends } = checkRow(check);
  if (!ends) return null;
  return (
    <>
      <text x={SIDE} y="61" className="tiny">{`◂ ${ends[0]}`}</text>
      <text x={W - SIDE} y="61" textAnchor="end" className="tiny">{`${ends[1]} ▸`}</text>
    </>
  );
}

/**
 * A finding against its limits on one line: where it fits, where to watch, beyond which to act, and the interval ±
 * 2u. Readable in black and white.
 */
export function Spread({ finding }: { finding: Finding }) {
  const model = useApp((s) => s.model);
  const { value, u, low, high, unit, limits, check } = finding;
  const marks = [...limits.fits, ...limits.act].filter((v) => v !== null);
  const at = scaleOf(finding, marks);
  const print = (v: number): string => show(model, v, unit);
  const places = [...new Set(marks)].sort((p, q) => p - q);
  return (
    <svg
      className={`spread ${finding.verdict}`}
      viewBox={`0 0 ${W} ${H}`}
      role="img"
      aria-label={`${print(value)}, between ${print(low)} and ${print(high)}`}
    >
      {zonesOf(finding, at).map(({ from, to, kind }) => (
        <rect
          key={`${kind} ${from}`}
          x={from}
          y="14"
          width={Math.max(0, to - from)}
          height="14"
          fill={kind === 'fits' ? undefined : `url(#hatch-${kind})`}
          className={`zone-${kind}`}
        />
      ))}
      {places.map((v) => (
        <line key={v} x1={at(v)} x2={at(v)} y1="12" y2="34" className="hair" />
      ))}
      {labelsOf(places, limits.act, at, print).map((l) => (
        <text key={l.v} x={l.x} y="46" textAnchor="middle" className="tiny">
          {l.text}
        </text>
      ))}
      <Ends check={check} />
      <line x1={at(value - 2 * u)} x2={at(value + 2 * u)} y1="21" y2="21" className="interval" />
      <circle cx={at(value)} cy="21" r="4.5" className="dot" />
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
