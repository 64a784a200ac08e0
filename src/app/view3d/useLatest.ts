import { useCallback, useLayoutEffect, useRef } from 'react';

/** The same function every time, which calls the one given last. */
export function useLatest<A extends readonly unknown[]>(given: ((...a: A) => void) | undefined): (...a: A) => void {
  const latest = useRef(given);
  useLayoutEffect(() => {
    latest.current = given;
  });
  return useCallback((...a: A) => latest.current?.(...a), []);
}

/** Does something when a value is another than it was at the last drawing; not at the first. */
export function useWhenChanged<T>(value: T, then: (now: T, before: T) => void): void {
  const before = useRef(value);
  const act = useLatest(then);
  useLayoutEffect(() => {
    const was = before.current;
    before.current = value;
    if (was !== value) act(value, was);
  }, [value, act]);
}
