import type { Start } from './asked.ts';
import { panelPlan } from './planned.ts';
import {
  aboutChord,
  aboutPanel,
  aboutPlaces,
  aboutRibs,
  aboutRivets,
  aboutSpar,
  aboutStrip,
  washoutQuestion,
} from './questions.ts';

/** A tapered wing panel with linear washout, and a strip in the front caps that stops partway. */
export const WING_PANEL: Start = {
  id: 'wing-panel',
  name: 'Tapered wing panel with washout',
  says: 'Two spars that taper and twist evenly from root to tip, with strips in the caps if the drawing has them.',
  groups: [
    aboutPanel({ name: 'my wing panel', letter: 'W', hand: 'right', hands: ['right', 'left'] }),
    aboutPlaces({ first: 0, span: 2400, ribs: 8 }),
    aboutSpar('front', { sheet: 1.016, depth: [150, 110], cap: 20, opens: 'aft' }, { tapered: true }),
    aboutStrip(1200),
    aboutSpar('rear', { sheet: 0.8128, depth: [92, 68], cap: 16, opens: 'forward' }, { tapered: true }),
    {
      ...aboutChord({ webs: [600, 450], nose: [210, 160], rear: true }, true),
      name: 'Fore and aft, and twist',
      questions: [...aboutChord({ webs: [600, 450], nose: [210, 160], rear: true }, true).questions, washoutQuestion()],
    },
    aboutRibs({ main: 0.635, nose: 0.635, tip: 0.635, skin: 0.635, tab: 16, row: 8 }, { rear: true, ends: 'whole' }),
    aboutRivets({ front: 4, rear: 3 }, true),
  ],
  plan: (a) =>
    panelPlan(a, {
      note: 'A tapered wing panel with washout, laid out from its drawing.',
      rear: true,
      wholeEnds: true,
    }),
};
