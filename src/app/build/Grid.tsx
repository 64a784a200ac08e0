import {
  type ClipboardEvent,
  type KeyboardEvent,
  type ReactNode,
  useEffect,
  useLayoutEffect,
  useMemo,
  useRef,
  useState,
} from 'react';
import { flushSync } from 'react-dom';
import { checkAll } from '../../checks/checkAll.ts';
import { type Finding, severity } from '../../checks/finding.ts';
import { onPaper } from '../../drilling/onPaper.ts';
import { runningFrom } from '../../model/chained.ts';
import type { Edit } from '../../model/edits/edits.ts';
import { applyEdit } from '../../model/edits/edits.ts';
import { keepFit } from '../../model/edits/keepFit.ts';
import type { Model } from '../../model/schema.ts';
import {
  type Change,
  type Column,
  cellEntry,
  cellText,
  commonOf,
  copyDown,
  fillTaper,
  pasteCells,
  type Row,
  readCell,
  setCells,
  setCommon,
  type Table,
} from '../../model/tables/tables.ts';
import { echo } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { MarkShape } from '../widgets/Mark.tsx';
import { useDesk } from './desk.ts';

/** Rows shown at once; the rest on asking. */
const MOST_ROWS = 160;
/** How long a value must stand in its box before the bench follows it, ms. */
const FOLLOWS_AFTER = 280;
const COMMON = '*';

/** Findings of the drawing alone that do not fit, by the key of each size they rest on. */
function paperFaults(model: Model): ReadonlyMap<string, Finding> {
  const by = new Map<string, Finding>();
  for (const f of onPaper(model)) {
    if (f.verdict === 'fits') continue;
    for (const { size } of f.restsOn) {
      const had = by.get(size.key);
      if (!had || severity(f.verdict) > severity(had.verdict)) by.set(size.key, f);
    }
  }
  return by;
}

interface Said {
  readonly row: string;
  readonly column: string;
  readonly sentence: string;
}

/** An edit of stations or spars that cuts the ribs again to the fit they had. */
const withFit = (edit: Edit): Edit => ({ name: edit.name, apply: (m) => keepFit(m, edit.apply(m)) });

/**
 * A table of the panel. One cell is in hand: typing changes it, the bench follows, Enter or Tab takes it on, Esc gives it up.
 * Shift with an arrow or a tap takes more rows: copy down, or a taper from the first to the last. A block from a spreadsheet
 * is pasted where the cell in hand is. Everything is a step that undo takes back.
 */
