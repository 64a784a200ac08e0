import { sizeBook } from '../../model/sizes.ts';
import type { Bay } from '../../parts/skeleton.ts';
import { formatLength } from '../../units.ts';
import { useApp } from '../store.ts';
import type { Answer } from './answers.ts';
import { Counts } from './Findings.tsx';
import { Settings } from './Settings.tsx';
import { SizeList, StationSizes } from './SizeList.tsx';

/** Drawing sizes of the whole panel: sheets, bend radii. */
function SheetSizes() {
  const model = useApp((s) => s.model);
  const keys = [...sizeBook(model).entries.values()].filter((e) => e.path && (e.key.startsWith('sheet.') || e.key.endsWith('.radius')));
  return <SizeList keys={keys.map((e) => e.key)} as="drawing" />;
}

/** What am I building? The drawing's sizes, to change in place. */
export const BUILD: Answer = {
  headline: (model) => `${model.name}: ${model.stations.length} stations, ${formatLength(model.stations[model.stations.length - 1]!.y - model.stations[0]!.y, model.units)} between the ends.`,
  lead: (model) => model.note ?? 'Choose a station to see and change its drawing sizes.',
  Whole: ({ asked }) => <><Counts findings={asked} /><Settings /><SheetSizes /></>,
  Station: ({ bay }: { bay: Bay }) => <StationSizes bay={bay} as="drawing" />,
};
