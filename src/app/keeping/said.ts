import type { Why } from './keep.ts';

/** What a person is told when a change could not be kept. */
export const SENTENCES: Readonly<Record<Exclude<Why, 'moved'>, string>> = {
  none: 'This browser keeps nothing here (a private window, or its storage is switched off), so what you change is on this page only: save a file before you close it.',
  full: 'The storage of this browser is full, so the last change is on this page only: save a file, then remove a panel you no longer need (under the panel’s name, top left).',
  newer:
    'A newer Ribtrue has kept your panels, and they are safe, but this older page can neither open them nor keep what you change: save a file if you have changed anything, then reload this page to get the newer one.',
  'older-open':
    'An older Ribtrue is open in another tab, and until it is closed this page can neither open your panels nor keep what you change: close that tab.',
  failed:
    'This browser could not keep the last change, so it is on this page only: save a file. The next change is tried again.',
};

/** What a person is told when what was kept could not be opened, where that is another matter than keeping. */
export const NOT_OPENED =
  'This browser did not hand over the panels kept in it, so an invented one is shown; yours are not touched. Reload this page; if that does not help, open a file you saved.';

/** What a person is told when what was kept is gone. */
export const CLEARED =
  'What this browser had kept was cleared while this page was open. The panel on screen is whole and is kept anew; save a file as well.';

/** What a person is told when a panel goes on as a copy. */
export const COPIED =
  'This panel was changed in another tab at the same moment. Both are kept: yours goes on here as a copy, and the other is in the list under the panel’s name.';

/** What a person is told when the newest state of a panel is not the one on screen. */
export const olderShown = (name: string, step: string): string =>
  `The last state kept of ${name} cannot be read; the one before it that can is on screen (after "${step}"). Check what you did last.`;

/** What a person is told when no state of a panel can be read. */
export const noneShown = (name: string): string =>
  `${name} stays kept here as it is, but cannot be read; an invented panel is shown instead. Open a file you saved of it, if you have one.`;
