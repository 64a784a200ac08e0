import { lazy, Suspense, useCallback, useEffect, useMemo, useState } from 'react';
import { pieceOf } from '../checks/at.ts';
import { checkAll, worstFirst } from '../checks/checkAll.ts';
import { checksOf } from '../checks/questions.ts';
import { touchedParts } from '../remedies/touched.ts';
import { BenchGuard } from './BenchGuard.tsx';
import { useDesk } from './build/desk.ts';
import { Card } from './frame/Card.tsx';
import { CutTools } from './frame/CutTools.tsx';
import { Header, openFile } from './frame/Header.tsx';
import { NotKept } from './frame/Kept.tsx';
import { Plan } from './frame/Plan.tsx';
import { Rail } from './frame/Rail.tsx';
import { Refused } from './frame/Refused.tsx';
import { Spoken } from './frame/Spoken.tsx';
import { TryBar } from './remedy/TryIt.tsx';
import { awaited, useMoreToCome } from './state/atRest.ts';
import { useApp, type ViewName } from './state/store.ts';
import { useShownFindings, useShownModel, useTried } from './state/trying.ts';
import { Hatches } from './station/Spread.tsx';

const BuildSheet = lazy(() => awaited(import('./build/BuildSheet.tsx').then((m) => ({ default: m.BuildSheet }))));
const HeldBench = lazy(() => awaited(import('./HeldBench.tsx').then((m) => ({ default: m.HeldBench }))));

const VIEWS: readonly { readonly id: ViewName; readonly name: string; readonly key: string }[] = [
  { id: 'bench', name: 'bench', key: '1' },
  { id: 'plan', name: 'above', key: '2' },
  { id: 'front', name: 'behind', key: '3' },
  { id: 'along', name: 'along', key: '4' },
];

const STEPS = [1, 2, 5, 10, 20, 50] as const;

const MISSING = 'This browser cannot draw in 3D; the plan and the section do the same job.';
const STILL_NOT =
  'The browser still does not draw in 3D; the plan and the section do the same job. Closing other tabs may help.';
const FAILED = 'The 3D drawing stopped; the plan and the section do the same job, and nothing is lost.';

function canDraw3d(): boolean {
  try {
    const drawing = document.createElement('canvas').getContext('webgl2');
    drawing?.getExtension('WEBGL_lose_context')?.loseContext(); // only asked, not drawn with
    return drawing !== null;
  } catch {
    return false;
  }
}

/** How much every deviation is enlarged, which way the bench is seen, and whether the skin is shown. */
function BenchTools() {
  const magnify = useApp((s) => s.magnify);
  const view = useApp((s) => s.view);
  const skin = useApp((s) => s.skin);
  const { set, look } = useApp.getState();
  const at = STEPS.findIndex((m) => m >= magnify);
  return (
    <div className="bench-tools">
      <label className="magnify">
        <span>
          deviations <b>×{magnify}</b>
        </span>
        <input
          type="range"
          min={0}
          max={STEPS.length - 1}
          value={at}
          aria-label="Enlarge deviations"
          aria-valuetext={`times ${magnify}`}
          onChange={(e) => set({ magnify: STEPS[Number(e.target.value)] ?? 1 })}
        />
      </label>
      <div className="pair" role="group" aria-label="Look">
        {VIEWS.map((v) => (
          <button
            key={v.id}
            type="button"
            aria-pressed={view === v.id}
            title={`${v.name} (key ${v.key})`}
            data-word={v.name}
            onClick={() => look(v.id)}
          >
            {v.name}
          </button>
        ))}
      </div>
      <button type="button" className="toggle" aria-pressed={skin} onClick={() => set({ skin: !skin })}>
        skin
      </button>
      <CutTools />
    </div>
  );
}

interface Status {
  readonly building: boolean;
  readonly done: number;
  readonly total: number;
  readonly problem?: string;
}

const WAITING: Status = { building: true, done: 0, total: 0 };

