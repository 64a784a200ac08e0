import type { Alloy, Model, Profile } from '../schema.ts';
import { num, placesOf, type StartAnswers, unitsOf, word } from './asked.ts';
import type { PanelPlan, SparPlan, Taper } from './plan.ts';

/* How complete answers become a plan. */

/** Root and tip of a size; the tip is the root's where the start does not ask for it. */
const taper = (a: StartAnswers, id: string): Taper => [
  num(a, id),
  typeof a[`${id}Tip`] === 'number' ? num(a, `${id}Tip`) : num(a, id),
];

/**
 * The nose's shape, from a name: four digits, else an ellipse. The chord given holds at the root and tapers with the
 * ribs.
 */
function profileFrom(a: StartAnswers, root: number): (chord: number) => Profile {
  const name = word(a, 'profile');
  if (!/^\d{4}$/.test(name)) return () => ({ kind: 'ellipse' });
  const share = num(a, 'chord') / root;
  return (here) => ({ kind: 'naca4', name, chord: Math.round(here * share * 100) / 100 });
}

const alloyOf = (a: StartAnswers): Alloy => (word(a, 'alloy') || '6061-T6') as Alloy;
const sparPlan = (a: StartAnswers, which: 'front' | 'rear'): SparPlan => ({
  sheet: num(a, `${which}Sheet`),
  depth: taper(a, `${which}Depth`),
  cap: num(a, `${which}Cap`),
  opens: word(a, `${which}Opens`) === 'aft' ? 'aft' : 'forward',
  radius: num(a, `${which}Radius`) > 0 ? num(a, `${which}Radius`) : undefined,
});

/** The plan that complete answers make. */
export function panelPlan(
  a: StartAnswers,
  kind: { readonly note: string; readonly rear: boolean; readonly wholeEnds: boolean },
): PanelPlan {
  const hand = (word(a, 'hand') || 'right') as Model['hand'];
  const [webs, nose] = [taper(a, 'webs'), taper(a, 'nose')];
  const rivet = Number(word(a, 'rivet')) || 3.175;
  // A station's twist is minus where its nose is down.
  const noseDown = num(a, 'washout') || 0;
  return {
    name: word(a, 'name'),
    note: kind.note,
    hand,
    units: unitsOf(a),
    letter: word(a, 'letter').toUpperCase(),
    places: placesOf(a),
    alloy: alloyOf(a),
    front: sparPlan(a, 'front'),
    ...(kind.rear ? { rear: sparPlan(a, 'rear') } : {}),
    webs,
    nose,
    washout: [0, 0 - noseDown],
    ...(word(a, 'strip') === 'yes' ? { strip: { sheet: num(a, 'stripSheet'), to: num(a, 'stripTo') } } : {}),
    sheets: {
      main: num(a, 'mainSheet'),
      nose: num(a, 'noseSheet'),
      tip: num(a, 'tipSheet'),
      skin: num(a, 'skinSheet'),
    },
    wholeEnds: kind.wholeEnds,
    registered: kind.rear && word(a, 'registered') !== 'front' ? 'rear' : 'front',
    clip: num(a, 'clip'),
    ...(word(a, 'doubler') === 'yes' ? { doubler: num(a, 'doublerSheet') } : {}),
    ease: { height: num(a, 'easeHeight'), length: num(a, 'easeLength') },
    tab: num(a, 'tab'),
    row: num(a, 'row'),
    relief: num(a, 'relief'),
    joints: {
      rivet,
      pitch: num(a, 'pitch'),
      front: Math.round(num(a, 'rowFront')),
      rear: Number.isFinite(num(a, 'rowRear')) ? Math.round(num(a, 'rowRear')) : 3,
    },
    profile: profileFrom(a, webs[0] + nose[0]),
  };
}
