import { useCallback, useState } from 'react';

interface Busy {
  /** The word for what is going on; null while nothing is. */
  readonly busy: string | null;
  readonly failed: boolean;
  run(word: string, work: () => Promise<void>): void;
}

/** Runs one slow thing at a time, with its word while it runs; says when it has failed. */
export function useBusy(): Busy {
  const [busy, setBusy] = useState<string | null>(null);
  const [failed, setFailed] = useState(false);
  const run = useCallback((word: string, work: () => Promise<void>): void => {
    setBusy(word);
    setFailed(false);
    void work()
      .catch(() => setFailed(true))
      .finally(() => setBusy(null));
  }, []);
  return { busy, failed, run };
}

export const NOT_MADE =
  'The sheet could not be laid out. Everything typed is kept; load the page again and try once more.';
