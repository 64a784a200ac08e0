import { useState } from 'react';
import type { Fault } from '../../model/file/faults/fault.ts';
import type { Taking } from '../../remedies/decision.ts';
import { whoToAsk } from '../../remedies/decision.ts';
import { today } from '../state/today.ts';
import { putBack, take, tryOn, useTried, useTrying } from '../state/trying.ts';
import './tryIt.css';

/** Why, and whom: what the log says with the next thing taken. */
export function WhyAndWhom({ ask }: { ask: readonly string[] }) {
  const why = useTrying((s) => s.why);
  const asked = useTrying((s) => s.asked);
  const put = useTrying((s) => s.put);
  return (
    <div className="why">
      <label>
        Why
        <input value={why} maxLength={400} onChange={(e) => put({ why: e.target.value })} />
      </label>
      <label>
        {ask.length > 0 ? 'The designer said' : 'Who was asked'}
        <input
          value={asked}
          maxLength={400}
          placeholder={ask.length > 0 ? 'not asked yet' : ''}
          onChange={(e) => put({ asked: e.target.value })}
        />
      </label>
    </div>
  );
}

const sentences = (faults: readonly Fault[]): string => faults.map((f) => f.sentence).join(' ');

/** Try on the bench, and take: the two things one can do with a remedy, a plan or a move. */
export function TryOrTake({ name, taking, children }: { name: string; taking: Taking; children?: React.ReactNode }) {
  const tried = useTried();
  const [refused, setRefused] = useState('');
  const on = tried?.taking === taking;
  const ask = whoToAsk(taking.remedies);
  const tryNow = (): void => {
    const faults = tryOn(name, taking);
    setRefused(sentences(faults));
    // Where the bench is scrolled away, above a card that runs down the page, it comes into view.
    if (faults.length === 0) document.querySelector('.bench')?.scrollIntoView({ block: 'nearest' });
  };
  return (
    <div className="try">
      {ask.length > 0 && (
        <p className="small">It changes the structure: put it to the designer, and show it before it is covered.</p>
      )}
      <WhyAndWhom ask={ask} />
      <div className="try-buttons">
        <button type="button" className="toggle" aria-pressed={on} onClick={() => (on ? putBack() : tryNow())}>
          {on ? 'Put it back' : 'Try it'}
        </button>
        {children}
        <button type="button" className="take" onClick={() => setRefused(sentences(take(taking, today())))}>
          Decide on this
        </button>
      </div>
      {refused && (
        <p className="refused" role="alert">
          {refused}
        </p>
      )}
    </div>
  );
}