function BenchArea({ onSpan }: { onSpan: (span: { y0: number; y1: number } | null) => void }) {
  const model = useShownModel();
  const tried = useTried();
  const compared = useDesk((s) => s.beside);
  const touched = useMemo(() => (tried ? touchedParts(tried.base, tried.model) : undefined), [tried]);
  const outlined = touched ?? compared?.parts;
  const { question, magnify, view, viewTick, station, ahead, finding, skin, cut, apart, theme } = useApp();
  const choose = useApp((s) => s.choose);
  const findings = useShownFindings();
  const [status, setStatus] = useState<Status>(WAITING);
  const [able, setAble] = useState(canDraw3d);
  const [ready, setReady] = useState(false);
  // The bench and its solids load after the first screen has been painted.
  useEffect(() => {
    const frame = requestAnimationFrame(() => setTimeout(() => setReady(true), 0));
    return () => cancelAnimationFrame(frame);
  }, []);
  useMoreToCome(able && !ready);
  // A tapped part opens the worst that is said of it.
  const onPick = useCallback(
    (p: { station: string | null; part?: string; finding?: string }) => {
      const own =
        p.part === undefined
          ? undefined
          : worstFirst(checkAll(useApp.getState().model)).find(
              (f) =>
                f.station === p.station &&
                (pieceOf(f.at) ?? f.at.spar) === p.part &&
                checksOf(useApp.getState().question).includes(f.check),
            );
      choose(p.station, p.finding ?? own?.id ?? null);
    },
    [choose],
  );
  const onCut = useCallback((y: number) => useApp.getState().set({ cut: heldOnSpan(y) }), []);
  // Once something is amiss it stays said, until 3D is asked for again.
  const onStatus = useCallback((s: Status) => setStatus((now) => (now.problem === undefined ? s : now)), []);
  const onFailed = useCallback(() => onStatus({ ...WAITING, building: false, problem: FAILED }), [onStatus]);
  const again = useCallback(() => {
    const can = canDraw3d();
    setAble(can);
    setStatus(can ? WAITING : { ...WAITING, building: false, problem: STILL_NOT });
  }, []);
  const flat = !able || status.problem !== undefined;
  return (
    <main className="bench" aria-label="The bench">
      <TryBar />
      <div className="stage">
        {flat || !ready ? (
          <Plan said={flat} />
        ) : (
          <BenchGuard onFailed={onFailed}>
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
                onPick={onPick}
                onSpan={onSpan}
                onStatus={onStatus}
                onCut={onCut}
                outlined={outlined}
                beside={tried ? (model === tried.model ? tried.base : tried.model) : compared?.model}
              />
            </Suspense>
          </BenchGuard>
        )}
        {flat && (
          <p className="bench-note" role="status">
            {status.problem ?? MISSING}
            {status.problem !== undefined && (
              <>
                {' '}
                <button type="button" className="toggle" onClick={again}>
                  Draw in 3D again
                </button>
              </>
            )}
          </p>
        )}
        {!flat && ready && status.building && (
          <p className="bench-note" role="status">
            Cutting metal{status.total > 0 ? ` ${status.done} of ${status.total}` : ''}…
          </p>
        )}
      </div>
      {!flat && <BenchTools />}
    </main>
  );
}

/** A place along the span held between the end stations, to a tenth of a millimetre. */
function heldOnSpan(y: number): number {
  const ys = useApp.getState().model.stations.map((s) => s.y);
  return Math.round(Math.min(Math.max(y, Math.min(...ys) - 1), Math.max(...ys) + 1) * 10) / 10;
}

/** Keys that work everywhere but in a box being typed in. */
function useKeys(): void {
  useEffect(() => {
    const onKey = (e: KeyboardEvent) => {
      const { undo, redo, choose, look, question } = useApp.getState();
      if (e.defaultPrevented) return;
      const { target } = e;
      const typing = target instanceof HTMLInputElement && target.type !== 'range';
      if (typing || target instanceof HTMLSelectElement || target instanceof HTMLTextAreaElement) return;
      // A key alone looks another way only from the bench and the rail: elsewhere it may be a slip, or a word spoken to the machine.
      const atBench =
        !(target instanceof Element) || target === document.body || target.closest('.bench, .rail') !== null;
      const view = atBench ? VIEWS.find((v) => v.key === e.key) : undefined;
      if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === 'z') (e.shiftKey ? redo : undo)();
      else if ((e.ctrlKey || e.metaKey) && e.key.toLowerCase() === 'y') redo();
      else if (e.ctrlKey || e.metaKey || e.altKey) return;
      else if (view) look(view.id);
      else if (e.key === 'Escape') {
        // What lies nearest goes first: the sheet of Build, then the station.
        if (question === 'build' && useDesk.getState().sheet !== null) useDesk.getState().open(null);
        else choose(null);
      } else return;
      e.preventDefault();
    };
    window.addEventListener('keydown', onKey);
    return () => window.removeEventListener('keydown', onKey);
  }, []);
}

export function App() {
  const theme = useApp((s) => s.theme);
  const question = useApp((s) => s.question);
  const [span, setSpan] = useState<{ y0: number; y1: number } | null>(null);
  const [dropping, setDropping] = useState(false);
  useKeys();
  useEffect(() => {
    document.documentElement.dataset['theme'] = theme;
  }, [theme]);
  return (
    <div
      className={dropping ? 'app dropping' : 'app'}
      onDragOver={(e) => {
        e.preventDefault();
        setDropping(true);
      }}
      onDragLeave={(e) => {
        if (e.currentTarget === e.target) setDropping(false);
      }}
      onDrop={(e) => {
        e.preventDefault();
        setDropping(false);
        const file = e.dataTransfer.files[0];
        if (file) void openFile(file);
      }}
    >
      <Hatches />
      <Spoken />
      <Header />
      <BenchArea onSpan={setSpan} />
      <Rail span={span} />
      <Card />
      {question === 'build' && (
        <Suspense fallback={null}>
          <BuildSheet />
        </Suspense>
      )}
      <Refused />
      <NotKept />
    </div>
  );
}
