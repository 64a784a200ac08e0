import './card.css';
import './sheet.css';
import './drawing.css';
import './grid/grid.css';
import './sheets/sheets.css';
import './start/start.css';
import { type ComponentType, type KeyboardEvent, useEffect } from 'react';
import { useApp } from '../state/store.ts';
import { useDialog } from '../widgets/useDialog.ts';
import { WhatIsThis } from '../widgets/WhatIsThis.tsx';
import { ABOUT_SHEETS } from './aboutTables.ts';
import { putAway, type SheetName, useDesk } from './desk.ts';
import { PaperLine } from './PaperLine.tsx';
import { SHEET_NAMES } from './sheetNames.ts';
import { CompareSheet } from './sheets/CompareSheet.tsx';
import { JointsSheet } from './sheets/JointsSheet.tsx';
import { LimitsSheet } from './sheets/LimitsSheet.tsx';
import { RibsSheet } from './sheets/RibsSheet.tsx';
import { ShapesSheet } from './sheets/ShapesSheet.tsx';
import { SparsSheet } from './sheets/SparsSheet.tsx';
import { StagesSheet } from './sheets/StagesSheet.tsx';
import { StationsSheet } from './sheets/StationsSheet.tsx';
import { StockSheet } from './sheets/StockSheet.tsx';
import { StartSheet } from './start/StartSheet.tsx';

type Sheet = Exclude<SheetName, 'start'>;

const SHOWN: Readonly<Record<Sheet, ComponentType>> = {
  stations: StationsSheet,
  spars: SparsSheet,
  ribs: RibsSheet,
  shapes: ShapesSheet,
  joints: JointsSheet,
  stages: StagesSheet,
  limits: LimitsSheet,
  stock: StockSheet,
  compare: CompareSheet,
};

/** Which sheet is out, and the way to the others. */
function SheetTabs({ out }: { out: Sheet }) {
  const { open } = useDesk.getState();
  return (
    <fieldset className="pair" aria-label="Sheets of the panel">
      {SHEET_NAMES.map((s) => (
        <button
          key={s.id}
          type="button"
          aria-pressed={s.id === out}
          title={s.says}
          data-word={s.name}
          onClick={() => open(s.id)}
        >
          {s.name}
        </button>
      ))}
    </fieldset>
  );
}

const closeByKey = (e: KeyboardEvent): void => {
  if (e.key !== 'Escape') return;
  e.stopPropagation();
  putAway();
};

/** One sheet under the rail, the skeleton above it: a dialog in the page, for the bench is worked at beside it. */
function OpenSheet({ sheet }: { sheet: Sheet }) {
  const Show = SHOWN[sheet];
  const dialog = useDialog('beside', putAway);
  useEffect(() => {
    dialog.current?.querySelector<HTMLElement>('[aria-pressed=true]')?.focus({ preventScroll: true });
    // Where the page itself is scrolled, a sheet that is taken out comes into sight.
    if (matchMedia('(max-width: 1099px)').matches) dialog.current?.scrollIntoView({ block: 'start' });
  }, [dialog]);
  return (
    <dialog
      ref={dialog}
      className="build-sheet"
      aria-label={SHEET_NAMES.find((s) => s.id === sheet)?.name}
      onKeyDown={closeByKey}
    >
      <div className="build-head">
        <SheetTabs out={sheet} />
        <button type="button" className="icon" aria-label="Put the sheet away" onClick={putAway}>
          ✕
        </button>
        <PaperLine />
      </div>
      <div className="build-body">
        <WhatIsThis key={sheet} {...ABOUT_SHEETS[sheet]} />
        <Show />
      </div>
    </dialog>
  );
}

/**
 * What lies out while Build is asked: the questions of a new panel over the page, or one sheet of the panel under the
 * rail.
 */
export function BuildSheet() {
  const question = useApp((s) => s.question);
  const out = useDesk((s) => s.sheet);
  useEffect(() => {
    // A look at another question puts the cell in hand down, not the sheet away.
    if (question !== 'build') useDesk.getState().hold(null, null);
  }, [question]);
  if (question !== 'build') return null;
  if (out === 'start') return <StartSheet />;
  return out === null ? null : <OpenSheet sheet={out} />;
}
