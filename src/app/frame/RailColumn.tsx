import { markWords } from '../../scene/marks.ts';
import { useApp } from '../state/store.ts';
import { MarkShape } from '../widgets/Mark.tsx';
import { worst } from '../widgets/worst.ts';
import { type Cell, fitting } from './railCells.ts';

/** A mark with its room, and the rail's height, px. */
export const CELL = 17;
export const HEIGHT = 104;
/** Marks under one another at most, and where the first stands. */
const ROWS = 4;
const TOP = 31;
/** What a name takes, px. */
const NAME = 26;

export interface Column {
  readonly id: string;
  /** Along the span, mm. */
  readonly y: number;
  readonly cells: readonly Cell[];
}

/** Where the nth of some marks stands, in rows of `wide` round the middle of the column; the last row is centred. */
function placeOf(n: number, count: number, wide: number): readonly [x: number, y: number] {
  const row = Math.floor(n / wide);
  const inRow = Math.min(wide, count - row * wide);
  return [-(inRow * CELL) / 2 + (n % wide) * CELL + 1.5, TOP + row * CELL];
}

/** How many marks there are more than have room. */
function More({ more, shown, x, wide }: { more: number; shown: number; x: number; wide: number }) {
  const alone = wide === 1;
  return (
    <text
      className="rail-more"
      x={alone ? x : x - (wide * CELL) / 2 + (shown % wide) * CELL + 1.5}
      y={TOP + 12 + Math.floor(shown / wide) * CELL}
      textAnchor={alone ? 'middle' : 'start'}
    >
      +{more}
    </text>
  );
}

function Marks({ cells, of, x, wide }: { cells: readonly Cell[]; of: number; x: number; wide: number }) {
  const more = of - cells.length;
  const count = cells.length + (more > 0 ? 1 : 0);
  return (
    <>
      {cells.map((c, n) => {
        const [dx, y] = placeOf(n, count, wide);
        return (
          <g key={c.name} className={c.verdict} transform={`translate(${x + dx} ${y})`}>
            <MarkShape verdict={c.verdict} basis={c.basis} />
          </g>
        );
      })}
      {more > 0 && <More more={more} shown={cells.length} x={x} wide={wide} />}
    </>
  );
}

/** The marks a column shows: where stations stand close, only the worst. */
function shownOf(cells: readonly Cell[], close: boolean, wide: number): readonly Cell[] {
  if (!close) return fitting(cells, wide * ROWS);
  const one = worst(cells);
  return one ? [one] : [];
}

interface Props {
  readonly column: Column;
  readonly x: number;
  /** Its number from 0: where stations stand close, only some are named. */
  readonly number: number;
  /** The least room between two stations, px. */
  readonly room: number;
  /** Marks beside one another. */
  readonly wide: number;
}

/** One station on the rail: its tick, its name and its marks. */
export function RailColumn({ column: { id, cells }, x, number, room, wide }: Props) {
  const chosen = useApp((s) => s.station === id);
  const choose = useApp((s) => s.choose);
  const close = room < CELL + 6;
  const shown = shownOf(cells, close, wide);
  const words = cells.map((c) => `${c.name} ${markWords(c.verdict, c.basis)}`).join('; ');
  const label = `${id}: ${words || 'nothing asked here'}`;
  const half = Math.max(9, Math.min(room, wide * CELL + 14) / 2 - 1);
  const named = !close || chosen || number % Math.ceil(NAME / Math.max(1, room)) === 0;
  return (
    <g
      id={`rail-${id}`}
      role="option"
      aria-selected={chosen}
      aria-label={label}
      className={chosen ? 'column chosen' : 'column'}
      onClick={() => choose(chosen ? null : id)}
    >
      <title>{label}</title>
      <rect x={x - half} y="1" width={2 * half} height={HEIGHT - 2} className="column-box" />
      <line x1={x} x2={x} y1="18" y2="26" className="ink-line" />
      {named && (
        <text x={x} y="14" textAnchor="middle">
          {id}
        </text>
      )}
      <Marks cells={shown} of={close ? shown.length : cells.length} x={x} wide={wide} />
    </g>
  );
}
