import { expose, transfer } from 'comlink';
import type { Model } from '../../model/schema.ts';
import { SHEETS } from '../../sheets/all.ts';
import type { Job } from '../../sheets/paper/frame.ts';
import type { PaperName, Sheet } from '../../sheets/paper/page.ts';
import { pageSvg } from '../../sheets/paper/svg.ts';

/*
 * Lays sheets out away from the screen: a packing plan takes a second, and the PDF writer is as large as the app.
 */

export interface ListedSheet {
  readonly id: string;
  readonly title: string;
  readonly purpose: string;
}

/** A page to look at and to print, mm. */
export interface SvgPage {
  readonly svg: string;
  readonly width: number;
  readonly height: number;
}

export interface PaperRequest {
  readonly model: Model;
  readonly date: string;
  readonly paper: PaperName;
}

/** The last panel asked about, so that what follows from it is worked out once. */
let last: { readonly text: string; readonly model: Model } | undefined;

function jobOf(request: PaperRequest): Job {
  const text = JSON.stringify(request.model);
  if (last?.text !== text) last = { text, model: request.model };
  return { model: last.model, date: request.date, paper: request.paper };
}

function built(request: PaperRequest, id: string): Sheet {
  const kind = SHEETS.find((s) => s.id === id);
  if (!kind) throw new RangeError(`there is no sheet "${id}"`);
  return kind.build(jobOf(request));
}

/** Writes sheets as one PDF; the writer is loaded with the first. */
async function written(sheets: readonly Sheet[], title: string, date: string): Promise<Uint8Array> {
  const { sheetsPdf } = await import('../../sheets/paper/pdf.ts');
  const bytes = await sheetsPdf(sheets, { title, date });
  return transfer(bytes, [bytes.buffer]);
}

const service = {
  list: (): ListedSheet[] => SHEETS.map(({ id, title, purpose }) => ({ id, title, purpose })),
  pages: (request: PaperRequest, id: string): { title: string; pages: SvgPage[] } => {
    const { title, pages } = built(request, id);
    return { title, pages: pages.map((p) => ({ svg: pageSvg(p), width: p.paper.width, height: p.paper.height })) };
  },
  /** One PDF of the sheets named, in that order. */
  pdf: (request: PaperRequest, ids: readonly string[]): Promise<Uint8Array> => {
    const sheets = ids.map((id) => built(request, id));
    const [only, ...more] = sheets;
    const what = only && more.length === 0 ? only.title : 'Bench sheets';
    return written(sheets, `${what}: ${request.model.name}`, request.date);
  },
  written,
};

export type PaperService = typeof service;
expose(service);
