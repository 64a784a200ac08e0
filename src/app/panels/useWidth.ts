import { type RefObject, useLayoutEffect, useState } from 'react';

/** The width of an element in CSS pixels, kept up to date. */
export function useWidth(ref: RefObject<HTMLElement | null>): number {
  const [width, setWidth] = useState(800);
  useLayoutEffect(() => {
    const box = ref.current;
    if (!box) return undefined;
    const watch = new ResizeObserver(() => setWidth(box.clientWidth));
    setWidth(box.clientWidth);
    watch.observe(box);
    return () => watch.disconnect();
  }, [ref]);
  return width;
}
