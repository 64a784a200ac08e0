import { best } from '../../chains/chain.ts';
import { limitFor } from '../../model/limits.ts';
import type { Bay, Skeleton } from '../../parts/layout/layout.ts';
import { chordGapChain } from '../../parts/layout/meeting.ts';
import { sentence, show } from '../describe.ts';
import { type Finding, judge } from '../finding.ts';
import { UNSEEN } from '../slack.ts';
import { feelerHere } from './disagreement.ts';

/*
 * Asks: is each main rib as long as the room between the webs? (C3)
 * k = web to web - front spar sheet - front webs between - rib length - rear webs between. With the spars as they lie
 * their bows (each away from the other spar) add; held straight they do not. k > 0: clamping pulls the spars together;
 * k < 0: the rib props them apart.
 */

export function* chordGap(skeleton: Skeleton, bay: Bay): Generator<Finding> {
  const { model } = skeleton;
  const { main } = bay;
  if (!main || !model.spars.rear) return;
  const bowed = best(chordGapChain(skeleton, bay, main, 'bowed'));
  const { note, disputed, ...feeler } = feelerHere(skeleton, bay, [`chord.${main.id}`]);
  yield judge({
    ...feeler,
    check: 'chord-gap',
    at: { station: bay.station.id, part: main.id, what: 'webs' },
    place: main.id,
    restsOn: chordGapChain(skeleton, bay, main, 'straight'),
    limit: limitFor(model, 'chord-gap'),
    sense: (v) => (v < 0 ? 'tight' : 'loose'),
    say: (j) => {
      const asIs = Math.abs(bowed - j.value) > UNSEEN ? `; ${show(model, bowed)} with the spar as bowed` : '';
      const held = `between the webs, spars held straight${asIs}`;
      const off = `${main.id} is ${show(model, Math.abs(j.value))} ${j.value < 0 ? 'long' : 'short'} ${held}`;
      const phrase = Math.abs(j.value) < UNSEEN ? `${main.id} just fills the room ${held}` : off;
      const todo =
        j.value < 0
          ? 'Clamped, it props the spars apart.'
          : 'Clamped, it pulls the spars together; a packer on a web takes it up.';
      return sentence(model, j, phrase, { note, todo, disputed });
    },
  });
}
