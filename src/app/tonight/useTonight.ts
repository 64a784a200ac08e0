import { useEffect } from 'react';
import { create } from 'zustand';
import { useApp } from '../state/store.ts';
import type { Listed } from '../workers/listed.ts';
import { askList, useListing } from '../workers/listing.ts';

/** How long the evening is, hours; undefined is as long as it takes. */
export const useHours = create<{ hours: number | undefined }>(() => ({ hours: undefined }));

/** The list as it is shown. */
interface Shown {
  readonly list: Listed | null;
  /** Whether it is that of the panel on screen; else the last one, until the new one comes. */
  readonly fresh: boolean;
  readonly failed: string | null;
}

/** Tonight's list for the panel on screen, asked for again as the panel changes. */
export function useTonight(): Shown {
  const model = useApp((s) => s.model);
  const hours = useHours((s) => s.hours);
  const { list, of, failed } = useListing();
  useEffect(() => void askList({ model, hours }), [model, hours]);
  return { list, fresh: of?.model === model && of.hours === hours, failed };
}
