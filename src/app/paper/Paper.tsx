import { useEffect, useState } from 'react';
import type { ListedSheet } from '../workers/paper.worker.ts';
import { PaperChoice, usePaper } from './PaperChoice.tsx';
import { askPaper } from './printer.ts';
import { SheetView } from './SheetView.tsx';
import { savePdf } from './savePdf.ts';
import { NOT_MADE, useBusy } from './useBusy.ts';
import './paper.css';

/** Every bench sheet: what it is for, to look at, to print, to save. */
export function Paper() {
  const [sheets, setSheets] = useState<readonly ListedSheet[]>([]);
  const [paper, setPaper] = usePaper();
  const [open, setOpen] = useState<string | null>(null);
  const { busy, failed, run } = useBusy();
  useEffect(() => {
    let live = true;
    run('Fetching the sheets…', async () => {
      const all = await askPaper((p) => p.list());
      if (live) setSheets(all);
    });
    return () => {
      live = false;
    };
  }, [run]);
  const save = (ids: readonly string[], name: string): void => {
    if (busy === null) run('Writing the PDF…', () => savePdf(ids, name, paper));
  };
  const all = sheets.map((s) => s.id);
  return (
    <section className="paper" aria-label="Paper">
      <header>
        <h2>Paper for the bench</h2>
        <PaperChoice paper={paper} onPaper={setPaper} />
        <button
          type="button"
          className="take"
          disabled={sheets.length === 0}
          aria-disabled={busy !== null}
          onClick={() => save(all, 'sheets')}
        >
          All as one PDF
        </button>
      </header>
      <p className="sheet-note" role="status">
        {failed ? NOT_MADE : busy}
      </p>
      <ul>
        {sheets.map((s) => (
          <li key={s.id}>
            <button type="button" className="sheet-name" onClick={() => setOpen(s.id)}>
              <b>{s.title}</b> <span>{s.purpose}</span>
            </button>
            <button
              type="button"
              className="take"
              aria-label={`Save ${s.title} as PDF`}
              aria-disabled={busy !== null}
              onClick={() => save([s.id], s.id)}
            >
              PDF
            </button>
          </li>
        ))}
      </ul>
      {open !== null && <SheetView id={open} onClose={() => setOpen(null)} />}
    </section>
  );
}
