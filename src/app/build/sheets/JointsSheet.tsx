import { useState } from 'react';
import { removePart } from '../../../model/edits/stationEdits.ts';
import { HOLES } from '../../../model/tables/holeTable.ts';
import { JOINTS } from '../../../model/tables/jointTables.ts';
import { useApp } from '../../state/store.ts';
import { Grid } from '../grid/Grid.tsx';
import { JointRules } from './JointRules.tsx';
import { Kinds } from './Kinds.tsx';

/** Joints and their holes. */
export function JointsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [at, setAt] = useState<'joints' | 'holes'>('joints');
  const holes = model.joints.reduce((n, j) => n + j.holes.length, 0);
  const kinds = [
    ['joints', `joints ${model.joints.length}`],
    ['holes', `holes ${holes}`],
  ] as const;
  return (
    <>
      <Kinds of="Joints or holes" at={at} kinds={kinds} onChoose={setAt} />
      {model.joints.length === 0 && (
        <p className="small">No rows are laid yet: lay them by rule, then change what the drawing has otherwise.</p>
      )}
      {at === 'holes' ? (
        <Grid key="holes" table={HOLES} common />
      ) : (
        <Grid
          key="joints"
          table={JOINTS}
          common
          onRemove={(id) => edit(removePart(model, id))}
          tools={<JointRules />}
        />
      )}
    </>
  );
}
