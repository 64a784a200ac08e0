import { isOpen, madeIt, takenBack } from '../../model/edits/work.ts';
import type { Decision } from '../../model/schema.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';

/** What a decision that is not made yet wants: to be ticked as made, or taken back. */
export function ToMake({ decision, made = 'It is made' }: { decision: Decision; made?: string }) {
  const edit = useApp((s) => s.edit);
  if (!isOpen(decision)) return null;
  return (
    <p className="to-make">
      <button type="button" className="take" onClick={() => edit(madeIt(decision.id, { by: '', date: today() }))}>
        {made}
      </button>
      <button type="button" className="quiet" onClick={() => edit(takenBack(decision.id))}>
        Take the decision back
      </button>
    </p>
  );
}
