import { headline } from '../../checks/questions.ts';
import { sizeBook } from '../../model/sizes.ts';
import { walkingOrder } from '../../model/walk.ts';
import type { Bay } from '../../parts/layout/layout.ts';
import type { Answer } from '../answer.ts';
import { SheetButton } from '../paper/SheetView.tsx';
import { useApp } from '../state/store.ts';
import { Counts, Groups } from '../station/Findings.tsx';
import { HowSure } from '../station/HowSure.tsx';
import { StationSizes } from '../station/SizeList.tsx';
import { AskedAbout } from './AskedAbout.tsx';
import { MeasureCard } from './MeasureCard.tsx';
import { Next, NextHead } from './Next.tsx';

/** Where to start: at the first size nobody has read, or on the walk round the bench. */
function StartMeasuring() {
  const model = useApp((s) => s.model);
  const read = useApp((s) => s.read);
  const book = sizeBook(model);
  const walk = walkingOrder(model);
  const [first] = walk;
  const unread = walk.find((e) => e.nominal !== undefined && book.readingsOf(e.key).length === 0);
  return (
    <p className="starts">
      {unread && (
        <button type="button" className="quiet" onClick={() => read(unread.key)}>
          Next in the walk: {unread.name}
        </button>
      )}
      {first && (
        <button type="button" className="quiet" onClick={() => read(first.key)}>
          Walk round the bench from the start
        </button>
      )}
      <SheetButton sheet="measuring-card">Print a measuring card</SheetButton>
      <SheetButton sheet="measuring-walk">Print the whole walk</SheetButton>
    </p>
  );
}

/** The measuring card of a station's first size, or of the one chosen, then all of the station's sizes. */
function StationReadings({ bay }: { bay: Bay }) {
  const model = useApp((s) => s.model);
  const size = useApp((s) => s.size);
  const read = useApp((s) => s.read);
  const first = walkingOrder(model).find((e) => e.station === bay.station.id)?.key;
  const on = size ?? first;
  return (
    <>
      {on && <MeasureCard size={on} onSize={read} />}
      <StationSizes bay={bay} as="reading" />
    </>
  );
}

/** What did I measure? What to read next, then a card at a time. */
export const MEASURE: Answer = {
  headline: (_, asked) => headline('measure', asked),
  Head: NextHead,
  Whole: ({ asked }) => (
    <>
      <AskedAbout />
      <Next />
      <StartMeasuring />
      <Counts findings={asked} />
      <HowSure />
      <Groups findings={asked.filter((f) => f.verdict === 'unsettled')} />
    </>
  ),
  Station: ({ bay }) => <StationReadings bay={bay} />,
};
