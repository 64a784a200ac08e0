import type { Model, Rivet } from '../schema.ts';
import type { Edit } from './edits.ts';

/* What is on hand: what a cure may be made of, and a rivet bag filled from. */

export type StockList = 'shims' | 'packs' | 'drills';

/** What each list is, at the bench. */
export const STOCK_WORDS: Readonly<
  Record<StockList, { readonly name: string; readonly what: string; readonly usual: string }>
> = {
  shims: { name: 'shim stock', what: 'Thicknesses of shim on hand; cures are offered from these.', usual: '0.012 in' },
  packs: {
    name: 'packs for the jig blocks',
    what: 'Thicknesses of pack on hand; a packing plan is made of these.',
    usual: '0.5 mm',
  },
  drills: { name: 'drills', what: 'Drills on hand, by size or number.', usual: '#30' },
};

/** Adds a size to a list of stock, in order; one that is there already stays once. */
export function addStock(list: StockList, mm: number): Edit {
  return {
    name: `added to the ${STOCK_WORDS[list].name}`,
    apply: (m) => ({ ...m, stock: { ...m.stock, [list]: [...new Set([...m.stock[list], mm])].sort((a, b) => a - b) } }),
  };
}

export function removeStock(list: StockList, mm: number): Edit {
  return {
    name: `took out of the ${STOCK_WORDS[list].name}`,
    apply: (m) => ({ ...m, stock: { ...m.stock, [list]: m.stock[list].filter((v) => v !== mm) } }),
  };
}

/** A sheet counted as on hand, or no more. */
export function keepSheet(id: string, has: boolean): Edit {
  return {
    name: has ? `put sheet ${id} on hand` : `took sheet ${id} off the hand list`,
    apply: (m: Model) => ({
      ...m,
      stock: {
        ...m.stock,
        sheets: has ? [...new Set([...m.stock.sheets, id])] : m.stock.sheets.filter((s) => s !== id),
      },
    }),
  };
}

const key = (r: Rivet): string => `${r.kind} ${r.diameter} ${r.grip?.join(' ') ?? ''} ${r.length ?? ''}`;

export function addRivet(rivet: Rivet): Edit {
  return {
    name: 'added a rivet to the bags',
    apply: (m) => ({
      ...m,
      stock: {
        ...m.stock,
        rivets: m.stock.rivets.some((r) => key(r) === key(rivet)) ? m.stock.rivets : [...m.stock.rivets, rivet],
      },
    }),
  };
}

export function removeRivet(rivet: Rivet): Edit {
  return {
    name: 'took a rivet out of the bags',
    apply: (m) => ({ ...m, stock: { ...m.stock, rivets: m.stock.rivets.filter((r) => key(r) !== key(rivet)) } }),
  };
}
