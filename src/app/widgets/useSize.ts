import { type RefObject, useLayoutEffect, useState } from 'react';

/** The width and height of an element in CSS pixels, kept up to date. */
export function useSize(ref: RefObject<HTMLElement | null>): { readonly width: number; readonly height: number } {
  const [size, setSize] = useState({ width: 800, height: 400 });
  useLayoutEffect(() => {
    const box = ref.current;
    if (!box) return undefined;
    const read = (): void =>
      setSize((was) =>
        was.width === box.clientWidth && was.height === box.clientHeight
          ? was
          : { width: box.clientWidth, height: box.clientHeight },
      );
    const watch = new ResizeObserver(read);
    read();
    watch.observe(box);
    return () => watch.disconnect();
  }, [ref]);
  return size;
}

/** The width of an element in CSS pixels, kept up to date. */
export const useWidth = (ref: RefObject<HTMLElement | null>): number => useSize(ref).width;