export function Grid({
  table,
  keeps = false,
  common = false,
  tools,
  onRemove,
}: {
  table: Table;
  keeps?: boolean;
  common?: boolean;
  tools?: ReactNode;
  onRemove?: ((row: string) => readonly { sentence: string }[]) | undefined;
}) {
  const model = useApp((s) => s.model);
  const edit = useApp((s) => s.edit);
  const fits = useDesk((s) => s.keepFit);
  const held = useDesk((s) => s.cell);
  const heldIn = useDesk((s) => s.table);
  const { hold, set } = useDesk.getState();
  const columns = useMemo(() => table.columns(model), [table, model]);
  const [sort, setSort] = useState<{ column: string; way: 1 | -1 } | null>(null);
  const [all, showAll] = useState(false);
  /** Counts up to take the same cell in hand afresh. */
  const [again, setAgain] = useState(0);
  const [from, setFrom] = useState<string | null>(null);
  const [said, say] = useState<readonly Said[]>([]);
  const [pasted, setPasted] = useState<{ places: readonly number[]; rows: readonly string[] } | null>(null);
  const plain = useMemo(() => table.rows(model), [table, model]);
  const rows = useMemo(() => {
    const by = sort && columns.find((c) => c.id === sort.column);
    if (!by || !sort) return plain;
    const key = (r: Row): number | string => by.read(model, r.id) ?? '';
    return [...plain].sort((a, b) => {
      const [x, y] = [key(a), key(b)];
      return (
        sort.way *
        (typeof x === 'number' && typeof y === 'number'
          ? x - y
          : String(x).localeCompare(String(y), 'en', { numeric: true }))
      );
    });
  }, [plain, sort, columns, model]);
  const faults = useMemo(() => paperFaults(model), [model]);
  const cell = heldIn === table.id ? held : null;
  const order = rows.map((r) => r.id);
  const chosen = cell ? range(order, from ?? cell.row, cell.row) : [];
  const take = (step: Edit): string => {
    const done = edit(keeps && fits ? withFit(step) : step);
    return done.map((f) => f.sentence).join(' ');
  };
  const go = (row: string, column: string, more = false) => {
    setFrom(more ? (from ?? cell?.row ?? row) : null);
    hold(table.id, { row, column });
    const at = rows.find((r) => r.id === row)?.station;
    if (at !== undefined && at !== null && useApp.getState().station !== at) useApp.getState().choose(at);
  };
  const writable = columns.filter((c) => c.write);
  const settle = () => {
    if (cell) setAgain((n) => n + 1);
  };
  const step = (down: number, across: number, more = false) => {
    if (!cell) return;
    const low = common && rows.length > 1 ? -1 : 0;
    const high = (all ? order.length : Math.min(order.length, MOST_ROWS)) - 1;
    const can = (r: number, c: Column): boolean =>
      r < 0 ? commonOf(c, model, plain) !== undefined : c.read(model, order[r]!) !== undefined;
    let [nr, nc] = [
      cell.row === COMMON ? -1 : order.indexOf(cell.row),
      writable.findIndex((x) => x.id === cell.column),
    ];
    // Cells that a row does not have are stepped over; at the edge of the table the cell in hand stays.
    for (let tries = 0; tries < (high + 2) * writable.length; tries++) {
      [nr, nc] = [nr + down, nc + across];
      if (nc >= writable.length) [nr, nc] = [nr + 1, 0];
      if (nc < 0) [nr, nc] = [nr - 1, writable.length - 1];
      if (nr < low || nr > high) return settle();
      if (can(nr, writable[nc]!)) break;
    }
    go(nr < 0 ? COMMON : order[nr]!, writable[nc]!.id, more);
  };
  const changes = (list: readonly Change[], name: string) => {
    if (list.length === 0) return;
    const wrong = take(setCells(table, model, list, name));
    say(wrong === '' || !cell ? [] : [{ ...cell, sentence: wrong }]);
  };
  const paste = (e: ClipboardEvent) => {
    const text = e.clipboardData.getData('text');
    if (!cell || cell.row === COMMON || !/[\n\t]/.test(text.trimEnd())) return;
    e.preventDefault();
    const read = pasteCells(table, model, cell, text, order);
    if (!read.ok) return say(read.faults.slice(0, 6));
    const places = read.changes.filter((c) => c.column === 'y').map((c) => c.value as number);
    const running = table.id === 'stations' ? runningFrom(places) : undefined;
    if (running) setPasted({ places: running, rows: read.changes.filter((c) => c.column === 'y').map((c) => c.row) });
    const wrong = take(setCells(table, model, read.changes, `pasted ${read.changes.length} cells into ${table.name}`));
    say(wrong === '' ? [] : [{ ...cell, sentence: wrong }]);
    if (wrong === '') setPasted(null);
  };
  const commonRow = common && rows.length > 1;
  const sharedBy = useMemo(
    () => new Map(commonRow ? columns.map((c) => [c.id, commonOf(c, model, plain)] as const) : []),
    [commonRow, columns, model, plain],
  );
  const shown = all ? rows : rows.slice(0, MOST_ROWS);
  const bands = columns.some((c) => c.band !== undefined);
  const column = cell ? columns.find((c) => c.id === cell.column) : undefined;
  if (rows.length === 0) return <div className="grid-empty">{tools}</div>;
  return (
    <div className="grid-box">
      <div className="grid-tools">
        {chosen.length > 1 && column && (
          <>
            <span className="small">
              {chosen.length} rows of {column.name}
            </span>
            <button
              type="button"
              className="take"
              onMouseDown={(e) => e.preventDefault()}
              onClick={() =>
                changes(
                  copyDown(table, model, column.id, chosen),
                  `copied the ${column.name} down ${chosen.length} rows`,
                )
              }
            >
              Copy down
            </button>
            {(column.kind === 'length' || column.kind === 'angle') && (
              <button
                type="button"
                className="take"
                onMouseDown={(e) => e.preventDefault()}
                onClick={() => changes(fillTaper(table, model, column.id, chosen), `filled a taper of ${column.name}`)}
              >
                Fill a taper
              </button>
            )}
          </>
        )}
        {chosen.length <= 1 &&
          column &&
          (column.kind === 'length' || column.kind === 'angle') &&
          rows.length > 2 &&
          column.write &&
          cell?.row !== COMMON && (
            <button
              type="button"
              className="quiet"
              onMouseDown={(e) => e.preventDefault()}
              onClick={() =>
                changes(
                  fillTaper(
                    table,
                    model,
                    column.id,
                    plain.map((r) => r.id),
                  ),
                  `filled a taper of ${column.name}`,
                )
              }
            >
              Taper {column.name} from {plain[0]!.name} to {plain[plain.length - 1]!.name}
            </button>
          )}
        {onRemove && cell && cell.row !== COMMON && (
          <button
            type="button"
            className="quiet"
            onClick={() => say(onRemove(cell.row).map((f) => ({ row: cell.row, column: '', sentence: f.sentence })))}
          >
            Remove {rows.find((r) => r.id === cell.row)?.name ?? ''}
          </button>
        )}
        {keeps && (
          <label className="grid-keep">
            <input type="checkbox" checked={fits} onChange={(e) => set({ keepFit: e.target.checked })} /> ribs keep
            their fit
          </label>
        )}
        {tools}
      </div>
      {said.length > 0 && (
        <p className="refused grid-said" role="alert">
          {said
            .map(
              (s) =>
                `${[rows.find((r) => r.id === s.row)?.name, columns.find((c) => c.id === s.column)?.name].filter(Boolean).join(' ')}: ${s.sentence}`,
            )
            .join(' ')}
          {pasted && (
            <button
              type="button"
              className="quiet"
              onClick={() => {
                const w = take(
                  setCells(
                    table,
                    model,
                    pasted.rows.map((row, i) => ({ row, column: 'y', value: pasted.places[i]! })),
                    'added up distances from rib to rib',
                  ),
                );
                if (w === '') {
                  setPasted(null);
                  say([]);
                }
              }}
            >
              They look chained, from rib to rib: add them up to running dimensions
            </button>
          )}
        </p>
      )}
      <div className="grid-scroll">
        <table className="grid" role="grid" aria-label={table.name} aria-rowcount={rows.length + 1} onPaste={paste}>
          <thead>
            {bands && (
              <tr className="bands">
                <th />
                {bandsOf(columns).map((b) => (
                  <th key={b.key} colSpan={b.span} scope="colgroup">
                    {b.name}
                  </th>
                ))}
              </tr>
            )}
            <tr>
              <th scope="col" className="grid-name" />
              {columns.map((c) => (
                <th
                  key={c.id}
                  scope="col"
                  className={numeric(c) ? undefined : 'words'}
                  aria-sort={sort?.column === c.id ? (sort.way === 1 ? 'ascending' : 'descending') : undefined}
                >
                  <button
                    type="button"
                    title={`Sort by ${c.name}`}
                    onClick={() =>
                      setSort(
                        sort?.column !== c.id
                          ? { column: c.id, way: 1 }
                          : sort.way === 1
                            ? { column: c.id, way: -1 }
                            : null,
                      )
                    }
                  >
                    {c.head}
                    {unitOf(c, model) && <span className="unit"> {unitOf(c, model)}</span>}
                    {sort?.column === c.id ? (sort.way === 1 ? ' ↑' : ' ↓') : ''}
                  </button>
                </th>
              ))}
            </tr>
          </thead>
          <tbody>
            {commonRow && (
              <tr className="grid-common">
                <th
                  scope="row"
                  className="grid-name"
                  title="A value most of them share. Changing it changes all that have it; the others keep their own."
                >
                  in common
                </th>
                {columns.map((c) => {
                  const shared = sharedBy.get(c.id);
                  return (
                    <CellBox
                      key={c.id}
                      table={table}
                      column={c}
                      row={COMMON}
                      name="all in common"
                      value={shared?.value}
                      inHand={cell?.row === COMMON && cell.column === c.id}
                      again={again}
                      fixed={!c.write || !shared}
                      note={shared ? (shared.exceptions.size > 0 ? `${shared.exceptions.size} differ` : '') : 'varies'}
                      onGo={go}
                      onStep={step}
                      make={(value) =>
                        setCells(
                          table,
                          model,
                          setCommon(c, model, rows, value),
                          `changed the common ${c.name} of ${table.name}`,
                        )
                      }
                      wrap={keeps && fits ? withFit : undefined}
                    />
                  );
                })}
              </tr>
            )}
            {shown.map((r) => (
              <tr key={r.id} className={cell?.row === r.id ? 'in-hand' : ''}>
                <th scope="row" className="grid-name">
                  <button type="button" onClick={() => r.station !== null && useApp.getState().choose(r.station)}>
                    {r.name}
                  </button>
                </th>
                {columns.map((c) => {
                  const value = c.read(model, r.id);
                  const shared = sharedBy.get(c.id);
                  const key = c.size?.(r.id);
                  const wrong = key === undefined ? undefined : faults.get(key);
                  return (
                    <CellBox
                      key={c.id}
                      table={table}
                      column={c}
                      row={r.id}
                      name={r.name}
                      value={value}
                      inHand={cell?.row === r.id && cell.column === c.id}
                      again={again}
                      chosen={chosen.length > 1 && cell?.column === c.id && chosen.includes(r.id)}
                      fixed={!c.write || value === undefined}
                      other={shared !== undefined && shared.exceptions.has(r.id)}
                      wrong={
                        wrong && (wrong.station === null || r.station === null || wrong.station === r.station)
                          ? wrong
                          : undefined
                      }
                      refused={said.find((s) => s.row === r.id && s.column === c.id)?.sentence}
                      onGo={go}
                      onStep={step}
                      make={(v) => setCells(table, model, [{ row: r.id, column: c.id, value: v }])}
                      wrap={keeps && fits ? withFit : undefined}
                    />
                  );
                })}
              </tr>
            ))}
          </tbody>
        </table>
        {rows.length > shown.length && (
          <button type="button" className="quiet" onClick={() => showAll(true)}>
            Show the other {rows.length - shown.length}
          </button>
        )}
      </div>
    </div>
  );
}

