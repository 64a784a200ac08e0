import type { Start } from './asked.ts';
import { panelPlan } from './planned.ts';
import { aboutChord, aboutPanel, aboutPlaces, aboutRibs, aboutRivets, aboutSpar } from './questions.ts';

/** A one-piece or handed stabilizer of one chord all along: two spars, main and nose ribs, a tip rib at each end. */
export const CONSTANT_TAIL: Start = {
  id: 'constant-tail',
  name: 'Tail of constant chord',
  says: 'Two spars, every rib alike, a tip rib at each end. Stabilizers in one piece start here.',
  groups: [
    aboutPanel({ name: 'my tail', letter: 'S', hand: 'both' }),
    aboutPlaces({ first: 0, span: 2000, ribs: 7 }),
    aboutSpar('front', { sheet: 0.8128, depth: [90, 90], cap: 18, opens: 'aft' }, { tapered: false }),
    aboutSpar('rear', { sheet: 0.8128, depth: [56, 56], cap: 16, opens: 'forward' }, { tapered: false }),
    aboutChord({ webs: [280, 280], nose: [110, 110], rear: true }, false),
    aboutRibs({ main: 0.635, nose: 0.635, tip: 0.635, skin: 0.508, tab: 15, row: 7.5 }, { rear: true, ends: 'whole' }),
    aboutRivets({ front: 3, rear: 2 }, true),
  ],
  plan: (a) =>
    panelPlan(a, { note: 'A tail of constant chord, laid out from its drawing.', rear: true, wholeEnds: true }),
};
