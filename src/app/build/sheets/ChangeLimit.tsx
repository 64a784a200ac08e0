import { type FormEvent, useState } from 'react';
import { BOUNDS, bandsFrom, type ShownLimit, setLimit, thresholds } from '../../../model/edits/limitEdits.ts';
import type { LimitEntry } from '../../../model/schema.ts';
import { useApp } from '../../state/store.ts';
import { sentencesOf } from '../sentences.ts';
import { Said } from './Said.tsx';

type Origin = LimitEntry['origin'];

const SAYS: readonly (readonly [Origin, string])[] = [
  ['drawing', 'the drawing'],
  ['builder', 'me, the builder'],
  ['inspector', 'the inspector'],
];

const WHY =
  'Write why: the sheet or note of the drawing, or what was agreed. It is printed wherever this limit is used.';
const NO_NUMBER = 'A threshold is a number, or left empty where that side has none.';

interface Typed {
  readonly thresholds: readonly string[];
  readonly origin: Origin;
  readonly reason: string;
}

/** The limit that was typed, or what is wrong with it; none is taken without a reason. */
function readLimit(
  check: string,
  typed: Typed,
): { readonly ok: true; readonly entry: LimitEntry } | { readonly ok: false; readonly sentence: string } {
  const values = typed.thresholds.map((t) => (t.trim() === '' ? null : Number(t.replace(',', '.'))));
  if (values.some((v) => v !== null && !Number.isFinite(v))) return { ok: false, sentence: NO_NUMBER };
  const bands = bandsFrom(values);
  if (!bands.ok) return bands;
  const reason = typed.reason.trim();
  if (reason.length < 3) return { ok: false, sentence: WHY };
  return { ok: true, entry: { check, fits: bands.fits, act: bands.act, origin: typed.origin, reason } };
}

/** One limit while it is changed: four thresholds, who says so, and why. */
export function ChangeLimit({ at, onDone }: { at: ShownLimit; onDone: () => void }) {
  const edit = useApp((s) => s.edit);
  const [typed, setTyped] = useState<Typed>(() => ({
    thresholds: thresholds(at.limit).map((v) => (v === null ? '' : String(v))),
    origin: at.own?.origin ?? 'drawing',
    reason: at.own?.reason ?? '',
  }));
  const [fault, setFault] = useState('');
  const put = (part: Partial<Typed>): void => {
    setTyped({ ...typed, ...part });
    setFault('');
  };
  const take = (e: FormEvent): void => {
    e.preventDefault();
    const read = readLimit(at.limit.check, typed);
    const wrong = read.ok ? sentencesOf(edit(setLimit(read.entry))) : read.sentence;
    if (wrong === '') onDone();
    else setFault(wrong);
  };
  return (
    <form
      className="add-form limit-form"
      onSubmit={take}
      onKeyDown={(e) => {
        if (e.key !== 'Escape') return;
        e.stopPropagation();
        onDone();
      }}
    >
      {BOUNDS.map((b, i) => (
        <label key={b}>
          {b}{' '}
          <input
            size={6}
            inputMode="decimal"
            value={typed.thresholds[i]}
            onChange={(e) => put({ thresholds: typed.thresholds.map((t, k) => (k === i ? e.target.value : t)) })}
          />
        </label>
      ))}
      <label>
        says{' '}
        <select value={typed.origin} onChange={(e) => put({ origin: e.target.value as Origin })}>
          {SAYS.map(([origin, words]) => (
            <option key={origin} value={origin}>
              {words}
            </option>
          ))}
        </select>
      </label>
      <label className="grow">
        because{' '}
        <input value={typed.reason} placeholder="sheet 4, note 7" onChange={(e) => put({ reason: e.target.value })} />
      </label>
      <button type="submit" className="take">
        Take
      </button>
      <button type="button" className="quiet" onClick={onDone}>
        Leave
      </button>
      <Said fault={fault} />
    </form>
  );
}