/** What a column is in, beside its heading. */
const unitOf = (c: Column, model: Model): string => (c.kind === 'length' ? model.units : c.kind === 'angle' ? '°' : '');

const numeric = (c: Column): boolean =>
  c.kind === 'length' || c.kind === 'angle' || c.kind === 'count' || c.kind === 'number';

function range(order: readonly string[], a: string, b: string): string[] {
  const [i, k] = [order.indexOf(a), order.indexOf(b)];
  return i < 0 || k < 0 ? [] : order.slice(Math.min(i, k), Math.max(i, k) + 1);
}

function bandsOf(columns: readonly Column[]): { key: string; name: string; span: number }[] {
  const out: { key: string; name: string; span: number }[] = [];
  for (const c of columns) {
    const last = out[out.length - 1];
    if (last && last.name === (c.band ?? '')) last.span++;
    else out.push({ key: c.id, name: c.band ?? '', span: 1 });
  }
  return out;
}

interface CellProps {
  readonly table: Table;
  readonly column: Column;
  readonly row: string;
  readonly name: string;
  readonly value: number | string | undefined;
  readonly inHand: boolean;
  readonly again: number;
  readonly chosen?: boolean;
  readonly fixed: boolean;
  /** Differs from what most have. */
  readonly other?: boolean;
  readonly note?: string;
  readonly wrong?: Finding | undefined;
  readonly refused?: string | undefined;
  readonly onGo: (row: string, column: string, more?: boolean) => void;
  readonly onStep: (down: number, across: number, more?: boolean) => void;
  readonly make: (value: number | string) => Edit;
  readonly wrap: ((edit: Edit) => Edit) | undefined;
}

