import { useEffect, useMemo, useRef, useState } from 'react';
import { checkAll } from '../../checks/checkAll.ts';
import { severity } from '../../checks/finding.ts';
import { CHECK_NAMES } from '../../checks/questions.ts';
import { faultText, parseModel } from '../../model/file/parse.ts';
import type { Model } from '../../model/schema.ts';
import { alike, type Difference, differencesOf, largestFirst, otherHalf } from '../../model/tables/compare.ts';
import { useApp } from '../state/store.ts';
import { Mark } from '../widgets/Mark.tsx';
import { useDesk } from './desk.ts';
import { OverlayDrawing } from './OverlayDrawing.tsx';
import { TABLES } from './tablesOf.ts';

/** What the panel is laid beside. */
interface Beside {
  readonly name: string;
  readonly model: Model;
}

const MOST = 120;

/** Differences of one kind, each to be tapped: the bench goes to its station. */
function List({ title, all }: { title: string; all: readonly Difference[] }) {
  const choose = useApp((s) => s.choose);
  const [more, showMore] = useState(false);
  if (all.length === 0) return null;
  const shown = more ? all : all.slice(0, MOST);
  return (
    <section>
      <h2>
        {title} <small>{all.length}</small>
      </h2>
      <table className="grid" aria-label={title}>
        <thead>
          <tr>
            <th className="grid-name" />
            <th>here</th>
            <th>there</th>
            <th>here by</th>
          </tr>
        </thead>
        <tbody>
          {shown.map((d) => (
            <tr key={d.what}>
              <th scope="row" className="grid-name">
                <button type="button" disabled={d.station === null} onClick={() => choose(d.station)}>
                  {d.what}
                </button>
              </th>
              <td className="cell number">
                <span>{d.here}</span>
              </td>
              <td className="cell number">
                <span>{d.there}</span>
              </td>
              <td className="cell number">
                <span>{d.byText ?? ''}</span>
              </td>
            </tr>
          ))}
        </tbody>
      </table>
      {all.length > shown.length && (
        <button type="button" className="quiet" onClick={() => showMore(true)}>
          Show the other {all.length - shown.length}
        </button>
      )}
    </section>
  );
}

/** Answers that are not the same for both, worst first. */
function Answers({ beside }: { beside: Model }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const unlike = useMemo(() => {
    const theirs = new Map(checkAll(beside).map((f) => [f.id, f]));
    return checkAll(model)
      .flatMap((f) => {
        const g = theirs.get(f.id);
        return g && g.verdict !== f.verdict ? [[f, g] as const] : [];
      })
      .sort(
        (a, b) =>
          Math.max(severity(b[0].verdict), severity(b[1].verdict)) -
          Math.max(severity(a[0].verdict), severity(a[1].verdict)),
      );
  }, [model, beside]);
  if (unlike.length === 0) return null;
  return (
    <section>
      <h2>
        Answers that differ <small>{unlike.length}</small>
      </h2>
      <ul className="groups">
        {unlike.slice(0, 40).map(([f, g]) => (
          <li key={f.id}>
            <button type="button" className="row" onClick={() => choose(f.station, f.id)}>
              <Mark verdict={f.verdict} drawing={f.basis === 'drawing'} />
              <span>
                {f.place}, {CHECK_NAMES[f.check]}: <b>{f.verdict}</b> here, <b>{g.verdict}</b> there
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** This panel beside another: the other hand's, its own other half, an earlier self, any file. */
export function CompareSheet() {
  const model = useApp((s) => s.model);
  const past = useApp((s) => s.past);
  const [beside, setBeside] = useState<Beside | null>(null);
  const [fault, setFault] = useState('');
  const input = useRef<HTMLInputElement>(null);
  const half = useMemo(() => otherHalf(model), [model]);
  const own = beside?.name === 'its other half' ? half : beside?.model;
  const laid = useMemo(() => (own ? alike(model, own) : null), [model, own]);
  const all = useMemo(() => (laid ? differencesOf(TABLES, model, laid.other) : []), [model, laid]);
  useEffect(() => {
    useDesk
      .getState()
      .set({ beside: laid ? { model: laid.other, parts: new Set(all.flatMap((d) => d.part ?? [])) } : null });
    return () => useDesk.getState().set({ beside: null });
  }, [laid, all]);
  const earlier = past.slice(-40).reverse();
  const read = async (file: File) => {
    const got = parseModel(await file.text());
    if (!got.ok) return setFault(`${file.name}: ${got.faults.slice(0, 3).map(faultText).join(' ')}`);
    setFault('');
    setBeside({ name: file.name, model: got.model });
  };
  const of = (kind: Difference['kind']): Difference[] => all.filter((d) => d.kind === kind);
  return (
    <div className="compare">
      <div className="add-form">
        <span>Lay beside it</span>
        {half && (
          <button
            type="button"
            className="quiet"
            aria-pressed={beside?.name === 'its other half'}
            onClick={() => setBeside({ name: 'its other half', model: half })}
          >
            its other half, mirrored
          </button>
        )}
        <button type="button" className="quiet" onClick={() => input.current?.click()}>
          another file, or the other hand’s…
        </button>
        <input
          ref={input}
          type="file"
          accept=".json,application/json"
          hidden
          aria-label="A file to compare with"
          onChange={(e) => {
            const f = e.target.files?.[0];
            if (f) void read(f);
            e.target.value = '';
          }}
        />
        {earlier.length > 0 && (
          <label>
            itself before{' '}
            <select
              value=""
              aria-label="Its earlier self"
              onChange={(e) => {
                const step = earlier[Number(e.target.value)];
                if (step) setBeside({ name: `before “${step.name}”`, model: step.before });
              }}
            >
              <option value="">choose a step…</option>
              {earlier.map((s, i) => (
                <option key={`${i}${s.name}`} value={i}>
                  {s.name}
                </option>
              ))}
            </select>
          </label>
        )}
        {fault && (
          <output className="refused" role="alert">
            {fault}
          </output>
        )}
      </div>
      {!laid && (
        <p className="small">
          Nothing is laid beside it yet. Right against left, one half against the other, today against this morning:
          choose one above, and what differs is listed and drawn.
        </p>
      )}
      {laid && beside && (
        <>
          <p className="lead" role="status">
            {all.length === 0
              ? `It is the same as ${beside.name}.`
              : `${all.length} ${all.length === 1 ? 'thing differs' : 'things differ'} from ${beside.name}${laid.mirrored ? ', mirrored to this hand' : ''}.`}
          </p>
          {all.length > 0 && (
            <div className="side-by-side">
              <List title="Parts" all={of('part')} />
              <List title="Drawing sizes" all={largestFirst(of('drawing'))} />
              <List title="What was measured" all={largestFirst(of('reading'))} />
              <Answers beside={laid.other} />
              <OverlayDrawing model={model} other={laid.other} />
            </div>
          )}
        </>
      )}
    </div>
  );
}
