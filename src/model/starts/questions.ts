import type { Model } from '../schema.ts';
import { type Pointed, type StartAnswers, type StartGroup, type StartQuestion, word } from './asked.ts';

/* Questions that several starts share. */

type Rest = Partial<Pick<StartQuestion, 'least' | 'most' | 'fits' | 'choices' | 'more' | 'when'>>;
const q = (
  id: string,
  kind: StartQuestion['kind'],
  ask: string,
  where: string,
  usual: StartQuestion['usual'],
  points: Pointed,
  rest: Rest = {},
): StartQuestion => ({ id, kind, ask, where, usual, points, ...rest });
const more = (x: StartQuestion): StartQuestion => ({ ...x, more: true });

const SHEET = { least: 0.3, most: 3.2 };
const sheet = (id: string, ask: string, usual: number, points: Pointed): StartQuestion =>
  q(
    id,
    'length',
    ask,
    'The material list, or the title of the part. Type it as you say it: 0.025 in, 25 mil, 0.6 mm.',
    usual,
    points,
    SHEET,
  );

/** A rib that is this much smaller than its room is one: more is a slip of the typing, mm. */
const MOST_EASE = 5;

const HANDS = [
  ['right', 'right'],
  ['left', 'left'],
  ['both', 'both hands in one piece'],
] as const;

export function aboutPanel(usual: {
  name: string;
  letter: string;
  hand: Model['hand'];
  hands?: readonly Model['hand'][];
}): StartGroup {
  return {
    name: 'The panel',
    questions: [
      q(
        'units',
        'choice',
        'Which unit does the drawing use?',
        'A bare number takes this unit; any number may carry its own.',
        'mm',
        'panel',
        {
          choices: [
            ['mm', 'millimetres'],
            ['in', 'inches'],
          ],
        },
      ),
      q('name', 'text', 'What do you call it?', 'The title block.', usual.name, 'panel'),
      q(
        'hand',
        'choice',
        'Which hand is it?',
        'Right and left are as the pilot sits. The other hand is mirrored from this one later.',
        usual.hand,
        'panel',
        { choices: HANDS.filter(([h]) => !usual.hands || usual.hands.includes(h)) },
      ),
      more(
        q(
          'letter',
          'text',
          'Which letter marks the stations?',
          'Any letter: S gives S1, S2, S3.',
          usual.letter,
          'places',
        ),
      ),
      more(
        q('alloy', 'choice', 'Which alloy?', 'The material list. It sets how tight a bend may be.', '6061-T6', 'bend', {
          choices: ['6061-T6', '6061-T4', '2024-T3', '5052-H32', '5052-H34', '7075-T6'].map((x) => [x, x] as const),
        }),
      ),
    ],
  };
}

export function aboutPlaces(usual: { first: number; span: number; ribs: number }): StartGroup {
  const listed = ({ places }: StartAnswers): boolean => Array.isArray(places) && places.length > 0;
  return {
    name: 'Along the span',
    questions: [
      q(
        'places',
        'places',
        'Where does each rib stand, from one datum?',
        'The station table. Type or paste the running dimensions, all from the same end; leave it empty for evenly spaced ribs.',
        [],
        'places',
      ),
      q(
        'ribs',
        'count',
        'How many ribs stand along it, both ends counted?',
        'Count them on the plan view.',
        usual.ribs,
        'ribs',
        { least: 2, most: 40, when: (a) => !listed(a) },
      ),
      q(
        'span',
        'length',
        'How far is it from the first rib to the last?',
        'The plan view, web face to web face.',
        usual.span,
        'span',
        { least: 200, most: 9000, when: (a) => !listed(a) },
      ),
      more(
        q(
          'first',
          'length',
          'How far is the first rib from the datum?',
          'Zero when the first rib is the datum.',
          usual.first,
          'places',
          { least: -9000, most: 9000, when: (a) => !listed(a) && word(a, 'hand') !== 'both' },
        ),
      ),
    ],
  };
}

/** A size asked at the root and, where the start tapers, at the tip. */
const tip = (tapered: boolean, x: StartQuestion, usual: number, ask: string): StartQuestion[] =>
  tapered
    ? [
        { ...x, ask: `${x.ask.replace(/\?$/, '')}, at the root?` },
        { ...x, id: `${x.id}Tip`, ask, usual },
      ]
    : [x];

export interface SparUsual {
  readonly sheet: number;
  readonly depth: readonly [number, number];
  readonly cap: number;
  readonly opens: 'aft' | 'forward';
}

