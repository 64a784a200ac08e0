import type { KeyboardEventHandler } from 'react';
import { readCell } from '../../../model/tables/cells.ts';
import type { Column } from '../../../model/tables/tables.ts';
import { echo } from '../../../units.ts';
import type { CellProps } from './cell.ts';
import { useCellEntry } from './useCellEntry.ts';

interface BoxProps {
  readonly take: (came: HTMLInputElement | HTMLSelectElement | null) => void;
  readonly text: string;
  readonly label: string;
  readonly column: Column;
  readonly onKeyDown: KeyboardEventHandler;
}

interface ChoiceProps extends BoxProps {
  readonly choices: readonly (readonly [value: string, words: string])[];
  readonly onChoose: (value: string) => void;
}

function ChoiceBox({ take, text, label, onKeyDown, choices, onChoose }: ChoiceProps) {
  return (
    <select ref={take} value={text} aria-label={label} onKeyDown={onKeyDown} onChange={(e) => onChoose(e.target.value)}>
      {choices.map(([value, words]) => (
        <option key={value} value={value}>
          {words}
        </option>
      ))}
    </select>
  );
}

interface TextProps extends BoxProps {
  readonly wrong: boolean;
  readonly onType: (text: string) => void;
  readonly onLeave: () => void;
}

function TextBox({ take, text, label, column, wrong, onKeyDown, onType, onLeave }: TextProps) {
  return (
    <input
      ref={take}
      value={text}
      aria-label={label}
      aria-invalid={wrong}
      autoComplete="off"
      spellCheck={false}
      inputMode={column.kind === 'text' ? 'text' : 'decimal'}
      onKeyDown={onKeyDown}
      onChange={(e) => onType(e.target.value)}
      onBlur={onLeave}
    />
  );
}

/**
 * The cell in hand. What is typed is tried on the panel as soon as it can be read; what cannot be stays in the box
 * with its sentence.
 */
export function CellEdit(props: CellProps) {
  const { grid, column, name, refused } = props;
  const { model } = grid;
  const { ref, text, typed, fault, choose, type, leave, onKeyDown } = useCellEntry(props);
  const read = typed && column.kind === 'length' ? readCell(column, model, text) : undefined;
  const both = read?.ok && typeof read.value === 'number' ? echo(read.value) : '';
  const wrong = fault || refused || '';
  const note = wrong || both;
  const own = { take: ref, text, label: `${column.name} of ${name}`, column, onKeyDown };
  return (
    <span className="cell-edit">
      {column.kind === 'choice' ? (
        <ChoiceBox {...own} choices={column.choices?.(model) ?? []} onChoose={choose} />
      ) : (
        <TextBox {...own} wrong={wrong !== ''} onType={type} onLeave={leave} />
      )}
      {note && (
        <span className={wrong ? 'cell-note refused' : 'cell-note small'} role={wrong ? 'alert' : undefined}>
          {note}
        </span>
      )}
    </span>
  );
}
