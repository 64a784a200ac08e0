import { type Remote, wrap } from 'comlink';
import { awaited } from '../state/atRest.ts';
import type { PaperService, SvgPage } from '../workers/paper.worker.ts';

interface Started {
  readonly remote: Remote<PaperService>;
  /** Never kept, only broken: when the worker's own script cannot be loaded or dies. */
  readonly broken: Promise<never>;
}

let started: Started | undefined;

function start(): Started {
  const worker = new Worker(new URL('../workers/paper.worker.ts', import.meta.url), { type: 'module' });
  const broken = new Promise<never>((_, fail) => {
    worker.onerror = () => {
      started = undefined;
      fail(new Error('the sheets could not be laid out'));
    };
  });
  broken.catch(() => undefined);
  return { remote: wrap<PaperService>(worker), broken };
}

/** Asks the worker that lays sheets out; it is started when first asked, and again after it broke down. */
export function askPaper<T>(ask: (service: Remote<PaperService>) => Promise<T>): Promise<T> {
  started ??= start();
  return awaited(Promise.race([ask(started.remote), started.broken]));
}

/**
 * Hands pages to the browser's own print dialog, each on its own paper and true to scale. Not every browser says when
 * it has printed: what was printed last goes when the next comes.
 */
export function printPages(pages: readonly SvgPage[], title: string): void {
  document.querySelector('.print-frame')?.remove();
  const frame = document.createElement('iframe');
  frame.setAttribute('aria-hidden', 'true');
  frame.className = 'print-frame';
  const sizes = [...new Set(pages.map((p) => `${p.width} ${p.height}`))];
  const named = (p: SvgPage): string => `paper${sizes.indexOf(`${p.width} ${p.height}`)}`;
  const rules = sizes
    .map(
      (s, i) =>
        `@page paper${i} { size: ${s
          .split(' ')
          .map((v) => `${v}mm`)
          .join(' ')}; margin: 0 } .paper${i} { page: paper${i} }`,
    )
    .join('\n');
  const name = title.replace(/[<&]/g, '');
  frame.srcdoc = `<!doctype html><title>${name}</title><style>${rules} html, body { margin: 0 } div { break-after: page; overflow: hidden } div:last-child { break-after: auto } svg { display: block }</style>${pages.map((p) => `<div class="${named(p)}">${p.svg}</div>`).join('')}`;
  frame.onload = () => {
    const inside = frame.contentWindow;
    if (!inside) return;
    inside.onafterprint = () => setTimeout(() => frame.remove(), 0);
    inside.focus();
    inside.print();
  };
  document.body.append(frame);
}