export function aboutSpar(
  which: 'front' | 'rear',
  usual: SparUsual,
  options: { tapered: boolean; when?: (a: StartAnswers) => boolean; name?: string },
): StartGroup {
  const ways =
    which === 'front'
      ? ([
          ['aft', 'aft: main ribs nest in it, nose ribs butt on its flat side'],
          ['forward', 'forward: nose ribs nest in it, main ribs butt on its flat side'],
        ] as const)
      : ([
          ['forward', 'forward: rib ends nest in it'],
          ['aft', 'aft: rib ends butt on its flat side'],
        ] as const);
  const all = [
    sheet(`${which}Sheet`, 'What sheet is it bent from?', usual.sheet, `${which}-sheet`),
    ...tip(
      options.tapered,
      q(
        `${which}Depth`,
        'length',
        'How deep is it over the caps?',
        'The spar’s own drawing, or its section.',
        usual.depth[0],
        `${which}-depth`,
        { least: 30, most: 400 },
      ),
      usual.depth[1],
      `And how deep at the tip?`,
    ),
    q(
      `${which}Opens`,
      'choice',
      'Which way does the channel open?',
      'The section on the drawing: the side the caps point to. Rib ends nest between the caps on that side.',
      usual.opens,
      `${which}-opens`,
      { choices: ways },
    ),
    q(
      `${which}Cap`,
      'length',
      'How wide are its caps?',
      'Web face to free edge, on its section.',
      usual.cap,
      `${which}-cap`,
      { least: 12, most: 60 },
    ),
    more(
      q(
        `${which}Radius`,
        'length',
        'How large is its inside bend radius?',
        'A note near the section. Zero takes one that is easy on the alloy.',
        0,
        'bend',
        { least: 0, most: 10 },
      ),
    ),
  ];
  const { when } = options;
  return {
    name: options.name ?? `${which === 'front' ? 'Front' : 'Rear'} spar`,
    questions: when ? all.map((x) => ({ ...x, when })) : all,
  };
}

export function aboutChord(
  usual: { webs: readonly [number, number]; nose: readonly [number, number]; rear: boolean },
  tapered: boolean,
): StartGroup {
  const [ask, where] = usual.rear
    ? [
        'How far is it from the front web to the rear web?',
        'The rib drawing or the plan view: forward face of the front web to forward face of the rear web.',
      ]
    : ['How far do the ribs reach behind the spar?', 'From the forward face of the web to the rear end of the ribs.'];
  return {
    name: 'Fore and aft',
    questions: [
      ...tip(
        tapered,
        q('webs', 'length', ask, where, usual.webs[0], 'webs', { least: 60, most: 2000 }),
        usual.webs[1],
        usual.rear ? 'And from web to web at the tip?' : 'And how far behind the spar at the tip?',
      ),
      ...tip(
        tapered,
        q(
          'nose',
          'length',
          'How far does the nose stand ahead of the front web?',
          'The nose rib’s drawing: tail flange face to nose point.',
          usual.nose[0],
          'nose',
          { least: 30, most: 600 },
        ),
        usual.nose[1],
        'And how far does it stand ahead at the tip?',
      ),
      more(
        q(
          'profile',
          'text',
          'What shape is the nose?',
          'A four-digit section by its name, such as 0012, or ellipse. Coordinates can be pasted afterwards.',
          'ellipse',
          'profile',
        ),
      ),
      more(
        q(
          'chord',
          'length',
          'How long is the whole chord, at the root?',
          'Leading edge to trailing edge: where the spar cuts the section.',
          Math.round((usual.webs[0] + usual.nose[0]) * 1.4),
          'chord',
          { least: 100, most: 4000, when: (a) => /^\d{4}$/.test(word(a, 'profile')) },
        ),
      ),
    ],
  };
}

