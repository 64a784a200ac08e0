import { useEffect, useState } from 'react';
import { openFile } from './panelFile.ts';

/** Opens a file dropped anywhere on the window; true while one is held over it. */
export function useDrop(): boolean {
  const [held, setHeld] = useState(false);
  useEffect(() => {
    const over = (e: DragEvent): void => {
      e.preventDefault();
      setHeld(true);
    };
    const leave = (e: DragEvent): void => {
      if (e.relatedTarget === null) setHeld(false); // out of the window
    };
    const drop = (e: DragEvent): void => {
      e.preventDefault();
      setHeld(false);
      const file = e.dataTransfer?.files[0];
      if (file) void openFile(file);
    };
    window.addEventListener('dragover', over);
    window.addEventListener('dragleave', leave);
    window.addEventListener('drop', drop);
    return () => {
      window.removeEventListener('dragover', over);
      window.removeEventListener('dragleave', leave);
      window.removeEventListener('drop', drop);
    };
  }, []);
  return held;
}
