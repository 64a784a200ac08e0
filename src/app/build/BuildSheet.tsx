import './build.css';
import { type ComponentType, useEffect, useRef } from 'react';
import { useApp } from '../state/store.ts';
import { CompareSheet } from './Compare.tsx';
import { type SheetName, useDesk } from './desk.ts';
import { PaperLine } from './Grid.tsx';
import { LimitsSheet } from './Limits.tsx';
import { ShapesSheet } from './Shapes.tsx';
import { JointsSheet, RibsSheet, SparsSheet, StagesSheet, StationsSheet } from './Sheets.tsx';
import { StartSheet } from './Start.tsx';
import { StockSheet } from './Stock.tsx';

/** The sheets of Build, in the order a drawing is read. */
export const SHEET_NAMES: readonly {
  readonly id: Exclude<SheetName, 'start'>;
  readonly name: string;
  readonly says: string;
  readonly Show: ComponentType;
}[] = [
  { id: 'stations', name: 'stations', says: 'where each rib stands, and the spars there', Show: StationsSheet },
  { id: 'spars', name: 'spars and sheets', says: 'which way they open, their bends, strips, sheet', Show: SparsSheet },
  { id: 'ribs', name: 'ribs and pieces', says: 'every part’s sizes, common ones once', Show: RibsSheet },
  { id: 'shapes', name: 'shapes', says: 'the section the ribs are bent to', Show: ShapesSheet },
  { id: 'joints', name: 'joints and holes', says: 'rows, rivets, what is drilled', Show: JointsSheet },
  { id: 'stages', name: 'order', says: 'what comes in when', Show: StagesSheet },
  { id: 'limits', name: 'limits', says: 'what fits and what must be acted on, and who says so', Show: LimitsSheet },
  { id: 'stock', name: 'on hand', says: 'sheets, shims, packs, drills, rivets', Show: StockSheet },
  { id: 'compare', name: 'compare', says: 'with the other hand, an earlier self, a file', Show: CompareSheet },
];

/** The wide sheet under the rail, while Build is asked: one table of the panel at a time. The skeleton stays above it. */
export function BuildSheet() {
  const question = useApp((s) => s.question);
  const sheet = useDesk((s) => s.sheet);
  const { open } = useDesk.getState();
  useEffect(() => {
    // A look at another question puts the cell in hand down, not the sheet away.
    if (question !== 'build') useDesk.getState().hold(null, null);
  }, [question]);
  const out = useRef<HTMLElement>(null);
  useEffect(() => {
    // Where the page itself is scrolled, a sheet that is taken out comes into sight.
    if (question === 'build' && sheet !== null && sheet !== 'start' && matchMedia('(max-width: 1099px)').matches)
      out.current?.scrollIntoView({ block: 'start' });
  }, [question, sheet]);
  if (question !== 'build' || sheet === null) return null;
  if (sheet === 'start') return <StartSheet />;
  const at = SHEET_NAMES.find((s) => s.id === sheet);
  if (!at) return null;
  return (
    <section ref={out} className="build-sheet" aria-label={at.name}>
      <div className="build-head">
        <div className="pair" role="group" aria-label="Sheets of the panel">
          {SHEET_NAMES.map((s) => (
            <button
              key={s.id}
              type="button"
              aria-pressed={s.id === sheet}
              title={s.says}
              data-word={s.name}
              onClick={() => open(s.id)}
            >
              {s.name}
            </button>
          ))}
        </div>
        <button type="button" className="icon" aria-label="Put the sheet away" onClick={() => open(null)}>
          ✕
        </button>
        <PaperLine />
      </div>
      <div className="build-body">
        <at.Show />
      </div>
    </section>
  );
}
