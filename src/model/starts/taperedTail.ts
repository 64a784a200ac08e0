import type { Start } from './asked.ts';
import { panelPlan } from './planned.ts';
import { aboutChord, aboutPanel, aboutPlaces, aboutRibs, aboutRivets, aboutSpar } from './questions.ts';

/** One half of a tapered stabilizer: every size straight from the root's to the tip's. */
export const TAPERED_TAIL: Start = {
  id: 'tapered-tail',
  name: 'Tapered tail',
  says: 'One half: two spars that taper from root to tip, and every rib between them.',
  groups: [
    aboutPanel({ name: 'my tail half', letter: 'S', hand: 'right', hands: ['right', 'left'] }),
    aboutPlaces({ first: 20, span: 1200, ribs: 6 }),
    aboutSpar('front', { sheet: 0.8128, depth: [96, 70], cap: 18, opens: 'aft' }, { tapered: true }),
    aboutSpar('rear', { sheet: 0.8128, depth: [62, 48], cap: 16, opens: 'forward' }, { tapered: true }),
    aboutChord({ webs: [330, 230], nose: [120, 85], rear: true }, true),
    aboutRibs({ main: 0.635, nose: 0.635, tip: 0.635, skin: 0.508, tab: 15, row: 7.5 }, { rear: true, ends: 'whole' }),
    aboutRivets({ front: 3, rear: 2 }, true),
  ],
  plan: (a) => panelPlan(a, { note: 'A tapered tail half, laid out from its drawing.', rear: true, wholeEnds: true }),
};
