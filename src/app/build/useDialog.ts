import { type RefObject, useLayoutEffect, useRef } from 'react';

/**
 * Opens a dialog when it comes and closes it when it goes, so that the focus goes into it and back to where it was. A modal
 * one lies over the page, which is out of reach meanwhile; the other stands in the page, and both can be worked in. `onClose`,
 * the same function every time, is called when the browser closes it.
 */
export function useDialog(kind: 'modal' | 'beside', onClose: () => void): RefObject<HTMLDialogElement | null> {
  const dialog = useRef<HTMLDialogElement>(null);
  useLayoutEffect(() => {
    const shown = dialog.current;
    if (!shown) return;
    if (kind === 'modal') shown.showModal();
    else shown.show();
    shown.addEventListener('close', onClose);
    return () => {
      shown.removeEventListener('close', onClose);
      shown.close();
    };
  }, [kind, onClose]);
  return dialog;
}
