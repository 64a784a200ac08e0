import { type Start, word } from './asked.ts';
import { panelPlan } from './planned.ts';
import { aboutChord, aboutPanel, aboutPlaces, aboutRibs, aboutRivets, aboutSpar } from './questions.ts';

/** A control surface on one spar: ribs reach back from it, short nose ribs ahead of it. */
export const ONE_SPAR_SURFACE: Start = {
  id: 'one-spar',
  name: 'Control surface on one spar',
  says: 'Ailerons, flaps and elevators: one spar, ribs behind it, short noses ahead of it.',
  groups: [
    aboutPanel({ name: 'my control surface', letter: 'C', hand: 'right', hands: ['right', 'left'] }),
    aboutPlaces({ first: 0, span: 1200, ribs: 5 }),
    aboutSpar('front', { sheet: 0.635, depth: [72, 60], cap: 15, opens: 'aft' }, { tapered: true, name: 'The spar' }),
    aboutChord({ webs: [250, 210], nose: [60, 52], rear: false }, true),
    aboutRibs({ main: 0.635, nose: 0.508, tip: 0.635, skin: 0.508, tab: 14, row: 7 }, { rear: false, ends: 'ask' }),
    aboutRivets({ front: 3, rear: 2 }, false),
  ],
  plan: (a) =>
    panelPlan(a, {
      note: 'A control surface on one spar, laid out from its drawing.',
      rear: false,
      wholeEnds: word(a, 'ends') === 'whole',
    }),
};
