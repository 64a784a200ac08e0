import type { Joint, Model, Rib } from '../model/schema.ts';

/*
 * What the letters of the joints stand for, from the joints themselves: F2, F3, F4 are rows in the front web, K2 and
 * K4 take brackets to the rear web. Joints that share their letters but not their row are not explained.
 */

/**
 * Letters that a panel's joints share, and the row they name: `{ letters: 'F', where: 'front web: nose ribs,
 * doublers, ribs' }`.
 */
export interface RowName {
  readonly letters: string;
  readonly where: string;
}

const MOST = 6;
const KINDS = ['nose ribs', 'tip ribs', 'ribs', 'doublers', 'strips', 'brackets', 'skin'] as const;
type PartKind = (typeof KINDS)[number];

const RIBS: Readonly<Record<Rib['kind'], PartKind>> = { nose: 'nose ribs', tip: 'tip ribs', main: 'ribs' };

function kindsOf(model: Model): Map<string, PartKind> {
  const kinds = new Map<string, PartKind>([['skin', 'skin']]);
  const { front, rear } = model.spars;
  const strips = [front, rear].flatMap((spar) => [...(spar?.strips ?? []), ...(spar?.webDoublers ?? [])]);
  for (const r of model.ribs) kinds.set(r.id, RIBS[r.kind]);
  for (const d of model.doublers) kinds.set(d.id, 'doublers');
  for (const b of model.brackets) kinds.set(b.id, 'brackets');
  for (const s of strips) if (s.id !== undefined) kinds.set(s.id, 'strips');
  return kinds;
}

const rowOf = (j: Joint): string => `${j.end} ${j.on === 'top' || j.on === 'bottom' ? `${j.on} cap` : 'web'}`;

/** The rows that share their letters, in the order of the joints; six at most. */
export function rowKey(model: Model): readonly RowName[] {
  const kinds = kindsOf(model);
  const groups = new Map<string, Joint[]>();
  for (const j of model.joints) {
    const letters = /^[A-Za-z]+/.exec(j.id)?.[0] ?? j.id;
    groups.set(letters, [...(groups.get(letters) ?? []), j]);
  }
  const all = [...groups].flatMap(([letters, list]): RowName[] => {
    const [row, ...others] = new Set(list.map(rowOf));
    if (row === undefined || others.length > 0) return [];
    const taken = new Set(list.flatMap((j) => j.layers.map((part) => kinds.get(part))));
    const parts = KINDS.filter((k) => taken.has(k));
    return [{ letters, where: parts.length > 0 ? `${row} to ${parts.join(', ')}` : row }];
  });
  return all.slice(0, MOST);
}