function CellBox(props: CellProps) {
  const { column, row, name, value, inHand, chosen = false, fixed, other = false, note, wrong, refused, onGo } = props;
  const model = useApp((s) => s.model);
  const label = `${column.name} of ${name}`;
  const kind = numeric(column) ? 'number' : 'words';
  const text = cellText(column, model, value);
  if (inHand && !fixed)
    return (
      <td className={`cell ${kind} in-hand${wrong ? ` ${wrong.verdict} doubted` : ''}`} aria-selected="true">
        <CellEdit key={props.again} {...props} label={label} />
      </td>
    );
  return (
    <td
      className={`cell ${kind}${fixed ? ' fixed' : ''}${chosen ? ' chosen' : ''}${other ? ' other' : ''}${refused ? ' bad' : ''}`}
      aria-selected={chosen}
    >
      <button
        type="button"
        disabled={fixed}
        aria-label={`${label}, ${text === '' ? 'none' : text}${wrong ? `; on paper: ${wrong.sentence}` : ''}`}
        title={wrong?.sentence ?? refused}
        onClick={(e) => onGo(row, column.id, e.shiftKey)}
        onFocus={(e) => {
          if (e.target.matches(':focus-visible')) onGo(row, column.id);
        }}
      >
        {wrong && (
          <svg className={`mark ${wrong.verdict}`} width="12" height="12" viewBox="0 0 14 14" aria-hidden="true">
            <MarkShape verdict={wrong.verdict} drawing />
          </svg>
        )}
        {text}
        {note && <small> {note}</small>}
      </button>
    </td>
  );
}

