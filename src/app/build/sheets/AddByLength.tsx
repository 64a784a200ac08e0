import { type FormEvent, useState } from 'react';
import { parseLength } from '../../../units/read.ts';
import { echo } from '../../../units.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { Said } from './Said.tsx';

interface Props {
  readonly ask: string;
  readonly usual: string;
  readonly verb: string;
  /** A bare number under this was said in inches, mm: no sheet is .025 mm thick. */
  readonly least?: number;
  readonly onAdd: (mm: number) => readonly { readonly sentence: string }[];
}

/** A length typed to add something by it. */
export function AddByLength({ ask, usual, verb, least = 0, onAdd }: Props) {
  const units = useApp((s) => s.model.units);
  const [text, setText] = useState('');
  const [fault, setFault] = useState('');
  const plain = text.trim() === '' ? null : parseLength(text, units);
  const inInches = plain?.ok && plain.bareUnit && plain.value > 0 && plain.value < least;
  const read = inInches ? parseLength(text, 'in') : plain;
  const add = (e: FormEvent): void => {
    e.preventDefault();
    if (!read) return;
    const wrong = read.ok ? sentencesOf(onAdd(read.value)) : read.sentence;
    setFault(wrong);
    if (wrong === '') setText('');
  };
  return (
    <form className="add-form" onSubmit={add}>
      <label>
        {ask}{' '}
        <input
          value={text}
          placeholder={usual}
          size={9}
          onChange={(e) => {
            setText(e.target.value);
            setFault('');
          }}
        />
      </label>
      <button type="submit" className="quiet" disabled={!read}>
        {verb}
      </button>
      <Said fault={fault} otherwise={read?.ok ? echo(read.value) : ''} />
    </form>
  );
}
