import { type ReactNode, useEffect, useRef, useState } from 'react';
import type { PaperName } from '../../sheets/paper/page.ts';
import { useApp } from '../state/store.ts';
import { today } from '../state/today.ts';
import { Over } from '../widgets/Over.tsx';
import type { SvgPage } from '../workers/paper.worker.ts';
import { PaperChoice, usePaper } from './PaperChoice.tsx';
import { askPaper, printPages } from './printer.ts';
import { savePdf } from './savePdf.ts';
import { NOT_MADE, useBusy } from './useBusy.ts';
import './paper.css';

const PAGE_STYLE = ':host { all: initial; } svg { display: block; width: 100%; height: auto; }';

/** A page on the screen as it will be on paper: apart from the screen's own styles. */
function PageView({ page }: { page: SvgPage }) {
  const host = useRef<HTMLDivElement>(null);
  useEffect(() => {
    const box = host.current;
    if (!box) return;
    const root = box.shadowRoot ?? box.attachShadow({ mode: 'open' });
    root.innerHTML = `<style>${PAGE_STYLE}</style>${page.svg}`;
  }, [page]);
  return (
    <div className={page.width > page.height ? 'sheet-page lying' : 'sheet-page'}>
      <div ref={host} />
    </div>
  );
}

interface Made {
  readonly title: string;
  readonly pages: readonly (SvgPage & { readonly number: number })[];
}

/** A sheet's pages, laid out anew when the panel or the paper changes; null until they come. */
function useSheet(id: string, paper: PaperName) {
  const model = useApp((s) => s.model);
  const [made, setMade] = useState<Made | null>(null);
  const { busy, failed, run } = useBusy();
  useEffect(() => {
    let live = true;
    run('Laying it out…', async () => {
      const { title, pages } = await askPaper((p) => p.pages({ model, date: today(), paper }, id));
      if (live) setMade({ title, pages: pages.map((page, i) => ({ ...page, number: i + 1 })) });
    });
    return () => {
      live = false;
    };
  }, [model, paper, id, run]);
  return { made, busy, failed, run };
}

const headingOf = (made: Made | null): string => {
  if (!made) return 'Sheet';
  return `${made.title}, ${made.pages.length} ${made.pages.length === 1 ? 'page' : 'pages'}`;
};

/** One sheet, page by page, as it will be printed. */
export function SheetView({ id, onClose }: { id: string; onClose: () => void }) {
  const [paper, setPaper] = usePaper();
  const { made, busy, failed, run } = useSheet(id, paper);
  const ready = made !== null && busy === null;
  return (
    <Over label={made?.title ?? 'Sheet'} className="sheet-view" closedby="any" onClose={onClose}>
      <header>
        <h2>{headingOf(made)}</h2>
        <PaperChoice paper={paper} onPaper={setPaper} />
        <button
          type="button"
          className="take"
          aria-disabled={!ready}
          onClick={() => ready && printPages(made.pages, made.title)}
        >
          Print
        </button>
        <button
          type="button"
          className="take"
          aria-disabled={!ready}
          onClick={() => ready && run('Writing the PDF…', () => savePdf([id], id, paper))}
        >
          Save PDF
        </button>
        <button type="button" className="icon" aria-label="Close the sheet" onClick={onClose}>
          ✕
        </button>
      </header>
      <p className="sheet-note" role="status">
        {failed ? NOT_MADE : (busy ?? 'Print at actual size (100 %), not fitted to the page.')}
      </p>
      {/* biome-ignore lint/a11y/noNoninteractiveTabindex: what scrolls is reached by Tab, or it cannot be read by keyboard */}
      <section className="sheet-pages" tabIndex={0} aria-label="Pages">
        {made?.pages.map((page) => (
          <PageView key={page.number} page={page} />
        ))}
      </section>
    </Over>
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
