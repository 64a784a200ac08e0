import { changeNote } from './bench/changeNote.ts';
import { holeLedger } from './bench/holeLedger.ts';
import { leadingEdge } from './bench/leadingEdge.ts';
import { logSheet } from './bench/logSheet.ts';
import { measuringCard, measuringWalk } from './bench/measuringCard.ts';
import { packingPlan } from './bench/packingPlan.ts';
import { signOff } from './bench/signOff.ts';
import { stationMap } from './bench/stationMap.ts';
import { survey } from './bench/survey.ts';
import type { Job } from './paper/frame.ts';
import type { Sheet } from './paper/page.ts';
import { cutListSheet } from './templates/cutList.ts';
import { pieceTemplates, ribTemplates, stripTemplates } from './templates/templates.ts';

/*
 * The bench sheets, and how one is added.
 *
 * To add a sheet: a file in `bench` or `templates` that makes a `Sheet` from a `Job` (the panel, the day, the paper),
 * mostly
 * `flowed(job, form, blocks)` of `paper/flow.ts`; one line in the list below, in the order of the job. Terminal and
 * app take it from here, and so do the tests of margins, overlaps, title strip and caution; its numbers get a test of
 * their own in
 * `tests/sheets/numbers.test.ts`. A character the standard fonts lack is written otherwise: `paper/characters.ts`
 * says how.
 *
 * The step cards are not in the list, for their pictures need the solid modeller: `steps/drawnStepCards.ts` makes
 * them, and
 * `files.ts` writes them after the sheets.
 */

/** A kind of sheet: its name, what it is for in one line, and how it is made. */
export interface SheetKind {
  /** The sheet's own id: file name, and what the terminal calls it. */
  readonly id: string;
  readonly title: string;
  readonly purpose: string;
  readonly build: (job: Job) => Sheet;
}

/** Every bench sheet, in the order of the job. */
export const SHEETS: readonly SheetKind[] = [
  { id: 'station-map', title: 'Station map', purpose: 'where every rib stands, from one datum', build: stationMap },
  {
    id: 'measuring-card',
    title: 'Measuring card',
    purpose: 'what is worth reading next, and where the jaws go',
    build: measuringCard,
  },
  {
    id: 'measuring-walk',
    title: 'Measuring card: the whole walk',
    purpose: 'every size round the bench, with blanks',
    build: measuringWalk,
  },
  {
    id: 'survey',
    title: 'Squaring and twist survey',
    purpose: 'heights, level, lean, skew and diagonals, before and after',
    build: survey,
  },
  {
    id: 'packing-plan',
    title: 'Packing plan',
    purpose: 'which packs under which block, and what to read then',
    build: packingPlan,
  },
  {
    id: 'cut-list',
    title: 'Shim and doubler cut list',
    purpose: 'what to cut from which sheet, and how it lies on what is on hand',
    build: (job) => cutListSheet(job),
  },
  {
    id: 'flat-patterns',
    title: 'Flat patterns, full size',
    purpose: 'doublers, packers and shims to cut and bend',
    build: (job) => pieceTemplates(job),
  },
  {
    id: 'rib-templates',
    title: 'Rib blanks and forming blocks, full size',
    purpose: 'to make a rib again',
    build: (job) => ribTemplates(job),
  },
  {
    id: 'drill-strips',
    title: 'Drill strips, full size',
    purpose: 'to drill the first layer of each row by',
    build: (job) => stripTemplates(job),
  },
  {
    id: 'hole-ledger',
    title: 'Hole ledger',
    purpose: 'every hole in drilling order: now, not yet, never',
    build: holeLedger,
  },
  {
    id: 'leading-edge',
    title: 'Leading edge survey',
    purpose: 'how far each nose stands, and where the line kinks',
    build: leadingEdge,
  },
  {
    id: 'sign-off',
    title: 'Ready-to-skin sign-off',
    purpose: 'every gate, what is open, photographs, signatures',
    build: signOff,
  },
  {
    id: 'change-note',
    title: 'Change note',
    purpose: 'what was added, why, and who was asked',
    build: (job) => changeNote(job),
  },
  {
    id: 'log',
    title: "Builder's log",
    purpose: 'what was read, changed and done, station by station',
    build: logSheet,
  },
];
