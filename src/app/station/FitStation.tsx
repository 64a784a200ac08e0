import { type ComponentType, lazy, Suspense, useState } from 'react';
import type { Bay } from '../../parts/layout/layout.ts';

let loaded: ComponentType<{ bay: Bay }> | undefined;

/** Fetches what a station's answer is drawn with, before it is asked for: from then on it is there at once. */
export async function loadCutOpen(): Promise<{ default: ComponentType<{ bay: Bay }> }> {
  loaded = (await import('./CutOpen.tsx')).CutOpen;
  return { default: loaded };
}

const Fetched = lazy(loadCutOpen);

/** A station's findings under the section cut open; fetched when first shown. */
export function FitStation({ bay }: { bay: Bay }) {
  const [Shown] = useState(() => loaded ?? Fetched);
  return (
    <Suspense fallback={null}>
      <Shown bay={bay} />
    </Suspense>
  );
}
