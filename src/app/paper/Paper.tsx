import { type ReactNode, useEffect, useRef, useState } from 'react';
import { createPortal } from 'react-dom';
import type { PaperName } from '../../sheets/paper/page.ts';
import { fileStem, saveAs } from '../files/saveAs.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import type { ListedSheet, SvgPage } from '../workers/paper.worker.ts';
import { askPaper, printPages } from './printer.ts';
import './paper.css';

let chosen: PaperName | undefined;

/** The paper chosen last; until then what people have where they work in inches, or where the browser's language is spoken. */
const paperNow = (): PaperName =>
  chosen ??
  (useApp.getState().model.units === 'in' || /-(US|CA|MX|PH|CL|CO|VE)$/i.test(navigator.language) ? 'letter' : 'a4');

const request = (paper: PaperName) => ({ model: useApp.getState().model, date: today(), paper });
const NOT_MADE = 'The sheet could not be laid out. Everything typed is kept; load the page again and try once more.';

async function savePdf(ids: readonly string[], name: string, paper: PaperName): Promise<void> {
  const bytes = await askPaper((p) => p.pdf(request(paper), ids));
  saveAs(bytes, `${fileStem(useApp.getState().model.name)}-${name}.pdf`, 'application/pdf');
}

/** Runs one slow thing at a time, with its word while it runs and a sentence when it fails. */
function useBusy(): { busy: string | null; failed: boolean; run: (word: string, work: () => Promise<void>) => void } {
  const [busy, setBusy] = useState<string | null>(null);
  const [failed, setFailed] = useState(false);
  const run = (word: string, work: () => Promise<void>): void => {
    setBusy(word);
    setFailed(false);
    void work()
      .catch(() => setFailed(true))
      .finally(() => setBusy(null));
  };
  return { busy, failed, run };
}

function PaperChoice({ paper, onPaper }: { paper: PaperName; onPaper: (paper: PaperName) => void }) {
  return (
    <label className="paper-choice">
      Paper
      <select
        value={paper}
        onChange={(e) => {
          chosen = e.target.value as PaperName;
          onPaper(chosen);
        }}
      >
        <option value="a4">A4</option>
        <option value="letter">Letter</option>
      </select>
    </label>
  );
}

/** A page on the screen as it will be on paper: apart from the screen's own styles. */
function PageView({ page }: { page: SvgPage }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const root = host.current!.shadowRoot ?? host.current!.attachShadow({ mode: 'open' });
    root.innerHTML = `<style>:host { all: initial; } svg { display: block; width: 100%; height: auto; }</style>${page.svg}`;
  }, [page]);
  return (
    <div className={page.width > page.height ? 'sheet-page lying' : 'sheet-page'}>
      <div ref={host} />
    </div>
  );
}

/** One sheet, page by page, as it will be printed. */
function SheetView({ id, onClose }: { id: string; onClose: () => void }) {
  const model = useApp((s) => s.model);
  const [paper, setPaper] = useState(paperNow);
  const [made, setMade] = useState<{ title: string; pages: readonly SvgPage[] } | null>(null);
  const { busy, failed, run } = useBusy();
  const dialog = useRef<HTMLDialogElement>(null);
  useEffect(() => dialog.current?.showModal(), []);
  useEffect(() => {
    let live = true;
    run('Laying it out…', async () => {
      const sheet = await askPaper((p) => p.pages({ model, date: today(), paper }, id));
      if (live) setMade(sheet);
    });
    return () => {
      live = false;
    };
  }, [model, paper, id]);
  return createPortal(
    <dialog
      ref={dialog}
      className="sheet-view"
      aria-label={made?.title ?? 'Sheet'}
      onClose={onClose}
      onClick={(e) => e.target === dialog.current && dialog.current.close()}
    >
      <header>
        <h2>{made ? `${made.title}, ${made.pages.length} ${made.pages.length === 1 ? 'page' : 'pages'}` : 'Sheet'}</h2>
        <PaperChoice paper={paper} onPaper={setPaper} />
        <button
          type="button"
          className="take"
          aria-disabled={!made || busy !== null}
          onClick={() => made && busy === null && printPages(made.pages, made.title)}
        >
          Print
        </button>
        <button
          type="button"
          className="take"
          aria-disabled={!made || busy !== null}
          onClick={() => made && busy === null && run('Writing the PDF…', () => savePdf([id], id, paper))}
        >
          Save PDF
        </button>
        <button type="button" className="icon" aria-label="Close the sheet" onClick={() => dialog.current?.close()}>
          ✕
        </button>
      </header>
      <p className="sheet-note" role="status">
        {failed ? NOT_MADE : (busy ?? 'Print at actual size (100 %), not fitted to the page.')}
      </p>
      <div className="sheet-pages" tabIndex={0} aria-label="Pages">
        {made?.pages.map((p, i) => (
          <PageView key={i} page={p} />
        ))}
      </div>
    </dialog>,
    document.body,
  );
}

/** A button that opens one sheet. */
export function SheetButton({ sheet, children }: { sheet: string; children: ReactNode }) {
  const [open, setOpen] = useState(false);
  return (
    <>
      <button type="button" className="quiet" onClick={() => setOpen(true)}>
        {children}
      </button>
      {open && <SheetView id={sheet} onClose={() => setOpen(false)} />}
    </>
  );
}

/** Every bench sheet: what it is for, to look at, to print, to save. */
export function Paper() {
  const [sheets, setSheets] = useState<readonly ListedSheet[]>([]);
  const [paper, setPaper] = useState(paperNow);
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
  }, []);
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
          onClick={() =>
            busy === null &&
            run('Writing the PDF…', () =>
              savePdf(
                sheets.map((s) => s.id),
                'sheets',
                paper,
              ),
            )
          }
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
              onClick={() => busy === null && run('Writing the PDF…', () => savePdf([s.id], s.id, paper))}
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
