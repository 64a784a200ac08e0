import { useState } from 'react';
import type { PaperName } from '../../sheets/paper/page.ts';
import { useApp } from '../state/store.ts';

let chosen: PaperName | undefined;

/** Languages of countries where paper is Letter. */
const LETTER = /-(US|CA|MX|PH|CL|CO|VE)$/i;

/** What people have where they work in inches, or where the browser's language is spoken. */
const usual = (): PaperName =>
  useApp.getState().model.units === 'in' || LETTER.test(navigator.language) ? 'letter' : 'a4';

/** The paper chosen last, or the usual one; and how to choose another. */
export function usePaper(): readonly [PaperName, (paper: PaperName) => void] {
  const [paper, setPaper] = useState(() => chosen ?? usual());
  const choose = (next: PaperName): void => {
    chosen = next;
    setPaper(next);
  };
  return [paper, choose];
}

export function PaperChoice({ paper, onPaper }: { paper: PaperName; onPaper: (paper: PaperName) => void }) {
  return (
    <label className="paper-choice">
      Paper
      <select value={paper} onChange={(e) => onPaper(e.target.value as PaperName)}>
        <option value="a4">A4</option>
        <option value="letter">Letter</option>
      </select>
    </label>
  );
}
