import { reachStage } from '../../model/edits/edits.ts';
import { useApp } from '../state/store.ts';
import { useHoles } from './useHoles.ts';

/** The order of assembly, one big step at a time: the holes here, on the strip and on the bench are as at the stage shown. */
export function Stages() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const { set } = useApp.getState();
  const { stage, at, present } = useHoles();
  if (!stage) return null;
  const now = model.stages.findIndex((s) => s.id === model.now);
  const go = (by: number) => {
    const next = model.stages[at + by];
    if (next) set({ ahead: next.id === model.now ? null : next.id });
  };
  const reach = () => {
    edit(reachStage(stage.id));
    set({ ahead: null });
  };
  const parts = [
    stage.brings.length > 0 ? `in: ${few(stage.brings)}` : '',
    stage.takes?.length ? `off: ${few(stage.takes)}` : '',
    stage.opens.length > 0 ? `opens ${few(stage.opens)}` : '',
  ].filter((t) => t !== '');
  return (
    <section className="drill-stages" aria-label="Stages">
      <div className="drill-steps">
        <button
          type="button"
          className="drill-step"
          aria-label="Stage before"
          disabled={at <= 0}
          onClick={() => go(-1)}
        >
          ◂
        </button>
        <p aria-live="polite">
          <span className="drill-place">
            Stage {at + 1} of {model.stages.length}
            {present ? ', where you are' : at > now ? ', looking ahead' : ', looking back'}
          </span>
          <b>{stage.name}</b>
        </p>
        <button
          type="button"
          className="drill-step"
          aria-label="Stage after"
          disabled={at >= model.stages.length - 1}
          onClick={() => go(1)}
        >
          ▸
        </button>
      </div>
      {parts.length > 0 && <p className="small">{parts.join('; ')}</p>}
      {!present && (
        <p className="small">
          {at > now
            ? 'As if all that must be put right were right by then, and the holes drilled as planned. '
            : 'As the holes are drilled now. '}
          <button type="button" className="take" onClick={reach}>
            This is where I am
          </button>{' '}
          <button type="button" className="quiet" onClick={() => set({ ahead: null })}>
            Back to now
          </button>
        </p>
      )}
    </section>
  );
}

const few = (ids: readonly string[]): string =>
  ids.length > 9 ? `${ids.slice(0, 8).join(', ')} and ${ids.length - 8} more` : ids.join(', ');
