import { useState } from 'react';
import type { PaperName } from '../../sheets/paper/page.ts';
import type { Step } from '../../sheets/steps/step.ts';
import type { CardSize } from '../../sheets/steps/stepCards.ts';
import { useApp } from '../state/store.ts';
import { stagesOf } from './stepState.ts';
import { useCardsMade, type Way } from './useCardsMade.ts';

interface Choice<T extends string> {
  readonly label: string;
  readonly value: T;
  readonly from: readonly (readonly [value: T, words: string])[];
  onChoose(value: T): void;
}

function Choose<T extends string>({ label, value, from, onChoose }: Choice<T>) {
  return (
    <label>
      {label}{' '}
      <select value={value} onChange={(e) => onChoose(e.target.value as T)}>
        {from.map(([v, words]) => (
          <option key={v} value={v}>
            {words}
          </option>
        ))}
      </select>
    </label>
  );
}

const SIZES = [
  ['two to a page', 'two to a page'],
  ['one to a page', 'one to a page'],
] as const;
const PAPERS = [
  ['a4', 'A4'],
  ['letter', 'Letter'],
] as const;

/** The cards on paper: which, how large, on which paper; drawn one by one with a count, and it can be stopped. */
export function CardsPrint({ steps }: { steps: readonly Step[] }) {
  const model = useApp((s) => s.model);
  const [size, setSize] = useState<CardSize>('two to a page');
  const [paper, setPaper] = useState<PaperName>(model.units === 'in' ? 'letter' : 'a4');
  const [stage, setStage] = useState('all');
  const { making, start, stop } = useCardsMade();
  const wanted = stage === 'all' ? steps : steps.filter((s) => s.stage === stage);
  const make = (way: Way): void => start({ model, steps: wanted, size, paper }, way);
  const stages = stagesOf(steps).map(([id, name]) => [id, name || 'the whole panel'] as const);
  return (
    <section className="cards-print" aria-label="Cards on paper">
      <h2>On paper</h2>
      <div className="settings">
        <Choose label="Cards" value={stage} from={[['all', `all ${steps.length}`], ...stages]} onChoose={setStage} />
        <Choose<CardSize> label="Size" value={size} from={SIZES} onChoose={setSize} />
        <Choose<PaperName> label="Paper" value={paper} from={PAPERS} onChoose={setPaper} />
      </div>
      {making.kind === 'drawing' ? (
        <p role="status">
          Drawing card {making.done + 1} of {making.of}…{' '}
          <button type="button" className="chip" onClick={stop}>
            Stop
          </button>
        </p>
      ) : (
        <p className="log-out">
          <button type="button" className="take" onClick={() => make('print')}>
            Print the cards
          </button>{' '}
          <button type="button" className="quiet" onClick={() => make('pdf')}>
            Save them as PDF
          </button>
        </p>
      )}
      {making.kind === 'failed' && (
        <p className="refused" role="alert">
          {making.sentence}
        </p>
      )}
    </section>
  );
}
