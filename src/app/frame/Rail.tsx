import { type KeyboardEvent, useMemo, useRef } from 'react';
import { checksOf } from '../../checks/questions.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import type { Span } from '../bench/BenchArea.tsx';
import { useApp } from '../state/store.ts';
import { useShownFindings, useShownModel } from '../state/trying.ts';
import { acrossOf, endsOf } from '../widgets/alongSpan.ts';
import { useWidth } from '../widgets/useSize.ts';
import { CELL, type Column, HEIGHT, RailColumn } from './RailColumn.tsx';
import { cellsAt } from './railCells.ts';
import './rail.css';

/** Left free at either end, px. */
const SIDE = 42;
/** Marks beside one another in a column at most. */
const MOST_WIDE = 4;

/** A column for each station, with the marks of the question's checks. */
function useColumns(skeleton: Skeleton): readonly Column[] {
  const question = useApp((s) => s.question);
  const findings = useShownFindings();
  return useMemo(() => {
    const checks = checksOf(question);
    return skeleton.bays.map(({ station: { id, y } }) => ({ id, y, cells: cellsAt(skeleton, findings, id, checks) }));
  }, [skeleton, findings, question]);
}

/**
 * From a place along the span to the rail: the bench's own scale where it has one, so that a mark stands under its
 * rib.
 */
function scaleOf(bays: readonly Bay[], span: Span, width: number): (y: number) => number {
  if (span) return (y) => ((y - span.y0) / (span.y1 - span.y0)) * width;
  return acrossOf(bays, SIDE, width - SIDE);
}

/** The least room between two neighbours, px. */
function closestOf(columns: readonly Column[], at: (y: number) => number, width: number): number {
  const rooms = columns.slice(1).map((c, i) => at(c.y) - at(columns[i]?.y ?? c.y));
  return Math.min(width, ...rooms);
}

/** The station a key leads to from the chosen one; null for none, undefined where the key does nothing here. */
function ledTo(key: string, ids: readonly string[], chosen: string | null): string | null | undefined {
  const last = ids.length - 1;
  const at = chosen === null ? -1 : ids.indexOf(chosen);
  switch (key) {
    case 'ArrowRight':
      return ids[Math.min(last, at + 1)];
    case 'ArrowLeft':
      return ids[at < 0 ? last : Math.max(0, at - 1)];
    case 'Home':
      return ids[0];
    case 'End':
      return ids[last];
    case 'Escape':
      return null;
    default:
      return undefined;
  }
}

/**
 * A to-scale ruler of the stations under the bench; each a column of small marks, one a check. Choose with a tap or the
 * arrow keys. `span` is the bench's own scale when it looks from above or behind, so a mark stands under its rib.
 */
export function Rail({ span }: { span: Span }) {
  const skeleton = skeletonOf(useShownModel());
  const { bays } = skeleton;
  const chosen = useApp((s) => s.station);
  const choose = useApp((s) => s.choose);
  const box = useRef<HTMLDivElement>(null);
  const width = useWidth(box);
  const columns = useColumns(skeleton);
  const at = scaleOf(bays, span, width);
  const [first, last] = endsOf(bays);
  const room = closestOf(columns, at, width);
  const wide = Math.max(1, Math.min(MOST_WIDE, Math.floor((room - 6) / CELL)));
  const onKey = (e: KeyboardEvent): void => {
    const to = ledTo(
      e.key,
      columns.map((c) => c.id),
      chosen,
    );
    if (to === undefined) return;
    choose(to);
    e.preventDefault();
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
        onKeyDown={onKey}
      >
        <svg width={width} height={HEIGHT} role="presentation">
          <line x1={at(first)} x2={at(last)} y1="22" y2="22" className="hair" />
          {columns.map((c, i) => (
            <RailColumn key={c.id} column={c} x={at(c.y)} number={i} room={room} wide={wide} />
          ))}
        </svg>
      </div>
    </nav>
  );
}
