import { type Start, word } from './asked.ts';
import { panelPlan } from './planned.ts';
import { aboutChord, aboutPanel, aboutPlaces, aboutRibs, aboutRivets, aboutSpar } from './questions.ts';

/** A fin with two spars, or a rudder with one; on the bench it lies on its side, root to the left. */
export const FIN: Start = {
  id: 'fin',
  name: 'Fin or rudder skeleton',
  says: 'It lies on its side on the bench: heights run along the span. A fin has two spars, a rudder one.',
  groups: [
    aboutPanel({ name: 'my fin', letter: 'V', hand: 'right', hands: ['right', 'left'] }),
    {
      name: 'Which',
      questions: [
        {
          id: 'which',
          kind: 'choice',
          ask: 'Is it a fin or a rudder?',
          where: 'Two spars make a fin, one a rudder.',
          usual: 'fin',
          points: 'panel',
          choices: [
            ['fin', 'a fin: two spars'],
            ['rudder', 'a rudder: one spar'],
          ],
        },
      ],
    },
    aboutPlaces({ first: 0, span: 1100, ribs: 5 }),
    aboutSpar(
      'front',
      { sheet: 0.8128, depth: [84, 60], cap: 17, opens: 'aft' },
      { tapered: true, name: 'Front spar, or the only one' },
    ),
    aboutSpar(
      'rear',
      { sheet: 0.8128, depth: [60, 46], cap: 15, opens: 'forward' },
      { tapered: true, when: (a) => word(a, 'which') === 'fin' },
    ),
    aboutChord({ webs: [360, 240], nose: [110, 80], rear: true }, true),
    aboutRibs({ main: 0.635, nose: 0.635, tip: 0.635, skin: 0.508, tab: 15, row: 7.5 }, { rear: true, ends: 'ask' }),
    aboutRivets({ front: 3, rear: 2 }, true),
  ],
  plan: (a) =>
    panelPlan(a, {
      note: 'A fin or rudder skeleton, laid out from its drawing; heights run along the span.',
      rear: word(a, 'which') === 'fin',
      wholeEnds: word(a, 'ends') === 'whole',
    }),
};
