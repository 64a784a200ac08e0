import { type Chain, combine } from '../chains/chain.ts';
import { type At, atEnd } from '../checks/at.ts';
import { sentence, show } from '../checks/describe.ts';
import { type Finding, judge } from '../checks/finding.ts';
import { endName } from '../checks/fit/capGap.ts';
import { limitFor } from '../model/limits.ts';
import type { RibPlace, Skeleton } from '../parts/layout/layout.ts';
import { capGapChain, chordGapChain } from '../parts/layout/meeting.ts';
import { FILM, saysChain } from './overlap.ts';
import type { Reads } from './readOff.ts';

/*
 * Asks the solids: how far apart are two faces that should meet?
 * Each rib end's tab and what it stands against (C3 beside), its flanges and the caps over them, pieces between
 * counted (C1 beside, half a side), and each piece and the web it lies on. Value: the distance, 0 where they touch or
 * bite (`overlap` says how deep). As the parts stand, spars as bowed.
 */

interface Meeting {
  readonly at: At;
  /** Part and faces, as the builder says it. */
  readonly name: string;
  readonly distance: number;
  readonly restsOn: Chain;
  readonly phrase: (distance: string) => string;
  readonly touching: string;
  readonly note: string | undefined;
}

function meetingFinding(skeleton: Skeleton, m: Meeting): Finding {
  const { model } = skeleton;
  const value = m.distance > FILM ? m.distance : 0;
  return judge({
    check: 'contact',
    at: m.at,
    place: m.name,
    restsOn: m.restsOn,
    value,
    floor: 0,
    limit: limitFor(model, 'contact'),
    sense: (v) => (v > 0 ? 'apart' : 'touches'),
    say: (j) => sentence(model, j, j.value > 0 ? m.phrase(show(model, j.value)) : m.touching, { note: m.note }),
  });
}

/** What a tab stands against, in words. */
function against({ spar, doublers }: RibPlace): string {
  const piece = doublers.filter((d) => d.form === 'channel' || d.on === 'web').at(-1);
  return piece ? piece.id : `the ${spar} web`;
}

function tab(skeleton: Skeleton, place: RibPlace, reads: Reads): Meeting | undefined {
  const { model } = skeleton;
  const distance = reads.web(place);
  if (distance === undefined) return undefined;
  const { main } = place.bay;
  const open =
    place.rib === main &&
    main !== undefined &&
    ((place.end === 'front' && model.stand === 'rear') || (place.end === 'rear' && model.stand === 'front'));
  const restsOn = open && model.spars.rear ? chordGapChain(skeleton, place.bay, main, 'bowed') : [];
  const name = endName(place);
  return {
    at: { ...atEnd(place), what: 'tab' },
    name: `${name} tab`,
    distance,
    restsOn,
    phrase: (d) => `${name} tab stands ${d} off ${against(place)}`,
    touching: `${name} tab touches ${against(place)}`,
    note: open ? `The chain of sizes says ${saysChain(model, restsOn)} between the webs, as bowed.` : undefined,
  };
}

function flanges(skeleton: Skeleton, place: RibPlace, reads: Reads): Meeting | undefined {
  const { model } = skeleton;
  const gap = reads.cap(place);
  if (gap === undefined) return undefined;
  const sum = capGapChain(skeleton, place);
  const [wide, side] = gap.top >= gap.bottom ? [gap.top, 'top'] : [gap.bottom, 'bottom'];
  const pieces = place.doublers.filter((d) => d.form === 'channel' || d.on !== 'web').map((d) => d.id);
  const who = `${endName(place)} flanges${pieces.length > 0 ? ` with ${pieces.join(' and ')}` : ''}`;
  return {
    at: { ...atEnd(place), what: 'caps' },
    name: `${endName(place)} caps`,
    distance: wide,
    restsOn: combine([0.5, sum]),
    phrase: (d) =>
      `${who} stand ${d} off the ${side} cap, ${show(model, Math.max(0, Math.min(gap.top, gap.bottom)))} off the other`,
    touching: `${who} touch both caps of the ${place.spar} spar`,
    note: `The chain of sizes says ${saysChain(model, sum)} in all.`,
  };
}

function* pieces(place: RibPlace, reads: Reads): Generator<Meeting> {
  for (const piece of place.doublers) {
    if (piece.form !== 'channel' && piece.on !== 'web') continue;
    const distance = reads.laid(place, piece);
    if (distance === undefined) continue;
    yield {
      at: { ...atEnd(place), doubler: piece.id, what: 'web' },
      name: `${piece.id} web`,
      distance,
      restsOn: [],
      phrase: (d) => `${piece.id} stands ${d} off what it lies on`,
      touching: `${piece.id} lies on the ${place.spar} web`,
      note: undefined,
    };
  }
}

/** Every pair of faces that should meet, spar by spar and station by station. */
export function* contact(skeleton: Skeleton, reads: Reads): Generator<Finding> {
  for (const place of skeleton.places) {
    const all = [
      tab(skeleton, place, reads),
      place.spec.ends === 'nests' ? flanges(skeleton, place, reads) : undefined,
      ...pieces(place, reads),
    ];
    for (const m of all) if (m !== undefined) yield meetingFinding(skeleton, m);
  }
}
