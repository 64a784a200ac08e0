import type { ReactNode } from 'react';
import type { Finding } from '../../checks/finding.ts';
import { useApp } from '../state/store.ts';

interface Props {
  readonly station: string;
  readonly finding: Finding | undefined;
  readonly children: ReactNode;
}

/**
 * A point of a picture along the span, in the tone of its finding: a tap chooses both. By keyboard the rail and the
 * findings do.
 */
export function PickPoint({ station, finding, children }: Props) {
  const choose = useApp((s) => s.choose);
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: the rail chooses the station, and the list the finding, by keyboard
    <g className={finding?.verdict ?? 'fits'} onClick={() => choose(station, finding?.id ?? null)}>
      <title>{finding?.sentence}</title>
      {children}
    </g>
  );
}
