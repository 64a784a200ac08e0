import type { ReactNode } from 'react';
import { createPortal } from 'react-dom';
import { useDialog } from './useDialog.ts';

interface Props {
  /** What it is, for the ear. */
  readonly label: string;
  readonly className: string;
  readonly role?: 'alertdialog';
  /** What puts it away besides its own buttons: Escape alone, or a tap beside it too. */
  readonly closedby: 'closerequest' | 'any';
  onClose(): void;
  readonly children: ReactNode;
}

/**
 * What lies over the page. While it does, nothing behind it can be reached; Escape puts it away, and the focus goes
 * back to what it was opened from.
 */
export function Over({ label, className, role, closedby, onClose, children }: Props) {
  const dialog = useDialog('modal', onClose);
  return createPortal(
    <dialog ref={dialog} className={`over ${className}`} role={role} aria-label={label} closedby={closedby}>
      {children}
    </dialog>,
    document.body,
  );
}
