import { useMemo } from 'react';
import { checkAll } from '../../checks/checkAll.ts';
import { type Finding, severity } from '../../checks/finding.ts';
import { onPaper } from '../../drilling/onPaper.ts';
import { useApp } from '../state/store.ts';

/** How many findings of the drawing alone do not fit, or only just. */
function howMany(off: readonly Finding[]): string {
  const amiss = off.filter((f) => f.verdict !== 'watch').length;
  if (amiss > 0) return `On paper ${amiss === 1 ? 'one thing does' : `${amiss} things do`} not fit.`;
  return `On paper ${off.length === 1 ? 'one thing is' : `${off.length} things are`} close.`;
}

/** Whether anything on paper does not fit, in one sentence, for the head of the sheet. */
export function PaperLine() {
  const model = useApp((s) => s.model);
  const off = useMemo(() => onPaper(model).filter((f) => f.verdict !== 'fits'), [model]);
  const open = useMemo(() => checkAll(model).filter((f) => f.verdict === 'unsettled').length, [model]);
  const worst = [...off].sort((a, b) => severity(b.verdict) - severity(a.verdict))[0];
  if (!worst)
    return (
      <p className="paper-line">
        On paper everything fits.{open > 0 ? ` ${open} answers wait for a measurement.` : ''}
      </p>
    );
  return (
    <p className={`paper-line ${worst.verdict}`}>
      <b className="word">{howMany(off)}</b>{' '}
      <button
        type="button"
        className="chip wrap"
        onClick={() => worst.station !== null && useApp.getState().choose(worst.station)}
      >
        {worst.said.fact}.
      </button>
    </p>
  );
}
