import { type RefObject, useEffectEvent, useLayoutEffect, useRef } from 'react';

/**
 * Opens a dialog when it comes and closes it when it goes, so that the focus goes into it and back to where it was. A
 * modal one lies over the page, which is out of reach meanwhile; the other stands in the page, and both can be worked
 * in. `onClose` is called when the browser closes it.
 */
export function useDialog(kind: 'modal' | 'beside', onClose: () => void): RefObject<HTMLDialogElement | null> {
  const dialog = useRef<HTMLDialogElement>(null);
  const closed = useEffectEvent(onClose);
  useLayoutEffect(() => {
    const shown = dialog.current;
    if (!shown) return;
    const hear = (): void => closed();
    if (kind === 'modal') shown.showModal();
    else shown.show();
    shown.addEventListener('close', hear);
    return () => {
      shown.removeEventListener('close', hear);
      shown.close();
    };
  }, [kind]);
  return dialog;
}

/** Whether something lies over the page now, and keys are for that alone. */
export function isCovered(): boolean {
  return document.querySelector('dialog:modal') !== null;
}
