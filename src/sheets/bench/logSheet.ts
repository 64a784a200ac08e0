import { skeletonOf } from '../../parts/layout/skeleton.ts';
import { type Block, flowed, heading, picture, table, words } from '../paper/flow.ts';
import type { Form, Job } from '../paper/frame.ts';
import type { Sheet } from '../paper/page.ts';
import { rectangle } from '../paper/path.ts';
import type { Cell } from '../paper/table.ts';
import { type LogLine, logOf } from './log.ts';

const FORM: Form = { id: 'log', title: "Builder's log", marks: true };
const PHOTO_HEIGHT = 58;

function photographs(): Block[] {
  return [
    words('Photographs before it is covered: paste here, and write the day.'),
    picture(PHOTO_HEIGHT, ({ x, y, width }) =>
      [0, 1].map((i) => rectangle(x + i * (width / 2 + 2), y + 1, width / 2 - 2, PHOTO_HEIGHT - 4, 'hairline', 'none')),
    ),
  ];
}

const whatCell = ({ what, basis }: LogLine): Cell => (basis ? { text: what, basis } : what);

function linesTable(lines: readonly LogLine[]): Block {
  if (lines.length === 0) return words('Nothing was written down here yet.');
  return table({
    columns: [{ head: 'day' }, { head: 'kind' }, { head: 'what', breaks: true }, { head: 'by' }],
    rows: lines.map((l) => [l.date || 'no day', l.kind, whatCell(l), l.by]),
  });
}

/** The log on paper: the whole panel first, then a page for each station with room for photographs. */
export function logSheet(job: Job): Sheet {
  const lines = logOf(job.model);
  const { bays } = skeletonOf(job.model);
  const blocks: Block[] = [heading('The whole panel'), linesTable(lines.filter((l) => l.station === null))];
  for (const { station, main, nose, tip } of bays) {
    const parts = [tip?.id, main?.id, nose?.id].filter((p) => p !== undefined).join(', ');
    blocks.push(
      { kind: 'page' },
      heading(`Station ${station.id}${parts ? `: ${parts}` : ''}`),
      linesTable(lines.filter((l) => l.station === station.id)),
      ...photographs(),
    );
  }
  return flowed(job, FORM, blocks);
}
