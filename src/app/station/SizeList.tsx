import { isFeeler, type SizeEntry } from '../../model/sizeEntries.ts';
import { sizeBook } from '../../model/sizes.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { formatLength } from '../../units.ts';
import { useApp } from '../state/store.ts';
import { SizeField } from './SizeField.tsx';
import './sizes.css';

/** Sizes by key, each to be changed in place: what was read, or what the drawing says. */
function SizeList({ keys, as }: { keys: readonly string[]; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  return (
    <ul className="terms wide">
      {keys.map((key) => {
        const readings = book.readingsOf(key);
        const nominal = book.nominal(key);
        const drawn =
          as === 'reading' && nominal !== undefined && readings.length > 0
            ? `drawing ${formatLength(nominal, model.units)}`
            : '';
        return (
          <li key={key}>
            <span className="term-name">{book.entries.get(key)?.name}</span>
            <SizeField size={key} as={as} />
            <span className="plusminus">{drawn}</span>
          </li>
        );
      })}
    </ul>
  );
}

/** Keys of the sizes that belong to a station, in the order a builder walks them. */
function sizesAt(bay: Bay, entries: Iterable<SizeEntry>, doublers: readonly string[]): string[] {
  const owners = [bay.main?.id, bay.nose?.id, bay.tip?.id, ...doublers].filter((o): o is string => o !== undefined);
  return [...entries]
    .filter((e) => !isFeeler(e) && e.of.joint === undefined)
    .filter(({ of }) => owners.includes(of.part ?? '') || bay.station.id === (of.from ?? of.station))
    .map((e) => e.key);
}

/** A station's sizes: those known, then those not read yet. */
export function StationSizes({ bay, as }: { bay: Bay; as: 'reading' | 'drawing' }) {
  const model = useApp((s) => s.model);
  const book = sizeBook(model);
  const doublers = skeletonOf(model)
    .placesAt(bay.station.id)
    .flatMap((p) => p.doublers.map((d) => d.id));
  const keys = sizesAt(bay, book.entries.values(), doublers);
  const known = keys.filter((k) => (as === 'drawing' ? book.entries.get(k)?.path : book.readingsOf(k).length > 0));
  const others = as === 'reading' ? keys.filter((k) => book.readingsOf(k).length === 0) : [];
  return (
    <>
      <SizeList keys={known} as={as} />
      {others.length > 0 && (
        <details open={known.length === 0}>
          <summary>Not read yet ({others.length})</summary>
          <SizeList keys={others} as={as} />
        </details>
      )}
    </>
  );
}
