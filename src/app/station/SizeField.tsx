import { useEffect, useRef, useState } from 'react';
import { QUANTITIES } from '../../model/quantities.ts';
import { sizeBook } from '../../model/sizes.ts';
import { useApp } from '../state/store.ts';
import { SizeEdit } from './SizeEdit.tsx';
import { type As, asTyped, knownSize, printSize } from './typedSize.ts';
import './sizes.css';

/**
 * A size that can be changed where it is shown, in any unit a shop uses. What was understood is echoed in both units
 * before it is stored.
 */
export function SizeField({ size, as }: { size: string; as: As }) {
  const model = useApp((s) => s.model);
  const [open, setOpen] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const wasOpen = useRef(false);
  useEffect(() => {
    if (wasOpen.current && !open) button.current?.focus();
    wasOpen.current = open;
  }, [open]);
  const book = sizeBook(model);
  const entry = book.entries.get(size);
  if (!entry) return null;
  const { unit } = QUANTITIES[entry.kind];
  const known = knownSize(book, size, as);
  const printed = known ? printSize(known.best, unit, model.units) : 'not read';
  const label = as === 'drawing' ? `drawing's ${entry.name}` : entry.name;
  if (open) {
    const start = known ? asTyped(known.best, unit, model.units) : '';
    return <SizeEdit entry={entry} as={as} start={start} label={label} onDone={() => setOpen(false)} />;
  }
  return (
    <button
      ref={button}
      type="button"
      className={`size ${known?.origin === 'measured' ? 'measured' : 'drawn'}`}
      aria-label={`Change the ${label}, ${printed}`}
      disabled={as === 'drawing' && !entry.path}
      onClick={() => setOpen(true)}
    >
      {printed}
    </button>
  );
}
