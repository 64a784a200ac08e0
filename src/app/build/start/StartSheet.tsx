import type { Start } from '../../../model/starts/asked.ts';
import { STARTS } from '../../../model/starts/starts.ts';
import { useDialog } from '../../widgets/useDialog.ts';
import { putAway, useDesk } from '../desk.ts';
import { usualPanel } from './answers.ts';
import { PlanView } from './PlanView.tsx';
import { Questions } from './Questions.tsx';
import { Title } from './Title.tsx';

function Choice({ start }: { start: Start }) {
  return (
    <li>
      <button type="button" onClick={() => useDesk.getState().set({ start: start.id, question: null })}>
        <span className="start-thumb" aria-hidden="true">
          <PlanView model={usualPanel(start)} points={null} atTip={false} />
        </span>
        <b>{start.name}</b>
        <span className="small">{start.says}</span>
      </button>
    </li>
  );
}

/** Which panel to start from, each with its own small drawing. */
function Choose() {
  return (
    <div className="start-choose">
      <Title>What are you building?</Title>
      <p className="lead">
        Take what is nearest; every size can be changed afterwards. A few questions make the whole skeleton.
      </p>
      <ul className="start-list">
        {STARTS.map((s) => (
          <Choice key={s.id} start={s} />
        ))}
      </ul>
      <button type="button" className="quiet" onClick={putAway}>
        Back to the panel on the bench
      </button>
    </div>
  );
}

/**
 * A new panel from nothing: what it is, then its questions, over the whole page. Escape goes a step back; what was
 * typed is there again when one comes back.
 */
export function StartSheet() {
  const id = useDesk((s) => s.start);
  const start = STARTS.find((s) => s.id === id);
  const dialog = useDialog('modal', putAway);
  return (
    <dialog
      ref={dialog}
      className={start ? 'start-sheet asking' : 'start-sheet'}
      aria-label="Start a new panel"
      onKeyDown={(e) => e.stopPropagation()} // the keys of the page behind
      onCancel={(e) => {
        if (!start) return;
        e.preventDefault();
        useDesk.getState().set({ start: null });
      }}
    >
      {start ? <Questions key={start.id} start={start} /> : <Choose />}
    </dialog>
  );
}
