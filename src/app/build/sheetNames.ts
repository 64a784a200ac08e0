import type { SheetName } from './desk.ts';

/** The sheets of Build, in the order a drawing is read. */
export const SHEET_NAMES: readonly {
  readonly id: Exclude<SheetName, 'start'>;
  readonly name: string;
  readonly says: string;
}[] = [
  { id: 'stations', name: 'stations', says: 'where each rib stands, and the spars there' },
  { id: 'spars', name: 'spars and sheets', says: 'which way they open, their bends, strips, sheet' },
  { id: 'ribs', name: 'ribs and pieces', says: 'every part’s sizes, common ones once' },
  { id: 'shapes', name: 'shapes', says: 'the section the ribs are bent to' },
  { id: 'joints', name: 'joints and holes', says: 'rows, rivets, what is drilled' },
  { id: 'stages', name: 'order', says: 'what comes in when' },
  { id: 'limits', name: 'limits', says: 'what fits and what must be acted on, and who says so' },
  { id: 'stock', name: 'on hand', says: 'sheets, shims, packs, drills, rivets' },
  { id: 'compare', name: 'compare', says: 'with the other hand, an earlier self, a file' },
];
