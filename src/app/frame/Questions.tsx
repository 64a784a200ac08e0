import type { Question } from '../../checks/questions.ts';
import { useApp } from '../state/store.ts';

const QUESTIONS: readonly { readonly id: Question; readonly short: string; readonly long: string }[] = [
  { id: 'tonight', short: 'Tonight', long: 'What first, tonight?' },
  { id: 'build', short: 'Build', long: 'What am I building?' },
  { id: 'measure', short: 'Measure', long: 'What did I measure?' },
  { id: 'fit', short: 'Fit', long: 'Will it fit?' },
  { id: 'remedy', short: 'Remedy', long: 'What puts it right?' },
  { id: 'drill', short: 'Drill', long: 'May I drill?' },
  { id: 'true', short: 'True', long: 'Is it true?' },
  { id: 'helper', short: 'Helper', long: 'Who does what?' },
];

/** The whole question in words. */
export function longQuestion(id: Question): string {
  return QUESTIONS.find((q) => q.id === id)?.long ?? '';
}

/** The plain questions that carry the job, in their order. */
export function Questions() {
  const question = useApp((s) => s.question);
  const ask = useApp((s) => s.ask);
  return (
    <nav className="questions" aria-label="Questions">
      {QUESTIONS.map((q) => (
        <button
          key={q.id}
          type="button"
          aria-current={q.id === question ? 'page' : undefined}
          title={q.long}
          data-word={q.short}
          onClick={() => ask(q.id)}
        >
          {q.short}
        </button>
      ))}
    </nav>
  );
}
