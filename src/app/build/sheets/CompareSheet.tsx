import { useEffect, useMemo, useRef, useState } from 'react';
import { checkAll } from '../../../checks/checkAll.ts';
import { type Finding, severity } from '../../../checks/finding.ts';
import { checkName } from '../../../checks/questions.ts';
import { faultText, parseModel } from '../../../model/file/parse.ts';
import type { Model } from '../../../model/schema.ts';
import { TABLES } from '../../../model/tables/allTables.ts';
import { alike, type Difference, differencesOf, largestFirst } from '../../../model/tables/compare.ts';
import { otherHalf } from '../../../model/tables/otherHalf.ts';
import { skeletonOf } from '../../../parts/layout/skeleton.ts';
import { shownBasis } from '../../../scene/marks.ts';
import { type Step, useApp } from '../../state/store.ts';
import { Mark } from '../../widgets/Mark.tsx';
import { useDesk } from '../desk.ts';
import { DifferenceList } from './DifferenceList.tsx';
import { OverlayDrawing } from './OverlayDrawing.tsx';
import { Said } from './Said.tsx';

/** What the panel is laid beside; its other half is made anew whenever the panel changes. */
type Beside = { readonly name: string; readonly model: Model } | 'half';

const HALF = 'its other half';
/** Answers listed, and earlier steps offered, at most. */
const [MOST_ANSWERS, MOST_STEPS] = [40, 40];

/** Answers that are not the same for both, worst first. */
function unlikeAnswers(model: Model, other: Model): readonly (readonly [Finding, Finding])[] {
  const theirs = new Map(checkAll(other).map((f) => [f.id, f]));
  const worst = ([f, g]: readonly [Finding, Finding]): number => Math.max(severity(f.verdict), severity(g.verdict));
  return checkAll(model)
    .flatMap((f) => {
      const g = theirs.get(f.id);
      return g && g.verdict !== f.verdict ? [[f, g] as const] : [];
    })
    .sort((a, b) => worst(b) - worst(a));
}

function Answers({ beside }: { beside: Model }) {
  const model = useApp((s) => s.model);
  const choose = useApp((s) => s.choose);
  const unlike = useMemo(() => unlikeAnswers(model, beside), [model, beside]);
  if (unlike.length === 0) return null;
  return (
    <section>
      <h2>
        Answers that differ <small>{unlike.length}</small>
      </h2>
      <ul className="groups">
        {unlike.slice(0, MOST_ANSWERS).map(([f, g]) => (
          <li key={f.id}>
            <button type="button" className="row" onClick={() => choose(f.station, f.id)}>
              <Mark verdict={f.verdict} basis={shownBasis(skeletonOf(model), f)} />
              <span>
                {f.place}, {checkName(f.check)}: <b>{f.verdict}</b> here, <b>{g.verdict}</b> there
              </span>
            </button>
          </li>
        ))}
      </ul>
    </section>
  );
}

/** A file to lay beside the panel. */
function FromFile({ onRead, onFault }: { onRead: (beside: Beside) => void; onFault: (sentence: string) => void }) {
  const input = useRef<HTMLInputElement>(null);
  const read = async (file: File): Promise<void> => {
    const got = parseModel(await file.text());
    onFault(got.ok ? '' : `${file.name}: ${got.faults.slice(0, 3).map(faultText).join(' ')}`);
    if (got.ok) onRead({ name: file.name, model: got.model });
  };
  return (
    <>
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
          const file = e.target.files?.[0];
          if (file) void read(file);
          e.target.value = '';
        }}
      />
    </>
  );
}

/** The panel as it was before one of the last steps, the newest first. */
function EarlierSelf({ past, onChoose }: { past: readonly Step[]; onChoose: (beside: Beside) => void }) {
  if (past.length === 0) return null;
  // Named by their count from the first step on: the same step keeps its name while more are done.
  const earlier = past.map((step, count) => ({ step, count })).slice(-MOST_STEPS);
  return (
    <label>
      itself before{' '}
      <select
        value=""
        aria-label="Its earlier self"
        onChange={(e) => {
          const step = past[Number(e.target.value)];
          if (step) onChoose({ name: `before “${step.name}”`, model: step.before });
        }}
      >
        <option value="">choose a step…</option>
        {earlier.reverse().map(({ step, count }) => (
          <option key={count} value={count}>
            {step.name}
          </option>
        ))}
      </select>
    </label>
  );
}

/** How many things differ, in one sentence. */
function countOf(all: readonly Difference[], name: string, mirrored: boolean): string {
  if (all.length === 0) return `It is the same as ${name}.`;
  const differ = all.length === 1 ? 'thing differs' : 'things differ';
  return `${all.length} ${differ} from ${name}${mirrored ? ', mirrored to this hand' : ''}.`;
}

/** What differs from a panel made comparable; the bench outlines the parts meanwhile. */
function Differences({ name, other, mirrored }: { name: string; other: Model; mirrored: boolean }) {
  const model = useApp((s) => s.model);
  const all = useMemo(() => differencesOf(TABLES, model, other), [model, other]);
  useEffect(() => {
    const { set } = useDesk.getState();
    set({ beside: { model: other, parts: new Set(all.flatMap((d) => d.part ?? [])) } });
    return () => set({ beside: null });
  }, [other, all]);
  const of = (kind: Difference['kind']): Difference[] => all.filter((d) => d.kind === kind);
  return (
    <>
      <p className="lead" role="status">
        {countOf(all, name, mirrored)}
      </p>
      {all.length > 0 && (
        <div className="side-by-side">
          <DifferenceList title="Parts" all={of('part')} />
          <DifferenceList title="Drawing sizes" all={largestFirst(of('drawing'))} />
          <DifferenceList title="What was measured" all={largestFirst(of('reading'))} />
          <Answers beside={other} />
          <OverlayDrawing model={model} other={other} />
        </div>
      )}
    </>
  );
}

/** This panel beside another: the other hand's, its own other half, an earlier self, any file. */
export function CompareSheet() {
  const model = useApp((s) => s.model);
  const past = useApp((s) => s.past);
  const [beside, setBeside] = useState<Beside | null>(null);
  const [fault, setFault] = useState('');
  const half = useMemo(() => otherHalf(model), [model]);
  const other = beside === 'half' ? half : beside?.model;
  const laid = useMemo(() => (other ? alike(model, other) : null), [model, other]);
  return (
    <div className="compare">
      <div className="add-form">
        <span>Lay beside it</span>
        {half && (
          <button type="button" className="quiet" aria-pressed={beside === 'half'} onClick={() => setBeside('half')}>
            its other half, mirrored
          </button>
        )}
        <FromFile onRead={setBeside} onFault={setFault} />
        <EarlierSelf past={past} onChoose={setBeside} />
        <Said fault={fault} />
      </div>
      {laid && beside ? (
        <Differences name={beside === 'half' ? HALF : beside.name} {...laid} />
      ) : (
        <p className="small">
          Nothing is laid beside it yet. Right against left, one half against the other, today against this morning:
          choose one above, and what differs is listed and drawn.
        </p>
      )}
    </div>
  );
}
