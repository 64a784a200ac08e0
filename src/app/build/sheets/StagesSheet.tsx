import { reachStage } from '../../../model/edits/edits.ts';
import { takeSuggestedStages } from '../../../model/edits/stagesSuggested.ts';
import { BRINGS, OPENS } from '../../../model/tables/stageTables.ts';
import { useApp } from '../../state/store.ts';
import { Grid } from '../grid/Grid.tsx';

/** The order of assembly. */
export function StagesSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const staged = model.stages.length > 0;
  return (
    <>
      <div className="add-form">
        {staged && (
          <label>
            The job stands at{' '}
            <select
              value={model.now ?? ''}
              aria-label="Present stage"
              onChange={(e) => edit(reachStage(e.target.value))}
            >
              {model.stages.map((s) => (
                <option key={s.id} value={s.id}>
                  {s.name}
                </option>
              ))}
            </select>
          </label>
        )}
        <button type="button" className="quiet" onClick={() => edit(takeSuggestedStages(model))}>
          {staged ? 'Put the usual order in place of this one' : 'Take the usual order of assembly'}
        </button>
      </div>
      <p className="small">
        A hole is opened to final only when its last layer is in: change when a part comes, and the joints through it
        follow below.
      </p>
      {staged && (
        <div className="side-by-side">
          <section>
            <h2>When each part comes</h2>
            <Grid table={BRINGS} common />
          </section>
          <section>
            <h2>When each joint is opened</h2>
            <Grid table={OPENS} common />
          </section>
        </div>
      )}
    </>
  );
}
