import { type ReactNode, useEffect, useRef } from 'react';

/** The heading of a screen that has come in another's place: the focus begins there, and it is seen from its top. */
export function Title({ children }: { children: ReactNode }) {
  const heading = useRef<HTMLHeadingElement>(null);
  useEffect(() => {
    heading.current?.focus({ preventScroll: true });
    heading.current?.closest('dialog')?.scrollTo({ top: 0 });
  }, []);
  return (
    <h1 ref={heading} tabIndex={-1}>
      {children}
    </h1>
  );
}