export function aboutRibs(
  usual: { main: number; nose: number; tip: number; skin: number; tab: number; row: number },
  options: { rear: boolean; ends: 'whole' | 'ask' },
): StartGroup {
  const whole = (a: StartAnswers): boolean => options.ends === 'whole' || word(a, 'ends') === 'whole';
  const twoSpars = (a: StartAnswers): boolean => options.rear && word(a, 'which') !== 'rudder';
  return {
    name: 'Ribs and skin',
    questions: [
      sheet('mainSheet', 'What sheet are the main ribs?', usual.main, 'main'),
      sheet('noseSheet', 'And the nose ribs?', usual.nose, 'nose-rib'),
      ...(options.ends === 'ask'
        ? [
            q('ends', 'choice', 'What stands at the two ends?', 'The plan view.', 'whole', 'tip', {
              choices: [
                ['whole', 'one rib in one piece, nose to rear'],
                ['parted', 'a main rib and a nose rib'],
              ],
            }),
          ]
        : []),
      { ...sheet('tipSheet', 'And the tip ribs?', usual.tip, 'tip'), when: whole },
      ...(options.rear
        ? [
            q(
              'registered',
              'choice',
              'What sets the tip ribs fore and aft?',
              'Where the tip rib is dimensioned from: its rear end on the rear web, or a clip on the front spar. It decides what moves their noses.',
              'rear',
              'registered',
              {
                choices: [
                  ['rear', 'their rear end, on the rear web'],
                  ['front', 'a clip on the front spar'],
                ],
                when: (a) => whole(a) && twoSpars(a),
              },
            ),
          ]
        : []),
      more(
        q(
          'clip',
          'length',
          'How far ahead of the front web is the clip’s hole?',
          'The clip’s drawing.',
          12,
          'registered',
          { least: 4, most: 28, when: (a) => whole(a) && (!twoSpars(a) || word(a, 'registered') === 'front') },
        ),
      ),
      more(sheet('skinSheet', 'What sheet is the skin?', usual.skin, 'skin')),
      q(
        'easeHeight',
        'length',
        'How much lower is a rib end than the room between the caps?',
        'Rib end height against clear height; zero if they are drawn equal. Or type the height itself, of the rib end named at the question.',
        0.18,
        'ease-height',
        { least: 0, most: MOST_EASE, fits: 0.2 },
      ),
      q(
        'easeLength',
        'length',
        'How much shorter is a main rib than the room between the webs?',
        'Rib length against web to web less the sheets between. Or type the length itself, of the rib named at the question.',
        0.2,
        'ease-length',
        { least: 0, most: MOST_EASE, fits: 0.3, when: twoSpars },
      ),
      q(
        'doubler',
        'choice',
        'Does the drawing put a channel doubler at the front of every main rib?',
        'The rib’s end view: one more channel between rib and spar.',
        'no',
        'doubler',
        {
          choices: [
            ['no', 'no'],
            ['yes', 'yes'],
          ],
        },
      ),
      {
        ...sheet('doublerSheet', 'What sheet are the doublers?', usual.main, 'doubler'),
        when: (a) => word(a, 'doubler') === 'yes',
      },
      more(
        q('tab', 'length', 'How wide are the ribs’ flanges?', 'Web face to free edge.', usual.tab, 'tab', {
          least: 12,
          most: 40,
        }),
      ),
      more(
        q(
          'row',
          'length',
          'How far from the rib’s web is the rivet row?',
          'The end flange’s detail.',
          usual.row,
          'row',
          { least: 5, most: 30 },
        ),
      ),
      more(
        q(
          'relief',
          'length',
          'How large are the relief holes at the rib ends?',
          'The rib’s detail; zero for none.',
          6.35,
          'relief',
          { least: 0, most: 10 },
        ),
      ),
    ],
  };
}

export function aboutRivets(usual: { front: number; rear: number }, rear: boolean): StartGroup {
  return {
    name: 'Rivets through the webs',
    questions: [
      more(
        q(
          'rowFront',
          'count',
          'How many in a row at the front web?',
          'The rib’s end view. Fewer are laid where the end is too low for them.',
          usual.front,
          'rivets',
          { least: 2, most: 20 },
        ),
      ),
      ...(rear
        ? [
            more(
              q('rowRear', 'count', 'And at the rear web?', 'The same, at the rear.', usual.rear, 'rivets', {
                least: 2,
                most: 20,
              }),
            ),
          ]
        : []),
      more(
        q('rivet', 'choice', 'Which rivet is used nearly everywhere?', 'The rivet list.', '3.175', 'rivets', {
          choices: [
            ['2.38125', '3/32 in'],
            ['3.175', '1/8 in'],
            ['3.96875', '5/32 in'],
            ['4.7625', '3/16 in'],
          ],
        }),
      ),
      more(
        q('pitch', 'length', 'How far apart are they in a row?', 'Hole to hole.', 20, 'rivets', {
          least: 10,
          most: 60,
        }),
      ),
    ],
  };
}

export function aboutStrip(usualTo: number): StartGroup {
  const when = (a: StartAnswers): boolean => word(a, 'strip') === 'yes';
  return {
    name: 'Strips in the front caps',
    questions: [
      q(
        'strip',
        'choice',
        'Is there a strip inside each front cap from the root on?',
        'The spar’s drawing: a second layer in its caps that stops partway.',
        'no',
        'strip',
        {
          choices: [
            ['no', 'no'],
            ['yes', 'yes'],
          ],
        },
      ),
      { ...sheet('stripSheet', 'What sheet is it?', 1.6, 'strip'), when },
      q('stripTo', 'length', 'Where does it end?', 'Its outboard end, from the ribs’ datum.', usualTo, 'strip', {
        least: -9000,
        most: 9000,
        when,
      }),
    ],
  };
}

export const washoutQuestion = (): StartQuestion =>
  q(
    'washout',
    'angle',
    'How many degrees nose down is the tip?',
    'Degrees against the root, as in 2.2; a tip that is nose up is minus.',
    1.5,
    'washout',
    { least: -8, most: 8 },
  );
