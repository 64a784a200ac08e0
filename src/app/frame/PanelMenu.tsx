import { type ChangeEvent, useRef, useState } from 'react';
import { useDesk } from '../build/desk.ts';
import { DEMOS } from '../files/demos.ts';
import { openDemo } from '../keeping/keeping.ts';
import { useApp } from '../state/store.ts';
import { Over } from '../widgets/Over.tsx';
import { KeptPanels } from './Kept.tsx';
import { openFile, savePanel } from './panelFile.ts';
import './menu.css';

function startNew(): void {
  useApp.getState().ask('build');
  useDesk.getState().open('start');
}

/** Panels and files: a new one, one from a file, this one saved, the invented ones, and those this browser keeps. */
function Menu({ pickFile, close }: { pickFile: () => void; close: () => void }) {
  /** Does a thing and puts the menu away. */
  const then = (act: () => void) => (): void => {
    close();
    act();
  };
  return (
    <Over label="Panel" className="menu" closedby="any" onClose={close}>
      <button type="button" onClick={then(startNew)}>
        Start a new panel…
      </button>
      <button type="button" onClick={then(pickFile)}>
        Open a file…
      </button>
      <button type="button" onClick={then(savePanel)}>
        Save a file
      </button>
      <p className="small">Invented panels to look at; undo brings yours back.</p>
      {DEMOS.map((d) => (
        <button key={d.file} type="button" onClick={then(() => void d.load().then((text) => openDemo(d.file, text)))}>
          {d.name}
        </button>
      ))}
      <KeptPanels close={close} />
    </Over>
  );
}

/** The panel's name, and the menu behind it. */
export function PanelMenu() {
  const name = useApp((s) => s.model.name);
  const [shown, show] = useState(false);
  const input = useRef<HTMLInputElement>(null);
  const picked = ({ target }: ChangeEvent<HTMLInputElement>): void => {
    const file = target.files?.[0];
    if (file) void openFile(file);
    target.value = '';
  };
  return (
    <>
      <button
        type="button"
        className="panel-name"
        aria-haspopup="dialog"
        aria-expanded={shown}
        onClick={() => show(true)}
      >
        {name} <span aria-hidden="true">▾</span>
      </button>
      <input
        ref={input}
        type="file"
        accept=".json,application/json"
        hidden
        aria-label="Open a panel file"
        onChange={picked}
      />
      {shown && <Menu pickFile={() => input.current?.click()} close={() => show(false)} />}
    </>
  );
}
