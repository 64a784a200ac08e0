import { best, type Chain, chain, combine } from '../chains/chain.ts';
import { limitFor } from '../model/limits.ts';
import type { MainRib } from '../model/schema.ts';
import { type Bay, departure, type Skeleton, sparOf, thickness, websBetween } from '../parts/skeleton.ts';
import type { Size } from '../chains/size.ts';
import { sentence, show } from './describe.ts';
import { type Finding, judge } from './finding.ts';

/*
 * Asks: is each main rib as long as the room between the webs? (C3)
 * k = web to web - front spar sheet - front webs between - rib length - rear webs between. With the spars as they lie
 * their bows (each away from the other spar) add; held straight they do not. k > 0: clamping pulls the spars together;
 * k < 0: the rib props them apart.
 */

export type Hold = 'straight' | 'bowed';

/** Flat doublers on a spar's web that cover a station, on the rib side. */
function webDoublers(skeleton: Skeleton, name: 'front' | 'rear', y: number): Size[] {
  const spar = sparOf(skeleton, name);
  return spar.webDoublers.filter((d) => y >= d.from && y <= d.to).map((d) => thickness(skeleton, d.sheet));
}

/** C3 as a chain at a station with a main rib between two spars. Panel A, M6 held straight: 264 - 0.813 - 0.635 - 261.60 = +0.95. */
export function chordGapChain(skeleton: Skeleton, bay: Bay, main: MainRib, hold: Hold): Chain {
  const { book } = skeleton;
  const taken = [
    thickness(skeleton, sparOf(skeleton, 'front').sheet),
    ...webDoublers(skeleton, 'front', bay.station.y),
    ...websBetween(skeleton, skeleton.doublersAt(main.id, 'front')),
    book.get(`${main.id}.length`),
    ...websBetween(skeleton, skeleton.doublersAt(main.id, 'rear')),
    ...webDoublers(skeleton, 'rear', bay.station.y),
  ];
  const straight = chain([1, book.get(`webs@${bay.station.id}`)], ...taken.map((s): [number, Size] => [-1, s]));
  if (hold === 'straight') return straight;
  return combine([1, straight], [1, departure(skeleton, 'front', 'bow', bay)], [1, departure(skeleton, 'rear', 'bow', bay)]);
}

export function* chordGap(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  const { main } = bay;
  if (!main || !model.spars.rear) return;
  const bowed = best(chordGapChain(skeleton, bay, main, 'bowed'));
  yield judge({
    check: 'chord-gap',
    station: bay.station.id,
    place: main.id,
    restsOn: chordGapChain(skeleton, bay, main, 'straight'),
    limit: limitFor(model, 'chord-gap'),
    sense: (v) => (v < 0 ? 'tight' : 'loose'),
    say: (j) => {
      const asIs = Math.abs(bowed - j.value) > 0.005 ? `; ${show(model, bowed)} with the spar as bowed` : '';
      const held = `between the webs, spars held straight${asIs}`;
      const off = `${main.id} is ${show(model, Math.abs(j.value))} ${j.value < 0 ? 'long' : 'short'} ${held}`;
      const phrase = Math.abs(j.value) < 0.005 ? `${main.id} just fills the room ${held}` : off;
      const todo = j.value < 0 ? 'Clamped, it props the spars apart.' : 'Clamped, it pulls the spars together; a packer on a web takes it up.';
      return sentence(model, j, phrase, { todo });
    },
  });
}
