import { useRef, useState } from 'react';
import type { PaperName, Sheet } from '../../sheets/paper/page.ts';
import { pageSvg } from '../../sheets/paper/svg.ts';
import type { Step } from '../../sheets/steps/step.ts';
import { type CardSize, stepCards } from '../../sheets/steps/stepCards.ts';
import type { StepPicture } from '../../sheets/steps/stepPicture.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { askPaper, printPages } from '../paper/printer.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { drawStep } from './useStepPicture.ts';

type State =
  | { readonly kind: 'idle' }
  | { readonly kind: 'drawing'; readonly done: number; readonly of: number }
  | { readonly kind: 'failed'; readonly sentence: string };

/** Hands sheets to the person as one PDF, true to size; written where the other sheets are, by the one writer. */
export async function savePdf(sheets: readonly Sheet[], name: string): Promise<void> {
  const bytes = await askPaper((p) => p.written(sheets, name, today()));
  saveAs(new Uint8Array(bytes), `${fileStem(name)}.pdf`, 'application/pdf');
}

/** The cards on paper: which, how large, on which paper; drawn one by one with a count, and it can be stopped. */
export function CardsPrint({ steps }: { steps: readonly Step[] }) {
  const model = useApp((s) => s.model);
  const [size, setSize] = useState<CardSize>('two to a page');
  const [paper, setPaper] = useState<PaperName>(model.units === 'in' ? 'letter' : 'a4');
  const [stage, setStage] = useState('all');
  const [state, setState] = useState<State>({ kind: 'idle' });
  const stopped = useRef(false);
  const stages = [...new Map(steps.map((s) => [s.stage, s.stageName])).entries()];
  const wanted = stage === 'all' ? steps : steps.filter((s) => s.stage === stage);
  const make = async (how: 'print' | 'pdf'): Promise<void> => {
    stopped.current = false;
    const pictures = new Map<string, StepPicture>();
    for (const [i, step] of wanted.entries()) {
      setState({ kind: 'drawing', done: i, of: wanted.length });
      pictures.set(step.id, await drawStep(model, step));
      if (stopped.current) return setState({ kind: 'idle' });
    }
    const sheet = stepCards({ model, date: today(), paper }, wanted, pictures, size);
    if (how === 'pdf') await savePdf([sheet], `${model.name} step cards`);
    else
      printPages(
        sheet.pages.map((p) => ({ svg: pageSvg(p), width: p.paper.width, height: p.paper.height })),
        sheet.title,
      );
    setState({ kind: 'idle' });
  };
  const start = (how: 'print' | 'pdf'): void =>
    void make(how).catch((e: unknown) =>
      setState({
        kind: 'failed',
        sentence: `The cards could not be made: ${e instanceof Error ? e.message : String(e)}.`,
      }),
    );
  return (
    <section className="cards-print" aria-label="Cards on paper">
      <h2>On paper</h2>
      <div className="settings">
        <label>
          Cards{' '}
          <select value={stage} onChange={(e) => setStage(e.target.value)}>
            <option value="all">all {steps.length}</option>
            {stages.map(([id, name]) => (
              <option key={id} value={id}>
                {name || 'the whole panel'}
              </option>
            ))}
          </select>
        </label>
        <label>
          Size{' '}
          <select value={size} onChange={(e) => setSize(e.target.value as CardSize)}>
            <option>two to a page</option>
            <option>one to a page</option>
          </select>
        </label>
        <label>
          Paper{' '}
          <select value={paper} onChange={(e) => setPaper(e.target.value as PaperName)}>
            <option value="a4">A4</option>
            <option value="letter">Letter</option>
          </select>
        </label>
      </div>
      {state.kind === 'drawing' ? (
        <p role="status">
          Drawing card {state.done + 1} of {state.of}…{' '}
          <button
            type="button"
            className="chip"
            onClick={() => {
              stopped.current = true;
            }}
          >
            Stop
          </button>
        </p>
      ) : (
        <p className="log-out">
          <button type="button" className="take" onClick={() => start('print')}>
            Print the cards
          </button>{' '}
          <button type="button" className="quiet" onClick={() => start('pdf')}>
            Save them as PDF
          </button>
        </p>
      )}
      {state.kind === 'failed' && (
        <p className="refused" role="alert">
          {state.sentence}
        </p>
      )}
    </section>
  );
}
