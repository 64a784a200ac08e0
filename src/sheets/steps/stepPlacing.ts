import type { Vec3 } from '../../geometry/vector.ts';
import { flangesPoint } from '../../model/hand.ts';
import type { Doubler, Rib } from '../../model/schema.ts';
import type { Bay, RibPlace } from '../../parts/layout/layout.ts';
import { sparOf, thickness } from '../../parts/layout/meeting.ts';
import { isCapRow } from '../../parts/placed/holePlaces.ts';
import type { Standing } from './step.ts';
import { AFT, DOWN, type Draft, FORWARD, heldBy, heldPart, tipEnd, type Work } from './stepDraft.ts';
import { chordSide, doublerWord, listed, partName, RIB_WORDS, sideOf } from './stepWords.ts';

/*
 * Steps that put a part where it belongs: spars laid, doublers slipped in, ribs stood, brackets fitted.
 */

export function laySpar(work: Work, name: 'front' | 'rear'): Draft {
  const { opens } = sparOf(work.skeleton, name);
  const blocks = work.model.survey.supports;
  return {
    id: `lay:${name}`,
    kind: 'lay',
    title: `Lay the ${name} spar on its blocks`,
    station: null,
    chosen: [name],
    goes: DOWN,
    standing: 'behind',
    lines: [
      `Open side faces ${opens}, ${chordSide('behind', opens)}.`,
      `Ink mark up. ${work.skeleton.bays[0]!.station.id} is at your left.`,
      ...(blocks.length > 0 ? [`Blocks under ${listed(blocks)}.`] : []),
    ],
  };
}

/** The way a piece at a rib end is pushed onto its spar: at a front end forward, at a rear end or a tail aft. */
const pushOf = (end: RibPlace['end']): Vec3 => (end === 'front' ? FORWARD : AFT);

export function slip(work: Work, place: RibPlace, d: Doubler): Draft {
  const { skeleton } = work;
  const word = doublerWord(d);
  const { id: station } = place.bay.station;
  const standing: Standing = place.end === 'tail' ? 'ahead' : 'behind';
  const legs = place.end === 'front' ? 'aft' : 'forward';
  const where =
    d.form === 'channel' && place.spec.ends === 'nests'
      ? `into the ${place.spar} spar`
      : d.on === 'web'
        ? `on the ${place.spar} spar web`
        : `under the ${d.on} cap of the ${place.spar} spar`;
  const lines =
    d.form === 'channel'
      ? [`Flat back against the web. Legs point ${legs}, ${chordSide(standing, legs)}.`, 'Ink number and arrow up.']
      : d.on === 'web'
        ? ['Flat on the web, clear of the bends.', 'Ink number and arrow up.']
        : [
            `Flat on the inside of the ${d.on} cap, clear of the bend.`,
            `Ink arrow points ${legs === 'aft' ? 'forward' : 'aft'}, to the web.`,
          ];
  const under = place.doublers.slice(0, place.doublers.indexOf(d)).filter((o) => o.form === 'channel' || o.on === d.on);
  return {
    id: `slip:${d.id}`,
    kind: 'slip',
    title: `Slip ${word} ${d.id} ${where} at ${station}`,
    station,
    chosen: [d.id],
    goes: pushOf(place.end),
    standing,
    lines,
    layers: [
      d.on === 'web' ? `${place.spar} spar web` : `${d.on} cap`,
      ...under.map((o) => partName(skeleton, o.id)),
      `${word} ${d.id}`,
    ],
    check: { kind: 'sheet', thickness: thickness(skeleton, d.sheet).best },
    ...heldBy(heldPart(work, d.id)),
  };
}

export function stand(work: Work, bay: Bay, rib: Rib): Draft {
  const { model, skeleton } = work;
  const { y, id: station } = bay.station;
  const word = RIB_WORDS[rib.kind];
  const ends = skeleton.placesAt(station).filter((p) => p.rib === rib);
  const standing: Standing = rib.kind === 'nose' ? 'ahead' : rib.kind === 'tip' ? tipEnd(work, bay) : 'behind';
  const points = flangesPoint(model, rib, y);
  const nested = ends.filter((p) => p.spec.ends === 'nests');
  const how =
    rib.kind === 'nose'
      ? nested.length > 0
        ? 'Push the tail between the caps of the front spar.'
        : 'Tail flange flat on the web of the front spar.'
      : rib.kind === 'tip'
        ? rib.registered === 'rear'
          ? 'Rear end home against the web of the rear spar.'
          : 'Clip on the front spar first.'
        : nested.length > 1
          ? 'Put it in a little askew, both ends between the caps. Swing it square to the mark.'
          : 'Set it down between the spars, on the mark.';
  const home =
    rib.kind === 'main' && model.stand !== 'clamped' && model.spars.rear
      ? [`Push it home against the ${model.stand} web.`]
      : [];
  const goes: Vec3 =
    rib.kind === 'nose'
      ? AFT
      : rib.kind === 'tip'
        ? [0, standing === 'left end' ? 1 : -1, 0]
        : nested.length > 1
          ? [0, y < work.middle ? 1 : -1, 0]
          : DOWN;
  const joint = skeleton.jointsAt(station).find((j) => j.layers.includes(rib.id) && !isCapRow(j));
  return {
    id: `stand:${rib.id}`,
    kind: 'stand',
    title: `Stand ${word} ${rib.id} at station ${station}`,
    station,
    chosen: [rib.id],
    goes,
    standing,
    opens: points,
    lines: [
      `Flange points ${rib.turns}, ${sideOf(standing, points)}.`,
      'Ink number at the top rear corner.',
      how,
      ...home,
    ],
    stack: joint,
    ...heldBy(heldPart(work, rib.id)),
  };
}

export function fitBracket(work: Work, id: string): Draft | undefined {
  const bracket = work.model.brackets.find((b) => b.id === id);
  if (!bracket) return undefined;
  const opens = sparOf(work.skeleton, bracket.spar).opens;
  const standing: Standing = opens === 'aft' ? 'ahead' : 'behind';
  const joint = work.skeleton.jointsAt(bracket.station).find((j) => j.layers.includes(id));
  return {
    id: `fit:${id}`,
    kind: 'fit',
    title: `Fit bracket ${id} on the ${bracket.spar} spar at ${bracket.station}`,
    station: bracket.station,
    chosen: [id],
    goes: opens === 'aft' ? AFT : FORWARD,
    standing,
    lines: ['Flat foot on the web, centred on the row of holes.', 'Ink number up.', 'One clamp each side.'],
    stack: joint,
    ...heldBy(heldPart(work, id)),
  };
}
