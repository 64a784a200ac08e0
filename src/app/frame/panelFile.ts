import { LONGEST } from '../../model/file/parse.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { currentText, useApp } from '../state/store.ts';

/** Opens a file the person picked; a bad one is shown as its sentences. */
export async function openFile(file: File): Promise<void> {
  const { open, set } = useApp.getState();
  const say = (sentence: string): void => set({ refusal: { file: file.name, faults: [{ path: '', sentence }] } });
  if (file.size > LONGEST)
    return say(`the file has ${Math.round(file.size / 1e6)} MB; expected at most ${LONGEST / 1e6}; choose another`);
  try {
    open(await file.text(), file.name);
  } catch {
    say('the file could not be read; expected a panel file on this machine; choose it again');
  }
}

/** Saves the panel on screen as a plain file. */
export function savePanel(): void {
  const { model } = useApp.getState();
  saveAs(currentText(), `${fileStem(model.name)}.json`, 'application/json');
}
