import { useApp } from '../state/store.ts';
import { PanelMenu } from './PanelMenu.tsx';
import { Questions } from './Questions.tsx';
import './frame.css';

/** Undo or redo, by the name of the step it would take; pressed with nothing to take, it stays as it is. */
function Turn({
  what,
  sign,
  name,
  onTurn,
}: {
  what: string;
  sign: string;
  name: string | undefined;
  onTurn: () => void;
}) {
  const words = name === undefined ? `Nothing to ${what.toLowerCase()}` : `${what}: ${name}`;
  return (
    <button
      type="button"
      className="icon"
      aria-label={words}
      title={name === undefined ? '' : words}
      aria-disabled={name === undefined}
      onClick={onTurn}
    >
      {sign}
    </button>
  );
}

function Theme() {
  const theme = useApp((s) => s.theme);
  const set = useApp((s) => s.set);
  const light = theme === 'light';
  return (
    <button
      type="button"
      className="icon"
      title={light ? 'Dark' : 'Light'}
      aria-label={light ? 'Dark screen' : 'Light screen'}
      onClick={() => set({ theme: light ? 'dark' : 'light' })}
    >
      {light ? '◐' : '◑'}
    </button>
  );
}

/** One line across the top: the panel, the questions, the unit, light or dark, undo and redo. */
export function Header() {
  const units = useApp((s) => s.model.units);
  const undoName = useApp((s) => s.past.at(-1)?.name);
  const redoName = useApp((s) => s.future[0]?.name);
  const { show, undo, redo } = useApp.getState();
  return (
    <header className="header">
      <PanelMenu />
      <Questions />
      <div className="tools">
        <fieldset className="pair" aria-label="Unit shown first">
          {(['mm', 'in'] as const).map((u) => (
            <button key={u} type="button" aria-pressed={units === u} onClick={() => show(u)}>
              {u}
            </button>
          ))}
        </fieldset>
        <Theme />
        <Turn what="Undo" sign="↶" name={undoName} onTurn={undo} />
        <Turn what="Redo" sign="↷" name={redoName} onTurn={redo} />
      </div>
    </header>
  );
}
