import type { CheckRow } from '../model/checkRow.ts';
import { checkRow } from '../model/checkTable.ts';
import { doorInto, sameItems } from '../model/rested.ts';
import type { Model } from '../model/schema.ts';
import { once } from '../once.ts';
import { checkAll } from './checkAll.ts';
import type { Finding } from './finding.ts';

/*
 * A panel's findings as the gates ask for them: by the item that asks, of the whole panel, of a station or of a row.
 * Each is a door: an item rests on its own findings, and on no others.
 */

/** An item of the ready gates that asks findings. */
type ItemId = NonNullable<CheckRow['gate']>;

/** The findings that one item asks. */
interface OfItem {
  /** Station by station. */
  readonly all: Finding[];
  readonly byStation: Map<string, Finding[]>;
  readonly byJoint: Map<string, Finding[]>;
}

interface Sorted {
  /** Those that mean the whole panel under no name. */
  readonly byStation: ReadonlyMap<string, readonly Finding[]>;
  readonly byItem: ReadonlyMap<ItemId, OfItem>;
}

function put<K>(lists: Map<K, Finding[]>, key: K, finding: Finding): void {
  const list = lists.get(key);
  if (list) list.push(finding);
  else lists.set(key, [finding]);
}

const sorted = once((findings: readonly Finding[]): Sorted => {
  const byStation = new Map<string, Finding[]>();
  for (const f of findings) put(byStation, f.station ?? '', f);
  const byItem = new Map<ItemId, OfItem>();
  for (const [station, list] of byStation)
    for (const f of list) {
      const { gate } = checkRow(f.check);
      if (gate === undefined) continue;
      const item: OfItem = byItem.get(gate) ?? { all: [], byStation: new Map(), byJoint: new Map() };
      byItem.set(gate, item);
      item.all.push(f);
      put(item.byStation, station, f);
      if (f.at.joint !== undefined) put(item.byJoint, f.at.joint, f);
    }
  return { byStation, byItem };
});

const of = (model: Model): Sorted => sorted(checkAll(model));
const NONE: readonly Finding[] = [];

/** All findings that an item of the gates asks, station by station. */
export const findingsOf = doorInto({
  of,
  look: ({ byItem }, item: ItemId) => byItem.get(item)?.all ?? NONE,
  same: sameItems,
});

interface At {
  readonly item: ItemId;
  readonly station: string;
}

/** Those of one station. */
export const findingsAtStation = doorInto({
  of,
  look: ({ byItem }, { item, station }: At) => byItem.get(item)?.byStation.get(station) ?? NONE,
  name: ({ item, station }) => `${item} ${station}`,
  same: sameItems,
});

interface OfRow {
  readonly item: ItemId;
  readonly joint: string;
}

/** Those of one row, by its joint. */
export const findingsOfRow = doorInto({
  of,
  look: ({ byItem }, { item, joint }: OfRow) => byItem.get(item)?.byJoint.get(joint) ?? NONE,
  name: ({ item, joint }) => `${item} ${joint}`,
  same: sameItems,
});

/** Everything found at a station, whoever asks; with no name what means the whole panel. */
export const allAtStation = doorInto({
  of,
  look: ({ byStation }, station: string) => byStation.get(station) ?? NONE,
  same: sameItems,
});
