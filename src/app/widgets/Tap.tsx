import type { ReactNode } from 'react';

interface Props {
  readonly className?: string;
  readonly transform?: string;
  onTap(): void;
  readonly children: ReactNode;
}

/**
 * A part of a drawing that goes to what it shows when it is tapped. Keys and the ear get there by the rail and the
 * lists, which name the same places in their order; a stop more for every point of every drawing would only be in
 * their way.
 */
export function Tap({ className, transform, onTap, children }: Props) {
  return (
    // biome-ignore lint/a11y/noStaticElementInteractions: a short cut for fingers; the rail and the lists are the way by keys
    <g className={className} transform={transform} onClick={onTap}>
      {children}
    </g>
  );
}
