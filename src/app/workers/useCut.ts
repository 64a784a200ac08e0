import { useEffect, useRef, useState } from 'react';
import type { Model } from '../../model/schema.ts';
import type { Cut } from '../../scene/cut.ts';

export interface CutWish {
  readonly model: Model;
  readonly magnify: number;
  readonly y: number;
  readonly skin?: boolean;
}

/** A cut and what it was made of. */
export interface CutAnswer {
  readonly model: Model;
  readonly cut: Cut;
}

/**
 * The skeleton cut open as wished, or the last such cut until it comes. One wish is at the worker at a time; of those
 * that come meanwhile only the newest is asked, and an answer nobody waits for any more is dropped. Null before the
 * first answer, with no wish, and where there is no worker.
 */
export function useCut(wish: CutWish | null): CutAnswer | null {
  const [answer, setAnswer] = useState<CutAnswer | null>(null);
  const next = useRef<CutWish | null>(null);
  const busy = useRef(false);
  const there = useRef(true);
  const { model, magnify, y, skin = false } = wish ?? { model: null, magnify: 1, y: 0 };

  useEffect(() => {
    there.current = true;
    return () => {
      there.current = false;
      next.current = null;
    };
  }, []);

  useEffect(() => {
    next.current = model && { model, magnify, y, skin };
    if (!model) setAnswer(null);
    if (busy.current || !model || typeof Worker === 'undefined') return;
    busy.current = true;
    const work = async (): Promise<void> => {
      const { sectionAt } = await import('./cutter.ts');
      for (let asked = next.current; asked; asked = next.current === asked ? null : next.current) {
        const cut = await sectionAt(asked).catch(() => undefined);
        // On the way from one place to another the cut may lag; a cut of another panel or scale must not be shown.
        const now = next.current;
        if (cut && there.current && now && now.model === asked.model && now.magnify === asked.magnify)
          setAnswer({ model: asked.model, cut });
      }
    };
    void work().finally(() => {
      busy.current = false;
    });
  }, [model, magnify, y, skin]);

  return answer;
}
