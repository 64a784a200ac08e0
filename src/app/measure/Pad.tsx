import { Fragment } from 'react';

const DELETE = '⌫';
/** The keys, row by row, and the unit at the end of a row. */
const ROWS: readonly { readonly keys: readonly string[]; readonly unit?: string }[] = [
  { keys: ['7', '8', '9', DELETE], unit: 'mm' },
  { keys: ['4', '5', '6', '/'], unit: 'in' },
  { keys: ['1', '2', '3', '.'], unit: 'mil' },
  { keys: ['-', '0', ' ', '#'] },
];
const KEY_NAMES: Readonly<Record<string, string>> = {
  [DELETE]: 'Delete',
  ' ': 'Space',
  '.': 'point',
  '-': 'minus',
  '/': 'slash',
  '#': 'number sign',
};

interface Props {
  /** Whether lengths are typed, with a unit. */
  readonly withUnits: boolean;
  write(change: (was: string) => string): void;
}

/** One big number pad: digits, what a drill or a fraction needs, and units. */
export function Pad({ withUnits, write }: Props) {
  const press = (key: string): void => write((t) => (key === DELETE ? t.slice(0, -1) : t + key));
  const writeUnit = (u: string): void => write((t) => `${t.replace(/\s*(mm|in|mil)$/, '')} ${u}`);
  return (
    <div className={`pad${withUnits ? ' with-units' : ''}`}>
      {ROWS.map(({ keys, unit }) => (
        <Fragment key={keys[0]}>
          {keys.map((k) => (
            <button key={k} type="button" aria-label={KEY_NAMES[k] ?? k} onClick={() => press(k)}>
              {k === ' ' ? '␣' : k}
            </button>
          ))}
          {withUnits && unit && (
            <button type="button" className="unit-key" onClick={() => writeUnit(unit)}>
              {unit}
            </button>
          )}
        </Fragment>
      ))}
    </div>
  );
}
