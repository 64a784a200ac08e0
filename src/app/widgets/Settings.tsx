import { reachStage, standAt } from '../../model/edits/edits.ts';
import { useApp } from '../state/store.ts';

/** Settings of the panel that change what the checks see, and the stage the job has reached. */
export function Settings() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  return (
    <div className="settings">
      <label>
        The ribs stand
        <select value={model.stand} onChange={(e) => edit(standAt(e.target.value as typeof model.stand))}>
          <option value="rear">against the rear web</option>
          <option value="front">against the front web</option>
          <option value="clamped">clamped to both</option>
        </select>
      </label>
      {model.stages.length > 0 && (
        <label>
          Stage
          <select value={model.now ?? ''} onChange={(e) => edit(reachStage(e.target.value))}>
            {model.stages.map((s) => (
              <option key={s.id} value={s.id}>
                {s.name}
              </option>
            ))}
          </select>
        </label>
      )}
    </div>
  );
}
