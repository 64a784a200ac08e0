import { useMemo, useRef } from 'react';
import { type Finding, severity, type Verdict } from '../../checks/finding.ts';
import { checkName, checksOf } from '../../checks/questions.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { useApp } from '../state/store.ts';
import { useShownFindings, useShownModel } from '../state/trying.ts';
import { MarkShape, verdictWord } from '../widgets/Mark.tsx';
import { useWidth } from '../widgets/useSize.ts';

const CELL = 17;
const HEIGHT = 104;
const ROWS = 4;

interface Cell {
  readonly name: string;
  readonly verdict: Verdict;
  readonly drawing: boolean;
}

/** The worst finding of each check at a station, in the question's order. */
function cellsAt(findings: readonly Finding[], station: string, checks: readonly string[]): Cell[] {
  const worst = new Map<string, Finding>();
  for (const f of findings) {
    if (f.station !== station) continue;
    const had = worst.get(f.check);
    if (!had || severity(f.verdict) > severity(had.verdict)) worst.set(f.check, f);
  }
  return checks.flatMap((c) => {
    const f = worst.get(c);
    return f ? [{ name: checkName(f.check), verdict: f.verdict, drawing: f.basis === 'drawing' }] : [];
  });
}

/** As many cells as there is room for; where not all fit, the worst first, and a place left to say how many more there are. */
function fitting(cells: readonly Cell[], room: number): readonly Cell[] {
  if (cells.length <= room) return cells;
  return [...cells].sort((a, b) => severity(b.verdict) - severity(a.verdict)).slice(0, room - 1);
}

const worstOf = (cells: readonly Cell[]): Cell | undefined =>
  cells.reduce<Cell | undefined>((a, b) => (a && severity(a.verdict) >= severity(b.verdict) ? a : b), undefined);

/**
 * A to-scale ruler of the stations under the bench; each a column of small marks, one a check. Choose with a tap or the
 * arrow keys. `span` is the bench's own scale when it looks from above or behind, so a mark stands under its rib.
 */
export function Rail({ span }: { span: { y0: number; y1: number } | null }) {
  const model = useShownModel();
  const question = useApp((s) => s.question);
  const chosen = useApp((s) => s.station);
  const choose = useApp((s) => s.choose);
  const findings = useShownFindings();
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const bays = skeletonOf(model).bays;
  const checks = checksOf(question);
  const columns = useMemo(() => {
    const asked = findings.filter((f) => checks.includes(f.check));
    return bays.map((b) => ({ id: b.station.id, y: b.station.y, cells: cellsAt(asked, b.station.id, checks) }));
  }, [bays, findings, checks]);
  const [first, last] = [bays[0]!.station.y, bays[bays.length - 1]!.station.y];
  const pad = 42;
  const own = { y0: first, y1: last };
  const at = (y: number): number => {
    if (span) return ((y - span.y0) / (span.y1 - span.y0)) * width;
    return last === first ? width / 2 : pad + ((y - own.y0) / (own.y1 - own.y0)) * (width - 2 * pad);
  };
  const closest = columns.length > 1 ? Math.min(...columns.slice(1).map((c, i) => at(c.y) - at(columns[i]!.y))) : width;
  const wide = Math.max(1, Math.min(4, Math.floor((closest - 6) / CELL)));
  const few = closest < CELL + 6;
  const step = (by: number) => {
    const i = columns.findIndex((c) => c.id === chosen);
    const next = columns[i < 0 ? (by > 0 ? 0 : columns.length - 1) : Math.min(columns.length - 1, Math.max(0, i + by))];
    if (next) choose(next.id);
  };
  return (
    <nav className="landmark" aria-label="Along the span">
      <div
        ref={box}
        className="rail"
        role="listbox"
        aria-label="Stations along the span"
        aria-activedescendant={chosen ? `rail-${chosen}` : undefined}
        tabIndex={0}
        onKeyDown={(e) => {
          if (e.key === 'ArrowRight') step(1);
          else if (e.key === 'ArrowLeft') step(-1);
          else if (e.key === 'Home') choose(columns[0]?.id ?? null);
          else if (e.key === 'End') choose(columns.at(-1)?.id ?? null);
          else if (e.key === 'Escape') choose(null);
          else return;
          e.preventDefault();
        }}
      >
        <svg width={width} height={HEIGHT} role="presentation">
          <line x1={at(first)} x2={at(last)} y1="22" y2="22" className="hair" />
          {columns.map((c, i) => {
            const x = at(c.y);
            const worst = worstOf(c.cells);
            const shown = few ? (worst ? [worst] : []) : fitting(c.cells, wide * ROWS);
            const more = few ? 0 : c.cells.length - shown.length;
            const label = `${c.id}: ${c.cells.map((k) => `${k.name} ${verdictWord(k.verdict)}`).join(', ') || 'nothing asked here'}`;
            const half = Math.max(9, Math.min(closest, wide * CELL + 14) / 2 - 1);
            const named = !few || c.id === chosen || i % Math.ceil(26 / Math.max(1, closest)) === 0;
            return (
              <g
                key={c.id}
                id={`rail-${c.id}`}
                role="option"
                aria-selected={c.id === chosen}
                aria-label={label}
                className={c.id === chosen ? 'column chosen' : 'column'}
                onClick={() => choose(c.id === chosen ? null : c.id)}
              >
                <title>{label}</title>
                <rect x={x - half} y="1" width={2 * half} height={HEIGHT - 2} className="column-box" />
                <line x1={x} x2={x} y1="18" y2="26" className="ink-line" />
                {named && (
                  <text x={x} y="14" textAnchor="middle">
                    {c.id}
                  </text>
                )}
                {shown.map((k, n) => {
                  const row = Math.floor(n / wide);
                  const inRow = Math.min(wide, shown.length + (more > 0 ? 1 : 0) - row * wide);
                  return (
                    <g
                      key={k.name}
                      className={k.verdict}
                      transform={`translate(${x - (inRow * CELL) / 2 + (n % wide) * CELL + 1.5} ${31 + row * CELL})`}
                    >
                      <MarkShape verdict={k.verdict} drawing={k.drawing} />
                    </g>
                  );
                })}
                {more > 0 && (
                  <text
                    className="rail-more"
                    x={wide === 1 ? x : x - (wide * CELL) / 2 + (shown.length % wide) * CELL + 1.5}
                    y={43 + Math.floor(shown.length / wide) * CELL}
                    textAnchor={wide === 1 ? 'middle' : 'start'}
                  >
                    +{more}
                  </text>
                )}
              </g>
            );
          })}
        </svg>
      </div>
    </nav>
  );
}
