import { type ReactNode, useState } from 'react';
import { removePart } from '../../../model/edits/stationEdits.ts';
import { BRACKETS, DOUBLERS } from '../../../model/tables/pieceTables.ts';
import { MAIN_RIBS, NOSE_RIBS, TIP_RIBS } from '../../../model/tables/ribTables.ts';
import type { Table } from '../../../model/tables/tables.ts';
import { useApp } from '../../state/store.ts';
import { Grid } from '../grid/Grid.tsx';
import { AddBracket } from './AddBracket.tsx';
import { AddDoubler } from './AddDoubler.tsx';
import { Kinds } from './Kinds.tsx';

type Kind = 'main' | 'nose' | 'tip' | 'doublers' | 'brackets';

interface Parts {
  readonly id: Kind;
  readonly words: string;
  readonly table: Table;
  /** What adds one more; ribs come with their stations. */
  readonly add?: ReactNode;
}

const PARTS: readonly [Parts, ...Parts[]] = [
  { id: 'main', words: 'main ribs', table: MAIN_RIBS },
  { id: 'nose', words: 'nose ribs', table: NOSE_RIBS },
  { id: 'tip', words: 'tip ribs', table: TIP_RIBS },
  { id: 'doublers', words: 'doublers and packers', table: DOUBLERS, add: <AddDoubler /> },
  { id: 'brackets', words: 'brackets', table: BRACKETS, add: <AddBracket /> },
];

/** Ribs by kind, doublers, brackets: common values above, exceptions in their rows. */
export function RibsSheet() {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const [id, setId] = useState<Kind>('main');
  const { table, words, add } = PARTS.find((p) => p.id === id) ?? PARTS[0];
  const kinds = PARTS.map((p) => [p.id, `${p.words} ${p.table.rows(model).length}`] as const);
  return (
    <>
      <Kinds of="Kind of part" at={id} kinds={kinds} onChoose={setId} />
      {table.rows(model).length === 0 && (
        <p className="small">
          This panel has no {words}
          {add ? '; add the first below' : ''}.
        </p>
      )}
      <Grid key={id} table={table} common onRemove={(part) => edit(removePart(model, part))} tools={add} />
    </>
  );
}
