import type { Kind } from '../model/quantities.ts';
import { kept, sameItems } from '../model/rested.ts';
import type { Doubler, SparName } from '../model/schema.ts';
import type { SizeEntry } from '../model/sizeEntries.ts';
import { once } from '../once.ts';
import type { Skeleton } from '../parts/layout/layout.ts';
import { skeletonOf } from '../parts/layout/skeleton.ts';
import type { Basis } from './finding.ts';

/* Sizes of what was made together: one reading tells for all of them. */

/** Kinds of which one reading a batch is enough. */
export const BATCH: ReadonlySet<Kind> = new Set<Kind>(['thickness', 'radius', 'cap']);

/** Caps of one spar, in the order of the file. */
const capsOf = kept((model, spar: SparName): readonly string[] => model.stations.map((s) => `${spar}.cap@${s.id}`), {
  same: sameItems,
});

type Bent = Pick<Doubler, 'sheet' | 'radius'> & { readonly of: 'doublers' | 'ribs' };

/** Bend radii of the doublers, or of the ribs, of one sheet that were bent over the same block. */
const bentAlike = kept(
  (model, { sheet, radius, of }: Bent): readonly string[] => {
    const { book } = skeletonOf(model);
    const alike = [...model[of]].filter((p) => p.sheet === sheet && p.radius === radius);
    return alike.map((d) => `${d.id}.radius`).filter((key) => book.entryOf(key) !== undefined);
  },
  { name: ({ sheet, radius, of }) => `${of} ${sheet} ${radius}`, same: sameItems },
);

/** Keys of the same batch as a size: one sheet, one spar's caps, doublers or ribs of one sheet bent over one block. */
export function batchOf(skeleton: Skeleton, { kind, key, of }: SizeEntry): readonly string[] {
  if (kind === 'cap' && of.spar !== undefined) return capsOf(skeleton.model, of.spar);
  const part = kind === 'radius' && of.part !== undefined ? skeleton.part(of.part) : undefined;
  if (!part || !('radius' in part)) return [key];
  const { sheet, radius } = part;
  return bentAlike(skeleton.model, { sheet, radius, of: 'form' in part ? 'doublers' : 'ribs' });
}

/** How sizes of which one reading is enough were read. */
interface Taken {
  /**
   * Day of the last reading of the first that was read and that nothing has moved since; an empty text where it has
   * none.
   */
  readonly day: string | undefined;
  /** Whether something has moved one of them since it was read. */
  readonly stale: boolean;
}

/** How the sizes of those keys were read. */
export const taken = kept(
  (model, keys: readonly string[]): Taken => {
    const { book } = skeletonOf(model);
    const agedOf = (key: string): Basis | undefined => book.find(key)?.aged;
    const read = keys.find((key) => book.readingsOf(key).length > 0 && agedOf(key) === undefined);
    const day = read === undefined ? undefined : (book.readingsOf(read).at(-1)?.date ?? '');
    return { day, stale: keys.some((key) => agedOf(key) === 'stale') };
  },
  { name: once((keys) => keys.join(' ')), same: (a, b) => a.day === b.day && a.stale === b.stale },
);
