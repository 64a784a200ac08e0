import type { ReactNode } from 'react';
import { useHoles } from './useHoles.ts';

/** Around what is shown as at another stage than the present one: a dashed frame, and words that it is not so yet. */
export function Looking({ children }: { children: ReactNode }) {
  const { present, at, back } = useHoles();
  if (present) return children;
  return (
    <section className="drill-looking" aria-label={back ? 'Looking back' : 'Looking ahead'}>
      <p>
        <b>
          Looking {back ? 'back' : 'ahead'}, stage {at + 1}:
        </b>{' '}
        {back ? 'where the work is now is another stage.' : 'nothing of this is so yet.'}
      </p>
      {children}
    </section>
  );
}
