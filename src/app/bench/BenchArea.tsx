import { lazy, Suspense, useCallback, useMemo } from 'react';
import { pieceOf } from '../../checks/at.ts';
import { checkAll, worstFirst } from '../../checks/checkAll.ts';
import { checksOf } from '../../checks/questions.ts';
import { touchedParts } from '../../remedies/touched.ts';
import { useDesk } from '../build/desk.ts';
import { TryBar } from '../remedy/TryBar.tsx';
import { awaited } from '../state/atRest.ts';
import { useApp } from '../state/store.ts';
import { useShownFindings, useShownModel, useTried } from '../state/trying.ts';
import { BenchGuard } from './BenchGuard.tsx';
import { BenchTools } from './BenchTools.tsx';
import { Plan } from './Plan.tsx';
import { type Drawing, useDrawing } from './useDrawing.ts';
import './bench.css';

const HeldBench = lazy(() => awaited(import('./HeldBench.tsx').then((m) => ({ default: m.HeldBench }))));

/** Where the span's ends lie on the bench, where it is seen across; null from anywhere else. */
export type Span = { readonly y0: number; readonly y1: number } | null;

interface Picked {
  readonly station: string | null;
  readonly part?: string;
  readonly finding?: string;
}

/** The worst that the question says of a part. */
function worstOf({ station, part }: Picked): string | undefined {
  const { model, question } = useApp.getState();
  const checks = checksOf(question);
  return worstFirst(checkAll(model)).find(
    (f) => f.station === station && (pieceOf(f.at) ?? f.at.spar) === part && checks.includes(f.check),
  )?.id;
}

/** A tapped part opens the worst that is said of it. */
function choosePicked(picked: Picked): void {
  const own = picked.part === undefined ? undefined : worstOf(picked);
  useApp.getState().choose(picked.station, picked.finding ?? own ?? null);
}

/** A place along the span held between the end stations, to a tenth of a millimetre. */
function heldOnSpan(y: number): number {
  const ys = useApp.getState().model.stations.map((s) => s.y);
  return Math.round(Math.min(Math.max(y, Math.min(...ys) - 1), Math.max(...ys) + 1) * 10) / 10;
}

/** The skeleton in 3D, with what is tried or laid beside it. */
function Bench3d({ drawing, onSpan }: { drawing: Drawing; onSpan: (span: Span) => void }) {
  const model = useShownModel();
  const findings = useShownFindings();
  const tried = useTried();
  const compared = useDesk((s) => s.beside);
  const { question, magnify, view, viewTick, station, ahead, finding, skin, cut, apart, theme } = useApp();
  const touched = useMemo(() => (tried ? touchedParts(tried.base, tried.model) : undefined), [tried]);
  const onCut = useCallback((y: number) => useApp.getState().set({ cut: heldOnSpan(y) }), []);
  const untried = model === tried?.model ? tried.base : tried?.model;
  return (
    <BenchGuard onFailed={drawing.onFailed}>
      <Suspense fallback={<Plan />}>
        <HeldBench
          model={model}
          findings={findings}
          question={question}
          magnify={magnify}
          view={view}
          viewTick={viewTick}
          station={station}
          ahead={ahead}
          finding={finding}
          skin={skin}
          cut={cut}
          apart={apart ?? 0}
          dark={theme === 'dark'}
          onPick={choosePicked}
          onSpan={onSpan}
          onStatus={drawing.onStatus}
          onCut={onCut}
          outlined={touched ?? compared?.parts}
          beside={untried ?? compared?.model}
        />
      </Suspense>
    </BenchGuard>
  );
}

/** Why the plan stands for the bench, or how far the metal is cut. */
function Note({ drawing: { as, status, why, canAsk, again } }: { drawing: Drawing }) {
  if (as === 'plan')
    return (
      <p className="bench-note" role="status">
        {why}
        {canAsk && (
          <>
            {' '}
            <button type="button" className="toggle" onClick={again}>
              Draw in 3D again
            </button>
          </>
        )}
      </p>
    );
  if (as !== '3D' || !status.building) return null;
  return (
    <p className="bench-note" role="status">
      Cutting metal{status.total > 0 ? ` ${status.done} of ${status.total}` : ''}…
    </p>
  );
}

/** The bench: what is tried above it, the skeleton, and how it is looked at. */
export function BenchArea({ onSpan }: { onSpan: (span: Span) => void }) {
  const drawing = useDrawing();
  return (
    <main className="bench" aria-label="The bench">
      <TryBar />
      <div className="stage">
        {drawing.as === '3D' ? <Bench3d drawing={drawing} onSpan={onSpan} /> : <Plan said={drawing.as === 'plan'} />}
        <Note drawing={drawing} />
      </div>
      {drawing.as !== 'plan' && <BenchTools />}
    </main>
  );
}
