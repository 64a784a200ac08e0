import { useRef, useState } from 'react';
import { showIn } from '../../model/edits/edits.ts';
import { LONGEST } from '../../model/file/parse.ts';
import { useDesk } from '../build/desk.ts';
import { DEMOS } from '../files/demos.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { openDemo } from '../keeping/keeping.ts';
import { awaited } from '../state/atRest.ts';
import { currentText, useApp } from '../state/store.ts';
import { KeptPanels } from './Kept.tsx';
import { Questions } from './Questions.tsx';

/** Opens a file the person picked; a bad one is shown as its sentences. */
export async function openFile(file: File): Promise<void> {
  const { open, set } = useApp.getState();
  const say = (sentence: string): void => set({ refusal: { file: file.name, faults: [{ path: '', sentence }] } });
  if (file.size > LONGEST)
    return say(`the file has ${Math.round(file.size / 1e6)} MB; expected at most ${LONGEST / 1e6}; choose another`);
  try {
    open(await awaited(file.text()), file.name);
  } catch {
    say('the file could not be read; expected a panel file on this machine; choose it again');
  }
}

function PanelMenu() {
  const model = useApp((s) => s.model);
  const [shown, show] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  const close = () => show(false);
  return (
    <div
      className="panel-menu"
      onBlur={(e) => {
        if (e.relatedTarget && !e.currentTarget.contains(e.relatedTarget)) close();
      }}
      onKeyDown={(e) => {
        if (e.key !== 'Escape' || !shown) return;
        e.stopPropagation();
        close();
      }}
    >
      <button type="button" className="panel-name" aria-expanded={shown} onClick={() => show(!shown)}>
        {model.name} <span aria-hidden="true">▾</span>
      </button>
      <input
        ref={input}
        type="file"
        accept=".json,application/json"
        hidden
        aria-label="Open a panel file"
        onChange={(e) => {
          const file = e.target.files?.[0];
          if (file) void openFile(file);
          e.target.value = '';
          close();
        }}
      />
      {shown && (
        <div className="menu" role="group" aria-label="Panel" data-over="">
          <button
            type="button"
            onClick={() => {
              useApp.getState().ask('build');
              useDesk.getState().open('start');
              close();
            }}
          >
            Start a new panel…
          </button>
          <button type="button" onClick={() => input.current?.click()}>
            Open a file…
          </button>
          <button
            type="button"
            onClick={() => {
              saveAs(currentText(), `${fileStem(model.name)}.json`, 'application/json');
              close();
            }}
          >
            Save a file
          </button>
          <p className="small">Invented panels to look at; undo brings yours back.</p>
          {DEMOS.map((d) => (
            <button
              key={d.file}
              type="button"
              onClick={() => {
                close();
                void d.load().then((text) => openDemo(d.file, text));
              }}
            >
              {d.name}
            </button>
          ))}
          <KeptPanels close={close} />
        </div>
      )}
    </div>
  );
}

/** One line across the top: the panel, the questions, the unit, light or dark, undo and redo. */
export function Header() {
  const units = useApp((s) => s.model.units);
  const theme = useApp((s) => s.theme);
  const undoName = useApp((s) => s.past.at(-1)?.name);
  const redoName = useApp((s) => s.future[0]?.name);
  const { edit, undo, redo, set } = useApp.getState();
  return (
    <header className="header">
      <PanelMenu />
      <Questions />
      <div className="tools">
        <div className="pair" role="group" aria-label="Unit shown first">
          {(['mm', 'in'] as const).map((u) => (
            <button key={u} type="button" aria-pressed={units === u} onClick={() => edit(showIn(u))}>
              {u}
            </button>
          ))}
        </div>
        <button
          type="button"
          className="icon"
          title={theme === 'light' ? 'Dark' : 'Light'}
          aria-label={theme === 'light' ? 'Dark screen' : 'Light screen'}
          onClick={() => set({ theme: theme === 'light' ? 'dark' : 'light' })}
        >
          {theme === 'light' ? '◐' : '◑'}
        </button>
        <button
          type="button"
          className="icon"
          aria-label={undoName ? `Undo: ${undoName}` : 'Nothing to undo'}
          title={undoName ? `Undo: ${undoName}` : ''}
          aria-disabled={!undoName}
          onClick={undo}
        >
          ↶
        </button>
        <button
          type="button"
          className="icon"
          aria-label={redoName ? `Redo: ${redoName}` : 'Nothing to redo'}
          title={redoName ? `Redo: ${redoName}` : ''}
          aria-disabled={!redoName}
          onClick={redo}
        >
          ↷
        </button>
      </div>
    </header>
  );
}
