import { reachStage } from '../../model/edits/edits.ts';
import type { Stage } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';
import { useHoles } from './useHoles.ts';

/** Ids in a line; of many, how many more there are. */
const few = (ids: readonly string[]): string =>
  ids.length > 9 ? `${ids.slice(0, 8).join(', ')} and ${ids.length - 8} more` : ids.join(', ');

/** What comes in, goes off and is opened at a stage. */
function whatHappens({ brings, takes = [], opens }: Stage): string {
  const said = [
    brings.length > 0 ? `in: ${few(brings)}` : '',
    takes.length > 0 ? `off: ${few(takes)}` : '',
    opens.length > 0 ? `opens ${few(opens)}` : '',
  ];
  return said.filter((t) => t !== '').join('; ');
}

function placeWords({ present, back }: { readonly present: boolean; readonly back: boolean }): string {
  if (present) return ', where you are';
  return back ? ', looking back' : ', looking ahead';
}

/** At another stage than the present one: on what condition it is shown, and the ways back. */
function Elsewhere({ stage, back }: { stage: Stage; back: boolean }) {
  const edit = useApp((s) => s.edit);
  const set = useApp((s) => s.set);
  const reach = (): void => {
    edit(reachStage(stage.id));
    set({ ahead: null });
  };
  return (
    <p className="small">
      {back
        ? 'As the holes are drilled now. '
        : 'As if all that must be put right were right by then, and the holes drilled as planned. '}
      <button type="button" className="take" onClick={reach}>
        This is where I am
      </button>{' '}
      <button type="button" className="quiet" onClick={() => set({ ahead: null })}>
        Back to now
      </button>
    </p>
  );
}

/**
 * The order of assembly, one big step at a time: the holes here, on the strip and on the bench are as at the stage
 * shown.
 */
export function Stages() {
  const { stages, now } = useApp((s) => s.model);
  const set = useApp((s) => s.set);
  const { stage, at, present, back } = useHoles();
  if (!stage) return null;
  const go = (by: number): void => {
    const next = stages[at + by];
    if (next) set({ ahead: next.id === now ? null : next.id });
  };
  const happens = whatHappens(stage);
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
            Stage {at + 1} of {stages.length}
            {placeWords({ present, back })}
          </span>
          <b>{stage.name}</b>
        </p>
        <button
          type="button"
          className="drill-step"
          aria-label="Stage after"
          disabled={at >= stages.length - 1}
          onClick={() => go(1)}
        >
          ▸
        </button>
      </div>
      {happens !== '' && <p className="small">{happens}</p>}
      {!present && <Elsewhere stage={stage} back={back} />}
    </section>
  );
}