/** The cell in hand. What is typed is tried on the panel as soon as it can be read; what cannot be stays in the box with its sentence. */
function CellEdit({ column, row, value, onStep, make, wrap, label, refused }: CellProps & { label: string }) {
  const model = useApp((s) => s.model);
  const entry = cellEntry(column, model, value);
  const [text, setText] = useState(entry);
  const [typed, setTyped] = useState(false);
  const [fault, setFault] = useState('');
  const box = useRef<HTMLInputElement & HTMLSelectElement>(null);
  /** The model that the last try of this cell made, while nothing else has changed it. */
  const live = useRef<Model | null>(null);
  const timer = useRef<ReturnType<typeof setTimeout> | undefined>(undefined);
  const state = useRef({ text, typed, make, wrap });
  state.current = { text, typed, make, wrap };
  useLayoutEffect(() => {
    box.current?.focus({ preventScroll: true });
    if (box.current instanceof HTMLInputElement) box.current.select();
    box.current?.scrollIntoView?.({ block: 'nearest', inline: 'nearest' });
  }, []);
  useEffect(() => {
    if (!state.current.typed) setText(entry);
  }, [entry]);

  /** Puts the typed value in; a value tried from this cell before is taken back first, so that one cell is one step. */
  const attempt = (t: string): boolean => {
    clearTimeout(timer.current);
    const read = readCell(column, useApp.getState().model, t);
    if (!read.ok) {
      setFault(read.sentence);
      return false;
    }
    const { model: now, undo, edit } = useApp.getState();
    const tried = live.current !== null && live.current === now;
    const base = tried ? useApp.getState().past.at(-1)!.before : now;
    if (!tried && row !== COMMON && column.read(now, row) === read.value) {
      setFault('');
      return true;
    }
    const own = state.current.make(read.value);
    const step = state.current.wrap ? state.current.wrap(own) : own;
    const test = applyEdit(base, step);
    if (!test.ok) {
      setFault(test.faults.map((f) => f.sentence).join(' '));
      return false;
    }
    if (tried) undo();
    edit(step);
    live.current = useApp.getState().model;
    setFault('');
    return true;
  };
  const giveUp = () => {
    clearTimeout(timer.current);
    if (live.current !== null && live.current === useApp.getState().model) useApp.getState().undo();
    live.current = null;
    setTyped(false);
    // Put in the box before the next key comes, and chosen whole, so that what is typed next takes its place.
    flushSync(() => {
      setFault('');
      setText(cellEntry(column, useApp.getState().model, column.read(useApp.getState().model, row) ?? value));
    });
    if (box.current instanceof HTMLInputElement) box.current.select();
  };
  // Left by a tap elsewhere, a value that can be taken is taken.
  const leave = useRef(() => undefined as void);
  leave.current = () => {
    clearTimeout(timer.current);
    if (state.current.typed) attempt(state.current.text);
  };
  useEffect(() => () => leave.current(), []);

  const onKey = (e: KeyboardEvent) => {
    const done = (): boolean => !state.current.typed || attempt(state.current.text);
    const move = (down: number, across: number, more = false) => {
      e.preventDefault();
      e.stopPropagation();
      if (done()) {
        setTyped(false);
        state.current.typed = false;
        onStep(down, across, more);
      }
    };
    if (e.key === 'Enter') move(e.shiftKey ? -1 : 1, 0);
    else if (e.key === 'Tab') move(0, e.shiftKey ? -1 : 1);
    else if (e.key === 'ArrowDown' && column.kind !== 'choice') move(1, 0, e.shiftKey);
    else if (e.key === 'ArrowUp' && column.kind !== 'choice') move(-1, 0, e.shiftKey);
    else if ((e.key === 'ArrowRight' || e.key === 'ArrowLeft') && !typed && column.kind !== 'choice')
      move(0, e.key === 'ArrowRight' ? 1 : -1);
    else if (e.key === 'Escape') {
      e.stopPropagation();
      if (typed) giveUp();
      else useDesk.getState().hold(null, null);
    } else if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === 'z' && !typed) {
      e.preventDefault();
      (e.shiftKey ? useApp.getState().redo : useApp.getState().undo)();
    }
  };
  const put = (t: string) => {
    setText(t);
    setTyped(true);
    state.current = { ...state.current, text: t, typed: true };
    setFault('');
    clearTimeout(timer.current);
    timer.current = setTimeout(() => attempt(t), FOLLOWS_AFTER);
  };
  const read = typed && column.kind === 'length' ? readCell(column, model, text) : null;
  const wrong = fault || refused || '';
  if (column.kind === 'choice') {
    return (
      <span className="cell-edit" onKeyDown={onKey}>
        <select
          ref={box}
          value={text}
          aria-label={label}
          onChange={(e) => {
            setText(e.target.value);
            setTyped(true);
            state.current = { ...state.current, text: e.target.value, typed: true };
            if (attempt(e.target.value)) {
              setTyped(false);
              state.current.typed = false;
            }
          }}
        >
          {column.choices?.(model).map(([v, words]) => (
            <option key={v} value={v}>
              {words}
            </option>
          ))}
        </select>
        {wrong && (
          <span className="cell-note refused" role="alert">
            {wrong}
          </span>
        )}
      </span>
    );
  }
  return (
    <span className="cell-edit" onKeyDown={onKey}>
      <input
        ref={box}
        value={text}
        aria-label={label}
        aria-invalid={wrong !== ''}
        autoComplete="off"
        spellCheck={false}
        inputMode={column.kind === 'text' ? 'text' : 'decimal'}
        onChange={(e) => put(e.target.value)}
        onBlur={() => leave.current()}
      />
      {(wrong || (read?.ok && typeof read.value === 'number')) && (
        <span className={`cell-note ${wrong ? 'refused' : 'small'}`} role={wrong ? 'alert' : undefined}>
          {wrong || echo((read as { value: number }).value)}
        </span>
      )}
    </span>
  );
}

/** Whether anything on paper does not fit, in one sentence, for the head of the sheet. */
export function PaperLine() {
  const model = useApp((s) => s.model);
  const off = useMemo(() => onPaper(model).filter((f) => f.verdict !== 'fits'), [model]);
  const worst = [...off].sort((a, b) => severity(b.verdict) - severity(a.verdict))[0];
  const open = useMemo(() => checkAll(model).filter((f) => f.verdict === 'unsettled').length, [model]);
  if (!worst)
    return (
      <p className="paper-line">
        On paper everything fits.{open > 0 ? ` ${open} answers wait for a measurement.` : ''}
      </p>
    );
  const amiss = off.filter((f) => f.verdict !== 'watch').length;
  const words =
    amiss > 0
      ? `On paper ${amiss === 1 ? 'one thing does' : `${amiss} things do`} not fit.`
      : `On paper ${off.length === 1 ? 'one thing is' : `${off.length} things are`} close.`;
  return (
    <p className={`paper-line ${worst.verdict}`}>
      <b className="word">{words}</b>{' '}
      <button
        type="button"
        className="chip wrap"
        onClick={() => worst.station !== null && useApp.getState().choose(worst.station)}
      >
        {worst.said.fact}.
      </button>
    </p>
  );
}
